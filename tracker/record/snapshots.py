"""Copies of a record as bytes: read from a file, locked with a passphrase, put back in its place.

Copies are worked on in memory, so that a locked one never lies open on the disk.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from tracker.diary.clock import Clock
from tracker.diary.errors import BrokenFile, DamagedRecord, Fault, UnknownValue
from tracker.record import files, schema
from tracker.record.connection import integrity_faults, is_open_here, look_only, refuse_header
from tracker.record.sqlite_errors import COPY, in_sentences
from tracker.record.store import Record

JOURNAL_BYTES = slice(18, 20)
"""Where the header says how the file is written: the plain way, which memory can hold, or with a log."""
PLAIN, WITH_LOG = b"\x01\x01", b"\x02\x02"


def as_bytes(record: Record) -> bytes:
    """A whole copy of the record that never touches the disk."""
    with in_sentences(record.path), closing(sqlite3.connect(":memory:")) as copy:
        record.db.backup(copy)
        return _written(PLAIN, copy.serialize())


def _written(way: bytes, data: bytes) -> bytes:
    changed = bytearray(data)
    changed[JOURNAL_BYTES] = way
    return bytes(changed)


def read(path: Path, passphrase: str = "") -> bytes:
    """The bytes of a copy, unlocked where it is locked, with what still lies in its log.

    Raises BrokenFile, ForeignRecord, NewerRecord, DamagedRecord or UnknownValue (wrong passphrase).
    """
    if files.is_locked(path):
        data = unlock(read_file(path), passphrase)
        refuse_header(data[:100], path, COPY)
        return _written(PLAIN, data)
    if not is_open_here(path):
        refuse_header(read_file(path)[:100], path, COPY)
    with (
        in_sentences(path, COPY),
        closing(look_only(path)) as db,
        closing(sqlite3.connect(":memory:")) as copy,
    ):
        db.backup(copy)
        return _written(PLAIN, copy.serialize())


def read_file(path: Path) -> bytes:
    """The bytes of a file.

    Raises BrokenFile when it cannot be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        fault = Fault(0, "", f"it cannot be read: {files.reason(error)}.")
        raise BrokenFile(path, [fault], "Nothing was changed.") from error


def opened(data: bytes, path: Path, clock: Clock | None = None) -> Record:
    """A record in memory, brought up to today; `path` is what sentences call it.

    Raises DamagedRecord when the copy is not whole.
    """
    db = sqlite3.connect(":memory:", isolation_level=None)
    try:
        with in_sentences(path, COPY):
            db.deserialize(data)
            found = integrity_faults(db)
            schema.migrate(db)
    except BaseException:
        db.close()
        raise
    if found:
        db.close()
        raise DamagedRecord(f"The copy {path} is damaged: {found[0]}. Take another one.")
    return Record(db, path, clock or Clock())


def put_back(record: Record, copy: Record) -> None:
    """Let the record become what the copy is, in one transaction that other open windows see.

    Raises LockedRecord when another program is writing, UnwritableRecord where the record can only be looked
    at; then nothing has changed.
    """
    record.refuse_if_nothing_is_kept()
    with in_sentences(record.path):
        # Asked for first, because the copying itself would wait for a lock without end.
        record.db.execute("begin immediate")
        record.db.execute("rollback")
        copy.db.backup(record.db)
    record.invalidate()


def put_in_place(copy: Record, path: Path) -> Path:
    """Write a copy where no usable record lies.

    Returns where what lay there stands now. Until the copy has its name the old file keeps it too: at no
    moment is there no record. A log must be gone by then, for it would be read as one of the copy.
    """
    damaged = files.unused(path.with_name(f"{path.stem}-damaged-{copy.clock.name_stamp()}{path.suffix}"))
    with files.written_whole(path) as aside:
        aside.write_bytes(_written(WITH_LOG, as_bytes(copy)))
        for part in files.parts_of(path):
            if part != path:
                part.replace(damaged.with_name(part.name.replace(path.name, damaged.name, 1)))
        _call_too(path, damaged)
        files.sync_folder(path.parent)
    return damaged


def _call_too(path: Path, name: Path) -> None:
    """Give a file a second name, or that alone on a file system without links, as on memory sticks."""
    try:
        os.link(path, name)
    except OSError:
        path.replace(name)


def lock(data: bytes, passphrase: str) -> bytes:
    """Data locked with a passphrase: whoever forgets it has lost this copy."""
    from pyrage import passphrase as by_passphrase  # type: ignore[import-untyped]

    locked: bytes = by_passphrase.encrypt(data, passphrase)
    return locked


def unlock(data: bytes, passphrase: str) -> bytes:
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
