"""From the days of a diary to arrays, with a count of what was left out and why."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from tracker.analysis.common_classes import Order, order_of
from tracker.analysis.series import Counts, Flags, Floats, Series
from tracker.analysis.sitting import Sittings, sittings
from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square
from tracker.diary.months import each_day
from tracker.diary.rota import Rota, rota_of
from tracker.diary.trial import Trial, trial_on


class Answers(NamedTuple):
    """What stands in the squares of the mood, or of the sleep; arrays have a place a day."""

    there: Flags
    """(n,) kept, or answered with `could not say`."""
    waits: Flags
    """(n,) not answered, and in no break."""
    kept: Flags
    """(n,) kept."""
    counts: Flags
    """(n,) kept, and not remembered too late."""
    remembered: Flags
    """(n,) counts, and rests on memory."""
    paper: Flags
    """(n,) counts, and was copied from paper."""


class Reading(NamedTuple):
    """A record as the analysis sees it, from its first day to the day it is asked."""

    series: Series
    """Empty where nothing is kept."""
    last: date | None
    """Last day with a mood or a sleep that is used."""
    mood: Order
    sleep: Order
    days: tuple[Day, ...]
    """One a place of the series, empty days among them."""
    moods: Answers
    sleeps: Answers
    outside: int
    """Days before the first with a mood or a sleep, none of it used."""
    sittings: Mapping[str, Sittings]
    """When the moods and the anxious marks were kept."""
    breaks: tuple[Break, ...]
    rota: Rota


class Kept(NamedTuple):
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
    too_late: int
    """Those of them with one that was entered too late."""
    other_moods: int
    """Moods on levels that cannot be compared with those of now."""
    other_sleeps: int
    in_breaks: int
    same_sitting: int
    """Moods kept within ten minutes of the same day's sleep."""


class Gaps(NamedTuple):
    """Where the waiting squares lie, breaks apart."""

    by_nights: tuple[int, int]
    """Waiting squares, and all squares, of nights and the days after them."""
    elsewhere: tuple[int, int]
    """The same of all other days."""


def read(days: Iterable[Day], choices: Choices, as_of: date, clock: Clock) -> Reading:
    """Read the days up to `as_of`.

    Raises
    ------
    DamagedRecord
        If an entry holds a level that no scale has.
    """
    listed = [day for day in days if day.date <= as_of]
    known = {level.id for scale in choices.scales.versions for level in scale.levels}
    used = {*(day.used_mood for day in listed), *(day.used_sleep for day in listed)} - {""}
    for unknown in sorted(used - known):
        choices.scales.level(unknown)
    mood = order_of("mood", choices.scales, used, as_of)
    sleep = order_of("sleep", choices.scales, used, as_of)
    using = (d for d in listed if d.used_mood in mood.place or d.used_sleep in sleep.place)
    first = next((day.date for day in using), None)
    run = _run(listed, first, as_of)
    moods, sleeps = [day.used_mood for day in run], [day.used_sleep for day in run]
    series = Series(
        first=first or as_of,
        mood=_places(moods, mood),
        sleep=_places(sleeps, sleep),
        anxious=np.array([_number(day.is_anxious) for day in run], dtype=float),
        shift=np.array([day.shift_kind for day in run], dtype=np.str_),
        arm=_arms(run, choices.trials),
    )
    keeping = ~_in_breaks(choices.breaks, series.first, series.last)
    return Reading(
        series=series,
        last=series.trimmed().last if run else None,
        mood=mood,
        sleep=sleep,
        days=tuple(run),
        moods=_answers([day.mood for day in run], moods, keeping),
        sleeps=_answers([day.sleep for day in run], sleeps, keeping),
        outside=sum(_holds_something(day) for day in listed if first is None or day.date < first),
        sittings=sittings(run, clock),
        breaks=choices.breaks,
        rota=rota_of(listed, choices.kinds_by_id, clock),
    )


def _run(listed: list[Day], first: date | None, as_of: date) -> list[Day]:
    """Return every day from the first that is used."""
    if first is None:
        return []
    there = {day.date: day for day in listed}
    return [there.get(day) or Day(day) for day in each_day(first, as_of)]


def _holds_something(day: Day) -> bool:
    return any(square and square.is_kept for square in (day.mood, day.sleep))


def _answers(squares: Sequence[Square | None], used: Sequence[str], keeping: Flags) -> Answers:
    there = np.array([square is not None for square in squares], dtype=bool)
    counts = np.array([bool(level) for level in used], dtype=bool)
    basis = np.array([square.basis if square else "" for square in squares], dtype=np.str_)
    return Answers(
        there=there,
        waits=keeping & ~there,
        kept=np.array([square is not None and square.is_kept for square in squares], dtype=bool),
        counts=counts,
        remembered=counts & (basis == "remembered"),
        paper=counts & (basis == "paper"),
    )


def _places(used: Sequence[str], order: Order) -> Floats:
    return np.array([order.place.get(level, np.nan) for level in used], dtype=float)


def _number(mark: bool | None) -> float:
    return np.nan if mark is None else float(mark)


def _arms(run: Sequence[Day], trials: Sequence[Trial]) -> npt.NDArray[np.str_] | None:
    """Return (n,) the trial and arm of each day, None where no trial was drawn."""
    return np.array([_arm(day.date, trials) for day in run], dtype=np.str_) if trials else None


def _arm(day: date, trials: Sequence[Trial]) -> str:
    trial = trial_on(trials, day)
    block = trial.block_of(day) if trial else None
    return f"{trial.id} {block.arm}" if trial and block else ""


def without_remembered(reading: Reading) -> Series:
    """Return the series without every mood and sleep that was remembered."""
    series, moods, sleeps = reading.series, reading.moods.remembered, reading.sleeps.remembered
    return replace(
        series,
        mood=np.where(moods, np.nan, series.mood),
        sleep=np.where(sleeps, np.nan, series.sleep),
        anxious=np.where(moods, np.nan, series.anxious),
    )


def count_kept(reading: Reading, first: date, last: date) -> Kept:
    """Count the days from `first` to `last`."""
    inside = reading.series.places(first, last)
    mood, sleep = ~np.isnan(reading.series.mood[inside]), ~np.isnan(reading.series.sleep[inside])
    both = (reading.moods, mood), (reading.sleeps, sleep)
    return Kept(
        mood=int(mood.sum()),
        sleep=int(sleep.sum()),
        both=int((mood & sleep).sum()),
        could_not_say=_days_with_either((a.there & ~a.kept)[inside] for a, _ in both),
        remembered=_days_with_either(a.remembered[inside] for a, _ in both),
        paper=_days_with_either(a.paper[inside] for a, _ in both),
        left_out=_days_with_either(a.kept[inside] & ~used for a, used in both),
        too_late=_days_with_either((a.kept & ~a.counts)[inside] for a, _ in both),
        other_moods=_on_other_levels(reading.moods.counts[inside], mood),
        other_sleeps=_on_other_levels(reading.sleeps.counts[inside], sleep),
        in_breaks=int(np.count_nonzero(_in_breaks(reading.breaks, first, last))),
        same_sitting=int(np.count_nonzero(reading.sittings["mood"].beside_sleep[inside] & mood)),
    )


def _on_other_levels(counts: Flags, used: Flags) -> int:
    return int(np.count_nonzero(counts & ~used))


def _days_with_either(flags: Iterable[Flags]) -> int:
    return int(np.count_nonzero(np.any(list(flags), axis=0)))


def count_gaps(reading: Reading, first: date, last: date) -> Gaps:
    """Count the waiting squares from `first` to `last`, next to nights and elsewhere."""
    inside = reading.series.places(first, last)
    answered = reading.moods.there[inside].astype(int) + reading.sleeps.there[inside]
    begin, days = reading.series.first + timedelta(days=inside.start), len(answered)
    keeping = ~_in_breaks(reading.breaks, begin, begin + timedelta(days=days - 1))
    by_a_night = np.zeros(days, dtype=bool)
    places = np.array([(night - begin).days for night in reading.rota.nights], dtype=int)
    for near in (places, places + 1):
        by_a_night[near[(near >= 0) & (near < days)]] = True
    return Gaps(
        by_nights=_waiting(answered, keeping & by_a_night),
        elsewhere=_waiting(answered, keeping & ~by_a_night),
    )


def _in_breaks(breaks: Iterable[Break], first: date, last: date) -> Flags:
    """Return (n,) whether each day from `first` to `last` lies in a break."""
    found = np.zeros(max((last - first).days + 1, 0), dtype=bool)
    for span in breaks:
        end = min(span.to_day or last, last)
        found[max((span.from_day - first).days, 0) : max((end - first).days + 1, 0)] = True
    return found


def _waiting(answered: Counts, days: Flags) -> tuple[int, int]:
    """Return how many squares of some days wait, and how many there are."""
    squares = 2 * int(np.count_nonzero(days))
    return squares - int(answered[days].sum()), squares
