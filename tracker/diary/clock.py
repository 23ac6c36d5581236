"""Which day a moment belongs to, for somebody who works nights.

A day begins at the day-change hour (local), so what is pressed at 02:30 on Tuesday is Monday's.
Hours are always counted in UTC: wall clocks jump twice a year.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

DAY_CHANGE_HOUR = 4
EARLY_BY = timedelta(hours=3)
"""How long before the day-change hour the coming day may be begun."""


def _system_now() -> datetime:
    return datetime.now(UTC)


class Clock(NamedTuple):
    """Tells the moment, and where the person is."""

    now: Callable[[], datetime] = _system_now
    """The present moment, in UTC."""
    zone: tzinfo | None = None
    """The person's time zone; None: the computer's own, summer time included."""

    def local(self, moment: datetime) -> datetime:
        """A moment on the person's wall clock."""
        return moment.astimezone(self.zone)

    def moment(self, day: date, at: time) -> datetime:
        """A wall-clock time of a date as a moment in UTC."""
        naive = datetime.combine(day, at)
        local = naive.replace(tzinfo=self.zone) if self.zone else naive.astimezone()
        return local.astimezone(UTC)

    def day_of(self, moment: datetime, change_hour: int = DAY_CHANGE_HOUR) -> date:
        """The day to which a moment belongs."""
        local = self.local(moment)
        return local.date() if local.hour >= change_hour else local.date() - timedelta(days=1)

    def today(self, change_hour: int = DAY_CHANGE_HOUR) -> date:
        """The day that is going on."""
        return self.day_of(self.now(), change_hour)

    def last_open_day(self, change_hour: int = DAY_CHANGE_HOUR) -> date:
        """The last day that may be kept now: today, or the coming day in the early hours before it."""
        return self.day_of(self.now() + EARLY_BY, change_hour)

    def offset_minutes(self, moment: datetime) -> int:
        """Minutes of local time ahead of UTC."""
        offset = self.local(moment).utcoffset() or timedelta()
        return round(offset.total_seconds() / 60)

    def name_stamp(self) -> str:
        """The present moment, local, as a part of a file's name."""
        return self.local(self.now()).strftime("%Y-%m-%d-%H%M%S")


def hours_between(start: datetime, end: datetime) -> float:
    """Elapsed hours between two aware moments, whatever the wall clocks did."""
    return (end.astimezone(UTC) - start.astimezone(UTC)).total_seconds() / 3600


def as_stamp(moment: datetime) -> str:
    """A moment as text that sorts in the order of time: UTC, microseconds, Z."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def from_stamp(text: str) -> datetime:
    """The moment written by `as_stamp`.

    Raises ValueError for a text that names no moment in UTC.
    """
    if not text.endswith("Z"):
        raise ValueError(f"{text!r} is no moment in UTC")
    return datetime.fromisoformat(text)  # strptime takes ten times as long
