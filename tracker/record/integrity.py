"""Whether a record is whole: file, tables, every row, and the days that come of them."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.diary.clock import Clock
from tracker.diary.days import FIELDS
from tracker.diary.errors import (
    DamagedRecord,
    Fault,
    ForeignRecord,
    HeldRecord,
    KeyNeeded,
    RecordTrouble,
    TrackerError,
    UnwritableRecord,
)
from tracker.record import draft_rows, files, schema
from tracker.record.connection import key_of, look_only
from tracker.record.driver import Connection
from tracker.record.json_export import record_as_json
from tracker.record.row_checks import all_faults, is_altered
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey


OTHER_KEY = "The file {} cannot be read with the passphrase of the record: it has another, or is damaged."


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
    """SHA-256 of all that was kept; two copies with the same one hold the same. Empty where a fault is."""
    read_only: bool = False
    """Whether nothing could be kept in it just now, for want of room or of leave to write."""


def look_over(path: Path, clock: Clock | None = None) -> Report:
    """Look a record over; only modes that let others in are mended.

    Raises ForeignRecord or NewerRecord for a file that is not ours to judge, HeldRecord, KeyNeeded or
    UnwritableRecord for one that could not be looked at.
    """
    mended = [f"Others could read {part}; that is mended." for part in files.closed_to_others(path)]
    try:
        with Record.open(path, clock) as record, record.db.reading():
            return _report(record, mended)
    except (HeldRecord, KeyNeeded, UnwritableRecord):
        raise
    except (DamagedRecord, ForeignRecord):
        return Report([_unreadable(path)], mended)
    except TrackerError as error:
        return Report([str(error)], mended)


def _report(record: Record, mended: list[str]) -> Report:
    """What the file, the rows and the days are, all in one state."""
    faults = faults_of(record.db)
    if faults:
        return Report(faults, mended, read_only=record.read_only)
    faults = [str(fault) for fault in all_faults(record.db)]
    days = 0 if faults else len(record.days())
    faults += [] if faults else _days_that_differ(record)
    counts = {table: record.db.value(f"select count(*) from {table}") for table in schema.COLUMNS}
    names = record.db.value("select count(*) from choice where name = ?", (schema.IDENTITY,))
    counts |= {table: counts[table] - names for table in ("batch", "choice")}
    digest = "" if faults else digest_of(record)
    counts["draft"] = draft_rows.number_of(record.db)
    return Report(faults, mended, {"days": days, **counts}, digest, record.read_only)


def digest_of(record: Record) -> str:
    """The digest of a whole record."""
    return hashlib.sha256(record_as_json(record).encode()).hexdigest()


def copy_faults(path: Path) -> list[str]:
    """What is wrong with a copy that nobody writes to: its file, its tables, every row by every rule.

    Raises HeldRecord or UnwritableRecord for a file that could not be looked at.
    """
    try:
        key = key_of(path)
    except KeyNeeded:
        return [OTHER_KEY.format(path)]
    return _looked_over(path, all_faults, key)


def altered_in_copy(path: Path, key: LockKey | None) -> list[str]:
    """What was altered in a copy that was just made: its file, its tables, rows with another digest.

    What stands in the rows was looked at when it was kept; this takes a tenth of the time of `copy_faults`.
    Raises as that does.
    """
    return _looked_over(path, lambda db: all_faults(db) if is_altered(db) else [], key)


def _looked_over(
    path: Path, faults_in: Callable[[Connection], list[Fault]], key: LockKey | None
) -> list[str]:
    try:
        with look_only(path, key=key) as db:
            return faults_of(db) or [f"{fault}" for fault in faults_in(db)]
    except (HeldRecord, UnwritableRecord):
        raise
    except (DamagedRecord, ForeignRecord):
        return [_unreadable(path)]
    except RecordTrouble as error:
        return [str(error)]


def faults_of(db: Connection) -> list[str]:
    """What is wrong with the file of a connection and with its tables; most errors are damage as well."""
    found = db.faults()
    broken = db.rows("pragma foreign_key_check")
    found += [f"a row of {row['table']} belongs to an action that is not there" for row in broken]
    found += [] if found else schema.faults(db)
    return [f"The file {db.path} is damaged: {text}." for text in found]


def _unreadable(path: Path) -> str:
    """Without the advice to run a check, which is what found it."""
    return f"The file {path} is damaged: it cannot be read to its end."


def _days_that_differ(record: Record) -> list[str]:
    """Days whose squares are not the newest of their entries, reckoned a second way."""
    newest = {
        (row["day"], row["field"]): (row["state"], row["value"])
        for row in record.db.stream(
            "select day, field, state, value from entry order by turn, recorded_at, id"
        )
    }
    expected = {(*place, *kept) for place, kept in newest.items() if kept[0] != "cleared"}
    shown = {
        (day.date.isoformat(), str(field), str(square.state), square.value)
        for day in record.days().values()
        for field in FIELDS
        if (square := day.square(field))
    }
    days = sorted({day for day, *_ in expected ^ shown})
    return [f"{day} does not show its newest entries." for day in days]
