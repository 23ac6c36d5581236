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
