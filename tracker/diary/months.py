"""Where every date has its place: days one after another, weeks of a month, months of a year."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from datetime import date, timedelta

from tracker.diary.dates import WEEKDAYS

Week = tuple[date | None, ...]
"""Seven places from the first weekday on; None where another month lies."""


def each_day(first: date, last: date) -> Iterator[date]:
    """Every date from first to last; none where the last comes before the first."""
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


def length_of_month(year: int, month: int) -> int:
    """How many days a month has."""
    return monthrange(year, month)[1]


def days_of_month(year: int, month: int) -> list[date]:
    """Every day of a month."""
    return [date(year, month, day) for day in range(1, length_of_month(year, month) + 1)]


def last_of_month(day: date) -> date:
    """The last day of the month that holds a day."""
    return day.replace(day=length_of_month(day.year, day.month))


def days_of_year(year: int) -> list[date]:
    """Every day of a year."""
    return [day for month in range(1, 13) for day in days_of_month(year, month)]


def weeks(year: int, month: int, first_weekday: int = 0) -> list[Week]:
    """The weeks that a month touches, four to six of them.

    Parameters
    ----------
    first_weekday
        Weekday of the first column, 0 for Monday.
    """
    before = column(date(year, month, 1), first_weekday)
    places: list[date | None] = [None] * before
    places += days_of_month(year, month)
    places += [None] * (-len(places) % 7)
    return [tuple(places[at : at + 7]) for at in range(0, len(places), 7)]


def column(day: date, first_weekday: int = 0) -> int:
    """The column of a date, 0 to 6, in weeks that begin on ``first_weekday``."""
    return (day.weekday() - first_weekday) % 7


def weekday_names(first_weekday: int = 0, letters: int = 2) -> list[str]:
    """The names above the columns."""
    return [WEEKDAYS[(first_weekday + at) % 7][:letters].capitalize() for at in range(7)]


def week_number(week: Week) -> int:
    """The ISO 8601 number of a week: that of its Thursday, or of the day next to it in the month.

    A row that begins on another day than Monday lies in two ISO weeks; it carries the number of the one
    that holds its Thursday.
    """
    thursday = _thursday(week)
    return thursday.isocalendar().week


def _thursday(week: Week) -> date:
    at, day = next((at, day) for at, day in enumerate(week) if day is not None)
    first = day - timedelta(days=at)
    return first + timedelta(days=(3 - first.weekday()) % 7)


def month_after(year: int, month: int, months: int = 1) -> tuple[int, int]:
    """The year and month so many months later, or earlier."""
    at = year * 12 + month - 1 + months
    return at // 12, at % 12 + 1


def same_day(day: date, months: int) -> date:
    """The same day of the month so many months later, or the last one there is."""
    year, month = month_after(day.year, day.month, months)
    return date(year, month, min(day.day, length_of_month(year, month)))
