"""Is it the shift of the day, or that of the day before?

Shifts of one kind come in runs, so wherever only the day's own kind acts, kinds of shift on the day before
part the days as well. Each is therefore looked at with the other taken out.

References
----------
.. [1] Winkler AM, Ridgway GR, Webster MA, Smith SM, Nichols TE (2014). Permutation inference for the general
   linear model. NeuroImage 92:381-397. (Covariates in permutation tests.)
.. [2] Frisch R, Waugh FV (1933). Partial time regressions as compared with individual trends.
   Econometrica 1:387-401.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from tracker.analysis.adjust import FEWEST_NONZERO
from tracker.analysis.chance import cross_sums_of_all, far_share
from tracker.analysis.series import Flags, Floats

NAMED = 0.01
"""p-value up to which the day, or the day before, is named. Measured, where only the day's own kind acts: the
day before is named in 2 of 480 records, the day in all."""
RIDGE = 1e-6
"""Added to the days of each kind, so that kinds that the others explain wholly can be divided by."""
LONG, STEP = 2190, 5
"""Days from which only every fifth shift is looked at: a year of shifts is enough for a p of 0.01."""
DEPENDENT = 1e-10
"""Share of the largest eigenvalue under which a direction of the covariates is rounding."""


def p_beyond_others(ranked: Floats, taken_out: Floats, labels: npt.NDArray[np.str_]) -> float:
    """Return the p-value of groups of days with other things taken out, against labels moved far [1]_.

    Parameters
    ----------
    ranked : (n,) array
        Standardised mid-ranks, nan for a missing day.
    taken_out : (n, q) array
        Covariates with an intercept among them; those nonzero on fewer than five kept days are left out.
    labels : (n,) array of str
        Group of each day; days with the label "" belong to none, and what tells them apart is taken off.
    """
    n = len(ranked)
    step = STEP if n >= LONG and n % STEP == 0 else 1
    return far_share(explained_by_shifts(ranked, taken_out, labels, step), step)


def explained_by_shifts(
    ranked: Floats, taken_out: Floats, labels: npt.NDArray[np.str_], step: int = 1
) -> Floats:
    """Return the sum of squares that groups explain beyond covariates, for labels moved by 0 to n - 1 days.

    The labels are moved and the covariates stay, so every shift has a least-squares fit of its own [2]_; all
    are solved at once from circular cross-sums.

    Parameters
    ----------
    step : int
        Only every so many shifts are looked at; divides n.

    Returns
    -------
    (n / step,) array
        At shift 0, step, 2 step, ...
    """
    kept = ~np.isnan(ranked)
    basis = _orthonormal(taken_out, kept)
    filled = np.where(kept, ranked, 0.0)
    rest = filled - (filled @ basis.T) @ basis
    rows = _rows(labels).astype(float)
    moved = cross_sums_of_all(rows, np.vstack([rest, kept, basis]), step)
    sums, days, of_basis = moved[..., 0], np.rint(moved[..., 1]), moved[..., 2:]
    spread = (days + RIDGE)[..., None] * np.eye(len(rows)) - of_basis @ of_basis.swapaxes(1, 2)
    explained: Floats = np.einsum("sk,sk->s", sums, np.linalg.solve(spread, sums[..., None])[..., 0])
    if (labels == "").any():
        explained -= sums[:, -1] ** 2 / spread[:, -1, -1]
    return explained


def _orthonormal(columns: Floats, kept: Flags) -> Floats:
    """Return (rank, n) orthonormal directions of the columns over the kept days, 0 on the others."""
    inside = np.where(kept[:, None], columns, 0.0)
    inside = inside[:, np.count_nonzero(inside, axis=0) >= FEWEST_NONZERO]
    values, vectors = np.linalg.eigh(inside.T @ inside)
    independent = values > DEPENDENT * values[-1]
    basis: Floats = (inside @ (vectors[:, independent] / np.sqrt(values[independent]))).T
    return basis


def _rows(labels: npt.NDArray[np.str_]) -> Flags:
    """Return (k, n) a row a group but the commonest, then one for days without a label, if there are any."""
    names, days = np.unique(labels[labels != ""], return_counts=True)
    told = [*np.delete(names, days.argmax()), *([""] if (labels == "").any() else [])]
    rows: Flags = np.array(told, dtype=labels.dtype)[:, None] == labels
    return rows
