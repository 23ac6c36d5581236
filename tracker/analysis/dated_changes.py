"""Before and after a dated change of her own, beside all other cuts of the record. Never a verdict.

A date is often set when things are worst, and after such days they mostly get better by themselves; season,
rota and other changes move with it. So the same cut is made at every seventh day of the record, and it is
said at how many of them the days before and after differ as much. Plain Python on the values of the diary.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from datetime import date, timedelta
from itertools import accumulate, pairwise
from typing import NamedTuple

from tracker.analysis.counts import Classes, Count, Outcome
from tracker.diary.breaks import Break, in_break
from tracker.diary.days import Day
from tracker.diary.months import each_day
from tracker.diary.own_changes import DatedChange

LONGEST_WINDOW = 90
SHORTEST_WINDOW = 28
KEPT_OF_A_WINDOW = 0.5
BREAK_OF_A_WINDOW = 0.25
STEP = 7
"""Days from one other cut to the next."""
FEWEST_CUTS = 20
"""Other cuts from which they are counted. All six: common practice, no source."""
UNEVEN = 0.2
"""Difference between the kept shares of the two windows from which it is said."""
OUTCOMES: tuple[Outcome, ...] = ("low", "anxious", "short sleep")


class Cut(NamedTuple):
    """The days before and after a day, and how many other cuts differ as much."""

    outcome: Outcome
    before: Count
    after: Count
    uneven: bool
    """Whether one side was kept much better than the other."""
    as_large: int | None
    """Other places of the record at which a cut of the same length differs as much; None under twenty."""
    places: int
    """Other places that were looked at."""


class BeforeAfter(NamedTuple):
    """What was counted before and after a change."""

    change: DatedChange
    window: int
    """Days each way; 0 where fewer than 28 lie free of other changes and of the ends of the record."""
    cuts: tuple[Cut, ...]
    """Low and anxious days and short sleeps, as far as both windows are kept well enough."""
    nights: tuple[int, int]
    """Nights on the rota in the windows before and after."""


def before_and_after(
    days: Iterable[Day],
    classes: Classes,
    breaks: tuple[Break, ...],
    changes: Iterable[DatedChange],
    until: date,
    nights: Collection[date] = (),
) -> tuple[BeforeAfter, ...]:
    """Count the days before and after each change.

    Parameters
    ----------
    days : iterable of Day
        In order of time, from the first day of the record; empty ones may be missing.
    classes : Classes
        Of the same days.
    breaks : tuple of Break
        A window with more than a quarter of its days in a break is not counted.
    changes : iterable of Change
        Those outside the record are left out.
    until : date
        The day that is asked about.
    nights : collection of date
        The dates of nights, as `tracker.diary.rota` gives them.
    """
    listed = {day.date: day for day in days}
    if not listed:
        return ()
    record = list(each_day(min(listed), until))
    inside = sorted(change for change in changes if record[0] < change.day <= until)
    lines = _Lines([listed.get(at, Day(at)) for at in record], classes, breaks)
    edges = [record[0], *(change.day for change in inside), until + timedelta(days=1)]
    rooms = [min((b - a).days, (c - b).days) for (a, b), (_, c) in pairwise(pairwise(edges))]
    return tuple(
        _before_after(change, min(room, LONGEST_WINDOW), lines, (change.day - record[0]).days, nights)
        for change, room in zip(inside, rooms, strict=True)
    )


def _before_after(
    change: DatedChange, window: int, lines: _Lines, at: int, nights: Collection[date]
) -> BeforeAfter:
    if window < SHORTEST_WINDOW:
        return BeforeAfter(change=change, window=0, cuts=(), nights=(0, 0))
    cuts = (lines.cut(outcome, at, window) for outcome in OUTCOMES)
    away = [(night - change.day).days for night in nights]
    around = sum(-window <= days < 0 for days in away), sum(0 <= days < window for days in away)
    return BeforeAfter(change=change, window=window, cuts=tuple(filter(None, cuts)), nights=around)


class _Lines:
    """Running totals of every outcome, so that any window is counted at once."""

    def __init__(self, days: Sequence[Day], classes: Classes, breaks: tuple[Break, ...]) -> None:
        told: dict[Outcome, Callable[[Day], bool | None]] = {
            "low": classes.is_low,
            "anxious": lambda day: day.is_anxious,
            "short sleep": classes.is_short,
        }
        self._days = len(days)
        self._so = {name: _totals(tell(day) is True for day in days) for name, tell in told.items()}
        self._kept = {name: _totals(tell(day) is not None for day in days) for name, tell in told.items()}
        self._broken = _totals(in_break(day.date, breaks) for day in days)

    def cut(self, outcome: Outcome, at: int, window: int) -> Cut | None:
        """Count both windows of a place; None where one is not kept well enough."""
        there = self._sides(outcome, at, window)
        if there is None:
            return None
        before, after = there
        difference = _difference(before, after)
        others = [
            abs(_difference(*sides))
            for place in range(at % STEP, self._days, STEP)
            if abs(place - at) >= window and (sides := self._sides(outcome, place, window))
        ]
        as_large = sum(other >= abs(difference) - 1e-12 for other in others)
        return Cut(
            outcome,
            before,
            after,
            abs(before.of - after.of) > UNEVEN * window,
            as_large if len(others) >= FEWEST_CUTS else None,
            len(others),
        )

    def _sides(self, outcome: Outcome, at: int, window: int) -> tuple[Count, Count] | None:
        if at < window or at + window > self._days:
            return None
        before, after = ((at - window, at), (at, at + window))
        if not (self._is_kept(outcome, *before) and self._is_kept(outcome, *after)):
            return None
        return self._count(outcome, *before), self._count(outcome, *after)

    def _is_kept(self, outcome: Outcome, first: int, end: int) -> bool:
        length = end - first
        return (
            self._kept[outcome][end] - self._kept[outcome][first] >= KEPT_OF_A_WINDOW * length
            and self._broken[end] - self._broken[first] <= BREAK_OF_A_WINDOW * length
        )

    def _count(self, outcome: Outcome, first: int, end: int) -> Count:
        so, kept = self._so[outcome], self._kept[outcome]
        return Count(so[end] - so[first], kept[end] - kept[first])


def _totals(flags: Iterable[bool]) -> list[int]:
    """Return n + 1 running totals, from 0."""
    return list(accumulate(map(int, flags), initial=0))


def _difference(before: Count, after: Count) -> float:
    """Return how much larger the share is after than before."""
    return after.number / after.of - before.number / before.of
