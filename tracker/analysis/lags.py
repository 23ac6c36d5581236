"""What goes with what, and which comes first: mood (or the anxious mark) and sleep at lags of -7 to 7 days.

A lag is the date of the mood less the date of the sleep. Lag 0 pairs a day's mood with the sleep before it,
lag -1 with the sleep after it.

References
----------
.. [1] Spearman C (1904). The proof and measurement of association between two things. Am. J. Psychol.
   15:72-101.
.. [2] Box GEP, Jenkins GM (1970). Time Series Analysis: Forecasting and Control. Holden-Day.
.. [3] Granger CWJ (1969). Investigating causal relations by econometric models and cross-spectral methods.
   Econometrica 37:424-438.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from tracker.analysis.adjust import (
    Design,
    residual,
    shift_columns,
    slow_columns,
    weekday_columns,
    without_own_past,
)
from tracker.analysis.chance import (
    Interval,
    holm,
    rank_interval,
    smallest_effect,
    t_two_sided,
    variance_factor,
)
from tracker.analysis.series import (
    Counts,
    Flags,
    Floats,
    Series,
    enough_variety,
    ranks_of_places,
    standard_ranks,
)

Verdict = Literal["shown", "not shown", "too little kept"]
First = Literal["sleep", "mood", "both"]

LAGS = np.arange(-7, 8)
ZERO = int(np.flatnonzero(LAGS == 0)[0])
"""Place of the sleep before."""
AFTER = int(np.flatnonzero(LAGS == -1)[0])
"""Place of the sleep after."""
SLOW_FOR_LINKS = 60
"""Days; slower change than this is taken out. Measured: at 90, power is 1 to 3 points more, but bad spells
make 7 % false claims of three years at a level of 5 %."""
FEWEST_FOR_LINKS = 60
"""Days. Common practice, no source: with a rota among the covariates about so many pairs leave 30 degrees."""
FEWEST_FREEDOM = 30
"""Degrees of freedom from which a lag is tested. Common practice, no source."""
ALPHA = 0.005
"""Level of all lags of one outcome together, on one verdict day: of 1 %, half for each outcome. Measured: at
1 % a verdict day, 3.3 % of the records without a link are shown one within five years."""
MEMORY = 14
"""Days over which what is left after the own past may still hang together. Common practice, no source."""
LONG_MEMORY = 100
"""Days at most, and at most a fifth of the record, over which days as they stand hang together. Common
practice, no source; it widens the interval of what is only described."""


@dataclass(frozen=True, eq=False)
class Prepared:
    """One series in the three forms that are compared."""

    kept: Floats
    """(n,) values as they were kept."""
    ranked: Floats
    """(n,) standardised mid-ranks."""
    adjusted: Floats
    """(n,) ranks without weekday, rota and slow change."""
    news: Floats
    """(n,) adjusted ranks without the series' own past."""
    rank: int
    """Columns that were fitted; 0 if the series varies too little to be compared."""


@dataclass(frozen=True, eq=False)
class LagTable:
    """One outcome against sleep at every lag; arrays have a place for each of `LAGS`."""

    verdict: Verdict
    first: First | None
    """Which comes first, if shown."""
    strongest: int | None
    """Lag with the largest test statistic, None if nothing was tested."""
    pairs: Counts
    """(15,) pairs of days kept on both sides."""
    unadjusted: Floats
    """(15,) Spearman's rho, ranked anew over the pairs of each lag."""
    unadjusted_interval: Interval
    adjusted: Floats
    """(15,) rho without weekday, rota and slow change."""
    beyond_own_past: Floats
    """(15,) the same with the own past of both series taken out; this is what is tested."""
    interval: Interval
    dof: Floats
    """(15,) degrees of freedom of the test."""
    p_holm: Floats
    """(15,) p-values after Holm's adjustment, nan for a lag that was not tested."""
    smallest: Floats
    """(15,) correlation that would have been found in 8 of 10 such records."""
    claimed: Flags
    """(15,) lags that are shown."""


def pairs_at(sleep: Floats, outcome: Floats, lag: int) -> tuple[Floats, Floats]:
    """Return sleep[t] and outcome[t + lag] over the days on which both are kept."""
    n = len(sleep)
    overlap = max(n - abs(lag), 0)
    x = sleep[max(-lag, 0) :][:overlap]
    y = outcome[max(lag, 0) :][:overlap]
    both = np.isfinite(x) & np.isfinite(y)
    return x[both], y[both]


def _correlation(x: Floats, y: Floats) -> float:
    """Return Pearson's correlation, nan for fewer than three pairs or a constant."""
    if len(x) < 3:
        return np.nan
    x, y = x - x.mean(), y - y.mean()
    scale = np.sqrt((x @ x) * (y @ y))
    return float(x @ y / scale) if scale > 1e-9 * len(x) else np.nan


def lagged_spearman(sleep: Floats, outcome: Floats, lags: Counts = LAGS) -> Floats:
    """Return Spearman's rank correlation at each lag [1]_, ranked anew over the pairs of that lag.

    Parameters
    ----------
    sleep, outcome : (n,) arrays
        nan for a missing day.
    lags : (m,) array of int

    Returns
    -------
    (m,) array
        -1 to 1, equal values sharing the mean of their places; nan for fewer than three pairs or if one side
        does not vary.

    Examples
    --------
    >>> import numpy as np
    >>> sleep, mood = np.array([1.0, 2, 3, 4, 5]), np.array([5.0, 6, 7, 8, 7])
    >>> lagged_spearman(sleep, mood, np.array([0])).round(8).tolist()
    [0.82078268]
    """
    x, y = _places(sleep), _places(outcome)
    return np.array([_spearman_of_places(*pairs_at(x, y, int(lag))) for lag in lags])


def _places(values: Floats) -> Floats:
    """Return (n,) the place of each value among all that occur, nan for a missing day."""
    out = np.full(len(values), np.nan)
    kept = ~np.isnan(values)
    out[kept] = np.unique(values[kept], return_inverse=True)[1]
    return out


def _spearman_of_places(x: Floats, y: Floats) -> float:
    return _correlation(ranks_of_places(x.astype(int)), ranks_of_places(y.astype(int)))


def lagged_correlation(sleep: Floats, outcome: Floats, lags: Counts = LAGS) -> Floats:
    """Return Pearson's correlation at each lag."""
    return np.array([_correlation(*pairs_at(sleep, outcome, int(lag))) for lag in lags])


def count_pairs(sleep: Floats, outcome: Floats, lags: Counts = LAGS) -> Counts:
    """Return the number of days kept on both sides at each lag."""
    return np.array([len(pairs_at(sleep, outcome, int(lag))[0]) for lag in lags], dtype=np.int64)


def covariates(series: Series) -> Design:
    """Return columns for the weekday, the shift of the day and the day before, and slow change."""
    return Design.of(
        weekday_columns(series.weekdays),
        shift_columns(series.shift),
        slow_columns(len(series), SLOW_FOR_LINKS),
    )


def prepare(values: Floats, design: Design) -> Prepared:
    """Rank a series, take out covariates, then its own past.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day.
    design : Design
        What `covariates` returns.
    """
    if len(values) < FEWEST_FOR_LINKS or not enough_variety(values):
        nothing = np.full(len(values), np.nan)
        return Prepared(kept=values, ranked=nothing, adjusted=nothing, news=nothing, rank=0)
    ranked = standard_ranks(values)
    adjusted = residual(ranked, design)
    news = without_own_past(adjusted.values)
    return Prepared(values, ranked, adjusted.values, news.values, adjusted.rank)


def compare(sleep: Prepared, outcome: Prepared, alpha: float = ALPHA) -> LagTable:
    """Compare an outcome with sleep at every lag [2]_ [3]_.

    Parameters
    ----------
    sleep, outcome : Prepared
        Of the same days.
    alpha : float
        Level of all lags together.

    Returns
    -------
    LagTable
        "too little kept" if the sleep before or the sleep after has fewer than 30 degrees of freedom,
        the record fewer than 60 days, or one side fewer than 10 days away from its commonest value.
    """
    n = len(sleep.kept)
    charge = max(sleep.rank, outcome.rank)
    pairs = count_pairs(sleep.kept, outcome.kept)
    unadjusted = lagged_spearman(sleep.kept, outcome.kept)
    adjusted = lagged_correlation(sleep.adjusted, outcome.adjusted)
    news = lagged_correlation(sleep.news, outcome.news)
    memory = max(min(n // 5, LONG_MEMORY), 1)
    dof = (pairs - 1 - charge) / variance_factor(sleep.news, outcome.news, MEMORY, slack=True)
    tested = (dof >= FEWEST_FREEDOM) & np.isfinite(news)
    if not (charge and tested[ZERO] and tested[AFTER]):
        tested = np.zeros(len(LAGS), dtype=bool)
    strength = _strength(news, dof, tested)
    p_holm = holm(np.where(tested, t_two_sided(strength, np.where(tested, dof, 1)), np.nan))
    claimed = _claimed(np.abs(strength), p_holm, alpha)
    return LagTable(
        verdict=_verdict(tested, claimed),
        first=_first(claimed),
        strongest=int(LAGS[np.abs(strength).argmax()]) if tested.any() else None,
        pairs=pairs,
        unadjusted=unadjusted,
        unadjusted_interval=_interval(unadjusted, pairs, sleep.ranked, outcome.ranked, memory),
        adjusted=adjusted,
        beyond_own_past=news,
        interval=rank_interval(news, dof + 1),
        dof=dof,
        p_holm=p_holm,
        smallest=_smallest(dof, tested, alpha),
        claimed=claimed,
    )


def lag_table(series: Series, outcome: str, alpha: float = ALPHA) -> LagTable:
    """Compare `outcome` ("mood" or "anxious") with sleep over one run of days."""
    design = covariates(series)
    return compare(prepare(series.sleep, design), prepare(series.values(outcome), design), alpha)


def _strength(news: Floats, dof: Floats, tested: Flags) -> Floats:
    """Return Student's t at each lag, 0 where nothing was tested."""
    r = np.where(tested, news, 0.0)
    # the least keeps a perfect link finite
    out: Floats = r * np.sqrt(np.where(tested, dof, 1.0) / np.maximum(1 - r**2, 1e-12))
    return out


def _interval(r: Floats, pairs: Counts, x: Floats, y: Floats, memory: int) -> Interval:
    return rank_interval(r, pairs / variance_factor(x, y, memory))


def _smallest(dof: Floats, tested: Flags, alpha: float) -> Floats:
    effect = smallest_effect(np.where(tested, dof, FEWEST_FREEDOM), max(int(tested.sum()), 1), alpha)
    return np.where(tested, effect, np.nan)


def _claimed(strength: Floats, p_holm: Floats, alpha: float) -> Flags:
    """Return the lags whose p-value and whose side of zero are both strong enough.

    Five levels measure yesterday's mood imperfectly, so a strong one-way link leaves a weak echo on the
    other side, which a long record finds. A side is therefore claimed only if its largest statistic is at
    least half of the other side's.
    """
    sleep_first = LAGS >= 0
    largest, other = strength[sleep_first].max(), strength[~sleep_first].max()
    side = np.where(sleep_first, largest >= other / 2, other >= largest / 2)
    claimed: Flags = ~np.isnan(p_holm) & (p_holm <= alpha) & side
    return claimed


def _verdict(tested: Flags, claimed: Flags) -> Verdict:
    if not tested.any():
        return "too little kept"
    return "shown" if claimed.any() else "not shown"


def _first(claimed: Flags) -> First | None:
    sleep, mood = claimed[LAGS >= 0].any(), claimed[LAGS < 0].any()
    if sleep and mood:
        return "both"
    if sleep:
        return "sleep"
    return "mood" if mood else None
