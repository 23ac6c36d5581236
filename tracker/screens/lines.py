"""The lines of text round the grids: what was done, the day in words, what waits."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from tracker.cells import all_narrow, begun, cut, letters_of, text_width
from tracker.grids.canvas import Canvas, CellStyle
from tracker.grids.drawing import Piece
from tracker.grids.palette import Palette


def wrapped(text: str, width: int) -> list[str]:
    """A text in lines of so many cells."""
    return list(_wrapped(text, width))


@lru_cache(maxsize=64)
def _wrapped(text: str, width: int) -> Sequence[str]:
    if text.isascii() or all_narrow(text):
        return textwrap.wrap(text, width) or [""]
    return _wrapped_by_cells(re.sub(r"\s", " ", text.rstrip(), flags=re.ASCII), width)


def _wrapped_by_cells(text: str, width: int) -> list[str]:
    rows, room = [""], width
    for word in re.findall(" |[^ ]+", text):
        whole = text_width(word)
        for piece, cells in [(word, whole)] if whole <= width else letters_of(word):
            if cells > room:
                rows.append("")
                room = width
            if rows[-1] or piece != " " or len(rows) == 1:
                rows[-1] += piece
                room -= cells
    return [row.rstrip() for row in rows]


class Said(NamedTuple):
    """What stands under the grids."""

    line: Piece
    """What was done or is asked."""
    spoken: tuple[str, str]
    """The day in words, and in fewer for where those need more rows than there are."""
    always: Sequence[str] = ()
    """True of all days."""
    also: str = ""
    """Said at the foot, but where what was done needs the row."""
    idle: str = ""
    """Said in place of the first line where that is empty and the day leaves the row."""


def draw_words(palette: Palette, width: int, height: int, said: Said) -> Canvas:
    """The rows under the grids: what was done in full, the day in as few words as that needs.

    What is still too long is cut with dots. The whole of a day stands on its own screen.
    """
    canvas = Canvas(width, height, palette.text)
    (line, style), always = said.line, said.always
    above = wrapped(line, width - 2) if line else []
    quiet = [*([said.also] if said.also and len(above) + 1 + len(always) < height else []), *always]
    room = height - len(quiet)
    full, brief = (wrapped(text, width - 2) for text in said.spoken)
    day = full if len(above) + len(full) <= room else brief
    if not above and len(day) < room:
        above, style = shortened(wrapped(said.idle, width - 2), 1), palette.quiet
    day = shortened(day, max(room - len(above), 1))
    above = shortened(above, room - len(day))
    for y, row in enumerate(above):
        canvas.put(1, y, row, style)
    for y, row in enumerate(day, start=len(above)):
        canvas.put(1, y, row, palette.text)
    for y, row in enumerate(quiet, start=height - len(quiet)):
        canvas.put(1, y, begun(row, width - 2), palette.quiet)
    return canvas


def shortened(rows: list[str], room: int) -> list[str]:
    """As many rows as there is room for; dots say that there were more."""
    if len(rows) <= room:
        return rows
    if room < 1:
        return []
    last = rows[room - 1]
    return [*rows[: room - 1], f"{cut(last, text_width(last) - 3).rstrip()}..."]


def stacked(parts: Sequence[Canvas], width: int, palette: Palette) -> Canvas:
    """Pictures under one another."""
    whole, y = Canvas(width, sum(part.height for part in parts), palette.text), 0
    for part in parts:
        whole.lay(part, 0, y)
        y += part.height
    return whole


def text_canvas(lines: Sequence[str], width: int, palette: Palette, style: CellStyle | None = None) -> Canvas:
    """Lines of text as a picture."""
    canvas = Canvas(width, len(lines), palette.text)
    for y, line in enumerate(lines):
        canvas.put(0, y, line, style or palette.text)
    return canvas
