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
"""Lengths in days of the first looks at links; then one at each 365 days."""
YEAR = 365.2425
"""Mean length of a calendar year, in days."""
FEWEST_YEARS = 3
"""Whole years before the first look at a season."""
FIRST_GROUPS = 365
"""Length in days of the first look at shift kinds and weekdays."""


@dataclass(frozen=True)
class Looks:
    """The last verdict day that has passed, and the next."""

    last: date | None
    """None before the first verdict day."""
    next: date


def link_looks(first: date, as_of: date) -> Looks:
    """Return the verdict days of lags, shift kinds and weekdays: day 120, 180, 365, then every 365.

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

    0.02 after the first year, 0.01 on every later look. A test by n circular shifts cannot fall below 1/n,
    so nothing smaller could ever be reached after one year; and at 0.05 on every look from day 120 on, one
    record in six that has no difference is shown one within five years (measured: 18 %; with these levels
    4 %).

    Parameters
    ----------
    length : int
        Days from the first day of the record to the verdict day.
    """
    if length < FIRST_GROUPS:
        return 0.0
    return 0.02 if length < 2 * FIRST_GROUPS else 0.01


def season_looks(first: date, as_of: date) -> Looks:
    """Return the verdict days of seasons: the last day of the third whole year, then one a year."""
    return _looks(first, as_of, map(whole_years_length, count(FEWEST_YEARS)))


def whole_years_length(years: int) -> int:
    """Return the days needed to hold `years` whole years."""
    return math.ceil(YEAR * years)


def _looks(first: date, as_of: date, lengths: Iterator[int]) -> Looks:
    last = None
    day = first + timedelta(days=next(lengths) - 1)
    while day <= as_of:
        last, day = day, first + timedelta(days=next(lengths) - 1)
    return Looks(last=last, next=day)
