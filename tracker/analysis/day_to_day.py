"""How days follow each other: runs of low days, days far from the day before, months in step, days waiting.

Counted as the days stand, never judged here. Plain Python on the values of the diary.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal, NamedTuple, TypeAlias

from tracker.analysis.counts import Classes, Count
from tracker.diary.days import Day
from tracker.diary.months import each_day

SHORTEST_RUN = 3
"""Low days kept in a row from which they are a run."""
GAP_INSIDE = 1
"""Days without a mood that do not end a run of low days."""
FAR = 2
"""Levels between two days from which mood stood far from the day before. All three: common practice, no
source."""
FEWEST_OF_A_MONTH = 15
"""Days with both mood and sleep from which a month is set beside the next. Common practice, no source."""
FEWEST_STEPS = 20
COMMON_STEPS = (0.25, 0.78)
"""Share of the steps from month to month that go the same way in 95 of 100 unrelated records of two years;
measured for about twenty steps."""
ONE_DAY = timedelta(days=1)

_Known: TypeAlias = Mapping[date, bool | None]
"""Whether something is so on each day, in order of time; None where nobody knows."""


class LowRun(NamedTuple):
    """Low days one after another."""

    first: date
    last: date
    kept: int
    """Low days that were kept; the others between first and last have no mood."""
    is_open: bool
    """Whether it touches days without a mood, two or more, and may have been longer."""

    @property
    def days(self) -> int:
        """Days from first to last."""
        return (self.last - self.first).days + 1


class InStep(NamedTuple):
    """Steps from a month to the next in the shares of low days and of short sleeps."""

    same: int
    """Both shares rose, or both fell."""
    opposite: int

    @property
    def steps(self) -> int:
        """All that went one way or the other."""
        return self.same + self.opposite

    @property
    def common(self) -> tuple[int, int] | None:
        """Fewest and most steps the same way that are common with nothing between the two."""
        if self.steps < FEWEST_STEPS:
            return None
        low, high = COMMON_STEPS
        return -int(-low * self.steps // 1), int(high * self.steps)


class Waited(NamedTuple):
    """Squares of one grid that waited, by what stood on the day before."""

    outcome: Literal["mood", "sleep"]
    after: Count
    """Waiting, of those after a low day (sleep: after a short sleep)."""
    otherwise: Count
    """Waiting, of those after another day."""


@dataclass(frozen=True, kw_only=True)
class DayToDay:
    """How the days of a period follow each other."""

    runs: tuple[LowRun, ...]
    """In order of time."""
    far: Count
    """Days on which mood stood two or more levels from the day before, of those with both moods."""
    months: InStep
    waited: tuple[Waited, ...]
    """Of the mood, then of the sleep."""


def day_to_day(days: Iterable[Day], classes: Classes, waiting: Mapping[str, set[date]]) -> DayToDay:
    """Count how some days follow each other.

    Parameters
    ----------
    days : iterable of Day
        In order of time; empty ones may be missing.
    classes : Classes
        Of the same days.
    waiting : mapping of str to set of date
        For "mood" and "sleep", the days on which nothing was answered and no break was marked.
    """
    listed = list(days)
    low = {day.date: classes.is_low(day) for day in listed}
    short = {day.date: classes.is_short(day) for day in listed}
    return DayToDay(
        runs=tuple(_runs(low)),
        far=_far(listed, classes),
        months=_in_step(low, short),
        waited=(_waited("mood", low, waiting["mood"]), _waited("sleep", short, waiting["sleep"])),
    )


def _runs(low: _Known) -> Iterator[LowRun]:
    begun: list[date] = []
    edges = (min(low, default=date.min), max(low, default=date.min))
    for at in [day for day, is_low in low.items() if is_low]:
        if begun and not _reaches(begun[-1], at, low):
            yield from _run(begun, low, edges)
            begun = []
        begun.append(at)
    yield from _run(begun, low, edges)


def _reaches(before: date, after: date, low: _Known) -> bool:
    """Whether only days without a mood lie between two low days, and no more of them than a run may hold."""
    between = list(each_day(before + ONE_DAY, after - ONE_DAY))
    return len(between) <= GAP_INSIDE and all(low.get(day) is None for day in between)


def _run(kept: Sequence[date], low: _Known, edges: tuple[date, date]) -> Iterator[LowRun]:
    if len(kept) < SHORTEST_RUN:
        return
    before = [kept[0] - ONE_DAY * number for number in range(1, GAP_INSIDE + 2)]
    after = [kept[-1] + ONE_DAY * number for number in range(1, GAP_INSIDE + 2)]
    is_open = any(
        all(edges[0] <= day <= edges[1] and low.get(day) is None for day in side) for side in (before, after)
    )
    yield LowRun(kept[0], kept[-1], len(kept), is_open)


def _far(days: Sequence[Day], classes: Classes) -> Count:
    places = {day.date: place for day in days if (place := classes.place(day)) is not None}
    steps = [abs(place - places[at - ONE_DAY]) for at, place in places.items() if at - ONE_DAY in places]
    return Count(sum(step >= FAR for step in steps), len(steps))


def _in_step(low: _Known, short: _Known) -> InStep:
    months: dict[int, list[tuple[bool, bool]]] = defaultdict(list)
    for day, is_low in low.items():
        is_short = short[day]
        if is_low is not None and is_short is not None:
            months[day.year * 12 + day.month].append((is_low, is_short))
    shares = {at: _shares(both) for at, both in months.items() if len(both) >= FEWEST_OF_A_MONTH}
    moved = [
        (later[0] - earlier[0]) * (later[1] - earlier[1])
        for (at, earlier), (after, later) in pairwise(sorted(shares.items()))
        if after == at + 1
    ]
    return InStep(sum(step > 0 for step in moved), sum(step < 0 for step in moved))


def _shares(both: Sequence[tuple[bool, bool]]) -> tuple[float, float]:
    low, short = zip(*both, strict=True)
    return sum(low) / len(both), sum(short) / len(both)


def _waited(outcome: Literal["mood", "sleep"], so: _Known, waiting: set[date]) -> Waited:
    counts = {True: [0, 0], False: [0, 0]}
    for at, before in so.items():
        after = at + ONE_DAY
        waits = after in waiting
        if before is not None and (waits or so.get(after) is not None):
            counts[before][0] += waits
            counts[before][1] += 1
    return Waited(outcome, Count(*counts[True]), Count(*counts[False]))
