"""Shifts: kinds, the moments they cover, and what follows from those: nights, quick returns, runs.

A shift belongs to the date on which it starts. The rota is shown and never judged.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from tracker.diary.clock import Clock, from_stamp, hours_between
from tracker.diary.days import Day
from tracker.diary.errors import UnknownValue

LONGEST_LABEL = 20
QUICK_RETURN_HOURS = 11.0
"""Hours between the end of a shift and the next start under which it is a quick return."""
NIGHT_FROM, NIGHT_TO = time(23), time(6)
NIGHT_HOURS = 3.0
"""Night work: at least so long between 23:00 and 06:00 (Working Time Regulations 1998)."""


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
    works: bool = True
    """Whether it is work."""

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
    ShiftKind("call", "c", "on call", time(9), time(9)),
    ShiftKind("off", "o", "off", works=False),
    ShiftKind("leave", "v", "leave", works=False),
    ShiftKind("sick", "k", "sick", works=False),
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
    """One shift with its moments."""

    day: date
    kind: str
    start: datetime
    """UTC."""
    end: datetime
    """UTC."""


def worked(days: Iterable[Day], kinds: Mapping[str, ShiftKind]) -> list[Worked]:
    """The working shifts that have moments, in order of time."""
    found = []
    for day in days:
        kind = kinds.get(day.shift_kind)
        if day.shift is None or kind is None or not kind.works:
            continue
        start, end = day.shift.detail.get("start"), day.shift.detail.get("end")
        if start and end:
            found.append(Worked(day.date, kind.id, from_stamp(start), from_stamp(end)))
    return sorted(found, key=lambda shift: shift.start)


def is_night(shift: Worked, clock: Clock) -> bool:
    """Whether at least three hours of it lie between 23:00 and 06:00."""
    start, end = clock.local(shift.start), clock.local(shift.end)
    night = start.date() - timedelta(days=start.time() < NIGHT_TO)
    last = end.date() - timedelta(days=end.time() <= NIGHT_FROM)
    covered = 0.0
    while night <= last:
        begins, ends = clock.moment(night, NIGHT_FROM), clock.moment(night + timedelta(days=1), NIGHT_TO)
        covered = max(covered, hours_between(max(shift.start, begins), min(shift.end, ends)))
        night += timedelta(days=1)
    return covered >= NIGHT_HOURS


class Rota(NamedTuple):
    """What follows from the shifts of some days."""

    nights: set[date]
    """Dates on which a night shift starts."""
    working: set[date]
    """Dates of working shifts that have moments."""
    quick: set[date]
    """Of these, the quick returns."""


def rota_of(days: Iterable[Day], kinds: Mapping[str, ShiftKind], clock: Clock) -> Rota:
    """Everything that follows from the shifts, each shift read once."""
    listed = list(days)
    timed = worked(listed, kinds)
    return Rota(_nights(listed, timed, clock), {shift.day for shift in timed}, _quick(timed))


def night_dates(days: Iterable[Day], kinds: Mapping[str, ShiftKind], clock: Clock) -> set[date]:
    """Dates on which a night shift starts; a shift without moments is one if its kind is `night`."""
    listed = list(days)
    return _nights(listed, worked(listed, kinds), clock)


def _nights(listed: list[Day], timed: list[Worked], clock: Clock) -> set[date]:
    nights = {shift.day for shift in timed if is_night(shift, clock)}
    untimed = {day.date for day in listed if day.shift_kind == "night"} - {shift.day for shift in timed}
    return nights | untimed


def _quick(timed: list[Worked]) -> set[date]:
    """Dates of shifts that start under 11 hours after the one before ended."""
    return {
        after.day
        for before, after in itertools.pairwise(timed)
        if 0 <= hours_between(before.end, after.start) < QUICK_RETURN_HOURS
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
