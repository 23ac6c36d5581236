"""What is counted beside a month: low days, short sleeps, anxious days, nights."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from tracker.cells import text_width
from tracker.diary.low_and_short import is_low, is_short, low_levels, short_levels
from tracker.diary.months import days_of_month
from tracker.diary.rota import night_dates
from tracker.diary.scales import GRIDS, Grid
from tracker.grids.palette import Palette
from tracker.grids.remembered import Remembered
from tracker.grids.squares import GridData

FEW = 15
"""Kept days of a month under which its counts stand back."""


class Count(NamedTuple):
    """So many of so many days."""

    number: int
    of: int

    def __str__(self) -> str:
        return f"{self.number} of {self.of}"


class DayCounts(NamedTuple):
    """Counts of the days on which something could be kept."""

    possible: int
    """How many there are."""
    kept: tuple[int, int]
    """Of these, days with a mood and with a sleep."""

    low: Count
    """Days on the two lowest levels of mood, of those with a mood."""
    short: Count
    """Sleeps under the limit, of those that can be told."""
    anxious: Count
    """Anxious days, of those on which the mark was answered."""
    nights: int
    """Night shifts that have begun."""

    def kept_of(self, grid: Grid) -> int:
        """Days on which a grid is kept."""
        return self.kept[GRIDS.index(grid)]

    def of(self, grid: Grid) -> Count:
        """The count that stands for a grid: low moods, or short sleeps."""
        return self.low if grid == "mood" else self.short


_counted = Remembered[DayCounts | None](most=256)


def count_month(grid_data: GridData, year: int, month: int) -> DayCounts | None:
    """Counts of a month; None where nothing could be kept in it."""
    days = days_of_month(year, month)
    return _counted.get((year, month), grid_data.basis(days), lambda: _count_days(grid_data, days))


def _count_days(grid_data: GridData, days: Iterable[date]) -> DayCounts | None:
    possible = [grid_data.day(day) for day in grid_data.possible(days)]
    if not possible:
        return None
    scales, limit = grid_data.scales, grid_data.short_limit
    kept = [
        sum(square is not None and square.is_kept for square in squares)
        for squares in ([day.mood for day in possible], [day.sleep for day in possible])
    ]
    return DayCounts(
        len(possible),
        (kept[0], kept[1]),
        _count(is_low(day, scales) for day in possible),
        _count(is_short(day, scales, limit) for day in possible),
        _count(day.is_anxious for day in possible),
        len(night_dates(possible, grid_data.kinds, grid_data.clock)),
    )


def _count(answers: Iterable[bool | None]) -> Count:
    known = [answer for answer in answers if answer is not None]
    return Count(sum(known), len(known))


def low_words(grid_data: GridData, day: date, width: int) -> str:
    """The labels of the levels that count as low on a day, in so many cells: `low or very low`."""
    low = [level.label for level in reversed(low_levels(grid_data.scales.on("mood", day)))]
    forms = (" or ".join(low), "two lowest levels" if len(low) > 1 else "lowest level")
    return next((form for form in forms if text_width(form) <= width), "low")


def short_words(grid_data: GridData, width: int = 9) -> str:
    """What a short sleep is, in so many cells: `under 6 h`, `<6 h`."""
    long = f"under {grid_data.short_limit:g} h"
    return long if text_width(long) <= width else f"<{grid_data.short_limit:g} h"


def bar_fill(grid_data: GridData, palette: Palette, grid: Grid, day: date) -> str | None:
    """The colour of the bars of a grid: that of the highest level that is counted; None without colours."""
    scale = grid_data.scales.on(grid, day)
    levels = low_levels(scale) if grid == "mood" else short_levels(scale, grid_data.short_limit)
    return palette.fill(grid, max(len(levels) - 1, 0), len(scale.levels)).ground
