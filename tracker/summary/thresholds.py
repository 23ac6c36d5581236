"""How much must be kept before the page says something. A count is never refused; a comparison is."""

from __future__ import annotations

from tracker.analysis.counts import Count

RECENT, BEFORE = 14, 84
"""Days of the first two columns of figures."""
DAYS_OF_TWO_COLUMNS = 28
"""Days of a period from which its last two weeks stand beside the others."""
DAYS_OF_A_YEAR_BEFORE = RECENT + BEFORE
"""Days of a period from which the same weeks a year before stand beside it, if half of those is kept."""
LONGEST_BESIDE_A_YEAR_BEFORE = 365
"""Days of a period above which it would overlap the one a year before."""
FEWEST_COUNTED = 7
"""Kept days under which a count stands in brackets; so does one of under half of the days."""
FEWEST_OF_MONTH = 15
"""Kept days under which the count of a month stands in brackets."""
MONTHS_OF_A_YEAR = 2
"""Months with so many kept days before the period from which the year is drawn."""
SHIFTS_ENTERED = 0.8
"""Share of the days under which it is said on how many a shift is entered."""
UNEVEN = 0.2
"""Difference between the kept shares of two columns from which it is said."""


def in_brackets(count: Count, days: int) -> str:
    """A count of so many days; in brackets where it rests on few of them."""
    return str(count) if is_enough(count.of, days) else f"({count})"


def is_enough(kept: int, days: int) -> bool:
    """Whether so many kept days speak for all days without brackets."""
    return kept >= FEWEST_COUNTED and 2 * kept >= days
