"""What chance alone would bring about: tests, intervals and the smallest effect to be seen.

References
----------
.. [1] Holm S (1979). A simple sequentially rejective multiple test procedure. Scand. J. Stat. 6:65-70.
.. [2] Bartlett MS (1946). On the theoretical specification and sampling properties of autocorrelated
   time-series. J. R. Stat. Soc. Suppl. 8:27-41.
.. [3] Bonett DG, Wright TA (2000). Sample size requirements for estimating Pearson, Kendall and Spearman
   correlations. Psychometrika 65:23-28.
.. [4] Phipson B, Smyth GK (2010). Permutation p-values should never be zero. Stat. Appl. Genet. Mol.
   Biol. 9:39.
.. [5] Kruskal WH, Wallis WA (1952). Use of ranks in one-criterion variance analysis. J. Am. Stat. Assoc.
   47:583-621.
.. [6] Edgington ES, Onghena P (2007). Randomization Tests, 4th ed. Chapman & Hall/CRC.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt
from scipy import special

from tracker.analysis.series import Counts, Flags, Floats

Spectra: TypeAlias = npt.NDArray[np.complex128]

DRAWS_AT_A_TIME = 250
"""Sets of turned weeks whose sums stand in memory together."""
NEAREST_SHIFT = 8
"""Days by which labels must be moved at least to serve as chance."""
TIE = 1e-9
"""Statistics closer than this, relative to the larger, count as equal."""


class Interval(NamedTuple):
    """An interval for correlations, one place a lag."""

    low: Floats
    """(m,) lower end, -1 to 1, nan where there is no correlation."""
    high: Floats
    """(m,) upper end."""


class Permuted(NamedTuple):
    """A statistic against its values under rearranged labels."""

    p: float
    """Share of the rearrangements that reach the true one, which counts among them."""
    mean: float
    """Mean of the statistic over the rearrangements."""


def t_two_sided(t: Floats, dof: Floats) -> Floats:
    """Return the two-sided p-values of Student's t."""
    p: Floats = 2 * special.stdtr(dof, -np.abs(t))
    return p


def f_upper(f: float, between: float, within: float) -> float:
    """Return the upper tail of Fisher's F with `between` and `within` degrees of freedom."""
    return float(special.fdtrc(between, within, f))


def holm(p: Floats) -> Floats:
    """Adjust p-values for having looked at all of them [1]_.

    Parameters
    ----------
    p : (m,) array
        nan for a test that was not made; it does not count.

    Returns
    -------
    (m,) array
        Adjusted p-values, at most 1, in the order given.
    """
    out = np.full(len(p), np.nan)
    order = np.argsort(p)[: np.count_nonzero(~np.isnan(p))]
    steps = np.arange(len(order), 0, -1)
    out[order] = np.minimum(1, np.maximum.accumulate(steps * p[order]))
    return out


def weighted_holm(p: Floats, weights: Floats) -> Floats:
    """Adjust p-values for having looked at all of them, some being looked at more keenly than others [1]_.

    Parameters
    ----------
    p : (m,) array
        nan for a test that was not made; it does not count.
    weights : (m,) array
        Above 0; only their ratios over the tests that were made count.

    Returns
    -------
    (m,) array
        Adjusted p-values, at most 1, in the order given: by rising p / weight, the running maximum of
        p / weight times the weights not yet passed.
    """
    out = np.full(len(p), np.nan)
    order = np.argsort(p / weights)[: np.count_nonzero(~np.isnan(p))]
    left = np.cumsum(weights[order][::-1])[::-1]
    out[order] = np.minimum(1, np.maximum.accumulate(p[order] / weights[order] * left))
    return out


def autocorrelation(values: Floats, furthest: int) -> Floats:
    """Return the autocorrelation of a centred series over the pairs of days that were both kept.

    Parameters
    ----------
    values : (n,) array
        Mean 0 over the kept days, nan for a missing day.
    furthest : int
        Largest lag.

    Returns
    -------
    (furthest,) array
        Lags 1 to `furthest`: mean product of the kept pairs divided by the mean square of the kept days.
        0 for a lag with fewer than five pairs.
    """
    kept = np.isfinite(values).astype(float)
    filled = np.where(kept > 0, values, 0.0)
    power = filled @ filled / max(kept.sum(), 1)
    out = np.zeros(furthest)
    if power <= 0:
        return out
    for lag in range(1, min(furthest, len(values) - 1) + 1):
        pairs = kept[lag:] @ kept[:-lag]
        if pairs >= 5:
            out[lag - 1] = filled[lag:] @ filled[:-lag] / pairs / power
    return out


def variance_factor(x: Floats, y: Floats, furthest: int, *, slack: bool = False) -> float:
    """Return how many days the two series make of one: Bartlett's factor [2]_, never below 1.

    Parameters
    ----------
    x, y : (n,) arrays
        Centred, nan for a missing day.
    furthest : int
        Number of autocorrelations to add up; at most n - 1 are used.
    slack : bool
        Subtract one standard error of the sum, so that its noise alone costs no days.

    Returns
    -------
    float
        Variance of the correlation of the two, relative to that of independent days.
    """
    n = len(x)
    furthest = max(min(furthest, n - 1), 0)
    taper = 1 - np.arange(1, furthest + 1) / n
    total = float((autocorrelation(x, furthest) * autocorrelation(y, furthest) * taper).sum())
    both = int(np.count_nonzero(np.isfinite(x) & np.isfinite(y)))
    noise = np.sqrt(furthest) / max(both, 1) if slack else 0.0
    return max(1.0, 1 + 2 * (total - float(noise)))


def rank_interval(r: Floats, pairs: Floats, level: float = 0.95) -> Interval:
    """Return the interval of rank correlations by Fisher's z with the variance of Bonett and Wright [3]_.

    Parameters
    ----------
    r : (m,) array
        Correlations; nan passes through.
    pairs : (m,) array
        Effective number of pairs behind each.
    level : float
        Confidence level.
    """
    z = np.arctanh(np.clip(r, -0.999999, 0.999999))
    half = special.ndtri(0.5 + level / 2) * np.sqrt((1 + r * r / 2) / np.maximum(pairs - 3, 1))
    return Interval(low=np.tanh(z - half), high=np.tanh(z + half))


def smallest_effect(dof: Floats, alpha: Floats, power: float = 0.8) -> Floats:
    """Return the correlation that would have been found with the given power.

    The formula is ours: the critical value of Student's t after Bonferroni and the normal quantile of the
    power, turned back into a correlation. Measured for a power of 80 %: 91 % a tenth above it, 64 % a tenth
    below.

    Parameters
    ----------
    dof : (m,) array
        Degrees of freedom of each test, above 0.
    alpha : (m,) array
        Level of each test: its share of the level of all of them together (Bonferroni).
    """
    needed = special.stdtrit(dof, 1 - alpha / 2) + special.ndtri(power)
    effect: Floats = needed / np.sqrt(dof + needed**2)
    return effect


def share_at_least(statistics: Floats, observed: float) -> float:
    """Return the share of `statistics` that reach `observed`, ties by rounding counted in."""
    return float(np.mean(statistics >= observed - TIE * max(1.0, abs(observed))))


def far_share(statistics: Floats, step: int = 1) -> float:
    """Return the p-value of unmoved labels against those moved by at least eight days either way.

    Moved by a day, a rota is nearly the rota of the day before: copies moved by less hold part of what is
    looked for, and would hide it.

    Parameters
    ----------
    statistics : (m,) array
        At shift 0, step, 2 step, ... of all n; shift 0 are the true labels, which count among them [4]_.
    step : int
        Days from one shift to the next.
    """
    far = far_shifts(statistics, step)
    reached = round(share_at_least(far, float(statistics[0])) * len(far))
    return (1 + reached) / (1 + len(far))


def far_shifts(statistics: Floats, step: int = 1) -> Floats:
    """Return the statistics of shifts 8..n-8; of all of them, the p-value cannot fall below 1/(n - 14)."""
    nearest = -(-NEAREST_SHIFT // step)
    return statistics[nearest : len(statistics) - nearest + 1]


def cross_sums(a: Floats, b: Floats) -> Floats:
    """Return the sum over t of a[..., t] b[..., (t + s) mod n] for every circular shift s at once.

    Parameters
    ----------
    a, b : (..., n) arrays
        Broadcast against each other.

    Returns
    -------
    (..., n) array
        At s = 0..n-1.
    """
    out: Floats = np.fft.irfft(np.conj(np.fft.rfft(a)) * np.fft.rfft(b), b.shape[-1])
    return out


def spectra(series: Floats, step: int = 1) -> Spectra:
    """Return the Fourier transforms of (k, n) series, of which every `step`-th day makes one of its own.

    A shift by `step` days moves each of these by one place.

    Returns
    -------
    (k, n / step / 2 + 1, step) array of complex
    """
    found: Spectra = np.fft.rfft(series.reshape(len(series), -1, step), axis=1)
    return found


def cross_sums_of_all(a: Spectra, b: Spectra, shifts: int) -> Floats:
    """Return the cross-sums of every pair of two sets of series, given by their `spectra`.

    Parameters
    ----------
    a, b : (k, ...), (q, ...) arrays of complex
    shifts : int
        n / step.

    Returns
    -------
    (shifts, k, q) array
        At shift 0, step, 2 step, ...: the sum over t of a[i, t] b[j, (t + shift) mod n].
    """
    products = a.conj().transpose(1, 0, 2) @ b.transpose(1, 2, 0)
    out: Floats = np.fft.irfft(products, shifts, axis=0)
    return out


def group_statistics_of_shifts(values: Floats, groups: Flags) -> Floats:
    """Return how far the groups lie apart for every circular shift of their labels [5]_.

    Parameters
    ----------
    values : (n,) array
        Centred, nan for a missing day.
    groups : (k, n) array
        True on the days of each group.

    Returns
    -------
    (n,) array
        Sum over the groups of (sum of their values)^2 / (their kept days), less the same of all groups as
        one, at shift 0..n-1: how far the groups lie apart from each other, whatever sets days without a group
        apart. Where every day has a group, the part taken off is nil.
    """
    kept = np.isfinite(values).astype(float)
    filled = np.where(kept > 0, values, 0.0)
    every = np.concatenate([groups, groups.any(axis=0, keepdims=True)]).astype(float)
    sums, days = (cross_sums(every, series) for series in (filled, kept))
    *each, together = sums**2 / np.maximum(np.rint(days), 1)
    apart: Floats = np.sum(each, axis=0) - together
    return apart


def circular_shifts(values: Floats, groups: Flags) -> Permuted:
    """Compare how far the groups lie apart with circular shifts of their labels by far [6]_."""
    statistics = group_statistics_of_shifts(values, groups)
    return Permuted(far_share(statistics), float(far_shifts(statistics).mean()))


def weekday_rotations(values: Floats, draws: int, seed: int) -> tuple[Permuted, ...]:
    """Compare how far the weekdays lie apart with random turns of the labels of each week.

    Parameters
    ----------
    values : (m, n) array
        m series, each centred, nan for a missing day; place 0 begins the first seven-day week.
    draws : int
        Number of random sets of turns, the same for every series.
    seed : int
        Seed of the turns; the same seed gives the same p-value.

    Returns
    -------
    tuple of m Permuted
        p is (1 + sets that part the weekdays as far as the true labels) / (1 + draws) [4]_.
    """
    series, n = values.shape
    weeks = -(-n // 7)
    padded = np.full((series, weeks * 7), np.nan)
    padded[:, :n] = values
    tables = padded.reshape(series, weeks, 7)
    kept = np.isfinite(tables)
    spectra = np.fft.rfft([np.where(kept, tables, 0.0), kept])
    turns = np.random.default_rng(seed).integers(0, 7, size=(draws, weeks))
    # some at a time, because memory for all of them takes longer to get than to use
    some = np.array_split(turns, -(-draws // DRAWS_AT_A_TIME))
    (true,), *turned = (_weekday_statistics(spectra, part) for part in (np.zeros_like(turns[:1]), *some))
    return tuple(map(_against, np.concatenate(turned).T, true))


def _against(statistics: Floats, observed: float) -> Permuted:
    reached = round(share_at_least(statistics, observed) * len(statistics))
    return Permuted((1 + reached) / (1 + len(statistics)), float(statistics.mean()))


def smallest_share(by_chance: float, groups: int, days: int, alpha: float, power: float = 0.8) -> float:
    """Return how much groups must account for to be found with the given power.

    The formula is ours: the statistic (sum over the groups of (sum of values)^2 / days) is taken as a
    multiple of a noncentral chi-square with one degree of freedom fewer than groups.

    Parameters
    ----------
    by_chance : float
        Mean of the statistic under chance, for values of variance 1.
    groups : int
        Number of groups, at least 2.
    days : int
        Kept days.
    alpha : float
        Level of the test.

    Returns
    -------
    float
        Share of the variance of the values, 0 to 1.
    """
    dof = groups - 1
    critical = float(special.chdtri(dof, alpha))
    noncentrality = float(special.chndtrinc(critical, dof, 1 - power))
    return min(by_chance / dof * noncentrality / days, 1.0)


def _weekday_statistics(spectra: Spectra, turns: Counts) -> Floats:
    """Return (draws, m) statistics of turned weeks for each row of `turns` ((draws, weeks), 0..6).

    Turning a week multiplies its Fourier transform by a phase, so all turned weeks are added up by one
    product of matrices a frequency. The lowest frequency is the sum of a week, which no turn changes.

    Parameters
    ----------
    spectra : (2, m, weeks, 4) array of complex
        Of the values of each week, and of the days that were kept.
    """
    turned = np.empty((4, *spectra.shape[:2], len(turns)), dtype=complex)
    turned[0] = spectra[..., 0].sum(axis=-1, keepdims=True)
    for frequency in range(1, 4):
        phases = np.exp(-2j * np.pi / 7 * frequency * np.arange(7))[turns.T]
        turned[frequency] = np.ascontiguousarray(spectra[..., frequency]) @ phases
    sums, days = np.fft.irfft(turned, 7, axis=0).swapaxes(0, 1)
    statistics: Floats = (sums**2 / np.maximum(np.rint(days), 1)).sum(axis=0).T
    return statistics
