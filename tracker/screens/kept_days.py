"""The days of the record as one mapping, read a year at a time when they are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from tracker.diary.days import Day
from tracker.record.store import Record


class KeptDays(Mapping[date, Day]):
    """Every day that has something; opening reads only the years that are looked at."""

    def __init__(self, record: Record) -> None:
        self._record = record
        self._years: dict[int, dict[date, Day]] = {}

    def __getitem__(self, day: date) -> Day:
        return self._year(day.year)[day]

    def __iter__(self) -> Iterator[date]:
        return iter(self._record.days())

    def __len__(self) -> int:
        return len(self._record.days())

    def on(self, day: date) -> Day:
        """One day, empty where nothing is kept."""
        return self._year(day.year).get(day) or Day(day)

    def read_again(self, days: Iterable[date]) -> None:
        """Look at a few days anew after they were changed."""
        for day in set(days):
            year = self._year(day.year)
            year.pop(day, None)
            year |= self._record.days(day, day)

    def forget(self) -> None:
        """Read everything anew when it is next asked for."""
        self._years.clear()

    def _year(self, year: int) -> dict[date, Day]:
        if year not in self._years:
            self._years[year] = self._record.days(date(year, 1, 1), date(year, 12, 31))
        return self._years[year]
