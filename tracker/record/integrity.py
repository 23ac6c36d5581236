"""Whether a record is whole: file, tables, every row, and the days that come of them."""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing, nullcontext
from dataclasses import dataclass, field
from pathlib import Path

from tracker.diary.clock import Clock
from tracker.diary.days import FIELDS
from tracker.diary.errors import (
    DamagedRecord,
    ForeignRecord,
    LockedRecord,
    RecordTrouble,
    TrackerError,
    UnwritableRecord,
)
from tracker.record import files
from tracker.record.connection import integrity_faults, look_only
from tracker.record.json_export import rows_as_json
from tracker.record.row_checks import Rows, all_rows, named, row_faults
from tracker.record.sqlite_errors import in_sentences
from tracker.record.store import Record


@dataclass(frozen=True, slots=True)
class Report:
    """What a look at a record found."""

    faults: list[str] = field(default_factory=list)
    """What is wrong, a sentence each; empty where the record is whole."""
    mended: list[str] = field(default_factory=list)
    """What was put right on the way."""
    counts: dict[str, int] = field(default_factory=dict)
    """How many days there are, and rows of each table."""
    digest: str = ""
    """SHA-256 of the whole record; two copies with the same one hold the same."""
    read_only: bool = False
    """Whether nothing could be kept in it just now, for want of room or of leave to write."""


def look_over(path: Path, clock: Clock | None = None) -> Report:
    """Look a record over; only modes that let others in are mended.

    Raises ForeignRecord or NewerRecord for a file that is not ours to judge, LockedRecord or
    UnwritableRecord for one that could not be looked at.
    """
    mended = [f"Others could read {part}; that is mended." for part in files.closed_to_others(path)]
    try:
        faults, is_seen = file_faults(path), True
    except UnwritableRecord:  # no room for the index of its log; a record that only looks has it in memory
        faults, is_seen = [], False
    if faults:
        return Report(faults, mended)
    try:
        with Record.open(path, clock) as record:
            faults = [] if is_seen else file_faults(path, record.db)
            if faults:
                return Report(faults, mended, read_only=record.read_only)
            rows = all_rows(record)
            faults = [str(fault) for fault in row_faults(rows)]
            days = 0 if faults else len(record.days())
            faults += [] if faults else _days_that_differ(record, rows)
    except (LockedRecord, UnwritableRecord):
        raise
    except (DamagedRecord, ForeignRecord):
        return Report([_unreadable(path)], mended)
    except TrackerError as error:
        return Report([str(error)], mended)
    counts = {"days": days, **{table: len(listed) for table, listed in rows.items()}}
    return Report(faults, mended, counts, digest_of(rows), record.read_only)


def digest_of(rows: Rows) -> str:
    """The digest of a whole record."""
    return hashlib.sha256(rows_as_json(rows).encode()).hexdigest()


def file_faults(path: Path, db: sqlite3.Connection | None = None) -> list[str]:
    """What SQLite finds wrong with a file; most exceptions are damage as well.

    Parameters
    ----------
    db
        A connection to it, where one is open.

    Raises LockedRecord or UnwritableRecord for a file that could not be looked at.
    """
    try:
        with in_sentences(path), nullcontext(db) if db else closing(look_only(path)) as looking:
            found = integrity_faults(looking)
            broken = looking.execute("pragma foreign_key_check").fetchall()
    except (LockedRecord, UnwritableRecord):
        raise
    except (DamagedRecord, ForeignRecord):
        return [_unreadable(path)]
    except RecordTrouble as error:
        return [str(error)]
    found += [f"a row of {table} belongs to an action that is not there" for table, *_ in broken]
    return [f"The file {path} is damaged: {text}." for text in found]


def _unreadable(path: Path) -> str:
    """Without the advice to run a check, which is what found it."""
    return f"The file {path} is damaged: it cannot be read to its end."


def _days_that_differ(record: Record, rows: Rows) -> list[str]:
    """Days whose squares are not the newest of their entries, reckoned a second way."""
    newest: dict[tuple[str, str], tuple[str, str]] = {}
    for row in rows["entry"]:
        entry = named("entry", row)
        newest[entry["day"], entry["field"]] = (entry["state"], entry["value"])
    expected = {(*place, *kept) for place, kept in newest.items() if kept[0] != "cleared"}
    shown = {
        (day.date.isoformat(), str(field), str(square.state), square.value)
        for day in record.days().values()
        for field in FIELDS
        if (square := day.square(field))
    }
    days = sorted({day for day, *_ in expected ^ shown})
    return [f"{day} does not show its newest entries." for day in days]
