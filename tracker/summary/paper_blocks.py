"""Which squares a paper grid has: a year in rows of months, a month in rows of weeks."""

from __future__ import annotations

import calendar
import math
from dataclasses import dataclass
from datetime import date

from tracker.diary.dates import month_name
from tracker.diary.months import length_of_month, weekday_names, weeks
from tracker.diary.scales import Grid


@dataclass(frozen=True, slots=True)
class PaperCell:
    """One square: its place in the grid, its day, or None for a day that does not exist."""

    column: int
    row: int
    day: date | None


@dataclass(frozen=True, slots=True)
class Block:
    """A grid, or a part of one, that is cut out in one piece."""

    title: str
    grid: Grid
    heads: tuple[str, ...]
    """Over the columns."""
    names: tuple[str, ...]
    """Beside the rows; empty where there are none."""
    cells: tuple[PaperCell, ...]
    numbered: bool
    """Whether each square carries the number of its day."""

    @property
    def rows(self) -> int:
        """How many rows it has."""
        return max(cell.row for cell in self.cells) + 1


def year_blocks(grid: Grid, year: int, columns: int) -> list[Block]:
    """A row a month and a column a day of the month, in as many parts as the paper needs."""
    parts = math.ceil(31 / columns)
    width = math.ceil(31 / parts)
    return [_year_part(grid, year, range(first, min(first + width, 32))) for first in range(1, 32, width)]


def _year_part(grid: Grid, year: int, numbers: range) -> Block:
    whole = len(numbers) == 31
    part = "" if whole else f", days {numbers[0]} to {numbers[-1]}"
    cells = tuple(
        PaperCell(column, month - 1, date(year, month, number) if _exists(year, month, number) else None)
        for month in range(1, 13)
        for column, number in enumerate(numbers)
    )
    names = tuple(calendar.month_abbr[month] for month in range(1, 13))
    return Block(f"{grid.capitalize()} {year}{part}", grid, tuple(map(str, numbers)), names, cells, False)


def _exists(year: int, month: int, number: int) -> bool:
    return number <= length_of_month(year, month)


def month_block(grid: Grid, year: int, month: int, first_weekday: int) -> Block:
    """A row a week and a column a weekday."""
    cells = tuple(
        PaperCell(column, row, day)
        for row, week in enumerate(weeks(year, month, first_weekday))
        for column, day in enumerate(week)
        if day
    )
    heads = tuple(weekday_names(first_weekday))
    title = f"{grid.capitalize()}, {month_name(date(year, month, 1))}"
    return Block(title, grid, heads, (), cells, True)
