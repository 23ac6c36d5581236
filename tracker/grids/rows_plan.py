"""Where the parts of months as rows stand, in cells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from tracker.diary.scales import Grid
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.palette import Palette
from tracker.grids.squares import GridData

NEW_SEASON = (3, 6, 9, 12)
"""Months with a blank row above them where there is room."""
WITH_SHIFTS = 3
"""Rows of a month that has its shifts below the two grids."""
TALL = 4
"""Rows of a month that has its signs above them too."""


class MonthRow(NamedTuple):
    """Where a month stands."""

    year: int
    month: int
    y: int
    """Its first row, under the row of day numbers."""
    has_room_above: bool = False
    """Whether a row above it is free for her changes."""


class RowsPlan(NamedTuple):
    """How months are laid out as rows."""

    grids: tuple[Grid, ...]
    cell: int
    """Cells of a day, 1 to 5."""
    lines: int
    """Rows of a month: with both grids 1 (fused) to 4, with one grid 1 or 2."""
    months: tuple[MonthRow, ...]
    width: int
    """Cells with the counts."""

    @property
    def margin(self) -> int:
        """Column of the first day; the names of the months and the pointer stand before it."""
        return 5 if self.cell > 1 else 4

    @property
    def edge(self) -> int:
        """Column behind the last day."""
        return self.margin + 31 * self.cell

    @property
    def is_fused(self) -> bool:
        """Whether both grids share a row."""
        return len(self.grids) > 1 and self.lines == 1

    @property
    def squares_end(self) -> int:
        """Rows of a month down to the last of its squares."""
        return self.lines - (self.lines >= WITH_SHIFTS)

    @property
    def height(self) -> int:
        """Rows with that of the day numbers."""
        return self.months[-1].y + self.lines

    def day_x(self, day: int) -> int:
        """First column of a day."""
        return self.margin + (day - 1) * self.cell

    def mark_x(self, day: int) -> int:
        """Column of a day's mark."""
        return self.day_x(day) + self.cell // 4

    def grid_y(self, row: MonthRow, grid: Grid) -> int:
        """First row of a grid in a month."""
        below = 0 if self.is_fused else self.grids.index(grid)
        return row.y + below + (self.lines == TALL)

    def rect(self, row: MonthRow, grid: Grid, day: int) -> Rect:
        """The cells of a square."""
        height = self.lines if len(self.grids) == 1 else 1
        return Rect(self.day_x(day), self.grid_y(row, grid), self.cell, height)


class Rows(NamedTuple):
    """Months as rows while they are drawn."""

    canvas: Canvas
    grid_data: GridData
    palette: Palette
    plan: RowsPlan


def stacked(
    months: Sequence[tuple[int, int]],
    lines: int,
    height: int,
    with_changes: Iterable[tuple[int, int]] = (),
    with_seasons: bool = False,
) -> tuple[MonthRow, ...]:
    """Months one under another, with the rows between them for which there is room.

    A row stands above a month with a change of hers, and above the first month of each season where those
    are wanted and all have room. ``height`` is counted with the row of day numbers.
    """
    spare = height - 1 - lines * len(months)
    wanted = sorted(set(months).intersection(with_changes)) if lines < TALL else []
    above = set(wanted[: max(spare, 0)])
    seasons = {month for month in months if month[1] in NEW_SEASON} - above
    if not with_seasons or len(seasons) > spare - len(above):
        seasons = set()
    rows, y = [], 1
    for year, month in months:
        y += (year, month) in above | seasons
        rows.append(MonthRow(year, month, y, (year, month) in above))
        y += lines
    return tuple(rows)
