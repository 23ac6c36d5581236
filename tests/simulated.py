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
from tracker.analysis.rota_runs import days_since_night
from tracker.analysis.series import Flags, Floats, Series
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Level

FIRST = date(2023, 1, 2)
MOOD_CUTS = (-1.5, -0.5, 0.5, 1.5)
SLEEP_CUTS = (-2.8, -2.2, -1.5, -0.8, 0.0, 0.8, 1.6)
ANXIOUS_CUT = 0.9

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

DAY_ALONE = {
    "only the day's kind acts": Case(kinds=1),
    "the same, back to back": Case(kinds=1, back_to_back=True),
}
"""Cases in which neither the day before nor the days after nights differ by themselves."""

NO_SEASON = {name: case for name, case in NO_LINK.items() if not case.annual}
"""Cases without a yearly wave."""

ROTA_NOT_ENTERED = Case(rota=1, rota_entered=False)
"""The rota moves both and was never entered: nothing can tell this from a link."""


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
    sleep, mood = _linked(case, n, rng)
    shift = _rota(n, rng, back_to_back=case.back_to_back)
    common = _common(case, n, rng, first)
    sleep = sleep + common + _spells(case, n, rng)
    mood = mood + common + _spells(case, n, rng)
    sleep = sleep + case.rota * _of_kind(shift, SLEEP_OF_DAY, SLEEP_AFTER_NIGHT)
    mood = mood + case.rota * _of_kind(shift, MOOD_OF_DAY, MOOD_AFTER_NIGHT)
    sleep = sleep + case.kinds * _of_kind(shift, SLEEP_OF_DAY, 0)
    mood = mood + case.kinds * _of_kind(shift, MOOD_OF_DAY, 0)
    levels = np.digitize(mood, MOOD_CUTS) + 1.0
    buckets = np.digitize(sleep, SLEEP_CUTS) + 1.0
    anxious = (0.8 * autoregression(n, 0.3, rng) - 0.6 * mood > ANXIOUS_CUT).astype(float)
    lost = _lost(case, n, rng)
    if case.low_days_skipped:
        lost |= (levels <= 2) & (rng.random(n) < 0.4)
    no_mood, no_sleep = lost | (rng.random(n) < 0.04), lost | (rng.random(n) < 0.04)
    entered = shift if case.rota_entered else np.full(n, "")
    return Series(
        first=first,
        mood=np.where(no_mood, np.nan, levels),
        sleep=np.where(no_sleep, np.nan, buckets),
        anxious=np.where(no_mood, np.nan, anxious),
        shift=entered.astype(np.str_),
    )


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
