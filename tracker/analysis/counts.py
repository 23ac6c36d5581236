"""Counts on the main question: low and anxious days after short sleep, and short sleep after such days.

Days are counted as they stand: nothing is allowed for, nothing is filled in, and nothing is judged. Plain
Python on the values of the diary, so that a screen and the page can count without numpy.

References
----------
.. [1] Breslow NE, Day NE (1987). Statistical Methods in Cancer Research, volume II: the design and analysis
   of cohort studies. IARC. (Expected numbers by indirect standardisation: section 2.3.)
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal, NamedTuple, TypeVar

from tracker.diary.days import Day, Square
from tracker.diary.low_and_short import is_short, low_levels
from tracker.diary.scales import Level, Scale, Scales

Outcome = Literal["low", "anxious", "short sleep"]
After = Literal["short sleep", "night shift", "low day", "anxious day"]
SleepClass = Literal["short", "usual", "long"]
DayClass = Literal["low", "other", "anxious", "not anxious"]

SLEEP_CLASSES: tuple[SleepClass, ...] = ("short", "usual", "long")
FEWEST = 10
"""Days of a class under which its count is called one of few days. Common practice, no source."""
LONG_FROM = 2.0
"""Hours above the limit from which a sleep counts as long, at the next bound of a bucket. Common practice,
no source."""
FEWEST_EXPECTED = 20
"""Days of a class from which it is said how many low days its shifts would lead one to expect."""
MATCHED = 0.8
"""Share of them that must find enough days with the same shifts. Both: common practice, no source."""


class Count(NamedTuple):
    """So many of so many days."""

    number: int
    of: int

    def __str__(self) -> str:
        return f"{self.number} of {self.of}"

    @property
    def is_few(self) -> bool:
        """Whether it rests on fewer than ten days: then numbers may stand, but no bar and no share."""
        return self.of < FEWEST


class Comparison(NamedTuple):
    """How often one thing was so on two kinds of days."""

    outcome: Outcome
    after: After
    there: Count
    """On days that came after it (of a short sleep: the day on which it ended)."""
    elsewhere: Count
    """On the other days."""

    @property
    def is_few(self) -> bool:
        """Whether either kind has fewer than ten days."""
        return self.there.is_few or self.elsewhere.is_few


class AfterSleep(NamedTuple):
    """The days after sleeps of one class."""

    sleep: SleepClass
    low: Count
    """Low days, of those with a mood."""
    anxious: Count
    """Anxious days, of those with a yes or a no."""
    expected: float | None
    """Low days to be expected from the shifts of these days [1]_; None where too few days bear it."""


class SleepAfter(NamedTuple):
    """The sleeps after days of one class."""

    day: DayClass
    sleeps: Mapping[SleepClass, int]
    """Sleeps of each class; classes that do not exist are left out."""

    @property
    def of(self) -> int:
        """Sleeps of all classes."""
        return sum(self.sleeps.values())

    @property
    def is_few(self) -> bool:
        """Whether there are fewer than ten."""
        return self.of < FEWEST


@dataclass(frozen=True, kw_only=True)
class SideBySide:
    """Every count on mood, the anxious mark, sleep and nights over some days."""

    limit: float
    """Hours under which a sleep counts as short."""
    long_from: float | None
    """Hours from which it counts as long; None where no bucket begins there, and nothing is long."""
    low_levels: tuple[Level, ...]
    """The levels that count as low, lowest first."""
    comparisons: tuple[Comparison, ...]
    """Two classes: low days after short sleep and after nights, anxious days after short sleep, short sleep
    after nights, low days and anxious days, in this order."""
    after_sleep: tuple[AfterSleep, ...]
    """Three classes, or two where nothing is long."""
    sleep_after: tuple[SleepAfter, ...]
    """After low and other days, anxious and not anxious days, in this order."""
    across: tuple[date, ...]
    """Days whose sleep lies in a bucket across the limit and has no exact hours: in no class of sleep."""
    other_levels: tuple[date, ...]
    """Days whose mood stands on other levels than the newest that were kept: neither low nor not."""
    rota_unknown: tuple[date, ...]
    """Days with a mood or a sleep and no shift entered on the day before: neither after a night nor not."""

    def comparison(self, outcome: Outcome, after: After) -> Comparison:
        """Return one of the comparisons; raises KeyError for one that is not made."""
        found = {(one.outcome, one.after): one for one in self.comparisons}
        return found[outcome, after]


class _Known(NamedTuple):
    """What is known of one day; None where nothing is."""

    low: bool | None
    anxious: bool | None
    short: bool | None
    """Whether the sleep that ended on the day was under the limit."""
    sleep: SleepClass | None
    after_night: bool | None
    shifts: tuple[str, str]
    """Kinds of shift of the day and of the day before, "" where none is entered."""


_Key = TypeVar("_Key")
_Pair = tuple[_Known, _Known]
"""A day and the one before it."""


def side_by_side(days: Iterable[Day], scales: Scales, limit: float, nights: Collection[date]) -> SideBySide:
    """Count days side by side.

    A pair of days counts where both lie among `days`. Squares that were remembered too late are passed over.

    Parameters
    ----------
    days : iterable of Day
        The days of any period, in order of time; empty ones may be missing.
    scales : Scales
        Every version of the levels. Low days are counted on the levels of the last mood among `days`, and
        long sleep begins at a bucket of the last sleep among them.
    limit : float
        Hours under which a sleep counts as short: its exact hours are, or its whole bucket.
    nights : collection of date
        Days on which a night shift starts.

    Raises
    ------
    UnknownValue
        If a square holds a level that no scale has.
    """
    listed = list(days)
    classes = Classes(listed, scales, limit)
    shifts = {day.date: day.shift_kind for day in listed}
    known = {day.date: _known(day, classes, shifts, nights) for day in listed}
    pairs = list(_neighbours(known))
    return SideBySide(
        limit=limit,
        long_from=classes.long_from,
        low_levels=classes.low_levels,
        comparisons=_comparisons(list(known.values()), pairs),
        after_sleep=tuple(_after_sleep(name, known.values()) for name in classes.names),
        sleep_after=_sleep_after(classes.names, pairs),
        across=tuple(d.date for d in listed if known[d.date].short is None and d.used_sleep),
        other_levels=tuple(d.date for d in listed if known[d.date].low is None and d.used_mood),
        rota_unknown=tuple(d.date for d in listed if d.counts and known[d.date].after_night is None),
    )


class Sleep(NamedTuple):
    """What is known of a sleep; None where its bucket cannot tell."""

    short: bool | None
    """Whether it was under the limit."""
    name: SleepClass | None
    """Its class."""


UNKNOWN = Sleep(None, None)


class Classes:
    """Which class a day or a sleep falls into; None where what is kept cannot tell.

    Parameters
    ----------
    days : sequence of Day
        In order of time; the levels of the last mood and the last sleep among them count.
    scales : Scales
    limit : float
        Hours under which a sleep counts as short.
    """

    def __init__(self, days: Sequence[Day], scales: Scales, limit: float) -> None:
        mood, sleep = (_last_version(days, scales, grid) for grid in ("mood", "sleep"))
        self.low_levels = low_levels(mood)
        begins = [level.from_hours or 0.0 for level in sleep.levels]
        self.long_from = min((hours for hours in begins if hours >= limit + LONG_FROM), default=None)
        self.names = SLEEP_CLASSES if self.long_from is not None else SLEEP_CLASSES[:2]
        self._limit = limit
        self._moods = {level.id: place for place, level in enumerate(mood.levels)}
        self._scales = scales
        levels = [level for version in scales.of("sleep") for level in version.levels]
        self._sleeps = {level.id: self._class_of(level.id, None) for level in levels}

    def place(self, day: Day) -> int | None:
        """Return the place of a day's mood among its levels, 0 the lowest."""
        return self._moods.get(day.used_mood)

    def is_low(self, day: Day) -> bool | None:
        """Tell whether a day stands on one of the lowest levels."""
        place = self.place(day)
        return None if place is None else place < len(self.low_levels)

    def is_short(self, day: Day) -> bool | None:
        """Tell whether the sleep before a day was under the limit."""
        return self.sleep(day).short

    def sleep(self, day: Day) -> Sleep:
        """Return what is known of the sleep before a day."""
        level = day.used_sleep
        if not level:
            return UNKNOWN
        if day.hours is None:
            return self._sleeps[level]
        return self._class_of(level, day.hours)

    def _class_of(self, level: str, exact: float | None) -> Sleep:
        """Return whether a sleep is short, and its class."""
        short = self._is_under(self._limit, level, exact)
        if short is None or short:
            return Sleep(short, "short" if short else None)
        below = True if self.long_from is None else self._is_under(self.long_from, level, exact)
        return Sleep(False, None if below is None else "usual" if below else "long")

    def _is_under(self, hours: float, level: str, exact: float | None) -> bool | None:
        return is_short(Day(date.min, sleep=Square(level, detail={"hours": exact})), self._scales, hours)


def _last_version(days: Sequence[Day], scales: Scales, grid: Literal["mood", "sleep"]) -> Scale:
    levels = (day.used_mood if grid == "mood" else day.used_sleep for day in reversed(days))
    last = next(filter(None, levels), None)
    return scales.placed(last).scale if last else scales.newest(grid)


def _known(day: Day, classes: Classes, shifts: Mapping[date, str], nights: Collection[date]) -> _Known:
    before = day.date - timedelta(days=1)
    shift_before = shifts.get(before, "")
    sleep = classes.sleep(day)
    return _Known(
        low=classes.is_low(day),
        anxious=day.is_anxious,
        short=sleep.short,
        sleep=sleep.name,
        after_night=before in nights if shift_before else None,
        shifts=(day.shift_kind, shift_before),
    )


def _neighbours(known: Mapping[date, _Known]) -> Iterator[_Pair]:
    for at, day in known.items():
        before = known.get(at - timedelta(days=1))
        if before is not None:
            yield day, before


def _comparisons(known: Sequence[_Known], pairs: Sequence[_Pair]) -> tuple[Comparison, ...]:
    return (
        _compared("low", "short sleep", ((day.short, day.low) for day in known)),
        _compared("low", "night shift", ((day.after_night, day.low) for day in known)),
        _compared("anxious", "short sleep", ((day.short, day.anxious) for day in known)),
        _compared("short sleep", "night shift", ((day.after_night, day.short) for day in known)),
        _compared("short sleep", "low day", ((before.low, day.short) for day, before in pairs)),
        _compared("short sleep", "anxious day", ((before.anxious, day.short) for day, before in pairs)),
    )


def _compared(outcome: Outcome, after: After, known: Iterable[tuple[bool | None, bool | None]]) -> Comparison:
    days = Counter(known)
    there, elsewhere = (Count(days[at, True], days[at, True] + days[at, False]) for at in (True, False))
    return Comparison(outcome, after, there, elsewhere)


def _count(known: Iterable[bool | None]) -> Count:
    days = Counter(known)
    return Count(days[True], days[True] + days[False])


def _after_sleep(sleep: SleepClass, known: Collection[_Known]) -> AfterSleep:
    inside = [day for day in known if day.sleep == sleep]
    return AfterSleep(
        sleep,
        _count(day.low for day in inside),
        _count(day.anxious for day in inside),
        _expected(sleep, known),
    )


def _sleep_after(names: Sequence[SleepClass], pairs: Sequence[_Pair]) -> tuple[SleepAfter, ...]:
    sorts: tuple[tuple[DayClass, list[SleepClass | None]], ...] = (
        ("low", [day.sleep for day, before in pairs if before.low is True]),
        ("other", [day.sleep for day, before in pairs if before.low is False]),
        ("anxious", [day.sleep for day, before in pairs if before.anxious is True]),
        ("not anxious", [day.sleep for day, before in pairs if before.anxious is False]),
    )
    return tuple(SleepAfter(day, {name: sleeps.count(name) for name in names}) for day, sleeps in sorts)


def _expected(sleep: SleepClass, known: Iterable[_Known]) -> float | None:
    """Return the low days to be expected after sleeps of one class from the shifts of those days.

    Each day counts as the share of low days among the days after other sleeps with the same kinds of shift
    on the day and the day before; where fewer than ten are, with the same kind on the day; else among all.
    """
    told = [day for day in known if day.low is not None and day.sleep is not None]
    inside = [day for day in told if day.sleep == sleep]
    others = [day for day in told if day.sleep != sleep]
    of_both = _low_days((day.shifts, day.low) for day in others)
    of_day = _low_days((day.shifts[0], day.low) for day in others)
    matched = [day for day in inside if all(day.shifts) and not of_both[day.shifts].is_few]
    if len(inside) < FEWEST_EXPECTED or len(matched) < MATCHED * len(inside):
        return None
    alike = ((of_both[day.shifts], of_day[day.shifts[0]]) for day in inside)
    all_others = _count(day.low for day in others)
    used = (next((count for count in counts if not count.is_few), all_others) for counts in alike)
    return sum(count.number / count.of for count in used)


def _low_days(days: Iterable[tuple[_Key, bool | None]]) -> dict[_Key, Count]:
    """Count the low days of each group."""
    of_each: dict[_Key, list[bool | None]] = defaultdict(list)
    for key, low in days:
        of_each[key].append(low)
    return defaultdict(lambda: Count(0, 0), {key: _count(lows) for key, lows in of_each.items()})
