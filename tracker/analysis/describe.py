"""What was kept, counted: rows of months, seasons, shift kinds and weekdays. No means of levels.

References
----------
.. [1] Hyndman RJ, Fan Y (1996). Sample quantiles in statistical packages. Am. Stat. 50:361-365, definition 1.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

import numpy as np

from tracker.analysis.series import Flags, Floats

FEWEST_FOR_A_MEDIAN = 10
"""Kept days from which a median is given. Common practice, no source."""
FEW_KEPT = 0.5
"""Kept share under which a row is marked. Common practice, no source."""


@dataclass(frozen=True)
class GroupRow:
    """The days of one group, counted."""

    name: str
    first: date
    last: date
    outcome: str
    """`mood` or `sleep`."""
    days: int
    """Days of the group inside the record."""
    kept: int
    """Of these, days with the outcome."""
    counts: tuple[int, ...]
    """Kept days at each level, the lowest first."""
    median: int | None
    """Level number (1 the lowest) that half the kept days do not exceed; None under ten kept days."""
    quartiles: tuple[int, int] | None
    anxious: int
    """Days marked anxious."""
    anxious_noted: int
    """Days on which the mark was answered."""

    @property
    def few_kept(self) -> bool:
        """Tell whether under half of the days were kept."""
        return self.kept < FEW_KEPT * self.days


def actual_quartiles(values: Floats) -> tuple[int, int, int]:
    """Return the quartiles as values that occur [1]_: the least that 25, 50, 75 % of the days do not exceed.

    Parameters
    ----------
    values : (m,) array
        Level numbers without nan, m > 0.

    Examples
    --------
    >>> import numpy as np
    >>> actual_quartiles(np.array([1.0, 2, 3, 4]))
    (1, 2, 3)
    """
    rising = np.sort(values)
    low, middle, high = (int(rising[math.ceil(len(rising) * quarter / 4) - 1]) for quarter in (1, 2, 3))
    return low, middle, high


def describe(
    name: str,
    first: date,
    last: date,
    outcome: str,
    days: Flags,
    values: Floats,
    anxious: Floats,
    levels: int,
) -> GroupRow:
    """Count one group of days.

    Parameters
    ----------
    name : str
        What the group is called.
    first, last : date
        Where the group begins and ends.
    outcome : str
        What `values` holds.
    days : (n,) array of bool
        The days of the group.
    values, anxious : (n,) arrays
        Level numbers and 0/1, nan for a missing day.
    levels : int
        Number of levels of the scale.
    """
    kept = values[days & ~np.isnan(values)]
    noted = anxious[days & ~np.isnan(anxious)]
    quartiles = actual_quartiles(kept) if len(kept) >= FEWEST_FOR_A_MEDIAN else None
    return GroupRow(
        name=name,
        first=first,
        last=last,
        outcome=outcome,
        days=int(np.count_nonzero(days)),
        kept=len(kept),
        counts=tuple(np.bincount(kept.astype(int), minlength=levels + 1)[1:].tolist()),
        median=quartiles[1] if quartiles else None,
        quartiles=(quartiles[0], quartiles[2]) if quartiles else None,
        anxious=int(noted.sum()),
        anxious_noted=len(noted),
    )
