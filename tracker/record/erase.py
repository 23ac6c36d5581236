"""Erasing for good: the one place where rows are taken away.

What is erased leaves a span without content, so that merging an older copy never brings it back.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import NamedTuple

from tracker import system
from tracker.diary.clock import as_stamp
from tracker.diary.errors import CannotWrite, LockedRecord, RecordTrouble
from tracker.record import files
from tracker.record.batch_writer import insert, version_of, with_digest
from tracker.record.connection import Connection
from tracker.record.store import Record

OF_DAYS = (
    "select id, day, turn, restores from {0}.entry union all"
    " select id, substr(name, 8), turn, restores from {0}.choice where name glob 'change.*'"
)
"""Every row of a file that belongs to a day: its entries, and the changes that are dated on it."""
COVERED = "e.day between s.from_day and s.to_day and e.turn < s.turn"
"""Whether such a row e came before its day was erased by a span s: by its turn, whatever clocks said."""


class Erased(NamedTuple):
    """What was taken away."""

    days: int
    entries: int
    changes: int
    """Rows of the changes that were dated on these days."""


def erase_days(record: Record, first: date, last: date) -> Erased:
    """Take all that belongs to the days from first to last away, also their older values, for good.

    Raises LockedRecord when another program has the record open, so that traces would stay.
    """
    with record.transaction():
        entries, changes = record.history(first, last), record.change_history(first, last)
        moment, turn = as_stamp(record.clock.now()), version_of(record.db).turn + 1
        span = with_digest(str(uuid.uuid4()), first.isoformat(), last.isoformat(), turn, moment)
        insert(record.db, "erased", [span])
        of_days = OF_DAYS.format("main")
        take_away(record.db, f"select id from ({of_days}) where day between '{first}' and '{last}'")
    record.invalidate()
    compact(record)
    days = {entry.day for entry in entries} | {change.day for change in changes}
    return Erased(len(days), len(entries), len(changes))


def take_away(db: Connection, ids: str) -> None:
    """Take away the rows that a statement lists, and actions of which nothing is left."""
    db.execute("pragma secure_delete = on")
    for table in ("entry", "choice"):
        db.execute(f"delete from {table} where id in ({ids})")
    db.execute(
        "delete from batch where id not in (select batch from entry) and id not in (select batch from choice)"
    )


def compact(record: Record) -> None:
    """Write the file anew without what was erased, and empty the write-ahead log.

    Raises LockedRecord when another program is in the way.
    """
    busy = True
    with suppress(RecordTrouble):
        record.db.execute("vacuum")
        busy = record.db.row("pragma wal_checkpoint(truncate)")["busy"]
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
    with Connection.to(path, path, wait=1) as db:
        try:
            db.rows("pragma journal_mode = delete")
        except LockedRecord as error:
            raise LockedRecord(
                f"Another program has {path} open; nothing was erased. Close it and try again."
            ) from error
        except RecordTrouble:
            return


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
            system.sync_folder(aside.parent)
            if system.identity(aside) != system.identity(record):  # making it may have left it a second name
                _overwrite(aside)
            aside.unlink()
            system.sync_folder(aside.parent)
        except OSError as error:
            with suppress(OSError):
                aside.rename(path)
            raise CannotWrite(f"{path} cannot be erased: {system.reason(error)}.") from error


def _overwrite(path: Path) -> None:
    """Write nothing over what is there; a flash disk may keep the old block all the same."""
    size = path.stat().st_size
    with path.open("r+b") as file:
        for start in range(0, size, 1 << 20):
            file.write(bytes(min(1 << 20, size - start)))
        file.flush()
        system.sync(file.fileno())
