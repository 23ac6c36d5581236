"""Copies of a record: read from a file, locked with a passphrase, put back in its place.

A locked copy is worked on in memory, or by its key, so that it never lies open on the disk.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tracker import system
from tracker.diary.clock import Clock
from tracker.diary.errors import BrokenFile, DamagedRecord, Fault, UnknownValue
from tracker.record import draft_rows, files, schema
from tracker.record.connection import is_open_here, key_of, look_only, refuse_header, refuse_numbers
from tracker.record.driver import Connection, Row
from tracker.record.sqlite_errors import COPY
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey

JOURNAL_BYTES = slice(18, 20)
"""Where the header says how the file is written: the plain way, which memory can hold, or with a log."""
PLAIN, WITH_LOG = b"\x01\x01", b"\x02\x02"
SIDES = (("main", "theirs"), ("theirs", "main"))
"""A file and the one that is attached to it, each before the other."""


def as_bytes(record: Record) -> bytes:
    """A whole copy of what was kept, without drafts, that never touches the disk."""
    with _without_drafts(record) as copy:
        return _written(PLAIN, copy.as_bytes())


def _without_drafts(record: Record) -> Connection:
    copy = Connection.in_memory(record.path)
    record.db.copy_over(copy)
    draft_rows.leave_out(copy)
    return copy


def _written(way: bytes, data: bytes) -> bytes:
    changed = bytearray(data)
    changed[JOURNAL_BYTES] = way
    return bytes(changed)


def opened(path: Path, passphrase: str = "", clock: Clock | None = None) -> Record:
    """A copy of a record for looking alone, unlocked where it is locked, with what still lies in its log.

    Raises BrokenFile, ForeignRecord, NewerRecord, DamagedRecord, UnknownValue (wrong passphrase) or KeyNeeded
    (a locked record, whose key is not known).
    """
    if files.is_age_file(path):
        return from_bytes(decrypted(read_file(path), passphrase), path, clock)
    key = key_of(path)
    if not key and not is_open_here(path):
        refuse_header(read_header(path), path, COPY)
    db = look_only(path, COPY, key)
    try:
        version = db.value("pragma user_version")
        if key:  # whose header told nothing
            refuse_numbers(db.value("pragma application_id"), version, path, COPY)
        if version < schema.VERSION:
            with db, Connection.in_memory(path, COPY) as copy:
                db.copy_over(copy)
                return from_bytes(copy.as_bytes(), path, clock)
        _refuse_damage(db)
    except BaseException:
        db.close()
        raise
    return Record(db, clock or Clock())


def from_bytes(data: bytes, path: Path, clock: Clock | None = None) -> Record:
    """A record in memory, brought up to today; `path` is what sentences call it.

    Raises ForeignRecord, NewerRecord, or DamagedRecord when the copy is not whole.
    """
    refuse_header(data[:100], path, COPY)
    db = Connection.in_memory(path, COPY, _written(PLAIN, data))
    try:
        _refuse_damage(db)
        schema.migrate(db)
    except BaseException:
        db.close()
        raise
    return Record(db, clock or Clock())


def in_memory(record: Record) -> Record:
    """A copy of a record that can be changed, in memory."""
    return from_bytes(as_bytes(record), record.path, record.clock)


def _refuse_damage(db: Connection) -> None:
    found = db.faults() or schema.faults(db)
    if found:
        raise DamagedRecord(f"The copy {db.path} is damaged: {found[0]}. Take another one.")


def read_header(path: Path) -> bytes:
    """The first bytes of a file; raises as `read_file` does."""
    return read_file(path, 100)


def read_file(path: Path, most: int = -1) -> bytes:
    """The bytes of a file, at most so many; -1: all.

    Raises BrokenFile when it cannot be read.
    """
    try:
        return system.read_file(path, most)
    except OSError as error:
        fault = Fault(0, "", f"it cannot be read: {system.reason(error)}.")
        raise BrokenFile(path, [fault], "Nothing was changed.") from error


class Difference(NamedTuple):
    """How a record differs from a copy of it, by whole rows."""

    goes: dict[str, int]
    """Rows of each table that the record alone holds, so."""
    comes: dict[str, int]
    """Rows of each table that the copy alone holds, so."""
    days: list[date]
    """The days whose entries differ."""


def difference(record: Record, copy: Record) -> Difference:
    """What would be otherwise in the record if it became what the copy is."""
    db = record.db
    with db.attached(copy.db), db.reading():
        goes, comes = (
            {table: len(_on_one_side(db, table, *sides)) for table in schema.COLUMNS} for sides in SIDES
        )
        columns = ", ".join(schema.COLUMNS["entry"])
        days = {row["day"] for sides in SIDES for row in _on_one_side(db, "entry", *sides, columns)}
    return Difference(goes, comes, sorted(map(date.fromisoformat, days)))


def _on_one_side(db: Connection, table: str, here: str, there: str, columns: str = "*") -> list[Row]:
    """The rows of a table that a file has and another, attached to the same connection, has not."""
    return db.rows(f"select {columns} from {here}.{table} except select {columns} from {there}.{table}")


def put_back(record: Record, copy: Record) -> None:
    """Let the record become what the copy is, in one transaction that other open windows see.

    Drafts stay as they are: they belong to the record's file and to no copy.

    Raises HeldRecord when another program is writing, UnwritableRecord where the record can only be looked
    at; then nothing has changed.
    """
    record.prepare()
    with record.db.transaction():
        pass  # asked for first, because the copying itself would wait for a lock without end
    with in_memory(copy) as whole:
        draft_rows.take_over(record.db, whole.db)
        whole.db.copy_over(record.db)
    record.invalidate()


def write_as(copy: Connection, aside: Path, key: LockKey | None) -> None:
    """Fill an empty file with a copy in memory, as a record that is locked with a key, or plain."""
    if key is None:
        aside.write_bytes(_written(WITH_LOG, copy.as_bytes()))
        return
    with Connection.to(aside, copy.path, key=key) as made:
        copy.copy_over(made)
        made.rows("pragma journal_mode = wal")


def refuse_other_content(copy: Connection, path: Path, key: LockKey | None) -> None:
    """Raise DamagedRecord unless a file that was just written holds every row of a copy and no other."""
    with look_only(path, COPY, key) as written, copy.attached(written):
        if any(_on_one_side(copy, table, *sides) for table in copy.tables() for sides in SIDES):
            raise DamagedRecord(f"What was written for {copy.path} is not the same, so it was not kept.")


def put_in_place(copy: Record, path: Path, key: LockKey | None = None) -> Path:
    """Write a copy where no usable record lies, locked with a key or plain.

    Returns where what lay there stands now. Until the copy has its name the old file keeps it too: at no
    moment is there no record. A log must be gone by then, for it would be read as one of the copy.
    """
    damaged = files.unused(path.with_name(f"{path.stem}-damaged-{copy.clock.name_stamp()}{path.suffix}"))
    with files.written_whole(path) as aside:
        with _without_drafts(copy) as whole:
            write_as(whole, aside, key)
        for part in files.parts_of(path):
            if part != path:
                part.replace(damaged.with_name(part.name.replace(path.name, damaged.name, 1)))
        system.call_too(path, damaged)
        system.sync_folder(path.parent)
    return damaged


def put_where_none_is(copy: Record, path: Path, key: LockKey) -> None:
    """Write a copy as a locked record where none lies."""
    with files.written_whole(path) as aside, _without_drafts(copy) as whole:
        write_as(whole, aside, key)


def encrypted(data: bytes, passphrase: str) -> bytes:
    """Data locked with a passphrase: whoever forgets it has lost this copy."""
    from pyrage import passphrase as by_passphrase  # type: ignore[import-untyped]

    locked: bytes = by_passphrase.encrypt(data, passphrase)
    return locked


def decrypted(data: bytes, passphrase: str) -> bytes:
    """Data unlocked with the passphrase that locked them.

    Raises UnknownValue for another one, or for a file that was not locked so.
    """
    from pyrage import DecryptError
    from pyrage import passphrase as by_passphrase

    try:
        unlocked: bytes = by_passphrase.decrypt(data, passphrase)
    except DecryptError:
        raise UnknownValue("This passphrase does not unlock the file, or it is no locked copy.") from None
    return unlocked
