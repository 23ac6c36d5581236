"""Rows as they lie in the tables, and what can be wrong with them."""

from __future__ import annotations

import json
import re
import uuid
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any, get_args

from tracker.diary.choices import Choices
from tracker.diary.clock import as_stamp, from_stamp
from tracker.diary.days import FIELDS, Basis, Source, State
from tracker.diary.errors import Fault, TrackerError
from tracker.diary.scales import GRIDS
from tracker.record import schema
from tracker.record.batch_writer import TableRow, digest
from tracker.record.choice_rows import choices_from
from tracker.record.store import Record

Rows = dict[str, list[TableRow]]
"""The rows of every table, with their digests, oldest first."""


def all_rows(record: Record) -> Rows:
    """Every row of every table, in the same order in every copy of the record."""
    return {
        table: record.query(f"select {', '.join(columns)} from {table} order by turn, recorded_at, id")  # noqa: S608
        for table, columns in schema.COLUMNS.items()
    }


def named(table: str, row: TableRow) -> dict[str, Any]:
    """A row by the names of its columns."""
    return dict(zip(schema.COLUMNS[table], row, strict=True))


def row_faults(rows: Rows) -> list[Fault]:
    """Everything wrong with rows: kinds of values, digests, references, levels and shifts unknown."""
    return [*_faults_of_each(rows), *_faults_between(rows)]


def _faults_of_each(rows: Rows) -> Iterator[Fault]:
    for table, listed in rows.items():
        for number, row in enumerate(listed, start=1):
            values = named(table, row)
            wrong = [name for name, holds in _RULES[table].items() if not holds(values[name])]
            if wrong:
                yield Fault(0, f"{table} {number}", f"{', '.join(wrong)} cannot be right.")
            elif digest(row[:-1]) != row[-1]:
                yield Fault(
                    0, f"{table} {number}", f"{_place(table, values)} was altered; its digest is another."
                )


def _place(table: str, values: dict[str, Any]) -> str:
    if table == "entry":
        return f"the {values['field']} of {values['day']}"
    return {"choice": f"the setting {values.get('name')}", "batch": "an action"}.get(table, "an erased span")


def _faults_between(rows: Rows) -> Iterator[Fault]:
    batches = {row[0] for row in rows["batch"]}
    for table in ("entry", "choice"):
        place = schema.COLUMNS[table].index("batch")
        for number, row in enumerate(rows[table], start=1):
            if row[place] not in batches:
                yield Fault(0, f"{table} {number}", "it belongs to an action that is not there.")
    for table, listed in rows.items():
        if len({row[0] for row in listed}) != len(listed):
            yield Fault(0, table, "two rows have the same id.")
    yield from _unknown_values(rows)


def _unknown_values(rows: Rows) -> Iterator[Fault]:
    try:
        choices = choices_of(rows)
    except (TrackerError, KeyError, TypeError, ValueError, AttributeError) as error:
        yield Fault(0, "choice", f"a setting cannot be read ({type(error).__name__}).")
        return
    levels = {level.id: scale.grid for scale in choices.scales.versions for level in scale.levels}
    for number, row in enumerate(rows["entry"], start=1):
        entry = named("entry", row)
        field, value = entry["field"], entry["value"]
        if entry["state"] != "kept":
            continue
        if field in GRIDS and levels.get(value) != field:
            yield Fault(0, f"entry {number}", f"'{value}' of {entry['day']} is no level of {field}.")
        if field == "shift" and value not in choices.kinds_by_id:
            yield Fault(0, f"entry {number}", f"'{value}' of {entry['day']} is no kind of shift.")
        if field == "anxious" and value not in ("yes", "no"):
            yield Fault(0, f"entry {number}", f"'{value}' of {entry['day']} is neither yes nor no.")


def choices_of(rows: Rows) -> Choices:
    """What the choices among the rows decide, with every scale and kind that was ever made."""
    values: dict[str, Any] = {}
    for row in rows["choice"]:
        choice = named("choice", row)
        if choice["value"] is not None:
            values[choice["name"]] = json.loads(choice["value"])
    return choices_from(values)


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _is_count(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value > 0


def _is_minutes(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= 24 * 60


def _is_id(value: object) -> bool:
    try:
        return isinstance(value, str) and str(uuid.UUID(value)) == value
    except ValueError:
        return False


def _is_day(value: object) -> bool:
    try:
        return isinstance(value, str) and date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


def _is_stamp(value: object) -> bool:
    try:
        return isinstance(value, str) and as_stamp(from_stamp(value)) == value
    except ValueError:
        return False


def _is_digest(value: object) -> bool:
    return isinstance(value, str) and re.fullmatch(r"[0-9a-f]{64}", value) is not None


def _is_json(value: object) -> bool:
    try:
        return isinstance(value, str) and json.loads(value) is not None
    except ValueError:
        return False


def _one_of(*allowed: str) -> Callable[[object], bool]:
    return lambda value: value in allowed


def _or_none(holds: Callable[[object], bool]) -> Callable[[object], bool]:
    return lambda value: value is None or holds(value)


_MADE: dict[str, Callable[[object], bool]] = {
    "id": _is_id,
    "turn": _is_count,
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
