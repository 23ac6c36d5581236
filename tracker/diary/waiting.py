"""Which squares wait, and which is asked for next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import NamedTuple

from tracker.diary.breaks import Break, in_break
from tracker.diary.days import Day
from tracker.diary.scales import Grid


class SquareKey(NamedTuple):
    """One square: a day in a grid."""

    day: date
    grid: Grid


def order_of_asking(today: date) -> tuple[SquareKey, SquareKey, SquareKey, SquareKey]:
    """The four squares that may be asked for, in order of time.

    The sleep of a day lies before its mood.
    """
    yesterday = today - timedelta(days=1)
    return (
        SquareKey(yesterday, "sleep"),
        SquareKey(yesterday, "mood"),
        SquareKey(today, "sleep"),
        SquareKey(today, "mood"),
    )


class Waiting(NamedTuple):
    """Tells which squares of a record wait."""

    days: Mapping[date, Day]
    """The days that have something; others have nothing."""
    first: date | None
    """First day of the record; before it nothing waits. None: nothing is kept yet."""
    today: date
    breaks: tuple[Break, ...] = ()

    def waits(self, place: SquareKey) -> bool:
        """Whether nothing stands at a place where something could."""
        if place.day > self.today or in_break(place.day, self.breaks):
            return False
        if place.day < (self.first or self.today):
            return False
        day = self.days.get(place.day)
        return day is None or day.square(place.grid) is None

    def next_asked(self) -> SquareKey | None:
        """The earliest waiting square of yesterday and today, or None when all is kept."""
        return next((place for place in order_of_asking(self.today) if self.waits(place)), None)

    def older_spans(self) -> Iterator[tuple[date, date]]:
        """The days before yesterday on which squares can wait: first and last of each part of a year."""
        begin, last = self.first or self.today, self.today - timedelta(days=2)
        for span in sorted(self.breaks, key=lambda span: span.from_day):
            yield from _years(begin, min(span.from_day - timedelta(days=1), last))
            begin = max(begin, (span.to_day or last) + timedelta(days=1))
        yield from _years(begin, last)

    def before(self, place: SquareKey) -> SquareKey | None:
        """The nearest earlier waiting square of the same grid."""
        day = place.day - timedelta(days=1)
        while self.first is not None and day >= self.first:
            if self.waits(SquareKey(day, place.grid)):
                return SquareKey(day, place.grid)
            day -= timedelta(days=1)
        return None

    def after(self, place: SquareKey) -> SquareKey | None:
        """The next later waiting square of the same grid, up to today."""
        day = place.day + timedelta(days=1)
        while day <= self.today:
            if self.waits(SquareKey(day, place.grid)):
                return SquareKey(day, place.grid)
            day += timedelta(days=1)
        return None


def _years(first: date, last: date) -> Iterator[tuple[date, date]]:
    """A span in parts that each lie in one year; nothing where it ends before it begins."""
    for year in range(first.year, last.year + 1):
        begin, end = max(first, date(year, 1, 1)), min(last, date(year, 12, 31))
        if begin <= end:
            yield begin, end
