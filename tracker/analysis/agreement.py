"""A link in plain numbers: of pairs of days that differ in both, how many agree.

References
----------
.. [1] Kendall MG (1938). A new measure of rank correlation. Biometrika 30:81-93.
.. [2] Goodman LA, Kruskal WH (1954). Measures of association for cross classifications. J. Am. Stat.
   Assoc. 49:732-764.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tracker.analysis.series import Counts, Floats


class PairsOfDays(NamedTuple):
    """Pairs of days that differ in both series; an exact count of what was kept, nothing allowed for."""

    agreeing: int
    """Pairs in which the day with the longer sleep has the higher outcome."""
    disagreeing: int
    """Pairs in which it has the lower one."""

    @property
    def in_a_hundred(self) -> int | None:
        """Agreeing pairs in a hundred, 50 for no link; None if no two days differ in both."""
        pairs = self.agreeing + self.disagreeing
        return round(100 * self.agreeing / pairs) if pairs else None

    @property
    def gamma(self) -> float:
        """Goodman and Kruskal's gamma [2]_, -1 to 1; nan if no two days differ in both."""
        pairs = self.agreeing + self.disagreeing
        return (self.agreeing - self.disagreeing) / pairs if pairs else float("nan")


def cross_table(x: Floats, y: Floats) -> Counts:
    """Return the table of counts of two series without nan, both in rising order of their values."""
    values_x, place_x = np.unique(x, return_inverse=True)
    values_y, place_y = np.unique(y, return_inverse=True)
    table = np.zeros((len(values_x), len(values_y)), dtype=np.int64)
    np.add.at(table, (place_x, place_y), 1)
    return table


def count_agreement(x: Floats, y: Floats) -> PairsOfDays:
    """Count the pairs of days that agree and disagree [1]_.

    Parameters
    ----------
    x, y : (m,) arrays
        Without nan. The work grows with the number of different values, not of days squared.

    Examples
    --------
    >>> import numpy as np
    >>> count_agreement(np.array([1.0, 2, 3]), np.array([1.0, 3, 2]))
    PairsOfDays(agreeing=2, disagreeing=1)
    """
    table = cross_table(x, y)
    return PairsOfDays(agreeing=_agreeing(table), disagreeing=_agreeing(table[:, ::-1]))


def _agreeing(table: Counts) -> int:
    return int(sum(n * table[i + 1 :, j + 1 :].sum() for (i, j), n in np.ndenumerate(table)))
