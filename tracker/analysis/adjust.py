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

from typing import NamedTuple, Self

import numpy as np
import numpy.typing as npt

from tracker.analysis.series import Counts, Flags, Floats

FEWEST_NONZERO = 5
"""A column that is nonzero on fewer kept days than this is left out. Common practice, no source."""
NOTHING = 1e-12
"""A value below this counts as zero: far above rounding (2e-16), far below any cosine that matters."""
LEFT_NOTHING = 1e-9
"""A residual that spreads less than this, of ranks of variance 1, is rounding: all was explained."""
WELL_APART = 1e7
"""Condition number of the sums of products up to which the normal equations are solved: eight digits stay."""
DAYS_OF_A_BLOCK, FEWEST_OF_A_BLOCK = 365, 180
"""Days over which a kind of shift weighs the same, and the fewest that are weighed by themselves."""
FURTHEST_PAST = 14
"""Days back beyond which a kept day counts as having no past. Common practice, no source."""
MOST_CARRIED = 0.98
"""Largest correlation of neighbouring days that is taken out: at 1 nothing would be left to compare."""


class Design(NamedTuple):
    """Covariates of every day, with what every series has in common that they are taken out of."""

    columns: Floats
    """(n, 1 + q) an intercept and the covariates."""
    products: Floats
    """(1 + q, 1 + q) sums over all days of the products of two columns."""
    days: Counts
    """(1 + q,) days on which each column is nonzero."""
    fitted: Flags
    """(1 + q,) whether a column is taken out; the intercept always is."""

    @classmethod
    def of(cls, *blocks: Floats) -> Self:
        """Join (n, ...) blocks of covariates."""
        columns = np.column_stack([np.ones(len(blocks[0])), *blocks])
        fitted = np.ones(columns.shape[1], dtype=bool)
        return cls(columns, columns.T @ columns, _nonzero_days(columns), fitted)


def _nonzero_days(columns: Floats) -> Counts:
    days: Counts = np.count_nonzero(np.abs(columns) > NOTHING, axis=0)
    return days


class Residual(NamedTuple):
    """What a least-squares fit leaves."""

    values: Floats
    """(n,) residual with variance 1 over the kept days; 0 where nothing is left; nan on missing days."""
    rank: int
    """Number of independent columns that were fitted, the intercept among them."""


class Innovations(NamedTuple):
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


def shift_columns_by_year(shift: npt.NDArray[np.str_]) -> Floats:
    """Return dummies for the shift kinds, and the same once more for each year of the record but the first.

    What a night weighs may change with a new job, and one weight for all years would leave the rest of it in
    both series, where it looks like a link. A kind that is rare in a year falls back on the whole record.

    Parameters
    ----------
    shift : (n,) array of str
        "" where no shift is entered; place 0 is the first day of the record.

    Returns
    -------
    (n, q) array
        What `shift_columns` returns, then the same within days 366 to 730, and so on; a last year of fewer
        than 180 days belongs to the one before.
    """
    columns = shift_columns(shift)
    year = np.arange(len(shift)) // DAYS_OF_A_BLOCK
    if len(shift) % DAYS_OF_A_BLOCK < FEWEST_OF_A_BLOCK:
        year = np.minimum(year, max(len(shift) // DAYS_OF_A_BLOCK - 1, 0))
    return np.column_stack([columns, *(columns * (year == block)[:, None] for block in np.unique(year)[1:])])


def arm_columns(arm: npt.NDArray[np.str_] | None) -> Floats | None:
    """Return (n, q) dummies for the two arms of each trial, None where there was none."""
    if arm is None:
        return None
    arms = np.unique(arm[arm != ""])
    return np.asarray(arm[:, None] == arms, dtype=float)


def slow_columns(n: int, shortest_cycle: float) -> Floats:
    """Return (n, q) cosines with cycles of `shortest_cycle` days or longer."""
    waves = np.arange(1, int(2 * n / shortest_cycle) + 1)
    angles = (2 * np.arange(n) + 1)[:, None] * waves % (4 * n)  # in parts of a circle of 4n; many are alike
    circle = np.cos(np.pi * np.arange(4 * n) / (2 * n))
    waved: Floats = circle[angles]
    return waved


def residual(values: Floats, design: Design) -> Residual:
    """Take an intercept and covariates out of a series by least squares [1]_ [2]_.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day; at least one day is kept.
    design : Design
        Covariates of the same days. Those that are nonzero on fewer than five kept days are left out.
    """
    kept = ~np.isnan(values)
    rest, rank = _least_squares(values, kept, design)
    spread = rest.std()
    out = np.full(len(values), np.nan)
    out[kept] = rest / spread if spread > LEFT_NOTHING else 0.0
    return Residual(values=out, rank=rank)


def _least_squares(values: Floats, kept: Flags, design: Design) -> tuple[Floats, int]:
    """Return what is left of the kept days, and the number of independent columns.

    Most days are kept, so the few missing ones are taken off the sums over all. The normal equations are
    many times as fast as `lstsq`, and as good where the columns are far from depending on each other, or are
    sums of each other and nothing between; over long gaps slow waves nearly depend on each other.
    """
    missing = design.columns[~kept]
    enough = design.days - _nonzero_days(missing) >= FEWEST_NONZERO
    used = np.array([0, *np.flatnonzero((enough & design.fitted)[1:]) + 1])
    products = (design.products - missing.T @ missing)[np.ix_(used, used)]
    scale = 1 / np.sqrt(np.diag(products))
    products *= np.outer(scale, scale)  # long and short columns alone are no dependence
    sums = scale * (design.columns.T @ np.where(kept, values, 0.0))[used]
    weights = np.zeros(design.columns.shape[1])
    if np.linalg.cond(products, 1) < WELL_APART:
        weights[used] = scale * np.linalg.solve(products, sums)
        return values[kept] - (design.columns @ weights)[kept], len(used)
    columns = design.columns[kept][:, used]
    strength, along = np.linalg.eigh(products)
    apart = strength > strength[-1] / WELL_APART
    if (np.linalg.norm(columns @ (scale[:, None] * along[:, ~apart]), axis=0) < NOTHING).all():
        weights[used] = scale * (along[:, apart] @ (along[:, apart].T @ sums / strength[apart]))
        return values[kept] - (design.columns @ weights)[kept], int(np.count_nonzero(apart))
    found, _, rank, _ = np.linalg.lstsq(columns, values[kept], rcond=None)
    return values[kept] - columns @ found, int(rank)


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
    return float(np.clip(later @ earlier / scale, 0, MOST_CARRIED)) if scale > 0 else 0.0
