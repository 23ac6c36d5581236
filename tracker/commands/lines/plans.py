"""Which questions are asked: of what waits now, of a day, of some days, of the earlier days that wait."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from tracker import words
from tracker.commands.lines.fields import IN_ORDER_OF_TIME
from tracker.commands.lines.session import Asked, Plan
from tracker.diary.changes import check_day
from tracker.diary.days import Field
from tracker.diary.errors import WrongDay
from tracker.diary.rota import runs
from tracker.diary.scales import Grid
from tracker.diary.spoken import spoken_date
from tracker.diary.waiting import SquareKey, Waiting, order_of_asking
from tracker.record.store import Record

SPANS_NAMED = 4
"""Runs of waiting days that are named before the rest is counted."""
BOTH: tuple[Grid, Grid] = ("sleep", "mood")
"""The grids in the order of time."""
DAY = timedelta(days=1)


def waiting_now(record: Record) -> Plan:
    """What waits of yesterday and today."""
    return Plan(_waiting_now(record), words.NOTHING_WAITS)


def _waiting_now(record: Record) -> Iterator[Asked]:
    for place in order_of_asking(record.today()):
        if not _waiting(record, record.today() - DAY).waits(place):
            continue
        yield Asked(*place)
        if place.grid == "mood" and _lacks_the_mark(record, place.day):
            yield Asked(place.day, "anxious")


def _lacks_the_mark(record: Record, day: date) -> bool:
    """Whether a mood was kept and nothing of the anxious mark with it, as her own setting wants it."""
    standing = record.day(day)
    return standing.mood is not None and standing.mood.is_kept and standing.anxious is None


def of_days(record: Record, days: Iterable[date]) -> Plan:
    """The squares of some days that hold nothing, sleep before mood."""
    squares = (Asked(day, grid) for day in days for grid in BOTH)
    return Plan((at for at in squares if not record.day(at.day).square(at.field)), "All is kept.")


def of_day(record: Record, day: date) -> Plan:
    """All that can be kept of a day: of one to come its shift and its note.

    Raises WrongDay where that is nothing.
    """
    fields = [field for field in IN_ORDER_OF_TIME if _is_open(record, day, field)]
    if not fields:
        check_day(day, "note", _last_open_day(record))
    return Plan(Asked(day, field) for field in fields)


def _is_open(record: Record, day: date, field: Field) -> bool:
    try:
        check_day(day, field, _last_open_day(record))
    except WrongDay:
        return False
    return True


def _last_open_day(record: Record) -> date:
    return record.clock.last_open_day(record.choices().settings.day_change_hour)


def waiting_before(record: Record) -> Plan:
    """What waits before yesterday, the nearest day first, and on each day the sleep before the mood."""
    return Plan(_waiting_before(record), "No earlier day waits.")


def _waiting_before(record: Record) -> Iterator[Asked]:
    waiting = _waiting(record, None)
    day, first = record.today() - 2 * DAY, record.first_day() or record.today()
    while day >= first:
        yield from (Asked(day, grid) for grid in BOTH if waiting.waits(SquareKey(day, grid)))
        day -= DAY


def _waiting(record: Record, first: date | None) -> Waiting:
    """What waits from a day on."""
    days = record.days(first, record.today())
    return Waiting(days, record.first_day(), record.today(), record.choices().breaks)


def days_that_wait(record: Record) -> str:
    """The days before yesterday that wait, named from the nearest on; empty where none does."""
    spans = runs({at.day for at in _waiting_before(record)})[::-1]
    if not spans:
        return ""
    named = [_named(*span, record.today()) for span in spans[:SPANS_NAMED]]
    more = sum((last - first).days + 1 for first, last in spans[SPANS_NAMED:])
    listed = words.listed([*named, *([words.counted(more, "day") + " before"] if more else [])])
    return f"Squares wait on {listed}. w asks for them, the nearest first."


def _named(first: date, last: date, today: date) -> str:
    if first == last:
        return spoken_date(first, today)
    return f"{spoken_date(first, today)} to {spoken_date(last, today)}"
