"""The days on which a verdict is given.

Looking at a growing record again and again, and stopping at the first link found, finds links where there
are none. So the word "shown" is decided on a few days fixed beforehand by the calendar.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import chain, count

EARLY = (120, 180)
"""Lengths in days of the first looks at links; then one at each 365 days. Measured, of the records without a
link: a look every 30 days at 5 % shows one in 22 % within three years, these looks at 1 % in 3.3 % within
five."""
YEAR = 365.2425
"""Mean length of a calendar year, in days."""
FEWEST_YEARS = 3
"""Whole years before the first look at a season. Measured: two years show a wave of 0.6 standard deviations
in 4 to 10 of 100 records, three in 62 to 96."""
FIRST_GROUPS = 365
"""Length in days of the first look at shift kinds and weekdays."""


@dataclass(frozen=True)
class VerdictSchedule:
    """The last verdict day that has passed, and the next."""

    last: date | None
    """None before the first verdict day."""
    next: date


def link_looks(first: date, as_of: date) -> VerdictSchedule:
    """Return the verdict days of lags: day 120, 180, 365, then every 365; groups share those from 365 on.

    Parameters
    ----------
    first : date
        First day of the record; it is day 1.
    as_of : date
        A verdict day that falls on it has passed.
    """
    return _looks(first, as_of, chain(EARLY, count(365, 365)))


def group_level(length: int) -> float:
    """Return the level at which all group tests of a look are judged together; 0 where none is judged yet.

    0.02 after the first year, 0.01 on every later look. At 0.05 on every look from day 120 on, 18.2 % of
    the records without any difference were shown one within five years (17.1 to 19.3; twelve kinds of record,
    400 of each); with these levels 3.9 % are (3.4 to 4.4; thirteen kinds, nights of a run and quick returns
    counted in). A test by n circular shifts cannot fall below 1/n, so a first year at 0.01 would leave room
    for three tests only.

    The price, of 100 records in each of which the difference is there: a weekend half a standard deviation
    better is shown in 40 in place of 49 after one year, 82 in place of 92 after two, 96 in place of 100 after
    three; kinds of shift up to two thirds of one apart in 49 in place of 61, 92 in place of 97, 100; what is
    twice as large in all of them after one year. On the days 120 and 180, a difference of that size was shown
    in 64 to 92 of 100 and waits for the first year now.

    Parameters
    ----------
    length : int
        Days from the first day of the record to the verdict day.
    """
    if length < FIRST_GROUPS:
        return 0.0
    return 0.02 if length < 2 * FIRST_GROUPS else 0.01


def season_looks(first: date, as_of: date) -> VerdictSchedule:
    """Return the verdict days of seasons: the last day of the third whole year, then one a year."""
    return _looks(first, as_of, map(whole_years_length, count(FEWEST_YEARS)))


def whole_years_length(years: int) -> int:
    """Return the days needed to hold `years` whole years."""
    return math.ceil(YEAR * years)


def _looks(first: date, as_of: date, lengths: Iterator[int]) -> VerdictSchedule:
    last = None
    day = first + timedelta(days=next(lengths) - 1)
    while day <= as_of:
        last, day = day, first + timedelta(days=next(lengths) - 1)
    return VerdictSchedule(last=last, next=day)
