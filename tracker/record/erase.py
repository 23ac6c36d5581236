"""Erasing for good: the one place where rows are taken away.

What is erased leaves a span without content, so that joining an older copy never brings it back.
"""

from __future__ import annotations

import sqlite3
import uuid
from collections.abc import Iterable
from contextlib import closing, suppress
from datetime import date
from pathlib import Path
from typing import NamedTuple

from tracker.diary.errors import CannotWrite, LockedRecord
from tracker.record import files
from tracker.record.batch_writer import TableRow
from tracker.record.row_checks import named
from tracker.record.store import Record

COVERED = (
    "select e.id from entry e join erased s on e.day between s.from_day and s.to_day"
    " and (e.turn < s.turn or e.recorded_at < s.recorded_at)"
)


class Erased(NamedTuple):
    """What was taken away."""

    days: int
    entries: int


def erase_days(record: Record, first: date, last: date) -> Erased:
    """Take every entry of the days from first to last away, also their older values, for good.

    Raises LockedRecord when another program has the record open, so that traces would stay.
    """
    entries = record.history(first, last)
    with record.writing() as write:
        record.db.execute("pragma secure_delete = on")
        write.erased_span(str(uuid.uuid4()), first, last)
        take_covered_away(record)
    record.invalidate()
    compact(record)
    return Erased(len({entry.day for entry in entries}), len(entries))


def is_covered(row: TableRow, spans: Iterable[TableRow]) -> bool:
    """Whether an entry was written before its day was erased, by either way of counting."""
    entry = named("entry", row)
    return any(
        span["from_day"] <= entry["day"] <= span["to_day"]
        and (entry["turn"] < span["turn"] or entry["recorded_at"] < span["recorded_at"])
        for span in (named("erased", row) for row in spans)
    )


def left_over(entries: Iterable[TableRow], spans: Iterable[TableRow]) -> set[str]:
    """The ids of the entries that outlive the erased spans; an undo does not outlive what it brought back."""
    erased = list(spans)
    left = [named("entry", row) for row in entries if not is_covered(row, erased)]
    ids = {entry["id"] for entry in left}
    return {entry["id"] for entry in left if entry["restores"] is None or entry["restores"] in ids}


def take_covered_away(record: Record) -> None:
    """Take away the entries that lie in erased spans, and actions of which nothing is left."""
    db = record.db
    db.execute("pragma secure_delete = on")
    db.execute(f"delete from entry where id in ({COVERED})")  # noqa: S608
    db.execute("delete from entry where restores is not null and restores not in (select id from entry)")
    db.execute(
        "delete from batch where id not in (select batch from entry) and id not in (select batch from choice)"
    )


def compact(record: Record) -> None:
    """Write the file anew without what was erased, and empty the write-ahead log.

    Raises LockedRecord when another program is in the way.
    """
    busy = True
    with suppress(sqlite3.Error):
        record.db.execute("vacuum")
        busy, *_ = record.db.execute("pragma wal_checkpoint(truncate)").fetchone()
    if busy:
        raise LockedRecord(
            f"The days are erased, but another program has {record.path} open, or the disk is full, so "
            "traces may stay in its files. Close it, make room, and erase the same days again."
        )


def erase_everything(path: Path) -> list[Path]:
    """Take the whole record away: its file and the side files; gives what was removed.

    Raises LockedRecord when another program has it open.
    """
    _refuse_while_open(path)
    parts = files.parts_of(path)
    _remove(reversed(parts), path)  # a log without its record would be read as one of the next
    return parts


def _refuse_while_open(path: Path) -> None:
    """Leaving the write-ahead log is possible only for whoever is alone; a damaged file is open to none."""
    with closing(sqlite3.connect(path, timeout=1)) as db:
        try:
            db.execute("pragma journal_mode = delete").fetchone()
        except sqlite3.DatabaseError as error:
            if error.sqlite_errorname.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
                raise LockedRecord(
                    f"Another program has {path} open; nothing was erased. Close it and try again."
                ) from error


def erase_backups(path: Path) -> list[Path]:
    """Take away the backups and other copies that this program made of a record."""
    removed = files.made_copies(path)
    _remove(removed, path)
    with suppress(OSError):  # the folder stays if something else lies in it
        files.backups_folder(path).rmdir()
    return removed


def _remove(paths: Iterable[Path], record: Path) -> None:
    """Take files away, their names first: after a power cut none lies half-erased under its own name.

    What may be left then counts among the copies of the record.
    """
    for path in paths:
        aside = path.with_name(f".{record.name}.{uuid.uuid4().hex}")
        try:
            path.rename(aside)
            files.sync_folder(aside.parent)
            if files.identity(aside) != files.identity(record):  # making it may have left it a second name
                _overwrite(aside)
            aside.unlink()
            files.sync_folder(aside.parent)
        except OSError as error:
            with suppress(OSError):
                aside.rename(path)
            raise CannotWrite(f"{path} cannot be erased: {files.reason(error)}.") from error


def _overwrite(path: Path) -> None:
    """Write nothing over what is there; a flash disk may keep the old block all the same."""
    size = path.stat().st_size
    with path.open("r+b") as file:
        for start in range(0, size, 1 << 20):
            file.write(bytes(min(1 << 20, size - start)))
        file.flush()
        files.sync(file.fileno())
