"""Counts over a span of days: what was kept of what was possible. No means, nothing filled in."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.diary.breaks import Break, in_break
from tracker.diary.days import Day
from tracker.diary.months import each_day
from tracker.diary.scales import Placed
from tracker.summary.level_marks import Levels, is_high, is_low


@dataclass(frozen=True, slots=True)
class Count:
    """So many of so many."""

    number: int
    of: int

    def __str__(self) -> str:
        return f"{self.number} of {self.of}"


def days_between(days: Mapping[date, Day], first: date, last: date, breaks: tuple[Break, ...]) -> list[Day]:
    """Every day from first to last, empty ones too; of a marked break only what is kept in it."""
    all_days = (days.get(at, Day(at)) for at in each_day(first, last))
    return [day for day in all_days if day.is_answered or not in_break(day.date, breaks)]


@dataclass(frozen=True, slots=True)
class Counter:
    """Counts over days of one record."""

    levels: Levels
    nights: frozenset[date]
    """Dates on which a night shift starts."""
    quick: frozenset[date]
    """Dates of shifts that start under 11 hours after the one before."""
    bound: float | None
    """Hours under which a sleep counts as short; None where the buckets cannot tell."""
    today: date
    """The day that is going on; its night is still to come."""

    def mood_kept(self, days: Iterable[Day]) -> Count:
        """Days with a mood."""
        return _count(days, lambda _: True, lambda day: self.levels.of(day.mood) is not None)

    def sleep_kept(self, days: Iterable[Day]) -> Count:
        """Days with a sleep."""
        return _count(days, lambda _: True, lambda day: self.levels.of(day.sleep) is not None)

    def is_kept(self, days: Iterable[Day]) -> bool:
        """Whether any of the days has a mood or a sleep."""
        return any(self._has_mood(day) or self._has_sleep(day) for day in days)

    def low(self, days: Iterable[Day]) -> Count:
        """Days on one of the lowest levels, of those with a mood."""
        return _count(days, self._has_mood, lambda day: self._mood_is(day, is_low))

    def high(self, days: Iterable[Day]) -> Count:
        """Days on one of the highest levels, of those with a mood."""
        return _count(days, self._has_mood, lambda day: self._mood_is(day, is_high))

    def anxious(self, days: Iterable[Day]) -> Count:
        """Days marked anxious, of those with a yes or a no."""
        return _count(days, lambda day: day.is_anxious is not None, lambda day: bool(day.is_anxious))

    def short(self, days: Iterable[Day]) -> Count:
        """Days with a short sleep before them, of those with a sleep."""
        bound = self.bound or 0
        return _count(days, self._has_sleep, lambda day: self.levels.is_short(day, bound))

    def nights_worked(self, days: Iterable[Day]) -> int:
        """Night shifts that started on the days, without that of today."""
        return sum(day.date in self.nights and day.date < self.today for day in days)

    def quick_returns(self, days: Iterable[Day]) -> int:
        """Shifts of the days that come under 11 hours after the one before."""
        return sum(day.date in self.quick for day in days)

    def is_after_a_night(self, day: Day) -> bool:
        """Whether a night shift started on the day before."""
        return day.date - timedelta(days=1) in self.nights

    def is_at_a_night(self, day: Day) -> bool:
        """Whether the day has a night shift or is the day after one."""
        return day.date in self.nights or self.is_after_a_night(day)

    def _has_mood(self, day: Day) -> bool:
        return self.levels.of(day.mood) is not None

    def _has_sleep(self, day: Day) -> bool:
        return self.levels.of(day.sleep) is not None

    def _mood_is(self, day: Day, what: Callable[[Placed], bool]) -> bool:
        placed = self.levels.of(day.mood)
        return placed is not None and what(placed)


def _count(days: Iterable[Day], possible: Callable[[Day], bool], wanted: Callable[[Day], bool]) -> Count:
    there = [day for day in days if possible(day)]
    return Count(sum(wanted(day) for day in there), len(there))
