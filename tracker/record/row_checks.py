"""What can be wrong with rows: each must be as the program would have written it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from datetime import date, timedelta
from typing import Any, get_args

from tracker.diary import changes
from tracker.diary.choices import Choices
from tracker.diary.clock import as_stamp, from_stamp
from tracker.diary.dates import within_reach
from tracker.diary.days import FIELDS, Basis, Change, Source, State
from tracker.diary.errors import Fault, TrackerError, UnknownValue
from tracker.diary.rota import CALLED, CALLED_AT_NIGHT
from tracker.record import schema
from tracker.record.batch_writer import as_json, detail_from, digest
from tracker.record.choice_checks import check_choice
from tracker.record.choice_rows import choices_from
from tracker.record.driver import Connection, Row

TableRow = Mapping[str, Any] | Row
"""A row by the names of its columns, those of JSON as text."""
MOST_TURNS = 10**9
"""No life has more actions; a larger turn would leave no room for later ones."""
LONGEST_TEXT = 2000
"""Characters of a text that is no note."""
LONGEST_SHIFT = timedelta(days=2)
NO_ACTION = "it belongs to an action that is not there."
NO_MOMENT = "it has the moment of an entry that is not there, or of another square."
ZONES = timedelta(days=1)
"""How far the date of a moment in UTC may be from the local one."""


def all_faults(db: Connection, place: str = "main", where: str = "") -> list[Fault]:
    """Everything wrong with the rows of a record, each named by its table and its number there.

    Parameters
    ----------
    place
        Which of the files that the connection sees.
    where
        Narrows the rows that are looked at; `{table}` in it is the name of each table.
    """
    return [*_faults_of_each(db, place, where), *_faults_between(db, place)]


def _faults_of_each(db: Connection, place: str, where: str) -> Iterator[Fault]:
    known = every_choice(db, place)
    choices = None if isinstance(known, Fault) else known
    if isinstance(known, Fault):
        yield known
    for table in schema.COLUMNS:
        which = where.format(table=table)
        if _has_faults(db, f"select * from {place}.{table} {which}", table, choices):
            for row in db.stream(f"select * from {_numbered(place, table)} {which} order by number"):
                sentence = fault_of(table, row, choices)
                if sentence:
                    yield Fault(0, f"{table} {row['number']}", sentence)


def _has_faults(db: Connection, rows: str, table: str, choices: Choices | None) -> bool:
    """Whether any of some rows is wrong; only then is it worth to number them all."""
    with closing(db.stream(rows)) as found:
        return any(fault_of(table, row, choices) for row in found)


def _numbered(place: str, table: str) -> str:
    """The rows of a table with their numbers in its order."""
    return f"(select *, row_number() over (order by turn, recorded_at, id) as number from {place}.{table})"


def _faults_between(db: Connection, place: str) -> Iterator[Fault]:
    orphaned = f"batch not in (select id from {place}.batch)"
    moved = (
        f"e.restores is not null and not exists (select 1 from {place}.entry o where o.id = e.restores"
        " and (o.day, o.field) = (e.day, e.field) and o.restores is null)"
    )
    wrong = {"entry": {orphaned: NO_ACTION, moved: NO_MOMENT}, "choice": {orphaned: NO_ACTION}}
    for table, reasons in wrong.items():
        for which, sentence in reasons.items():
            if db.rows(f"select 1 from {place}.{table} e where {which} limit 1"):
                for row in db.rows(f"select number from {_numbered(place, table)} e where {which}"):
                    yield Fault(0, f"{table} {row['number']}", sentence)


def is_altered(db: Connection) -> bool:
    """Whether a row's digest is not that of what it holds."""
    return any(
        digest([row[name] for name in columns[:-1]]) != row["digest"]
        for table, columns in schema.COLUMNS.items()
        for row in db.stream(f"select * from {table}")
    )


def every_choice(db: Connection, place: str = "main") -> Choices | Fault:
    """What the choices decide, with every scale and kind that was ever made."""
    try:
        rows = db.rows(
            f"select name, value from {place}.choice where value is not null order by turn, recorded_at, id"
        )
        return choices_from({row["name"]: json.loads(row["value"]) for row in rows})
    except (TrackerError, KeyError, TypeError, ValueError, AttributeError) as error:
        return Fault(0, "choice", f"a setting cannot be read ({type(error).__name__}).")


def fault_of(table: str, row: TableRow, choices: Choices | None = None) -> str:
    """What is wrong with a row; empty where nothing is. Levels and kinds are looked up in `choices`."""
    wrong = column_fault(table, row)
    if wrong:
        return wrong
    if digest([row[name] for name in schema.COLUMNS[table][:-1]]) != row["digest"]:
        return f"{_place(table, row)} was altered; its digest is another."
    try:
        if table == "entry":
            _check_entry(row, choices)
        elif table == "choice" and row["value"] is not None:
            check_choice(row["name"], json.loads(row["value"]))
    except TrackerError as error:
        return str(error)
    return ""


def column_fault(table: str, row: TableRow) -> str:
    """What is wrong with the columns of a row, each by itself; empty where nothing is."""
    wrong = [name for name, holds in _RULES[table].items() if not holds(row[name])]
    return f"{', '.join(wrong)} cannot be right." if wrong else ""


def _place(table: str, row: TableRow) -> str:
    if table == "entry":
        return f"the {row['field']} of {row['day']}"
    if table == "choice":
        return f"the setting {row['name']}"
    return "an action" if table == "batch" else "an erased span"


def _check_entry(row: TableRow, choices: Choices | None) -> None:
    """Raise a TrackerError for an entry that could not have been kept when it was written."""
    day = date.fromisoformat(row["day"])
    written = from_stamp(row["recorded_at"]).date()
    detail = detail_from(row["detail"])
    if row["state"] != "kept" and (row["value"] or detail):
        raise UnknownValue(f"the {row['field']} of {day} holds a value and is not kept.")
    _check_detail(row["field"], detail, day)
    change = Change(day, row["field"], row["value"], row["state"], detail)
    takes_back = row["state"] == "cleared" or row["restores"] is not None
    last_open_day = max(day, written) if takes_back else written  # a clock that ran ahead was put right
    changes.check_day(day, change.field, last_open_day + ZONES)
    if choices is not None:
        changes.check(change, choices, last_open_day + ZONES)


def _check_detail(field: str, detail: object, day: date) -> None:
    """A sleep may have exact hours, a shift its moments and what it came by."""
    if not isinstance(detail, Mapping) or not set(detail) <= _DETAILS.get(field, set()):
        raise UnknownValue(f"the {field} of {day} has a detail that it cannot have.")
    hours = detail.get("hours")
    is_number = isinstance(hours, int | float) and not isinstance(hours, bool) and 0 <= hours <= 24
    if hours is not None and not is_number:
        raise UnknownValue(f"the hours of {day} are no hours of a day.")
    moments = [detail[name] for name in ("start", "end") if name in detail]
    if moments and not _is_span(*moments):
        raise UnknownValue(f"the shift of {day} has a start and an end that cannot be right.")
    if not _is_text(detail.get("by", "")) or not _are_calls(detail.get(CALLED)):
        raise UnknownValue(f"the shift of {day} has a detail that it cannot have.")


_DETAILS = {"sleep": {"hours"}, "shift": {"start", "end", "by", CALLED}}


def _are_calls(value: object) -> bool:
    if value is None or value == CALLED_AT_NIGHT:
        return True
    return isinstance(value, list) and all(isinstance(span, list) and _is_span(*span) for span in value)


def _is_span(*moments: object) -> bool:
    if len(moments) != 2 or not all(map(_is_stamp, moments)):
        return False
    start, end = (from_stamp(str(moment)) for moment in moments)
    return start < end <= start + LONGEST_SHIFT


def _is_text(value: object) -> bool:
    try:
        changes.check_text(value if isinstance(value, str) else "\0", "it")
    except UnknownValue:
        return False
    return len(str(value)) <= LONGEST_TEXT


def _is_turn(value: object) -> bool:
    return type(value) is int and 0 < value <= MOST_TURNS


def _is_minutes(value: object) -> bool:
    return type(value) is int and abs(value) <= 24 * 60


def _is_id(value: object) -> bool:
    return isinstance(value, str) and _UUID.fullmatch(value) is not None


def _is_day(value: object) -> bool:
    try:
        return isinstance(value, str) and within_reach(date.fromisoformat(value)).isoformat() == value
    except (ValueError, TrackerError):
        return False


def _is_stamp(value: object) -> bool:
    try:
        moment = from_stamp(value if isinstance(value, str) else "")
        return as_stamp(moment) == value and within_reach(moment.date()) == moment.date()
    except (ValueError, OverflowError, TrackerError):
        return False


def _is_digest(value: object) -> bool:
    return isinstance(value, str) and re.fullmatch(r"[0-9a-f]{64}", value) is not None


def _is_json(value: object) -> bool:
    """JSON in the form that the program writes, so that an export gives the same row again."""
    try:
        parsed = json.loads(value.encode()) if isinstance(value, str) else None
        return parsed is not None and as_json(parsed) == value
    except (ValueError, RecursionError):
        return False


def _one_of(*allowed: str) -> Callable[[object], bool]:
    return lambda value: value in allowed


def _or_none(holds: Callable[[object], bool]) -> Callable[[object], bool]:
    return lambda value: value is None or holds(value)


_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_MADE: dict[str, Callable[[object], bool]] = {
    "id": _is_id,
    "turn": _is_turn,
    "recorded_at": _is_stamp,
    "digest": _is_digest,
}
_RULES: dict[str, dict[str, Callable[[object], bool]]] = {
    "batch": {**_MADE, "what": _is_text, "undoes": _or_none(_is_id)},
    "entry": {
        **_MADE,
        "day": _is_day,
        "field": _one_of(*FIELDS),
        "value": _is_text,
        "state": _one_of(*get_args(State)),
        "detail": _or_none(_is_json),
        "source": _one_of(*get_args(Source)),
        "basis": _one_of(*get_args(Basis)),
        "offset": _is_minutes,
        "batch": _is_id,
        "restores": _or_none(_is_id),
    },
    "choice": {
        **_MADE,
        "name": _is_text,
        "value": _or_none(_is_json),
        "offset": _is_minutes,
        "batch": _is_id,
        "restores": _or_none(_is_id),
    },
    "erased": {**_MADE, "from_day": _is_day, "to_day": _is_day},
}
"""What each column of each table may hold."""
