"""The whole record as JSON (RFC 8259): every row of every table; the same record gives the same bytes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NoReturn

from tracker.diary.errors import BrokenFile, Fault
from tracker.record import schema
from tracker.record.batch_writer import TableRow, as_json
from tracker.record.row_checks import Rows, all_rows, named, row_faults
from tracker.record.store import Record
from tracker.words import FOLDER_NAME

SCHEMA = 1
PARSED = {"entry": "detail", "choice": "value"}
"""Columns that hold JSON themselves: in the file they stand as what they are."""
ADVICE = "Nothing was kept; export the record again, or bring back a backup with tracker restore."


def record_as_json(record: Record) -> str:
    """The whole record, history, notes and choices included."""
    return rows_as_json(all_rows(record))


def rows_as_json(rows: Rows) -> str:
    """Rows as one JSON object, a row a line, so that two exports can be compared line by line."""
    tables = [
        f'"{table}":[' + ",".join(f"\n{as_json(_parsed_row(table, row))}" for row in rows[table]) + "\n]"
        for table in sorted(schema.COLUMNS)
    ]
    return "{" + ",\n".join([*tables, f'"program":"{FOLDER_NAME}"', f'"schema":{SCHEMA}']) + "}\n"


def _parsed_row(table: str, row: TableRow) -> dict[str, Any]:
    values = named(table, row)
    column = PARSED.get(table)
    if column and values[column] is not None:
        values[column] = json.loads(values[column])
    return values


def rows_from_json(text: str, file: Path | str) -> Rows:
    """The rows of an export, strictly read.

    Raises BrokenFile with every fault: no JSON, names that stand twice, other columns, altered rows.
    """
    data = _parsed(text, file)
    if not isinstance(data, dict) or data.get("program") != FOLDER_NAME:
        raise BrokenFile(file, [Fault(0, "", "this is no export of this program.")], ADVICE)
    if data.get("schema") != SCHEMA:
        fault = Fault(0, "schema", f"it is {data.get('schema')!r}, but this program reads {SCHEMA}.")
        raise BrokenFile(file, [fault], "Nothing was kept; install the newer version to import it.")
    faults = [
        Fault(0, name, "there is no such part.")
        for name in sorted({*data} - {*schema.COLUMNS, "program", "schema"})
    ]
    rows: Rows = {}
    for table in schema.COLUMNS:
        listed = data.get(table)
        rows[table] = []
        if not isinstance(listed, list):
            faults.append(Fault(0, table, "this part is missing."))
            continue
        for number, row in enumerate(listed, start=1):
            taken = _row(table, row)
            if isinstance(taken, str):
                faults.append(Fault(0, f"{table} {number}", taken))
            else:
                rows[table].append(taken)
    faults = faults or row_faults(rows)
    if faults:
        raise BrokenFile(file, faults, ADVICE)
    return rows


def _row(table: str, row: object) -> TableRow | str:
    """The row in the order of its columns, or what is wrong with it."""
    columns = schema.COLUMNS[table]
    if not isinstance(row, dict) or set(row) != set(columns):
        return f"a row must have exactly the columns {', '.join(columns)}."
    values = dict(row)
    column = PARSED.get(table)
    if column and values[column] is not None:
        values[column] = as_json(values[column])
    return tuple(values[name] for name in columns)


def _parsed(text: str, file: Path | str) -> object:
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
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _ in pairs]
        double = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the name '{double}' stands twice")
    return found
