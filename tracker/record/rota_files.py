"""Rota files in iCalendar form (RFC 5545): from their events to the shifts they mean."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from math import prod
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, cast

import recurring_ical_events  # type: ignore[import-untyped]
from icalendar import Calendar, Component

from tracker.diary.clock import Clock, as_stamp, hours_between
from tracker.diary.dates import within_reach
from tracker.diary.days import Change
from tracker.diary.errors import BrokenFile, Fault, WrongDay
from tracker.diary.rota import ShiftKind
from tracker.words import harmless

if TYPE_CHECKING:
    from icalendar import Event as CalendarEvent


ADVICE = "Nothing was kept; export the rota as iCalendar (.ics), or take shifts from CSV with tracker import."
FEWER = "Nothing was kept; export fewer years, or the rota alone."
MOST_EVENTS, DEEPEST = 4000, 5
LONGEST_NAME = 60
MOST_AT_ONCE = 400
"""Combinations of the lists of a rule: every day of every month, and no more."""
TOO_OFTEN = {"SECONDLY", "MINUTELY"}
"""Rules that no rota needs, and that would take minutes to follow."""


class Event(NamedTuple):
    """One event of a rota file, repeated ones each by itself."""

    name: str
    day: date
    """The date on which it starts, where she is."""
    start: datetime | None = None
    """UTC; None for a whole day."""
    end: datetime | None = None
    """UTC; None for a whole day."""

    @property
    def hours(self) -> float:
        """Elapsed hours; 0 for a whole day."""
        return hours_between(self.start, self.end) if self.start and self.end else 0.0


@dataclass(frozen=True, slots=True)
class RotaFile:
    """The events of a file within a span of days, and what was passed over."""

    events: list[Event]
    warnings: list[str] = field(default_factory=list)

    def names(self) -> dict[str, int]:
        """Every name of an event with how often it comes, the commonest first."""
        counts: dict[str, int] = {}
        for event in self.events:
            counts[event.name] = counts.get(event.name, 0) + 1
        return dict(sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))


def read_rota(text: str, file: Path | str, first: date, last: date, clock: Clock) -> RotaFile:
    """The events that start from first to last, in order of time.

    Cancelled ones are dropped. One that cannot be read is passed over with a warning.

    Raises BrokenFile for a file that is no calendar.
    """
    _refuse_monsters(text, file)
    warnings: list[str] = []
    events: list[Event] = []
    for calendar in _calendars(text, file):
        _drop_unreadable(calendar, warnings)
        for found in _expanded(calendar, first, last, warnings):
            events += [event for event in _events(found, last, clock) if first <= event.day <= last]
    ordered = sorted(events, key=lambda event: (event.day, event.start or datetime.min.replace(tzinfo=UTC)))
    return RotaFile(ordered, warnings)


def _refuse_monsters(text: str, file: Path | str) -> None:
    """Raise BrokenFile for a file of more events, or deeper parts, than a rota has: each takes its time."""
    events = depth = 0
    for number, line in enumerate(text.splitlines(), start=1):
        word = line[:12].upper()
        depth += word.startswith("BEGIN:") - word.startswith("END:")
        events += word == "BEGIN:VEVENT"
        if depth > DEEPEST:
            raise BrokenFile(file, [Fault(number, "", "its parts lie too deep in each other.")], ADVICE)
        if events > MOST_EVENTS:
            raise BrokenFile(file, [Fault(number, "", f"it has more than {MOST_EVENTS} events.")], FEWER)


def _calendars(text: str, file: Path | str) -> list[Component]:
    try:
        found = Calendar.from_ical(text, multiple=True)
    except ValueError:
        raise BrokenFile(file, [Fault(0, "", "this is no calendar file.")], ADVICE) from None
    calendars = [component for component in found if component.name == "VCALENDAR"]
    if not calendars:
        raise BrokenFile(file, [Fault(0, "", "there is no whole calendar in it.")], ADVICE)
    return list(calendars)


def _drop_unreadable(calendar: Component, warnings: list[str]) -> None:
    for event in calendar.walk("VEVENT"):
        reason = _unreadable(cast("CalendarEvent", event))
        if not reason:
            _warn_of_unknown_zone(cast("CalendarEvent", event), warnings)
        else:
            warnings.append(f"The event {_named(event)} is passed over: {reason}.")
            calendar.subcomponents.remove(event)


def _unreadable(event: CalendarEvent) -> str:
    """Why an event cannot be read, or nothing."""
    if event.errors:
        return f"its {', '.join(str(name) for name, _ in event.errors)} cannot be read"
    try:
        start, end = event.start, event.end
        for at in (start, end):
            within_reach(date(at.year, at.month, at.day))
    except (ValueError, TypeError, ArithmeticError, WrongDay) as error:
        return str(error).rstrip(".")
    for rule in _rules(event):
        if {str(word).upper() for word in rule.get("FREQ", [])} & TOO_OFTEN:
            return "it repeats within the hour"
        if _is_endless(rule):
            return "it repeats without a step, or too often"
    try:
        return "it ends before it starts" if end < start else ""
    except TypeError:
        return "its start and end do not go together"


def _rules(event: CalendarEvent) -> list[Mapping[str, list[object]]]:
    """The rules by which an event repeats."""
    rules = event.get("RRULE", [])
    return rules if isinstance(rules, list) else [rules]


def _is_endless(rule: Mapping[str, list[object]]) -> bool:
    """Whether it would take minutes to follow a rule: it has no step, or lists that multiply each other."""
    steps = [int(str(step)) for step in rule.get("INTERVAL", [1])]
    lists = [len(rule[name]) for name in rule if str(name).upper().startswith("BY")]
    return min(steps, default=1) < 1 or prod(lists) > MOST_AT_ONCE


def _named(event: Component) -> str:
    return harmless(str(event.get("UID") or event.get("SUMMARY") or "without a name"))[:LONGEST_NAME]


def _expanded(calendar: Component, first: date, last: date, warnings: list[str]) -> Iterator[CalendarEvent]:
    """Every event that is not cancelled, repeated ones each by itself, within a window that ends."""
    window = (first - timedelta(days=1), last + timedelta(days=2))
    try:
        found = recurring_ical_events.of(calendar, skip_bad_series=True).between(*window)
    except (ValueError, KeyError, TypeError, ArithmeticError) as error:
        warnings.append(f"Repeated events could not be followed ({type(error).__name__}).")
        return
    for event in found:
        if str(event.get("STATUS", "")).upper() != "CANCELLED":
            yield event


def _events(event: CalendarEvent, last: date, clock: Clock) -> Iterator[Event]:
    """The event itself, or one for each date of an event of whole days, up to the last."""
    name = harmless(" ".join(str(event.get("SUMMARY", "")).split())) or "without a name"
    start, end = event.start, event.end
    if isinstance(start, datetime) and isinstance(end, datetime):
        begin = _moment(start, clock)
        yield Event(name, clock.local(begin).date(), begin, _moment(end, clock))
        return
    day = start
    while day < max(end, start + timedelta(days=1)) and day <= last:
        yield Event(name, day)
        day += timedelta(days=1)


def _moment(at: datetime, clock: Clock) -> datetime:
    """A time without a zone is one of her own zone."""
    if at.tzinfo is None:
        return clock.moment(at.date(), time(at.hour, at.minute, at.second))
    return at.astimezone(UTC)


def _warn_of_unknown_zone(event: CalendarEvent, warnings: list[str]) -> None:
    start = event.get("DTSTART")
    zone = start.params.get("TZID") if start is not None else None
    if zone and isinstance(event.start, datetime) and event.start.tzinfo is None:
        warning = f"The time zone {harmless(zone)[:LONGEST_NAME]} is not known; its times are taken as yours."
        if warning not in warnings:
            warnings.append(warning)


# --- from events to shifts ------------------------------------------------------------------------


class Shifts(NamedTuple):
    """The shifts that a rota file means, a day each."""

    changes: dict[date, Change]
    doubles: list[str]
    """Dates with two shifts, in a sentence each: which one stands."""


def shifts_of(events: Iterable[Event], kinds: Mapping[str, ShiftKind | None], clock: Clock) -> Shifts:
    """One shift a date, by the kind of each event's name; of two on a date the longer stands.

    Parameters
    ----------
    kinds
        The kind of each name; None for events that are no shifts.
    """
    longest: dict[date, tuple[Event, ShiftKind]] = {}
    doubles: list[str] = []
    for event in events:
        kind = kinds[event.name]
        if kind is None:
            continue
        other = longest.get(event.day)
        if other is None:
            longest[event.day] = (event, kind)
            continue
        winner, loser = other, (event, kind)
        if _length(event, kind, clock) > _length(*other, clock):
            winner, loser = loser, winner
        longest[event.day] = winner
        if winner[1] != loser[1]:
            doubles.append(
                f"Two shifts on {event.day}: {_said(*winner, clock)} stands, {_said(*loser, clock)} does not."
            )
    changes = {day: _change(event, kind, clock) for day, (event, kind) in longest.items()}
    return Shifts(changes, doubles)


def _length(event: Event, kind: ShiftKind, clock: Clock) -> float:
    """Hours, by the event or else by the kind; any work is longer than none."""
    moments = _moments(event, kind, clock)
    return hours_between(*moments) if moments else float(kind.work != "no") / 100


def _said(event: Event, kind: ShiftKind, clock: Clock) -> str:
    return f"{kind.label} ({_length(event, kind, clock):g} h)" if _moments(event, kind, clock) else kind.label


def _moments(event: Event, kind: ShiftKind, clock: Clock) -> tuple[datetime, datetime] | None:
    if kind.work == "no":
        return None
    if event.start and event.end and event.hours:
        return event.start, event.end
    return kind.moments(event.day, clock)


def _change(event: Event, kind: ShiftKind, clock: Clock) -> Change:
    moments = _moments(event, kind, clock)
    detail = {"by": "file"}
    if moments:
        detail |= {"start": as_stamp(moments[0]), "end": as_stamp(moments[1])}
    return Change(event.day, "shift", kind.id, detail=detail)
