"""The whole record as JSON (RFC 8259): every row of every table; the same record gives the same bytes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NoReturn

from tracker.diary.clock import Clock
from tracker.diary.errors import BrokenFile, DamagedRecord, Fault
from tracker.record import schema
from tracker.record.batch_writer import as_json
from tracker.record.driver import Connection
from tracker.record.row_checks import all_faults, column_fault
from tracker.record.store import Record
from tracker.words import FOLDER_NAME

SCHEMA = 1
PARSED = {"entry": "detail", "choice": "value"}
"""Columns that hold JSON themselves: in the file they stand as what they are."""
ADVICE = "Nothing was kept; export the record again, or bring back a backup with tracker restore."


def record_as_json(record: Record) -> str:
    """The whole record as it stands at one moment, history, notes and choices included.

    A row a line, so that two exports can be compared line by line.
    """
    with record.db.reading():
        tables = [
            f'"{table}":[' + ",".join(f"\n{as_json(row)}" for row in _parsed_rows(record.db, table)) + "\n]"
            for table in sorted(schema.COLUMNS)
        ]
    return "{" + ",\n".join([*tables, f'"program":"{FOLDER_NAME}"', f'"schema":{SCHEMA}']) + "}\n"


def _parsed_rows(db: Connection, table: str) -> Iterator[dict[str, Any]]:
    column = PARSED.get(table, "")
    for row in db.stream(f"select * from {table} order by turn, recorded_at, id"):
        values = dict(row)
        try:
            if values.get(column) is not None:
                values[column] = json.loads(values[column])
        except ValueError as error:
            raise DamagedRecord(f"The record {db.path} is damaged; run tracker check.") from error
        yield values


def record_from_json(text: str, file: Path, clock: Clock | None = None) -> Record:
    """A record in memory with the rows of an export, strictly read.

    Raises BrokenFile with every fault: no JSON, names that stand twice, other columns, altered rows.
    """
    data = _parsed(text, file)
    if not isinstance(data, dict) or data.get("program") != FOLDER_NAME:
        raise BrokenFile(file, [Fault(0, "", "this is no export of this program.")], ADVICE)
    if data.get("schema") != SCHEMA:
        fault = Fault(0, "schema", f"it is {data.get('schema')!r}, but this program reads {SCHEMA}.")
        raise BrokenFile(file, [fault], "Nothing was kept; install the newer version to import it.")
    tables: dict[str, Any] = {table: data.get(table) for table in schema.COLUMNS}
    faults = [*_faults_of_shape(data, tables)] or [*_faults_of_rows(tables)]
    if faults:
        raise BrokenFile(file, faults, ADVICE)
    record = Record.empty(file, clock)
    with record.transaction(), record.db.in_sentences():
        utils = record.db.utils()
        for table in schema.COLUMNS:
            utils.table(table).insert_all(tables[table])
    faults = all_faults(record.db)
    if faults:
        record.close()
        raise BrokenFile(file, faults, ADVICE)
    return record


def _faults_of_shape(data: dict[str, Any], tables: dict[str, Any]) -> Iterator[Fault]:
    for name in sorted({*data} - {*schema.COLUMNS, "program", "schema"}):
        yield Fault(0, name, "there is no such part.")
    for table, rows in tables.items():
        if not isinstance(rows, list):
            yield Fault(0, table, "this part is missing.")


def _faults_of_rows(tables: dict[str, list[Any]]) -> Iterator[Fault]:
    """The faults of single rows; columns of JSON become text on the way, as the tables hold them."""
    for table, rows in tables.items():
        columns, column = set(schema.COLUMNS[table]), PARSED.get(table, "")
        for number, row in enumerate(rows, start=1):
            if not isinstance(row, dict) or set(row) != columns:
                sentence = f"a row must have exactly the columns {', '.join(schema.COLUMNS[table])}."
            else:
                if row.get(column) is not None:
                    row[column] = as_json(row[column])
                sentence = column_fault(table, row)
            if sentence:
                yield Fault(0, f"{table} {number}", sentence)
        ids = [row["id"] for row in rows if isinstance(row, dict) and isinstance(row.get("id"), str)]
        if len(set(ids)) != len(ids):
            yield Fault(0, table, "two rows have the same id.")


def _parsed(text: str, file: Path) -> object:
    try:
        parsed: object = json.loads(text, parse_constant=_no_constant, object_pairs_hook=_no_double)
    except json.JSONDecodeError as error:
        raise BrokenFile(file, [Fault(error.lineno, "", f"this is no JSON ({error.msg}).")], ADVICE) from None
    except (ValueError, RecursionError) as error:
        raise BrokenFile(file, [Fault(0, "", f"this is no JSON of ours ({error}).")], ADVICE) from None
    return parsed


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


def _no_double(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise ValueError(f"the name '{name}' stands twice")
        found[name] = value
    return found
