"""Records with known truth: what moves mood and sleep is put in by hand, so every finding can be judged.

Mood and sleep are first-order autoregressions of variance 1, cut into five levels and eight buckets. A case
adds what a life adds (weekend, rota, time of year, drift, a step, bad spells) to both, with or without a
link between the two, and then loses days.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from tracker.analysis.groups import Labels
from tracker.analysis.lags import ALPHA, LagTable, compare, covariates, only, prepare, shifts_known, sided
from tracker.analysis.rota_runs import DAYS_SINCE, days_since_night
from tracker.analysis.series import Flags, Floats, Series
from tracker.analysis.sitting import Sittings
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Level

FIRST = date(2023, 1, 2)
MOOD_CUTS = (-1.5, -0.5, 0.5, 1.5)
SLEEP_CUTS = (-2.8, -2.2, -1.5, -0.8, 0.0, 0.8, 1.6)
ANXIOUS_CUT = 0.9
SHORT = 4
"""Largest bucket that is a short sleep."""

ROTA = ("early", "late", "long", "night")
SLEEP_OF_DAY = {"early": -0.8, "late": 0.3, "long": -0.3, "night": 0.2, "off": 0.5}
SLEEP_AFTER_NIGHT = -1.2
MOOD_OF_DAY = {"early": 0.0, "late": -0.2, "long": -0.4, "night": -0.7, "off": 0.6}
MOOD_AFTER_NIGHT = -0.6


@dataclass(frozen=True)
class Case:
    """What moves the two series."""

    sleep_phi: float = 0.3
    mood_phi: float = 0.5
    weekly: float = 0.0
    """How much more on a weekend."""
    rota: float = 0.0
    """Multiple of what the shift kinds add below."""
    kinds: float = 0.0
    """Multiple of what the shift kinds add on their own day, with nothing on the day after."""
    back_to_back: bool = False
    """Whether one kind may follow another without a day off: then there are quick returns."""
    rota_entered: bool = True
    days_entered: float = 1.0
    """Share of the days whose shift is entered."""
    months_entered: float = 1.0
    """Share of the months, of thirty days, in which shifts are entered."""
    nights_alone_entered: bool = False
    new_post: bool = False
    """Whether the rota weighs half as much at first and half as much again from some day on."""
    after_nights: float = 0.0
    """How much lower the second and the third day after a night are."""
    wild_months: bool = False
    """Whether both series swing two and a half times as far in one month of four, each by itself."""
    both_low_skipped: float = 0.0
    """Share of the days with a low mood and a short sleep that are not kept."""
    hears_next_sleep: float = 0.0
    """Share of the days on which the mood is rated when the next sleep is known, and hears it (0.3)."""
    hears_last_sleep: float = 0.0
    """Share of the days on which the mood is rated beside the sleep before, and hears it (0.3)."""
    annual: float = 0.0
    """Amplitude of a yearly wave."""
    drift: float = 0.0
    """From the first to the last day."""
    step: float = 0.0
    spells: bool = False
    low_days_skipped: bool = False
    long_gaps: bool = False
    link: float = 0.0
    """Latent correlation of sleep(t) and mood(t + lag) that is put in."""
    lag: int = 0


NO_LINK = {
    "independent days": Case(0.0, 0.0),
    "own past 0.3": Case(0.3, 0.3),
    "own past 0.6": Case(0.6, 0.6),
    "own past 0.85": Case(0.85, 0.85),
    "own past 0.95": Case(0.95, 0.95),
    "own past 0.95 and 0.3": Case(0.95, 0.3),
    "weekly cycle": Case(weekly=1),
    "rota": Case(rota=1),
    "yearly wave": Case(annual=0.8),
    "drift": Case(drift=2.0),
    "one step": Case(step=1.5),
    "bad spells": Case(spells=True),
    "low days skipped": Case(low_days_skipped=True),
    "long gaps": Case(long_gaps=True),
    "mixture": Case(0.5, 0.6, weekly=1, rota=1, annual=0.5, drift=1.0, low_days_skipped=True, long_gaps=True),
    "kinds back to back": Case(back_to_back=True),
}
"""Cases without a link between mood and sleep."""

NO_GROUPS = {name: case for name, case in NO_LINK.items() if not (case.weekly or case.rota)}
"""Cases without a difference between shift kinds or weekdays."""

HARD = {
    "nine days in ten entered": Case(rota=1, days_entered=0.9),
    "six months in ten entered": Case(rota=1, months_entered=0.6),
    "three months in ten entered": Case(rota=1, months_entered=0.3),
    "nights alone entered": Case(rota=1, nights_alone_entered=True),
    "a new post, the rota weighs more": Case(rota=1, new_post=True),
    "rated when the next sleep is known": Case(hears_next_sleep=0.7),
    "rated beside the sleep before": Case(hears_last_sleep=0.7),
    "days skipped when both are low": Case(0.5, 0.5, both_low_skipped=0.7),
    "wild months shared": Case(0.5, 0.5, wild_months=True),
}
"""Cases without a link that look like one."""

DAY_ALONE = {
    "only the day's kind acts": Case(kinds=1),
    "the same, back to back": Case(kinds=1, back_to_back=True),
}
"""Cases in which neither the day before nor the days after nights differ by themselves."""

NO_SEASON = {name: case for name, case in NO_LINK.items() if not case.annual}
"""Cases without a yearly wave."""

ROTA_NOT_ENTERED = Case(rota=1, rota_entered=False)
"""The rota moves both and was never entered: nothing can tell this from a link."""


@dataclass(frozen=True, eq=False)
class Simulated:
    """A record with what an analysis of its links must know."""

    series: Series
    sittings: dict[str, Sittings]
    """When the moods and the marks were kept."""
    waits: dict[str, Flags]
    """For mood and sleep, (n,) the days that were not kept."""


def planted(link: float, lag: int, *, rota: float = 0.0) -> Case:
    """Return a case with a link of the given latent correlation."""
    return Case(link=link, lag=lag, rota=rota)


def autoregression(n: int, phi: float, rng: np.random.Generator) -> Floats:
    """Return (n,) values with variance 1 and correlation `phi` between neighbours."""
    noise = rng.normal(size=n)
    out = np.empty(n)
    out[0] = noise[0]
    for t in range(1, n):
        out[t] = phi * out[t - 1] + np.sqrt(1 - phi**2) * noise[t]
    return out


def simulate(case: Case, n: int, rng: np.random.Generator, first: date = FIRST) -> Series:
    """Return n days of a case."""
    return simulated(case, n, rng, first).series


def simulated(case: Case, n: int, rng: np.random.Generator, first: date = FIRST) -> Simulated:
    """Return n days of a case, and when they were kept."""
    sleep, mood = _linked(case, n, rng)
    if case.wild_months:
        wild = np.where(rng.random(n // 30 + 1) < 0.25, 2.5, 1.0)[np.arange(n) // 30]
        sleep, mood = sleep * wild, mood * wild
    shift = _rota(n, rng, back_to_back=case.back_to_back)
    common = _common(case, n, rng, first)
    sleep = sleep + common + _spells(case, n, rng)
    mood = mood + common + _spells(case, n, rng)
    weight = case.rota * (_new_post(n, rng) if case.new_post else np.ones(n))
    sleep = sleep + weight * _of_kind(shift, SLEEP_OF_DAY, SLEEP_AFTER_NIGHT)
    mood = mood + weight * _of_kind(shift, MOOD_OF_DAY, MOOD_AFTER_NIGHT)
    sleep = sleep + case.kinds * _of_kind(shift, SLEEP_OF_DAY, 0)
    mood = mood + case.kinds * _of_kind(shift, MOOD_OF_DAY, 0)
    since = days_since_night(shift, shift == "night")
    tired = case.after_nights * np.isin(since, DAYS_SINCE[:2])
    sleep, mood = sleep - tired, mood - tired
    hears_next, hears_last = _some(n, case.hears_next_sleep, rng), _some(n, case.hears_last_sleep, rng)
    next_sleep = np.append(sleep[1:], 0.0)
    mood = np.where(hears_next, 0.3 * next_sleep + np.sqrt(1 - 0.3**2) * mood, mood)
    mood = np.where(hears_last, 0.3 * sleep + np.sqrt(1 - 0.3**2) * mood, mood)
    levels = np.digitize(mood, MOOD_CUTS) + 1.0
    buckets = np.digitize(sleep, SLEEP_CUTS) + 1.0
    anxious = (0.8 * autoregression(n, 0.3, rng) - 0.6 * mood > ANXIOUS_CUT).astype(float)
    lost = _lost(case, n, rng)
    if case.low_days_skipped:
        lost |= (levels <= 2) & (rng.random(n) < 0.4)
    lost |= (levels <= 2) & (buckets <= SHORT) & _some(n, case.both_low_skipped, rng)
    no_mood, no_sleep = lost | (rng.random(n) < 0.04), lost | (rng.random(n) < 0.04)
    series = Series(
        first=first,
        mood=np.where(no_mood, np.nan, levels),
        sleep=np.where(no_sleep, np.nan, buckets),
        anxious=np.where(no_mood, np.nan, anxious),
        shift=np.where(_entered(case, shift, rng), shift, "").astype(np.str_),
    )
    kept_next = ~np.append(no_sleep[1:], True)
    beside, known = hears_last & ~no_mood & ~no_sleep, hears_next & ~no_mood & kept_next
    sat = Sittings(beside, known, np.zeros(n, dtype=bool))
    return Simulated(series, {"mood": sat, "anxious": sat}, {"mood": no_mood, "sleep": no_sleep})


def _new_post(n: int, rng: np.random.Generator) -> Floats:
    return np.where(np.arange(n) < rng.integers(n // 5, n - n // 5), 0.5, 1.5)


def _entered(case: Case, shift: Labels, rng: np.random.Generator) -> Flags:
    """Return the days whose shift is entered."""
    n = len(shift)
    if not case.rota_entered:
        return np.zeros(n, dtype=bool)
    if case.nights_alone_entered:
        return np.array(shift == "night")
    months = _some(n // 30 + 1, case.months_entered, rng)[np.arange(n) // 30]
    entered: Flags = months & _some(n, case.days_entered, rng)
    return entered


def _some(n: int, share: float, rng: np.random.Generator) -> Flags:
    """Return n flags, a share of them true; nothing is drawn for all or none."""
    some: Flags = rng.random(n) < share if 0 < share < 1 else np.full(n, share == 1)
    return some


def _linked(case: Case, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    far = abs(case.lag)
    sleep, mood = autoregression(n + far, case.sleep_phi, rng), autoregression(n + far, case.mood_phi, rng)
    own = np.sqrt(1 - case.link**2)
    if case.lag >= 0:
        return sleep[far:], case.link * sleep[:n] + own * mood[far:]
    return case.link * mood[:n] + own * sleep[far:], mood[far:]


def _common(case: Case, n: int, rng: np.random.Generator, first: date) -> Floats:
    """Return what moves both: weekend, time of year, drift, one step."""
    days = np.arange(n)
    weekend = ((days + first.weekday()) % 7 >= 5) * case.weekly
    year = case.annual * np.cos(2 * np.pi * (days / 365.2425 - rng.random()))
    step = case.step * rng.choice([-1, 1]) * (days >= rng.integers(n // 5, n - n // 5))
    out: Floats = weekend + year + case.drift * rng.choice([-1, 1]) * days / n + step
    return out


def _spells(case: Case, n: int, rng: np.random.Generator) -> Floats:
    out = np.zeros(n)
    if case.spells:
        for quarter in range(0, n, 91):
            start = quarter + rng.integers(0, 61)
            out[start : start + rng.integers(10, 31)] = -1.5
    return out


def _rota(
    n: int, rng: np.random.Generator, *, back_to_back: bool
) -> np.ndarray[tuple[int], np.dtype[np.str_]]:
    """Return an irregular rota: a run of one kind, some days off (perhaps none), and so on."""
    fewest_off = 0 if back_to_back else 1
    days: list[str] = []
    while len(days) < n:
        days += [str(rng.choice(ROTA))] * int(rng.integers(2, 5))
        days += ["off"] * int(rng.integers(fewest_off, 4))
    return np.array(days[:n])


def _of_kind(
    shift: np.ndarray[tuple[int], np.dtype[np.str_]], of_day: dict[str, float], after_night: float
) -> Floats:
    out = np.array([of_day[kind] for kind in shift])
    out[1:] += np.where(shift[:-1] == "night", after_night, 0.0)
    return out


def _lost(case: Case, n: int, rng: np.random.Generator) -> Flags:
    """Return the days that were not kept: single ones, and now and then a whole run."""
    lost: Flags = rng.random(n) < rng.uniform(0.03, 0.22)
    longest, every = (60, 120) if case.long_gaps else (12, 240)
    for start in range(int(rng.integers(0, every)), n, every):
        lost[start : start + int(rng.integers(3, longest))] = True
    return lost


def after_nights(series: Series) -> Labels:
    """Return how long after the last night each day lies."""
    return days_since_night(series.shift, series.shift == "night")


def as_days(series: Series) -> list[Day]:
    """Return the series as days of a diary on the default scales."""
    return [
        Day(
            date=day,
            mood=_square(mood, DEFAULT_MOOD.levels),
            sleep=_square(sleep, DEFAULT_SLEEP.levels),
            anxious=None if np.isnan(anxious) else Square("yes" if anxious else "no"),
            shift=Square(str(shift)) if shift else None,
        )
        for day, mood, sleep, anxious, shift in zip(
            series.dates, series.mood, series.sleep, series.anxious, series.shift, strict=True
        )
    ]


def _square(place: float, levels: tuple[Level, ...]) -> Square | None:
    return None if np.isnan(place) else Square(levels[int(place) - 1].id)


def lag_table(
    series: Series,
    outcome: str,
    alpha: float = ALPHA,
    *,
    works_shifts: bool = False,
    sat: Sittings | None = None,
    doubted: bool = False,
) -> LagTable:
    """Compare `outcome` ("mood" or "anxious") with sleep over one run of days.

    Parameters
    ----------
    works_shifts : bool
        Whether days count only where their own shift and that of the day before are entered.
    sat : Sittings, optional
        When the outcome was kept; without it nothing is left out.
    doubted : bool
        As of `compare`.
    """
    used = only(series, shifts_known(series)) if works_shifts else series
    design = covariates(used)
    outcomes = sided(used.values(outcome), design, sat)
    return compare(prepare(used.sleep, design), outcomes, alpha, doubted=doubted)
