"""Erasing for good: the one place where rows of what was kept are taken away.

What is erased leaves a span without content, so that merging an older copy never brings it back.
"""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tracker import system
from tracker.diary.clock import as_stamp
from tracker.diary.errors import CannotWrite, HeldRecord, RecordTrouble, TrackerError
from tracker.record import draft_rows, files, snapshots
from tracker.record.batch_writer import insert, version_of, with_digest
from tracker.record.connection import key_of
from tracker.record.driver import Connection
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey

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

    Raises HeldRecord when another program has the record open, so that traces would stay.
    """
    with record.transaction():
        entries, changes = record.history(first, last), record.change_history(first, last)
        moment, turn = as_stamp(record.clock.now()), version_of(record.db).turn + 1
        span = with_digest(str(uuid.uuid4()), first.isoformat(), last.isoformat(), turn, moment)
        insert(record.db, "erased", [span])
        of_days = OF_DAYS.format("main")
        take_away(record.db, f"select id from ({of_days}) where day between '{first}' and '{last}'")
        draft_rows.erase_of_days(record.db, first, last)
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

    Raises HeldRecord when another program is in the way.
    """
    busy = True
    with suppress(RecordTrouble):
        record.db.execute("vacuum")
        busy = record.db.row("pragma wal_checkpoint(truncate)")["busy"]
    if busy:
        raise HeldRecord(
            f"The days are erased, but another program has {record.path} open, or the disk is full, so "
            "traces may stay in its files. Close it, make room, and erase the same days again."
        )


def erase_everything(path: Path) -> list[Path]:
    """Take the whole record away: its file and the side files; gives what was removed.

    Raises HeldRecord when another program has it open, CannotWrite where it has another name elsewhere.
    """
    refuse_other_names(files.parts_of(path), path)
    _refuse_while_open(path)
    parts = files.parts_of(path)
    remove(reversed(parts), path)  # a log without its record would be read as one of the next
    _drop_note(path)
    return parts


def _drop_note(path: Path) -> None:
    """Take away the note that a record is locked, once neither that nor a backup of it is left."""
    if not path.exists() and not files.made_backups(path):
        files.lock_note(path).unlink(missing_ok=True)


def _refuse_while_open(path: Path) -> None:
    """Leaving the write-ahead log is possible only for whoever is alone; a damaged file is open to none."""
    with Connection.to(path, path, key=key_of(path), wait=1) as db:
        try:
            db.rows("pragma journal_mode = delete")
        except HeldRecord as error:
            raise HeldRecord(
                f"Another program has {path} open; nothing was erased. Close it and try again."
            ) from error
        except RecordTrouble:
            return


def erase_in_backups(record: Record) -> tuple[int, int]:
    """Take what was erased from a record out of its backups too; copies that cannot be read go as a whole.

    Returns how many were written anew, and how many went. Raises CannotWrite for one that is a link, or has
    another name elsewhere.
    """
    copies = files.made_copies(record.path)
    refuse_other_names(copies, record.path)
    backups = files.made_backups(record.path)
    kept = [path for path in backups if _is_written_anew(path, record)]
    gone = [path for path in copies if path not in kept]
    remove(gone, record.path)
    return len(kept), len(gone)


def _is_written_anew(path: Path, record: Record) -> bool:
    """Write a backup without what was erased from the record; False where it cannot be read."""
    try:
        key = key_of(path)
        with snapshots.opened(path) as looking:
            copy = snapshots.in_memory(looking)
    except TrackerError:
        return False
    with copy:
        for row in record.db.rows("select * from erased"):
            if not copy.db.rows("select 1 from erased where id = ?", (row["id"],)):
                insert(copy.db, "erased", [tuple(row)])
        take_away(copy.db, f"select e.id from ({OF_DAYS.format('main')}) e join erased s on {COVERED}")
        copy.db.execute("vacuum")
        write_anew(path, copy.db, key, record.path)
    return True


def write_anew(path: Path, copy: Connection, key: LockKey | None, record: Path) -> None:
    """Let a file of a record hold a copy in memory, locked with a key or plain; what it held is written over.

    At each moment the file is whole, as it was or as it is to be. Raises CannotWrite, or DamagedRecord where
    what was written does not hold the same; then it is as it was.
    """
    aside = path.with_name(f".{record.name}.{uuid.uuid4().hex}")
    try:
        with files.written_whole(path) as made:
            system.call_too(path, aside)
            snapshots.write_as(copy, made, key)
            snapshots.refuse_other_content(copy, made, key)
    except BaseException:
        if aside.exists():
            aside.replace(path)
        aside.unlink(missing_ok=True)  # which two names of one file both outlive (rename(2))
        raise
    remove([aside], record)


def erase_backups(path: Path) -> list[Path]:
    """Take away the backups and other copies that this program made of a record.

    Raises CannotWrite for one that is a link, or has another name elsewhere.
    """
    removed = files.made_copies(path)
    refuse_other_names(removed, path)
    remove(removed, path)
    with suppress(OSError):  # the folder stays if something else lies in it
        files.backups_folder(path).rmdir()
    _drop_note(path)
    return removed


def refuse_other_names(paths: Iterable[Path], record: Path) -> None:
    """What lies behind a link, or under another name elsewhere, is not ours to erase; nothing is, then."""
    for path in paths:
        names = system.names_of(path)
        if names != 1 and (names == 0 or names > _names_here(path, record)):
            raise CannotWrite(
                f"{path} is a link, or has another name elsewhere; nothing of it was erased. "
                "Take that name away yourself, and erase again."
            )


def _names_here(path: Path, record: Path) -> int:
    """How many of the names of a file are of ours: a cut in its making may have left it two."""
    ours = Counter(map(system.identity, [record, *files.made_copies(record)]))
    return ours[system.identity(path)]


def _has_its_name_still(aside: Path, record: Path) -> bool:
    """Whether a file is the record or a backup all the same: a cut may have left it a second name."""
    stays = [record, *files.made_backups(record)]
    return system.identity(aside) in map(system.identity, stays)


def remove(paths: Iterable[Path], record: Path) -> None:
    """Take files away, their names first: after a power cut none lies half-erased under its own name.

    What may be left then counts among the copies of the record.
    """
    for path in paths:
        aside = path.with_name(f".{record.name}.{uuid.uuid4().hex}")
        try:
            path.rename(aside)
            system.sync_folder(aside.parent)
            if not _has_its_name_still(aside, record):
                system.overwrite(aside)
            aside.unlink()
            system.sync_folder(aside.parent)
        except OSError as error:
            with suppress(OSError):
                aside.rename(path)
            raise CannotWrite(f"{path} cannot be erased: {system.reason(error)}.") from error
