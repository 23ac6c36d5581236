"""The days of the record as one mapping, read a month at a time when they are asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from tracker.diary.days import Day
from tracker.diary.months import days_of_month
from tracker.record.store import Record


class DayCache(Mapping[date, Day]):
    """Every day that has something; opening reads only the months that are looked at."""

    def __init__(self, record: Record) -> None:
        self._record = record
        self._generation = record.generation
        self._months: dict[tuple[int, int], dict[date, Day]] = {}

    def __getitem__(self, day: date) -> Day:
        return self._month(day)[day]

    def __iter__(self) -> Iterator[date]:
        return iter(self._record.days())

    def __len__(self) -> int:
        return len(self._record.days())

    def on(self, day: date) -> Day:
        """One day, empty where nothing is kept."""
        return self._month(day).get(day) or Day(day)

    def update(self, days: Mapping[date, Day]) -> None:
        """Take up a few days as they stand now."""
        for day, what in days.items():
            month = self._month(day)
            month.pop(day, None)
            if what != Day(day):
                month[day] = what

    def invalidate(self) -> None:
        """Read everything anew when it is next asked for."""
        self._months.clear()

    def _month(self, day: date) -> dict[date, Day]:
        if self._generation != self._record.generation:
            self.invalidate()
            self._generation = self._record.generation
        month = day.year, day.month
        if month not in self._months:
            self._months[month] = self._record.days(day.replace(day=1), days_of_month(*month)[-1])
        return self._months[month]
