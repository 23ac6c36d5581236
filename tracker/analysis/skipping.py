"""Do the days that were kept differ from those that were not, by what stood before?"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tracker.analysis.adjust import Design, residual
from tracker.analysis.chance import holm, t_two_sided, variance_factor
from tracker.analysis.lags import FEWEST_DOF, MEMORY, Prepared, lagged_correlation
from tracker.analysis.series import Flags, standard_ranks

FEWEST_WAITING = 10
"""Days that waited, and days that did not, from which the two are compared. Common practice, no source."""
ALPHA = 0.01
"""Level of both series together on one verdict day. Measured, of records whose gaps follow nothing: 4 % are
shown to within five years."""
SUSPECT = 0.05
"""p-value of either series, nothing allowed for, up to which a negative link of mood and the sleep before is
not believed. Measured: 8 % of records whose gaps follow nothing have one so small."""


class Skipping(NamedTuple):
    """Whether squares of one series waited according to the square of the day before."""

    r: float
    """Correlation of a square's rank with whether the next one waits; below 0: after low ones more waited."""
    p: float
    """nan where too few days waited."""


def skipping(series: Prepared, waits: Flags, design: Design) -> Skipping:
    """Correlate what stood on a day with whether the next day waits.

    Parameters
    ----------
    series : Prepared
    waits : (n,) array of bool
        Days without an answer; a break and `could not say` do not wait.
    design : Design
        What was taken out of the series; it is taken out of the waiting likewise.
    """
    before = np.concatenate([[np.nan], series.adjusted[:-1]])
    told = np.isfinite(before) & (waits | ~np.isnan(series.kept))
    waited = np.where(told, waits.astype(float), np.nan)
    if min(np.count_nonzero(waited == 1), np.count_nonzero(waited == 0)) < FEWEST_WAITING:
        return Skipping(np.nan, np.nan)
    rest = residual(standard_ranks(waited), design)
    past = np.where(told, before, np.nan)
    r = lagged_correlation(past, rest.values, np.array([0]))
    factor = variance_factor(past, rest.values, MEMORY, slack=True)
    dof = (np.count_nonzero(told) - 1 - max(series.rank, rest.rank)) / factor
    if dof < FEWEST_DOF or not np.isfinite(r[0]):
        return Skipping(np.nan, np.nan)
    t = r * np.sqrt(dof / np.maximum(1 - r**2, 1e-12))
    return Skipping(float(r[0]), float(t_two_sided(t, np.array([dof]))[0]))


def holm_of(tests: dict[str, Skipping]) -> dict[str, float]:
    """Return the p-values after Holm's adjustment over the series."""
    adjusted = holm(np.array([test.p for test in tests.values()]))
    return dict(zip(tests, adjusted.tolist(), strict=True))
