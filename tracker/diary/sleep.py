"""Which sleep is which day's: a sleep belongs to the day for which she got up from it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime

from tracker.diary.clock import DAY_CHANGE_HOUR, Clock, hours_between

Span = tuple[datetime, datetime]
"""Asleep from, to; aware moments."""


def hours_by_day(
    spans: Iterable[Span], clock: Clock, change_hour: int = DAY_CHANGE_HOUR
) -> dict[date, float]:
    """Hours slept, day by day.

    Getting up on a day is the end of the longest sleep that ended on it. All that was slept since
    the getting up before, naps included, is added in; so each sleep counts once, and all of it lies
    before the day. What comes after the last getting up belongs to a day that has not begun.
    """
    ordered = sorted(spans, key=lambda span: span[1])
    risings = _risings(ordered, clock, change_hour)
    hours: dict[date, float] = dict.fromkeys(risings, 0.0)
    for start, end in ordered:
        day = next((day for day, risen in risings.items() if end <= risen), None)
        if day is not None:
            hours[day] += hours_between(start, end)
    return hours


def _risings(ordered: list[Span], clock: Clock, change_hour: int) -> dict[date, datetime]:
    """The moment of getting up on each day that has one, in order of time."""
    ended: dict[date, list[Span]] = defaultdict(list)
    for span in ordered:
        ended[clock.day_of(span[1], change_hour)].append(span)
    return {day: max(those, key=lambda span: hours_between(*span))[1] for day, those in ended.items()}
