"""The counts behind months as rows: a number and a bar for low days and for short sleeps."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from tracker.cells import cut, text_width
from tracker.diary.scales import Grid
from tracker.grids.canvas import CellStyle
from tracker.grids.drawing import draw_bar, pieces_width, put_pieces
from tracker.grids.month_counts import FEW, Count, DayCounts, bar_fill, count_month, low_words, short_words
from tracker.grids.rows_plan import TALL, MonthRow, Rows, RowsPlan
from tracker.grids.squares import GridData

ROOM_FOR_BARS = 11
ROOM_FOR_WORDS = 34
"""Cells from which a count says of how many days."""


class _Column(NamedTuple):
    """Where the counts of a grid stand."""

    grid: Grid
    x: int
    number: int
    """Cells of the number."""
    bar: int
    """Cells of the longest bar."""

    @property
    def bar_x(self) -> int:
        return self.x + self.number + (self.bar > 3)

    @property
    def room(self) -> int:
        return self.bar_x + self.bar - self.x


def draw_counts(rows: Rows) -> None:
    """The counts of each month behind its row, and what they are above them; all bars on one scale."""
    canvas, grid_data, palette, plan = rows
    first = date(plan.months[0].year, plan.months[0].month, 1)
    columns = _columns(plan)
    heads = _draw_heads_together if len(plan.grids) > 1 and not plan.is_fused else _draw_heads
    heads(rows, columns, first)
    found = [(row, counts) for row in plan.months if (counts := count_month(grid_data, row.year, row.month))]
    most = max((counts.of(grid).number for _, counts in found for grid in plan.grids), default=0)
    for row, counts in found:
        for column in columns:
            y, count = plan.grid_y(row, column.grid), counts.of(column.grid)
            _draw_number(rows, column, y, count)
            fill = bar_fill(grid_data, palette, column.grid, first)
            draw_bar(canvas, palette, column.bar_x, y, count.number / max(most, 1), column.bar, fill)
        if not plan.is_fused:
            _draw_figures(rows, row, counts)


def _columns(plan: RowsPlan) -> list[_Column]:
    """Side by side where both grids share a row, else one under the other."""
    x = plan.edge + min(plan.cell - 1, 2)
    room = plan.width - 1 - x
    apart = 0
    if room < ROOM_FOR_BARS:
        number, bar, apart = 2, 0, 3
    elif plan.is_fused:
        half = (room - 1) // 2
        number, bar, apart = 2, half - (3 if half > 5 else 2), half + 1
    elif room < ROOM_FOR_WORDS:
        number, bar = 2, room - 8
    else:
        number, bar = 8, room - 16
    if not plan.is_fused:
        apart = 0
    columns = [_Column(grid, x + at * apart, number, bar) for at, grid in enumerate(plan.grids)]
    return [column for column in columns if column.x + number <= plan.width]


def _draw_heads(rows: Rows, columns: Sequence[_Column], day: date) -> None:
    canvas, grid_data, palette, plan = rows
    for column in columns:
        head = _head(grid_data, column, day)
        before = max(text_width(head) - column.room, 0)
        if canvas.text_at(column.x - before, 0, before).strip():  # the number of the cursor's day
            head, before = cut(head, column.room), 0
        canvas.put(column.x - before, 0, head, palette.quiet)
        if not plan.is_fused:
            long, short = ("anxious", palette.signs.anxious) if column.grid == "mood" else ("nights", "N")
            room = plan.width - 1 - column.x - text_width(head)
            name = long if column.bar > 4 and room > len(long) + 1 else short
            if _has_figures(plan):
                canvas.put_right(plan.width - 1, 0, name, palette.quiet)


def _head(grid_data: GridData, column: _Column, day: date) -> str:
    """What is counted in a column, as its room allows."""
    if column.grid == "mood":
        return low_words(grid_data, day, column.room - 2) if column.room > 6 else "low"
    words = short_words(grid_data, column.room)
    return words if text_width(words) <= max(column.room, 4) and column.bar else words.split()[0][:2]


def _draw_heads_together(rows: Rows, columns: Sequence[_Column], day: date) -> None:
    canvas, grid_data, palette, plan = rows
    is_tall, bar = plan.lines == TALL, palette.signs.bar
    low, short = (
        CellStyle(bar_fill(grid_data, palette, column.grid, day) or palette.text.fg, palette.text.bg)
        for column in columns
    )
    gap, words = ("  ", short_words(grid_data)) if is_tall else (" ", short_words(grid_data, 4))
    pieces = [(bar, low), (f" low{gap}", palette.quiet), (bar, short), (f" {words}", palette.quiet)]
    figures = "a" if not is_tall else "anxious, nights" if plan.width >= 200 else "a, N"
    if columns[0].x + pieces_width(pieces) >= plan.width - 1 - len(figures):
        pieces = [(bar, low), ("low ", palette.quiet), (bar, short), (words.replace(" ", ""), palette.quiet)]
    put_pieces(canvas, columns[0].x, 0, pieces)
    canvas.put_right(plan.width - 1, 0, figures, palette.quiet)


def _draw_number(rows: Rows, column: _Column, y: int, count: Count) -> None:
    canvas, palette = rows.canvas, rows.palette
    style = palette.quiet if count.of < FEW else palette.text
    if column.number > 2:
        end = canvas.put(column.x, y, f"{count.number:2}", style)
        canvas.put(end, y, f" of {count.of}", palette.quiet)
    else:
        canvas.put_right(column.x + column.number, y, str(count.number), style)


def _has_figures(plan: RowsPlan) -> bool:
    return plan.width >= plan.edge + 5


def _draw_figures(rows: Rows, row: MonthRow, counts: DayCounts) -> None:
    """The anxious days, and the nights where sleep stands alone or months have room, at the right edge."""
    canvas, _, palette, plan = rows
    if not _has_figures(plan):
        return
    figures = {"mood": (counts.anxious.number, " a"), "sleep": (counts.nights, " N")}
    for grid in plan.grids if plan.lines == TALL else plan.grids[:1]:
        number, sign = figures[grid]
        style = palette.text if number else palette.quiet
        text = f"{number}{sign}" if plan.lines == TALL else str(number)
        canvas.put_right(plan.width - 1, plan.grid_y(row, grid), text, style)
