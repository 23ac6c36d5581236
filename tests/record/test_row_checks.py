"""Rows that come in with right digests: what could not have been typed is named by table and number."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.record.sample import fill
from tracker.diary.errors import BrokenFile
from tracker.record import schema
from tracker.record.batch_writer import as_json, digest
from tracker.record.json_export import PARSED, record_as_json, record_from_json
from tracker.record.store import Record

WRONG: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    ("batch", {}, {"turn": 2**62}, "turn cannot be right."),
    ("batch", {}, {"what": "red \x1b[31m"}, "what cannot be right."),
    ("batch", {}, {"what": "x" * 2001}, "what cannot be right."),
    ("entry", {}, {"turn": 0}, "turn cannot be right."),
    ("entry", {}, {"turn": True}, "turn cannot be right."),
    ("entry", {}, {"day": "0001-01-01"}, "day cannot be right."),
    ("entry", {}, {"recorded_at": "0001-01-01T00:00:00.000000Z"}, "recorded_at cannot be right."),
    ("entry", {"field": "mood"}, {"day": "2026-03-20"}, "2026-03-20 is still to come"),
    ("entry", {"field": "note"}, {"day": "2030-03-20"}, "2030-03-20 is still to come"),
    ("entry", {"field": "note"}, {"value": "x" * 2001}, "value cannot be right."),
    ("entry", {"field": "note"}, {"value": "\ud800"}, "value cannot be right."),
    ("entry", {"field": "shift"}, {"value": "weekend"}, "There is no kind of shift 'weekend'"),
    ("entry", {"field": "mood", "state": "kept"}, {"value": "mood9-1"}, "'mood9-1' is no level of mood"),
    ("entry", {"field": "mood", "state": "kept"}, {"value": "sleep8-5"}, "is no level of mood"),
    ("entry", {"state": "could not say"}, {"value": "mood5-1"}, "holds a value and is not kept"),
    ("entry", {"field": "sleep"}, {"detail": {"hours": 3}}, "do not lie in '6-7 h'"),
    ("entry", {"field": "sleep"}, {"detail": {"hours": -1}}, "are no hours of a day"),
    ("entry", {"field": "sleep"}, {"detail": {"dreams": 1}}, "has a detail that it cannot have"),
    ("entry", {"field": "shift"}, {"detail": {"start": "soon", "end": "late"}}, "a start and an end"),
    ("entry", {"field": "shift"}, {"detail": {"called": "often"}}, "has a detail that it cannot have"),
    ("choice", {"name": "setting.latitude"}, {"value": 500}, "latitude takes"),
    ("choice", {"name": "setting.latitude"}, {"name": "setting.height"}, "There is no setting 'height'"),
    ("choice", {"name": "record.id"}, {"value": "mine"}, "has a value that it cannot have"),
]


@pytest.mark.parametrize(("table", "which", "change", "sentence"), WRONG)
def test_it_is_refused_with_its_place(
    record: Record, table: str, which: dict[str, Any], change: dict[str, Any], sentence: str
) -> None:
    fill(record)
    data = json.loads(record_as_json(record))
    number, row = next(
        (number, row)
        for number, row in enumerate(data[table], start=1)
        if which.items() <= row.items() and (row.get("value") or "state" not in row or "state" in which)
    )
    row |= change
    row["digest"] = right_digest(table, row)
    with pytest.raises(BrokenFile) as refused:
        record_from_json(json.dumps(data), Path("x.json"))
    places = [fault.column for fault in refused.value.faults if sentence in fault.sentence]
    assert places
    if "turn" not in change and "recorded_at" not in change:  # by which rows are numbered
        assert f"{table} {number}" in places


def right_digest(table: str, row: dict[str, Any]) -> str:
    column = PARSED.get(table, "")
    plain = {**row, column: as_json(row[column])} if row.get(column) is not None else row
    try:
        return digest(plain[name] for name in schema.COLUMNS[table][:-1])
    except UnicodeEncodeError:
        return 64 * "0"


def test_what_the_program_wrote_has_no_fault(record: Record) -> None:
    fill(record)
    with record_from_json(record_as_json(record), Path("x.json")) as copy:
        assert record_as_json(copy) == record_as_json(record)
