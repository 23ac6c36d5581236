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

from dataclasses import replace
from typing import Literal, NamedTuple

import numpy as np

from tracker.analysis.adjust import (
    Design,
    arm_columns,
    residual,
    shift_columns_by_year,
    slow_columns,
    weekday_columns,
    without_own_past,
)
from tracker.analysis.chance import (
    Interval,
    rank_interval,
    smallest_effect,
    t_two_sided,
    variance_factor,
    weighted_holm,
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
from tracker.analysis.sitting import Sittings

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
FEWEST_DOF = 30
"""Degrees of freedom from which a lag is tested. Common practice, no source."""
ALPHA = 0.004
"""Level of all lags of one outcome together, on one verdict day. Measured: 3.3 % of the records without a
link are shown one within five years (2.6 to 4.1; 33 kinds, 1,966 records)."""
WEIGHTS = np.where(np.isin(LAGS, (0, -1)), 1 / 3, 1 / 39)
"""(15,) how keenly each lag is looked at: the two sleeps next to the day, two thirds of all together."""
SLEEP_FIRST = LAGS >= 0
"""(15,) the lags at which the sleep comes first."""
MEMORY = 14
"""Days over which what is left after the own past may still hang together. Common practice, no source."""
LONG_MEMORY = 100
"""Days at most, and at most a fifth of the record, over which days as they stand hang together. Common
practice, no source; it widens the interval of what is only described."""


class Prepared(NamedTuple):
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


class Sided(NamedTuple):
    """One outcome as it is set beside sleep: what was rated beside a sleep is left out on that side."""

    before: Prepared
    """Without what was kept in one sitting with the sleep before: lags 0 and up."""
    after: Prepared
    """Without what was kept when the sleep after was known: lags -1 and down."""
    whole: Prepared
    """With all of it."""


class LagTable(NamedTuple):
    """One outcome against sleep at every lag; arrays have a place for each of `LAGS`."""

    verdict: Verdict | None
    """None if a negative link with the sleep before is all that there is, and not believed."""
    first: First | None
    """Which comes first, if shown."""
    strongest: int | None
    """Lag with the largest test statistic, None if nothing was tested."""
    pairs: Counts
    """(15,) pairs of days kept on both sides, without those left out."""
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
    """(15,) p-values after weighted Holm adjustment, nan for a lag that was not tested."""
    smallest: Floats
    """(15,) correlation that would have been found in 8 of 10 such records."""
    claimed: Flags
    """(15,) lags that are shown."""
    not_believed: bool
    """Whether a negative link with the sleep before was found where days seem to be skipped."""

    @property
    def tested_before(self) -> bool:
        """Whether the sleep before was tested."""
        return bool(np.isfinite(self.p_holm[SLEEP_FIRST]).any())

    @property
    def tested_after(self) -> bool:
        """Whether the sleep after was tested."""
        return bool(np.isfinite(self.p_holm[~SLEEP_FIRST]).any())


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
    """Return columns for the weekday, shifts by year, slow change, and the arms of a trial on oneself.

    Shifts are those of the day and of the day before. What a trial does to both series on the same days would
    look like a link.
    """
    arms = arm_columns(series.arm)
    return Design.of(
        weekday_columns(series.weekdays),
        shift_columns_by_year(series.shift),
        slow_columns(len(series), SLOW_FOR_LINKS),
        *(() if arms is None else (arms,)),
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


class _Side(NamedTuple):
    """One series against another at some lags."""

    pairs: Counts
    unadjusted: Floats
    unadjusted_interval: Interval
    adjusted: Floats
    news: Floats
    interval: Interval
    dof: Floats
    strength: Floats
    """Student's t, 0 where there are too few degrees of freedom."""


def compare(sleep: Prepared, outcome: Sided, alpha: float = ALPHA, *, doubted: bool = False) -> LagTable:
    """Compare an outcome with sleep at every lag [2]_ [3]_.

    Parameters
    ----------
    sleep : Prepared
    outcome : Sided
        Of the same days.
    alpha : float
        Level of all lags together.
    doubted : bool
        Whether days seem to be kept or not according to mood or sleep. Days skipped when both are low make a
        negative link with the sleep before, so that one is then not believed.

    Returns
    -------
    LagTable
        A side is tested if the sleep next to the day has 30 degrees of freedom on it; "too little kept" if
        none is, the record has fewer than 60 days, or one series fewer than 10 days away from its commonest
        value.
    """
    after = _side(sleep, outcome.after, LAGS[~SLEEP_FIRST])
    both = _joined(after, _side(sleep, outcome.before, LAGS[SLEEP_FIRST]))
    tested = _tested(both)
    strength = np.where(tested, both.strength, 0.0)
    p = np.where(tested, t_two_sided(strength, np.where(tested, both.dof, 1)), np.nan)
    p_holm = weighted_holm(p, WEIGHTS)
    claimed = ~np.isnan(p_holm) & (p_holm <= alpha) & _strong_side(sleep, outcome, np.abs(strength))
    not_believed = bool(doubted and claimed[ZERO] and both.news[ZERO] < 0)
    if not_believed:
        claimed &= ~SLEEP_FIRST
    return LagTable(
        verdict=None if not_believed and not claimed.any() else _verdict(tested, claimed),
        first=_first(claimed),
        strongest=int(LAGS[np.abs(strength).argmax()]) if tested.any() else None,
        pairs=both.pairs,
        unadjusted=both.unadjusted,
        unadjusted_interval=both.unadjusted_interval,
        adjusted=both.adjusted,
        beyond_own_past=both.news,
        interval=both.interval,
        dof=both.dof,
        p_holm=p_holm,
        smallest=_smallest(both.dof, tested, alpha),
        claimed=claimed,
        not_believed=not_believed,
    )


def _side(sleep: Prepared, outcome: Prepared, lags: Counts) -> _Side:
    n = len(sleep.kept)
    charge = max(sleep.rank, outcome.rank)
    pairs = count_pairs(sleep.kept, outcome.kept, lags)
    unadjusted = lagged_spearman(sleep.kept, outcome.kept, lags)
    news = lagged_correlation(sleep.news, outcome.news, lags)
    memory = max(min(n // 5, LONG_MEMORY), 1)
    dof = (pairs - 1 - charge) / variance_factor(sleep.news, outcome.news, MEMORY, slack=True)
    plain = pairs / variance_factor(sleep.ranked, outcome.ranked, memory)
    return _Side(
        pairs=pairs,
        unadjusted=unadjusted,
        unadjusted_interval=rank_interval(unadjusted, plain),
        adjusted=lagged_correlation(sleep.adjusted, outcome.adjusted, lags),
        news=news,
        interval=rank_interval(news, dof + 1),
        dof=dof,
        strength=_strength(news, dof),
    )


def _joined(after: _Side, before: _Side) -> _Side:
    def both(name: str) -> Floats:
        return np.concatenate([getattr(after, name), getattr(before, name)])

    def intervals(one: Interval, other: Interval) -> Interval:
        return Interval(np.concatenate([one.low, other.low]), np.concatenate([one.high, other.high]))

    return _Side(
        pairs=both("pairs").astype(np.int64),
        unadjusted=both("unadjusted"),
        unadjusted_interval=intervals(after.unadjusted_interval, before.unadjusted_interval),
        adjusted=both("adjusted"),
        news=both("news"),
        interval=intervals(after.interval, before.interval),
        dof=both("dof"),
        strength=both("strength"),
    )


def _strength(news: Floats, dof: Floats) -> Floats:
    """Return Student's t at each lag, 0 where too few degrees of freedom are left."""
    enough = (dof >= FEWEST_DOF) & np.isfinite(news)
    r = np.where(enough, news, 0.0)
    # the least keeps a perfect link finite
    out: Floats = r * np.sqrt(np.where(enough, dof, 1.0) / np.maximum(1 - r**2, 1e-12))
    return out


def _tested(side: _Side) -> Flags:
    """Return the lags that are tested: on a side only if the sleep next to the day is."""
    enough = (side.dof >= FEWEST_DOF) & np.isfinite(side.news)
    tested: Flags = enough & np.where(SLEEP_FIRST, enough[ZERO], enough[AFTER])
    return tested


def _strong_side(sleep: Prepared, outcome: Sided, strength: Floats) -> Flags:
    """Return the lags on whose side the largest statistic is at least half of the other side's.

    Five levels measure yesterday's mood imperfectly, so a strong one-way link leaves a weak echo on the
    other side, which a long record finds. The other side's statistic is the larger of with and without the
    days that are left out there, for what is left out leaves its echo all the same.
    """
    largest = np.array([_largest(strength, ~SLEEP_FIRST), _largest(strength, SLEEP_FIRST)])
    whole = np.array(
        [
            0.0 if part is outcome.whole else np.abs(_side(sleep, outcome.whole, LAGS[lags]).strength).max()
            for part, lags in ((outcome.after, ~SLEEP_FIRST), (outcome.before, SLEEP_FIRST))
        ]
    )
    after, before = largest >= np.maximum(largest, whole)[::-1] / 2
    side: Flags = np.where(SLEEP_FIRST, before, after)
    return side


def _largest(strength: Floats, side: Flags) -> float:
    return float(strength[side].max())


def sided(values: Floats, design: Design, sat: Sittings | None = None) -> Sided:
    """Prepare an outcome for each side by itself."""
    whole = prepare(values, design)
    if sat is None:
        return Sided(whole, whole, whole)
    kept = ~np.isnan(values)
    before, after = (
        prepare(np.where(out, np.nan, values), design) if (kept & out).any() else whole
        for out in (sat.beside_sleep, sat.after_next_sleep)
    )
    return Sided(before, after, whole)


def shifts_known(series: Series) -> Flags:
    """Return (n,) the days whose own shift and that of the day before are entered.

    A shift that is not entered is never read as a day off: measured, such days taken as a kind of their own
    show a link that is the rota's in 12 of 100 records with a tenth of the shifts missing. Of the first day
    only its own shift can be known.
    """
    entered: Flags = series.shift != ""
    known: Flags = entered & np.concatenate([[True], entered[:-1]])[: len(entered)]
    return known


def only(series: Series, days: Flags) -> Series:
    """Return the series with everything but its shifts taken out on all days but some."""
    return replace(
        series,
        mood=np.where(days, series.mood, np.nan),
        sleep=np.where(days, series.sleep, np.nan),
        anxious=np.where(days, series.anxious, np.nan),
    )


def _smallest(dof: Floats, tested: Flags, alpha: float) -> Floats:
    of_each = alpha * WEIGHTS / max(WEIGHTS[tested].sum(), WEIGHTS.min())
    return np.where(tested, smallest_effect(np.where(tested, dof, FEWEST_DOF), of_each), np.nan)


def _verdict(tested: Flags, claimed: Flags) -> Verdict:
    if not tested.any():
        return "too little kept"
    return "shown" if claimed.any() else "not shown"


def _first(claimed: Flags) -> First | None:
    sleep, mood = claimed[SLEEP_FIRST].any(), claimed[~SLEEP_FIRST].any()
    if sleep and mood:
        return "both"
    if sleep:
        return "sleep"
    return "mood" if mood else None
