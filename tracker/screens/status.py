"""The lines of status under the grids: what was done, the day in words, what waits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.cells import begun, shortened, wrapped
from tracker.grids.canvas import Canvas
from tracker.grids.drawing import Piece
from tracker.grids.palette import Palette


class Status(NamedTuple):
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


def draw_status(palette: Palette, width: int, height: int, status: Status) -> Canvas:
    """The rows under the grids: what was done in full, the day in as few words as that needs.

    What is still too long is cut with dots. The whole of a day stands on its own screen.
    """
    canvas = Canvas(width, height, palette.text)
    (line, style), always = status.line, status.always
    above = wrapped(line, width - 2) if line else []
    quiet = [*([status.also] if status.also and len(above) + 1 + len(always) < height else []), *always]
    room = height - len(quiet)
    full, brief = (wrapped(text, width - 2) for text in status.spoken)
    day = full if len(above) + len(full) <= room else brief
    if not above and len(day) < room:
        above, style = shortened(wrapped(status.idle, width - 2), 1), palette.quiet
    day = shortened(day, max(room - len(above), 1))
    above = shortened(above, room - len(day))
    for y, row in enumerate(above):
        canvas.put(1, y, row, style)
    for y, row in enumerate(day, start=len(above)):
        canvas.put(1, y, row, palette.text)
    for y, row in enumerate(quiet, start=height - len(quiet)):
        canvas.put(1, y, begun(row, width - 1), palette.quiet)
    return canvas
