"""Taking out what is known to move a series: weekday, rota, slow change, and its own past.

References
----------
.. [1] Frisch R, Waugh FV (1933). Partial time regressions as compared with individual trends.
   Econometrica 1:387-401.
.. [2] Conover WJ, Iman RL (1981). Rank transformations as a bridge between parametric and nonparametric
   statistics. Am. Stat. 35:124-129.
.. [3] Savin NE, White KJ (1978). Testing for autocorrelation with missing observations. Econometrica
   46:59-67.
.. [4] Haugh LD (1976). Checking the independence of two covariance-stationary time series: a univariate
   residual cross-correlation approach. J. Am. Stat. Assoc. 71:378-385.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from tracker.analysis.series import Counts, Floats

FEWEST_DAYS = 5
"""A column that is nonzero on fewer kept days than this is left out."""
FURTHEST_PAST = 14
"""Days back beyond which a kept day counts as having no past."""


@dataclass(frozen=True, eq=False)
class Residual:
    """What a least-squares fit leaves."""

    values: Floats
    """(n,) residual with variance 1 over the kept days; 0 where nothing is left; nan on missing days."""
    rank: int
    """Number of independent columns that were fitted, the intercept among them."""


@dataclass(frozen=True, eq=False)
class Innovations:
    """A series without its own past."""

    values: Floats
    """(n,) what each kept day adds to the last kept day before it; nan on missing days."""
    phi: float
    """Correlation of neighbouring days that was taken out, 0 to 0.98."""


def weekday_columns(weekdays: Counts) -> Floats:
    """Return (n, 6) dummies, Monday to Saturday."""
    return np.asarray(weekdays[:, None] == np.arange(6), dtype=float)


def day_before(shift: npt.NDArray[np.str_]) -> npt.NDArray[np.str_]:
    """Return (n,) the shift kind of the day before each day, "" for the first."""
    return np.concatenate([np.array([""], dtype=shift.dtype), shift[:-1]])


def shift_columns(shift: npt.NDArray[np.str_]) -> Floats:
    """Return dummies for the shift kind of the day and of the day before.

    Parameters
    ----------
    shift : (n,) array of str
        "" where no shift is entered.

    Returns
    -------
    (n, q) array
        For the day, then for the day before: a column for each kind but the commonest, in alphabetical
        order, and one for "not entered". q = 0 if no shift was ever entered.
    """
    kinds, days = np.unique(shift[shift != ""], return_counts=True)
    if not len(kinds):
        return np.empty((len(shift), 0))
    told = [*np.delete(kinds, days.argmax()), ""]
    columns = [labels == kind for labels in (shift, day_before(shift)) for kind in told]
    return np.column_stack(columns).astype(float)


def slow_columns(n: int, shortest_cycle: float) -> Floats:
    """Return (n, q) cosines with cycles of `shortest_cycle` days or longer."""
    middle = np.arange(n) + 0.5
    waves = np.arange(1, int(2 * n / shortest_cycle) + 1)
    return np.cos(np.pi * middle[:, None] * waves / n)


def residual(values: Floats, columns: Floats) -> Residual:
    """Take an intercept and `columns` out of a series by least squares [1]_ [2]_.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day; at least one day is kept.
    columns : (n, q) array
        Covariates of every day. Those that are nonzero on fewer than five kept days are left out.
    """
    kept = ~np.isnan(values)
    design = columns[kept]
    design = design[:, np.count_nonzero(np.abs(design) > 1e-12, axis=0) >= FEWEST_DAYS]
    design = np.column_stack([np.ones(len(design)), design])
    weights, _, rank, _ = np.linalg.lstsq(design, values[kept], rcond=None)
    rest = values[kept] - design @ weights
    spread = rest.std()
    out = np.full(len(values), np.nan)
    out[kept] = rest / spread if spread > 1e-9 else 0.0
    return Residual(values=out, rank=int(rank))


def without_own_past(values: Floats) -> Innovations:
    """Take out of each kept day what the last kept day before it already said.

    The series is taken as a first-order autoregression seen with gaps [3]_: with phi the correlation of
    neighbouring days and g the days since the last kept day, what is left is
    (v[t] - phi^g v[t-g]) / sqrt(1 - phi^2g). Correlating two such series asks what one adds to the other
    beyond the other's own past [4]_.

    Parameters
    ----------
    values : (n,) array
        Centred, nan for a missing day.
    """
    days = np.flatnonzero(~np.isnan(values))
    kept = values[days]
    gaps = np.diff(days)
    phi = _neighbour_correlation(kept, gaps)
    carried = np.where(gaps <= FURTHEST_PAST, phi ** np.minimum(gaps, FURTHEST_PAST), 0.0)
    added = kept.copy()
    added[1:] = (kept[1:] - carried * kept[:-1]) / np.sqrt(1 - carried**2)
    out = np.full(len(values), np.nan)
    out[days] = added
    return Innovations(values=out, phi=phi)


def _neighbour_correlation(kept: Floats, gaps: Counts) -> float:
    next_to = gaps == 1
    later, earlier = kept[1:][next_to], kept[:-1][next_to]
    scale = np.sqrt((later @ later) * (earlier @ earlier))
    return float(np.clip(later @ earlier / scale, 0, 0.98)) if scale > 0 else 0.0
