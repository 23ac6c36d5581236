"""How the preview of the page is set: the sheet, its title, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tracker import words
from tracker.cells import wrapped
from tracker.diary.choices import PageLines
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.screens.help_text import hanging
from tracker.screens.page_parts import Parts
from tracker.screens.widgets.long_text import Row
from tracker.summary.writing import usual_name

if TYPE_CHECKING:
    from tracker.summary.page_model import Page

SHEET = 85
"""Columns of the page with a margin of 2 on either side and a scroll bar."""
TITLE = "The page for the GP"
NOTHING_SENT = "one side of A4; nothing is sent or printed"


def title_row(palette: Palette, width: int, rows: tuple[int, int, int] | None = None) -> Canvas:
    """The title; at the right the first and last row that are seen, of how many, if they are counted."""
    canvas = Canvas(width, 1, palette.text)
    canvas.put(1, 0, TITLE, palette.title)
    aside = f"rows {rows[0]} to {rows[1]} of {rows[2]}" if rows else NOTHING_SENT
    canvas.put_right(width - 1, 0, aside, palette.quiet)
    return canvas


def sheet_rows(
    palette: Palette, lines: Sequence[str], heads: tuple[str, ...], ground: str | None
) -> list[Row]:
    """The lines of a page, its heads bold and each after a blank row."""
    rows: list[Row] = []
    for line in lines:
        is_head = line.startswith(heads)
        if is_head and rows and rows[-1]:
            rows.append([])
        style = palette.title if is_head else palette.text
        rows.append([(line, style._replace(bg=ground))] if line else [])
    return rows


def beside_rows(palette: Palette, page: Page, lines: PageLines, parts: Parts, width: int) -> list[Row]:
    """Her lines, what goes on the page, where it is written, and who may see it."""
    usual = "as usual"
    goes = [
        page.period, f"shifts: {parts.shifts or usual}", f"notes: {parts.notes}",
        f"changes: {parts.changes or usual}", f"trial: {parts.trial}",
    ]  # fmt: skip
    blocks = [
        ("Your lines", "l", [_counted(lines)]),
        ("What goes on it", "o", goes),
        ("Write it", "w", ["PDF, text or Markdown", usual_name(page.made)]),
    ]
    rows = [row for head, key, said in blocks for row in _block(palette, head, key, said, width)]
    return [*rows, *([(row, palette.quiet)] for row in wrapped(" ".join(words.HANDING_OVER), width))]


def _block(palette: Palette, head: str, key: str, said: Sequence[str], width: int) -> Iterator[Row]:
    yield [(head, palette.title)]
    column = len(key) + 1
    told = [(row, palette.text) for text in said for row in wrapped(text, width - column)]
    yield from hanging((key, palette.key), column, told)
    yield []


def _counted(lines: PageLines) -> str:
    wants, changed = len(lines.wants), len(lines.changed)
    if not wants + changed:
        return "none yet"
    return f"{words.counted(wants, 'wish', 'wishes')}, {words.counted(changed, 'line')} on what has changed"
