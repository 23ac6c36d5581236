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
from tracker.analysis.chance import cross_sums_of_all, far_share, spectra
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


class BesideOthers:
    """One outcome with its covariates, of which any may be taken out before groups of days are compared.

    Parameters
    ----------
    ranked : (n,) array
        Standardised mid-ranks, nan for a missing day.
    covariates : (n, q) array
        An intercept among them; those nonzero on fewer than five kept days are never taken out.
    """

    def __init__(self, ranked: Floats, covariates: Floats) -> None:
        kept = ~np.isnan(ranked)
        rows = np.vstack([np.where(kept, ranked, 0.0), kept, np.where(kept, covariates.T, 0.0)])
        self._products = rows @ rows.T
        self._frequent = np.count_nonzero(rows[2:], axis=1) >= FEWEST_NONZERO
        self._step = STEP if len(ranked) >= LONG and len(ranked) % STEP == 0 else 1
        self._spectra = spectra(rows, self._step)

    def p(self, labels: npt.NDArray[np.str_], taken_out: Flags) -> float:
        """Return the p-value of groups of days with other things taken out, against labels moved far [1]_.

        Parameters
        ----------
        labels : (n,) array of str
            Group of each day; days with the label "" belong to none, and what tells them apart is taken off.
        taken_out : (q,) array of bool
        """
        return far_share(self.explained(labels, taken_out), self._step)

    def explained(self, labels: npt.NDArray[np.str_], taken_out: Flags) -> Floats:
        """Return the sum of squares that groups explain beyond covariates, for labels moved round.

        The labels are moved and the covariates stay, so every shift has a least-squares fit of its own [2]_;
        all are solved at once from circular cross-sums.

        Returns
        -------
        (n / step,) array
            At shift 0, step, 2 step, ...: each day, or for a long record every fifth.
        """
        groups = _rows(labels).astype(float)
        moved = cross_sums_of_all(spectra(groups, self._step), self._spectra, len(labels) // self._step)
        used = 2 + np.flatnonzero(taken_out & self._frequent)
        directions = _orthonormal(self._products[np.ix_(used, used)])
        of_others = np.tensordot(moved[..., used], directions, 1)
        sums = moved[..., 0] - of_others @ (directions.T @ self._products[used, 0])
        days = np.rint(moved[..., 1])
        spread = (days + RIDGE)[..., None] * np.eye(len(groups)) - of_others @ of_others.swapaxes(1, 2)
        explained: Floats = np.einsum("sk,sk->s", sums, np.linalg.solve(spread, sums[..., None])[..., 0])
        if (labels == "").any():
            explained -= sums[:, -1] ** 2 / spread[:, -1, -1]
        return explained


def _orthonormal(products: Floats) -> Floats:
    """Return (q, rank) weights that make orthonormal directions of columns with such sums of products."""
    values, vectors = np.linalg.eigh(products)
    independent = values > DEPENDENT * values[-1]
    weights: Floats = vectors[:, independent] / np.sqrt(values[independent])
    return weights


def _rows(labels: npt.NDArray[np.str_]) -> Flags:
    """Return (k, n) a row a group but the commonest, then one for days without a label, if there are any."""
    names, days = np.unique(labels[labels != ""], return_counts=True)
    told = [*np.delete(names, days.argmax()), *([""] if (labels == "").any() else [])]
    rows: Flags = np.array(told, dtype=labels.dtype)[:, None] == labels
    return rows
