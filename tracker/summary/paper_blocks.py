"""Which squares a paper grid has, and where: places are counted in squares from the first one of the piece.

A piece is what is cut out in one: a year in rows of months; turned, a year in columns of months, mood and
sleep side by side; or a month in rows of weeks.
"""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.diary.dates import month_name
from tracker.diary.months import length_of_month, weekday_names, weeks
from tracker.diary.scales import Grid

FIFTH, QUARTER = 1.1, 0.9
"""Points of the line after every fifth day, and after each quarter."""
MONTHS, DAYS = 12, 31
NUMBERS = 2
"""Squares that the names beside the rows take."""


@dataclass(frozen=True, slots=True)
class PaperCell:
    """One square: its place, its grid and its day, or None for a day that does not exist."""

    column: int
    row: int
    grid: Grid
    day: date | None


@dataclass(frozen=True, slots=True)
class Name:
    """What stands beside a row or over a column: its place, and whether it is one of every few."""

    column: float
    row: float
    text: str
    bold: bool = False
    is_number: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A thicker line between squares."""

    column: float
    row: float
    to_column: float
    to_row: float
    weight: float
    """Points."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What is cut out in one piece."""

    titles: tuple[str, ...]
    """At the left, and of two grids side by side at the right."""
    grids: tuple[Grid, ...]
    left: int
    """Squares that stand to the left of the first one: for the names of rows."""
    columns: int
    """Squares to the right of that, those for names between two grids among them."""
    rows: int
    cells: tuple[PaperCell, ...]
    heads: tuple[Name, ...]
    """Over the columns."""
    names: tuple[Name, ...]
    """Beside the rows."""
    rules: tuple[Rule, ...]
    is_month: bool = False
    """Whether each square carries the number of its day."""


# --- a year -----------------------------------------------------------------------------------


def year_pieces(grids: Sequence[Grid], year: int, days_across: int) -> list[Piece]:
    """A row a month and a column a day of the month, in as many parts as the paper needs."""
    parts = math.ceil(DAYS / days_across)
    width = math.ceil(DAYS / parts)
    numbers = [range(first, min(first + width, DAYS + 1)) for first in range(1, DAYS + 1, width)]
    return [_year_part(grid, year, part) for grid in grids for part in numbers]


def _year_part(grid: Grid, year: int, numbers: range) -> Piece:
    part = "" if len(numbers) == DAYS else f", days {numbers[0]} to {numbers[-1]}"
    columns = {number: column for column, number in enumerate(numbers)}
    return Piece(
        titles=(f"{grid.capitalize()} {year}{part}",),
        grids=(grid,),
        left=NUMBERS,
        columns=len(numbers),
        rows=MONTHS,
        cells=tuple(
            PaperCell(column, month - 1, grid, day_of(year, month, number))
            for month in range(1, MONTHS + 1)
            for number, column in columns.items()
        ),
        heads=tuple(_number(number, column, -1) for number, column in columns.items()),
        names=tuple(
            Name(-NUMBERS, month - 1, calendar.month_abbr[month], month % 3 == 1)
            for month in range(1, MONTHS + 1)
        ),
        rules=(
            *(Rule(at, 0, at, MONTHS, FIFTH) for at in _after_fifths(numbers)),
            *(Rule(0, row, len(numbers), row, QUARTER) for row in range(3, MONTHS, 3)),
        ),
    )


def turned_year(grids: Sequence[Grid], year: int) -> Piece:
    """A column a month and a row a day of the month; two grids with the numbers between them."""
    begins = [0] if len(grids) == 1 else [0, MONTHS + NUMBERS]
    return Piece(
        titles=tuple(f"{grid.capitalize()} {year}" for grid in grids),
        grids=tuple(grids),
        left=NUMBERS if len(grids) == 1 else 0,
        columns=begins[-1] + MONTHS,
        rows=DAYS,
        cells=tuple(
            PaperCell(begin + month - 1, number - 1, grid, day_of(year, month, number))
            for grid, begin in zip(grids, begins, strict=True)
            for month in range(1, MONTHS + 1)
            for number in range(1, DAYS + 1)
        ),
        heads=tuple(
            Name(begin + month - 1, -1, calendar.month_abbr[month][0], month % 3 == 1)
            for begin in begins
            for month in range(1, MONTHS + 1)
        ),
        names=tuple(
            _number(number, -NUMBERS if len(grids) == 1 else MONTHS, number - 1)
            for number in range(1, DAYS + 1)
        ),
        rules=tuple(rule for begin in begins for rule in _turned_rules(begin)),
    )


def _turned_rules(begin: int) -> Iterator[Rule]:
    yield from (Rule(begin, at, begin + MONTHS, at, FIFTH) for at in _after_fifths(range(1, DAYS + 1)))
    yield from (Rule(begin + at, 0, begin + at, DAYS, QUARTER) for at in range(3, MONTHS, 3))


def _number(number: int, column: float, row: float) -> Name:
    return Name(column, row, str(number), number % 5 == 0, is_number=True)


def _after_fifths(numbers: Iterable[int]) -> list[int]:
    """How many of some numbers of days stand before each line after a fifth day."""
    listed = list(numbers)
    return [place + 1 for place, number in enumerate(listed[:-1]) if number % 5 == 0]


def day_of(year: int, month: int, number: int) -> date | None:
    """The day, if there is one of that number."""
    return date(year, month, number) if number <= length_of_month(year, month) else None


# --- a month ----------------------------------------------------------------------------------


def month_piece(grid: Grid, year: int, month: int, first_weekday: int) -> Piece:
    """A row a week and a column a weekday, with a line before the weekend."""
    listed = weeks(year, month, first_weekday)
    names = enumerate(weekday_names(first_weekday))
    saturday = (5 - first_weekday) % 7
    before_weekend = [Rule(saturday, 0, saturday, len(listed), FIFTH)] if saturday else []
    return Piece(
        titles=(f"{grid.capitalize()}, {month_name(date(year, month, 1))}",),
        grids=(grid,),
        left=0,
        columns=7,
        rows=len(listed),
        cells=tuple(
            PaperCell(column, row, grid, day)
            for row, week in enumerate(listed)
            for column, day in enumerate(week)
            if day
        ),
        heads=tuple(Name(column, -1, name, (column + first_weekday) % 7 >= 5) for column, name in names),
        names=(),
        rules=tuple(before_weekend),
        is_month=True,
    )
