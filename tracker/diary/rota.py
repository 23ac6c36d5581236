"""Shifts: kinds, the time that was worked, and what follows from it: nights, quick returns, runs.

A shift belongs to the date on which it starts. Of an on-call shift only the hours count for which she was
called. The rota is shown and never judged.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from typing import Literal, NamedTuple

from tracker.diary.clock import Clock, from_stamp, hours_between
from tracker.diary.days import Day
from tracker.diary.errors import UnknownValue

LONGEST_LABEL = 20
QUICK_RETURN_HOURS = 11.0
"""Hours between the end of a shift and the next start under which it is a quick return."""
NIGHT_FROM, NIGHT_TO = time(23), time(6)
NIGHT_HOURS = 3.0
"""Night work: at least so long between 23:00 and 06:00 (Working Time Regulations 1998)."""

Work = Literal["yes", "on call", "no"]
"""Whether a kind of shift is work from its start to its end, only while she is called, or none."""
WORKS: tuple[Work, ...] = ("yes", "on call", "no")
ON_CALL = "call"
"""Id of the default kind that is on call."""
CALLED = "called"
"""In the detail of an on-call shift: pairs of UTC stamps between which she was called, or `night`."""
CALLED_AT_NIGHT = "night"


class ShiftKind(NamedTuple):
    """One kind of shift of a person's rota."""

    id: str
    """What an entry holds."""
    code: str
    """One letter: the key that sets it, and its sign in a square (as a capital)."""
    label: str
    start: time | None = None
    """Usual start, local; None for kinds without hours."""
    end: time | None = None
    """Usual end, local; not after the start: on the next date."""
    work: Work = "yes"
    """Whether it is work."""

    @property
    def is_on_call(self) -> bool:
        """Whether it is work only while she is called."""
        return self.work == "on call"

    def moments(self, day: date, clock: Clock) -> tuple[datetime, datetime] | None:
        """Usual start and end on a date, in UTC."""
        if self.start is None or self.end is None:
            return None
        last = day + timedelta(days=1) if self.end <= self.start else day
        return clock.moment(day, self.start), clock.moment(last, self.end)


DEFAULT_KINDS: tuple[ShiftKind, ...] = (
    ShiftKind("standard", "s", "standard day", time(9), time(17)),
    ShiftKind("early", "e", "early", time(7), time(15)),
    ShiftKind("late", "l", "late", time(13), time(21, 30)),
    ShiftKind("long", "d", "long day", time(8), time(20, 30)),
    ShiftKind("night", "n", "night", time(20), time(8, 30)),
    ShiftKind(ON_CALL, "c", "on call", time(9), time(9), "on call"),
    ShiftKind("off", "o", "off", work="no"),
    ShiftKind("leave", "v", "leave", work="no"),
    ShiftKind("sick", "k", "sick", work="no"),
)


def kind_for_text(text: str, kinds: Iterable[ShiftKind]) -> ShiftKind:
    """The kind meant by a code, a label or an id, in either case.

    Raises UnknownValue and names the kinds there are.
    """
    wanted = text.strip().casefold()
    there = list(kinds)
    for kind in there:
        if wanted in (kind.code.casefold(), kind.label.casefold(), kind.id.casefold()):
            return kind
    names = ", ".join(f"{kind.code} {kind.label}" for kind in there)
    raise UnknownValue(f"'{text}' is no kind of shift; there are: {names}.")


class Worked(NamedTuple):
    """A span of time that was worked."""

    day: date
    """On which its shift starts."""
    start: datetime
    """UTC."""
    end: datetime
    """UTC."""


def worked(days: Iterable[Day], kinds: Mapping[str, ShiftKind]) -> list[Worked]:
    """The spans that were worked, in order of time: whole shifts, and the calls of those on call."""
    found = [
        Worked(day.date, from_stamp(start), from_stamp(end))
        for day in days
        for start, end in _spans(day, kinds.get(day.shift_kind))
    ]
    return sorted(found, key=lambda span: span.start)


def _spans(day: Day, kind: ShiftKind | None) -> Iterable[tuple[str, str]]:
    """The stamps between which a shift was worked."""
    if day.shift is None or kind is None or kind.work == "no":
        return []
    detail = day.shift.detail
    if kind.is_on_call:
        called = detail.get(CALLED)
        return [] if called == CALLED_AT_NIGHT else called or []
    return [(detail["start"], detail["end"])] if detail.get("start") and detail.get("end") else []


def is_night(spans: Iterable[Worked], clock: Clock) -> bool:
    """Whether at least three hours of a shift, added up, lie between 23:00 and 06:00 of one night."""
    hours: dict[date, float] = defaultdict(float)
    for span in spans:
        for night, covered in _hours_at_night(span, clock):
            hours[night] += covered
    return max(hours.values(), default=0.0) >= NIGHT_HOURS


def _hours_at_night(span: Worked, clock: Clock) -> Iterator[tuple[date, float]]:
    """The hours of a span in each night that it touches, by the date on which the night begins."""
    start, end = clock.local(span.start), clock.local(span.end)
    night = start.date() - timedelta(days=start.time() < NIGHT_TO)
    last = end.date() - timedelta(days=end.time() <= NIGHT_FROM)
    while night <= last:
        begins, ends = clock.moment(night, NIGHT_FROM), clock.moment(night + timedelta(days=1), NIGHT_TO)
        yield night, max(0.0, hours_between(max(span.start, begins), min(span.end, ends)))
        night += timedelta(days=1)


class Rota(NamedTuple):
    """What follows from the shifts of some days."""

    nights: set[date]
    """Dates on which a night starts: a shift with three hours of work or more between 23:00 and 06:00."""
    working: set[date]
    """Dates of shifts with hours that were worked."""
    quick: set[date]
    """Of these, the quick returns."""


def rota_of(days: Iterable[Day], kinds: Mapping[str, ShiftKind], clock: Clock) -> Rota:
    """Everything that follows from the shifts, each shift read once."""
    listed = list(days)
    spans = worked(listed, kinds)
    return Rota(_nights(listed, spans, kinds, clock), {span.day for span in spans}, _quick(spans))


def night_dates(days: Iterable[Day], kinds: Mapping[str, ShiftKind], clock: Clock) -> set[date]:
    """Dates on which a night starts; without hours it is one if its kind is `night`, or if she says so."""
    listed = list(days)
    return _nights(listed, worked(listed, kinds), kinds, clock)


def _nights(
    listed: list[Day], spans: list[Worked], kinds: Mapping[str, ShiftKind], clock: Clock
) -> set[date]:
    by_day: dict[date, list[Worked]] = {}
    for span in spans:
        by_day.setdefault(span.day, []).append(span)
    timed = {day for day, of_day in by_day.items() if is_night(of_day, clock)}
    said = {day.date for day in listed if day.date not in by_day and _is_said_to_be_a_night(day, kinds)}
    return timed | said


def _is_said_to_be_a_night(day: Day, kinds: Mapping[str, ShiftKind]) -> bool:
    kind = kinds.get(day.shift_kind)
    if day.shift is None or kind is None:
        return False
    if kind.is_on_call:
        return bool(day.shift.detail.get(CALLED) == CALLED_AT_NIGHT)
    return kind.id == "night" and kind.work == "yes"


def _quick(spans: list[Worked]) -> set[date]:
    """Dates of shifts that start under 11 hours after the one before ended."""
    return {
        after.day
        for before, after in itertools.pairwise(spans)
        if before.day != after.day and 0 <= hours_between(before.end, after.start) < QUICK_RETURN_HOURS
    }


def runs(dates: Iterable[date]) -> list[tuple[date, date]]:
    """Consecutive dates as pairs of first and last."""
    found: list[tuple[date, date]] = []
    for day in sorted(dates):
        if found and found[-1][1] == day - timedelta(days=1):
            found[-1] = (found[-1][0], day)
        else:
            found.append((day, day))
    return found


def new_kind(code: str, label: str, kinds: Iterable[ShiftKind]) -> ShiftKind:
    """A kind of its own: its id comes from its label, so that two records that add the same one agree."""
    taken = {kind.id for kind in kinds}
    stem = "-".join("".join(sign if sign.isalnum() else " " for sign in label.casefold()).split()) or "kind"
    numbered = (f"{stem}-{number}" for number in itertools.count(2))
    id = next(name for name in itertools.chain([stem], numbered) if name not in taken)
    return ShiftKind(id, code, label)


def checked_kind(kind: ShiftKind, kinds: Iterable[ShiftKind]) -> ShiftKind:
    """The kind itself, if it can stand among the others.

    Raises UnknownValue with the reason if it cannot.
    """
    if len(kind.code) != 1 or not ("a" <= kind.code <= "z"):
        raise UnknownValue(f"The code of a kind is one letter from a to z, not '{kind.code}'.")
    if not 0 < len(kind.label.strip()) <= LONGEST_LABEL:
        raise UnknownValue(f"The label of a kind has 1 to {LONGEST_LABEL} characters, not {len(kind.label)}.")
    for other in kinds:
        if other.id != kind.id and other.code == kind.code:
            raise UnknownValue(f"'{kind.code}' is the code of {other.label} already; take another letter.")
        if other.id != kind.id and other.label.casefold() == kind.label.casefold():
            raise UnknownValue(f"There is a kind called '{other.label}' already, with the code {other.code}.")
    return kind
