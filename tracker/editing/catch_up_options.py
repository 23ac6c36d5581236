"""Catching up: a month of one grid is filled in, a key a day, and ends with its sums."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import NamedTuple

from tracker.diary.breaks import Break, in_break
from tracker.diary.dates import MONTHS
from tracker.diary.days import Basis, Day, Field
from tracker.diary.months import length_of_month
from tracker.diary.scales import Scale
from tracker.editing.day_cache import DayCache


class OldColour(NamedTuple):
    """What one colour of an old paper grid meant."""

    level: str | None
    """Id of the level; None: could not say."""
    anxious: bool = False


NO_COLOURS: Mapping[str, OldColour] = MappingProxyType({})


class CatchUpOptions(NamedTuple):
    """How the squares that are put in now came about."""

    basis: Basis | None = None
    """`paper`: written down at the time. None: remembered, where the day is long enough ago."""
    days_later: int = 0
    """1 where the old grid puts a night's sleep under the day on which it began."""
    both: bool = False
    """Whether each month's row of one grid is followed by that of the other."""
    not_anxious: bool = False
    """Whether a mood without the mark means `not anxious`."""
    colours: Mapping[str, OldColour] = NO_COLOURS
    """Key to press, and what that colour of the old grid meant."""

    def shift(self, field: Field) -> int:
        """Days from the old grid's day to ours; only a sleep can lie under another one."""
        return self.days_later if field == "sleep" else 0

    def paper_day(self, day: date, field: Field) -> date:
        """The day of the old grid that stands for one of ours."""
        return day - timedelta(days=self.shift(field))

    def month(self, day: date, field: Field) -> tuple[date, date]:
        """Our first and last day of the old grid's month that holds a day."""
        on_paper = self.paper_day(day, field)
        first = on_paper.replace(day=1)
        last = on_paper.replace(day=length_of_month(on_paper.year, on_paper.month))
        later = timedelta(days=self.shift(field))
        return first + later, last + later


def next_empty(
    days: DayCache, breaks: tuple[Break, ...], field: Field, first: date, last: date
) -> date | None:
    """The first day from first to last on which nothing stands in a field, outside of breaks."""
    day = first
    while day <= last:
        if days.on(day).square(field) is None and not in_break(day, breaks):
            return day
        day += timedelta(days=1)
    return None


def sums(days: list[Day], scale: Scale, month: date, possible: int) -> str:
    """A month's check sums, to hold against the paper: `March: 31 of 31; 5:4 4:9 3:12 2:5 1:1`."""
    squares = [square for day in days if (square := day.square(scale.grid))]
    counts = [
        (level.mark, sum(square.value == level.id for square in squares)) for level in reversed(scale.levels)
    ]
    counts.append(("?", sum(not square.is_kept for square in squares)))
    listed = " ".join(f"{mark}:{number}" for mark, number in counts if number)
    return f"{MONTHS[month.month - 1]}: {len(squares)} of {possible}" + (f"; {listed}" if listed else "")
