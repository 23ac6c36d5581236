"""From the days of a diary to arrays, with a count of what was left out and why."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from tracker.analysis.levels import Order, order_of
from tracker.analysis.series import Flags, Series
from tracker.diary.choices import Break, Choices, in_break
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square
from tracker.diary.rota import night_dates, quick_returns, worked

ONE_SITTING = timedelta(minutes=10)
"""A mood kept so soon after the same day's sleep was kept in one sitting with it."""


@dataclass(frozen=True, eq=False)
class Reading:
    """A record as the analysis sees it, from its first day to the day it is asked."""

    series: Series
    """Empty where nothing is kept."""
    last: date | None
    """Last day with a mood or a sleep that is used."""
    mood: Order
    sleep: Order
    days: tuple[Day, ...]
    """One a place of the series, empty days among them."""
    outside: int
    """Days before the first with a mood or a sleep, none of it used."""
    breaks: tuple[Break, ...]
    nights: frozenset[date]
    """Days on which a night shift starts."""
    working: frozenset[date]
    """Days with a working shift whose hours are known."""
    quick: frozenset[date]
    """Of these, the quick returns."""

    @property
    def remembered(self) -> Flags:
        """(n,) days that are used and rest on a mood or a sleep remembered later."""
        used = [[s for s in (day.mood, day.sleep) if _counts(s)] for day in self.days]
        return np.array([any(_on(square, "remembered") for square in pair) for pair in used], dtype=bool)


@dataclass(frozen=True, kw_only=True)
class Kept:
    """Days of a period, by what was kept of them."""

    mood: int
    sleep: int
    both: int
    could_not_say: int
    """Days with `could not say` for the mood or the sleep."""
    remembered: int
    """Days that are used and rest on memory."""
    paper: int
    """Days that are used and were copied from paper."""
    left_out: int
    """Days with a mood or a sleep that was entered too late, or stands on another scale."""
    in_breaks: int
    same_sitting: int
    """Moods kept within ten minutes of the same day's sleep."""


@dataclass(frozen=True, kw_only=True)
class Gaps:
    """Where the waiting squares lie, breaks apart."""

    by_nights: tuple[int, int]
    """Waiting squares, and all squares, of nights and the days after them."""
    elsewhere: tuple[int, int]
    """The same of all other days."""


def read(days: Iterable[Day], choices: Choices, as_of: date, clock: Clock) -> Reading:
    """Read the days up to `as_of`.

    Raises
    ------
    UnknownValue
        If an entry holds a level that no scale has.
    """
    listed = [day for day in days if day.date <= as_of]
    known = {level.id for scale in choices.scales.versions for level in scale.levels}
    used = {s.value for day in listed for s in (day.mood, day.sleep) if s and _counts(s)}
    for unknown in sorted(used - known):
        choices.scales.level(unknown)
    mood = order_of("mood", choices.scales, used, as_of)
    sleep = order_of("sleep", choices.scales, used, as_of)
    using = [d for d in listed if _place(d.mood, mood) is not None or _place(d.sleep, sleep) is not None]
    run = _run(listed, using, as_of)
    return Reading(
        series=_series(run, mood, sleep, as_of),
        last=max((day.date for day in using), default=None),
        mood=mood,
        sleep=sleep,
        days=tuple(run),
        outside=_outside(listed, run),
        breaks=choices.breaks,
        nights=frozenset(night_dates(listed, choices.kinds_by_id, clock)),
        working=frozenset(shift.day for shift in worked(listed, choices.kinds_by_id)),
        quick=frozenset(quick_returns(listed, choices.kinds_by_id)),
    )


def _run(listed: list[Day], using: list[Day], as_of: date) -> list[Day]:
    """Return every day from the first that is used."""
    if not using:
        return []
    there = {day.date: day for day in listed}
    first = min(day.date for day in using)
    dates = (first + timedelta(days=i) for i in range((as_of - first).days + 1))
    return [there.get(day, Day(day)) for day in dates]


def _outside(listed: list[Day], run: list[Day]) -> int:
    dates = {day.date for day in run}
    return sum(any(s and s.is_kept for s in _pair(day)) for day in listed if day.date not in dates)


def _series(run: list[Day], mood: Order, sleep: Order, as_of: date) -> Series:
    places = [(_place(day.mood, mood), _place(day.sleep, sleep)) for day in run]
    anxious = [day.is_anxious for day in run]
    return Series(
        first=run[0].date if run else as_of,
        mood=np.array([_number(place) for place, _ in places], dtype=float),
        sleep=np.array([_number(place) for _, place in places], dtype=float),
        anxious=np.array([_number(mark) for mark in anxious], dtype=float),
        shift=np.array([day.shift_kind for day in run], dtype=np.str_),
    )


def _number(value: float | None) -> float:
    return np.nan if value is None else float(value)


def _counts(square: Square | None) -> bool:
    return square is not None and square.is_kept and not square.is_left_out


def _place(square: Square | None, order: Order) -> int | None:
    return order.place.get(square.value) if square is not None and _counts(square) else None


def _on(square: Square | None, basis: str) -> bool:
    return square is not None and square.basis == basis


def without_remembered(reading: Reading) -> Series:
    """Return the series without every mood and sleep that was remembered."""
    moods = np.array([_on(day.mood, "remembered") for day in reading.days], dtype=bool)
    sleeps = np.array([_on(day.sleep, "remembered") for day in reading.days], dtype=bool)
    series = reading.series
    return Series(
        first=series.first,
        mood=np.where(moods, np.nan, series.mood),
        sleep=np.where(sleeps, np.nan, series.sleep),
        anxious=np.where(moods, np.nan, series.anxious),
        shift=series.shift,
    )


def count_kept(reading: Reading, first: date, last: date) -> Kept:
    """Count the days from `first` to `last`."""
    inside = [i for i, day in enumerate(reading.days) if first <= day.date <= last]
    days = [reading.days[i] for i in inside]
    mood, sleep = ~np.isnan(reading.series.mood[inside]), ~np.isnan(reading.series.sleep[inside])
    return Kept(
        mood=int(mood.sum()),
        sleep=int(sleep.sum()),
        both=int((mood & sleep).sum()),
        could_not_say=sum(any(s is not None and s.state == "could not say" for s in _pair(d)) for d in days),
        remembered=int(reading.remembered[inside].sum()),
        paper=sum(any(_counts(s) and _on(s, "paper") for s in _pair(d)) for d in days),
        left_out=sum(map(_is_left_out, days, mood.tolist(), sleep.tolist())),
        in_breaks=_days_in_breaks(reading.breaks, first, last),
        same_sitting=sum(map(_same_sitting, days)),
    )


def _pair(day: Day) -> tuple[Square | None, Square | None]:
    return day.mood, day.sleep


def _is_left_out(day: Day, mood_used: bool, sleep_used: bool) -> bool:
    used = (mood_used, sleep_used)
    return any(s is not None and s.is_kept and not u for s, u in zip(_pair(day), used, strict=True))


def _days_in_breaks(breaks: tuple[Break, ...], first: date, last: date) -> int:
    dates = (first + timedelta(days=i) for i in range((last - first).days + 1))
    return sum(in_break(day, breaks) for day in dates)


def _same_sitting(day: Day) -> bool:
    if not (_counts(day.mood) and _counts(day.sleep)) or day.mood is None or day.sleep is None:
        return False
    if not all(s.basis == "at the time" and s.source != "imported" for s in (day.mood, day.sleep)):
        return False
    if day.mood.kept_at is None or day.sleep.kept_at is None:
        return False
    return abs(day.mood.kept_at - day.sleep.kept_at) <= ONE_SITTING


def count_gaps(reading: Reading, first: date, last: date) -> Gaps:
    """Count the waiting squares from `first` to `last`, next to nights and elsewhere."""
    by_nights, elsewhere = [0, 0], [0, 0]
    for day in reading.days:
        if not first <= day.date <= last or in_break(day.date, reading.breaks):
            continue
        counts = by_nights if _is_by_a_night(day.date, reading.nights) else elsewhere
        counts[0] += sum(square is None for square in _pair(day))
        counts[1] += 2
    return Gaps(by_nights=(by_nights[0], by_nights[1]), elsewhere=(elsewhere[0], elsewhere[1]))


def _is_by_a_night(day: date, nights: Collection[date]) -> bool:
    return day in nights or day - timedelta(days=1) in nights
