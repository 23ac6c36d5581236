"""How the preview of the page is set: the sheet, its title, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, cast

from tracker import words
from tracker.cells import wrapped
from tracker.diary.choices import PageLines
from tracker.diary.scales import Grid
from tracker.grids.canvas import Canvas, CellStyle, text_canvas
from tracker.grids.drawing import draw_title
from tracker.grids.palette import Palette
from tracker.grids.themes import NO_FILL
from tracker.screens.help_text import hanging
from tracker.screens.page_parts import Parts
from tracker.screens.widgets.long_text import Row
from tracker.summary.text import DAY, WIDTH, FittedPage, StripLine, strip_lines, text_heads
from tracker.summary.writing import usual_name

if TYPE_CHECKING:
    from tracker.summary.page_model import DaySquares, Mark, Page

SHEET = 85
"""Columns of the page with a margin of 2 on either side and a scroll bar."""
TITLE, SHORT_TITLE, TITLE_FROM = "The page for the GP", "The page", 60
NOTHING_SENT = "one side of A4; nothing is sent or printed"


def title_row(palette: Palette, width: int, aside: str, right: Sequence[str]) -> Canvas:
    """The title, what stands behind it, and at the right the longest text that has room."""
    canvas = Canvas(width, 1, palette.text)
    title = TITLE if width >= TITLE_FROM else SHORT_TITLE
    draw_title(canvas, palette, [(title, palette.title)], aside, right)
    return canvas


def sheet_rows(palette: Palette, printed: FittedPage, ground: str | None) -> list[Row]:
    """The lines of a page, its heads bold and each after a blank row, its days on their fills."""
    heads = text_heads(printed.page)
    days = {line.text: line for line in strip_lines(printed.page.strip) if line.days}
    rows: list[Row] = []
    for line in printed.lines:
        is_head = line.startswith(heads)
        if is_head and rows and rows[-1]:
            rows.append([])
        style = (palette.title if is_head else palette.text)._replace(bg=ground)
        if line in days:
            rows.append(_strip_row(palette, days[line], style))
        else:
            rows.append([(line, style)] if line else [])
    return rows


def _strip_row(palette: Palette, line: StripLine, style: CellStyle) -> Row:
    """The days of a line, each level on its fill, and nights as light as the text on the ground of it."""
    canvas = text_canvas([line.text], WIDTH, style)
    for x, day in line.days:
        canvas.put(x, 0, canvas.text_at(x, 0, DAY), _square(palette, line.name, day, style))
    return [(run.text, run.style) for run in canvas.row(0)]


def _square(palette: Palette, name: str, day: DaySquares, style: CellStyle) -> CellStyle:
    if name == "shift":
        return style._replace(bold=True, reverse=True) if day.is_night else style
    grid, mark = cast("tuple[Grid, Mark]", (name, day.mood if name == "mood" else day.sleep))
    fill = palette.fill(grid, mark.place, mark.of) if mark.of else NO_FILL
    if fill.ground is None:
        return style
    return palette.style(fill, bold=True)


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
