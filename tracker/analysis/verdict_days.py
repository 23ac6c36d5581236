"""The days on which a verdict is given.

Looking at a growing record again and again, and stopping at the first link found, finds links where there
are none. So the word "shown" is decided on a few days fixed beforehand by the calendar.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import chain, count
from typing import NamedTuple

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


class VerdictSchedule(NamedTuple):
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

    0.02 after the first year, 0.01 after the second, 0.0085 on every later look. With these levels 3.7 % of
    the records without any difference are shown one within five years (3.0 to 4.6; 28 kinds of record, 2,099
    in all). A p-value from n labels that are moved by far cannot fall below 1/(n - 14), so a first year at
    0.0085 would leave room for two tests only.

    Parameters
    ----------
    length : int
        Days from the first day of the record to the verdict day.
    """
    levels = ((FIRST_GROUPS, 0.0), (2 * FIRST_GROUPS, 0.02), (3 * FIRST_GROUPS, 0.01))
    return next((level for until, level in levels if length < until), 0.0085)


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
