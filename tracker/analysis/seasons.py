"""Does the time of year come back? Seasons, months and the yearly wave.

References
----------
.. [1] Nelson W, Tong YL, Lee JK, Halberg F (1979). Methods for cosinor-rhythmometry. Chronobiologia
   6:305-323.
.. [2] Bingham C, Arbogast B, Cornelissen Guillaume G, Lee JK, Halberg F (1982). Inferential statistical
   methods for estimating and comparing cosinor parameters. Chronobiologia 9:397-439.
.. [3] Cornelissen G (2014). Cosinor-based rhythmometry. Theor. Biol. Med. Model. 11:16.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from itertools import groupby, pairwise
from typing import Literal, NamedTuple

import numpy as np
from scipy import special

from tracker.analysis.chance import f_upper
from tracker.analysis.lags import Verdict
from tracker.analysis.series import Flags, Floats, enough_variety
from tracker.analysis.verdict_days import FEWEST_YEARS, YEAR
from tracker.diary.months import last_of_month

Hemisphere = Literal["north", "south"]

ALPHA = 0.01 / 3
"""Level of each outcome on one verdict day: 1 % for the three together. Measured, eight yearly looks at 1 %:
a season is shown in 2 to 5 % of the records without one, at 5 % in 13 to 16 %."""
DAYS_OF_A_YEAR = 150
MONTHS_OF_A_YEAR = 9
DAYS_OF_A_MONTH = 8
"""A year counts with this many kept days, and so many months of so many kept days. Common practice, no
source: a wave fitted to half a year says nothing of the other half."""
NAMES = {
    "north": ("winter", "spring", "summer", "autumn"),
    "south": ("summer", "autumn", "winter", "spring"),
}
TURN = 2 * np.pi / YEAR
"""Radians a day."""


class Period(NamedTuple):
    """A month or a season, cut at the ends of the record."""

    name: str
    first: date
    last: date


class Wave(NamedTuple):
    """A yearly cosine in steps of the scale."""

    amplitude: float
    """Height above the mean, in levels or buckets, 0 or more."""
    peak: float
    """Day of the year of the highest point, 0 (1 January) to 365.2425."""


class YearlyTest(NamedTuple):
    """Whether the yearly wave comes back from year to year."""

    years: int
    """Whole years that count."""
    verdict: Verdict
    p: float
    """p-value, nan under three years."""
    wave: Wave | None
    """Mean wave of the years, None if no year counts."""
    each: tuple[Wave, ...]
    """The wave of each year that counts, the oldest first."""
    peak_within: float
    """Days either side of the peak (95 %), nan unless shown."""
    smallest: float
    """Amplitude that would have been shown in 8 of 10 such records, nan under three years."""


def months(first: date, last: date) -> tuple[Period, ...]:
    """Return the calendar months from `first` to `last`, named like "2025-03"."""
    return _periods(first, last, lambda day: f"{day:%Y-%m}")


def years(first: date, last: date) -> tuple[Period, ...]:
    """Return the calendar years from `first` to `last`."""
    return _periods(first, last, lambda day: str(day.year))


def seasons(first: date, last: date, hemisphere: Hemisphere = "north") -> tuple[Period, ...]:
    """Return the meteorological seasons (December to February, ...) from `first` to `last`.

    The season that runs over the turn of the year carries both years ("winter 2024/25").
    """
    return _periods(first, last, lambda day: _season_name(day, hemisphere))


def _season_name(day: date, hemisphere: Hemisphere) -> str:
    name = NAMES[hemisphere][day.month % 12 // 3]
    if day.month in (12, 1, 2):
        start = day.year - (day.month != 12)
        return f"{name} {start}/{(start + 1) % 100:02d}"
    return f"{name} {day.year}"


def _periods(first: date, last: date, name: Callable[[date], str]) -> tuple[Period, ...]:
    """Return the months from `first` to `last`, those that follow each other under one name as one."""
    runs = [(label, list(run)) for label, run in groupby(_months(first, last), lambda month: name(month[0]))]
    return tuple(Period(label, run[0][0], run[-1][1]) for label, run in runs)


def _months(first: date, last: date) -> Iterator[tuple[date, date]]:
    while first <= last:
        end = min(last_of_month(first), last)
        yield first, end
        first = end + timedelta(days=1)


class Cosinor(NamedTuple):
    """Least-squares fit of mean + cosine cos(2 pi t / period) + sine sin(2 pi t / period)."""

    mean: float
    cosine: float
    sine: float

    @property
    def amplitude(self) -> float:
        """Height of the wave above its mean."""
        return float(np.hypot(self.cosine, self.sine))

    @property
    def angle(self) -> float:
        """Angle of the highest point in radians, -pi to pi (the acrophase with its sign turned [3]_)."""
        return float(np.arctan2(self.sine, self.cosine))


def cosinor(t: Floats, values: Floats, period: float) -> Cosinor:
    """Fit one wave to a series [1]_.

    Parameters
    ----------
    t : (m,) array
        Times, in the unit of `period`.
    values : (m,) array
        Without nan.
    """
    weights = np.linalg.lstsq(_waves(t, period), values, rcond=None)[0]
    return Cosinor(*(float(weight) for weight in weights))


def _waves(t: Floats, period: float) -> Floats:
    angle = 2 * np.pi * t / period
    return np.column_stack([np.ones(len(t)), np.cos(angle), np.sin(angle)])


def yearly_test(values: Floats, first: date, alpha: float = ALPHA) -> YearlyTest:
    """Test whether a yearly wave comes back, against its scatter between the years.

    Each whole year, counted back from the last day, gives one wave; their mean is judged by how much they
    differ, as a population-mean cosinor [2]_ with years in the place of persons, one variance for cosine
    and sine together and one degree of freedom paid for a straight trend. Whatever hangs together from day
    to day cannot make a season of itself: the only yardstick is the difference between years.

    Parameters
    ----------
    values : (n,) array
        Numbers of an ordered scale, nan for a missing day; the last place is the day of the verdict.
    first : date
        Day of place 0.
    alpha : float
        Level of the test.

    Returns
    -------
    YearlyTest
        "too little kept" under three years that count.
    """
    t: Floats = np.arange(len(values), dtype=float) + (first - date(first.year, 1, 1)).days
    years = [year for year in _whole_years(len(values)) if _is_full(values[year], first, year)]
    if not years or not enough_variety(values):
        return YearlyTest(0, "too little kept", np.nan, None, (), np.nan, np.nan)
    level = _without_trend(t, values, years)
    fits = [_fit(t, level, year) for year in years]
    mean = Cosinor(*np.mean([(fit.mean, fit.cosine, fit.sine) for fit in fits], axis=0).tolist())
    waves = tuple(_wave(fit) for fit in fits)
    if len(years) < FEWEST_YEARS:
        return YearlyTest(len(years), "too little kept", np.nan, _wave(mean), waves, np.nan, np.nan)
    return _judge(mean, fits, waves, alpha)


def _whole_years(n: int) -> list[slice]:
    """Return the places of the whole years that end on the last of n days."""
    k = int(n / YEAR)
    ends = [round(j * YEAR) for j in range(k + 1)]
    start = n - ends[-1]
    return [slice(start + a, start + b) for a, b in pairwise(ends)]


def _is_full(values: Floats, first: date, year: slice) -> bool:
    """Tell whether enough of a year was kept, and over enough of its months."""
    kept = np.flatnonzero(~np.isnan(values)) + year.start
    months_kept = [date.fromordinal(first.toordinal() + i).month for i in kept.tolist()]
    full = np.bincount(months_kept, minlength=13) >= DAYS_OF_A_MONTH
    return len(kept) >= DAYS_OF_A_YEAR and int(full.sum()) >= MONTHS_OF_A_YEAR


def _without_trend(t: Floats, values: Floats, years: list[slice]) -> Floats:
    """Take a straight trend out; one year alone cannot tell it from a wave and keeps it."""
    if len(years) < 2:
        return values
    chosen: Flags = np.zeros(len(values), dtype=bool)
    for year in years:
        chosen[year] = True
    chosen &= ~np.isnan(values)
    centred = t - t[chosen].mean()
    design = np.column_stack([_waves(t, YEAR), centred])
    slope = np.linalg.lstsq(design[chosen], values[chosen], rcond=None)[0][-1]
    level: Floats = values - slope * centred
    return level


def _fit(t: Floats, values: Floats, year: slice) -> Cosinor:
    kept = ~np.isnan(values[year])
    return cosinor(t[year][kept], values[year][kept], YEAR)


def _wave(fit: Cosinor) -> Wave:
    return Wave(amplitude=fit.amplitude, peak=fit.angle / TURN % YEAR)


def _judge(mean: Cosinor, fits: list[Cosinor], waves: tuple[Wave, ...], alpha: float) -> YearlyTest:
    k = len(fits)
    within = _freedom_within(k)
    apart = [(fit.cosine - mean.cosine) ** 2 + (fit.sine - mean.sine) ** 2 for fit in fits]
    scatter = float(np.sqrt(sum(apart) / (2 * (k - 1))))
    p = _p(mean.amplitude, scatter, k)
    shown = p <= alpha
    return YearlyTest(
        years=k,
        verdict="shown" if shown else "not shown",
        p=p,
        wave=_wave(mean),
        each=waves,
        peak_within=_peak_within(mean.amplitude, scatter, k, within) if shown else np.nan,
        smallest=scatter * smallest_amplitude(k, alpha),
    )


def _freedom_within(years: int) -> int:
    """Return two coefficients a year, less the two of their mean and one for the straight trend."""
    return 2 * years - 3


def _p(amplitude: float, scatter: float, years: int) -> float:
    if scatter == 0:
        return 0.0 if amplitude > 0 else 1.0
    return f_upper(years * amplitude**2 / (2 * scatter**2), 2, _freedom_within(years))


def _peak_within(amplitude: float, scatter: float, years: int, within: int) -> float:
    radians = special.stdtrit(within, 0.975) * scatter / (amplitude * np.sqrt(years))
    return float(min(radians, np.pi) / TURN)


def smallest_amplitude(years: int, alpha: float = ALPHA, power: float = 0.8) -> float:
    """Return the amplitude that would be shown with the given power, in units of the scatter of the years.

    The mean of the years' coefficients then has the noncentrality years * amplitude^2 / scatter^2.
    """
    within = _freedom_within(years)
    critical = float(special.fdtri(2, within, 1 - alpha))
    noncentrality = special.ncfdtrinc(2, within, 1 - power, critical)
    return float(np.sqrt(noncentrality / years))


def day_of_year(peak: float) -> tuple[int, int]:
    """Return month and day of a `Wave.peak`, counted in a year without 29 February."""
    day = date(2001, 1, 1) + timedelta(days=min(int(peak), 364))
    return day.month, day.day
