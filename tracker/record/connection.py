"""From a path to a connection: what is ours is opened, or made; what is not keeps every byte."""

from __future__ import annotations

import time
import uuid
from collections import Counter
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from tracker import system
from tracker.diary.errors import (
    DamagedRecord,
    HeldRecord,
    KeyNeeded,
    NewerRecord,
    RecordTrouble,
    UnwritableRecord,
)
from tracker.record import draft_rows, driver, files, schema
from tracker.record.driver import Connection
from tracker.record.files import MAGIC
from tracker.record.sqlite_errors import COPY, RECORD, FileKind, foreign

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey

open_here: Counter[Path] = Counter()
"""Records that this process has open, by where they lie, so often."""
keys_here: dict[Path, LockKey | None] = {}
"""What unlocked each of them."""
FEW_BITS = 4
"""Bits of a header that may be damaged before the file is taken for another program's."""


# --- opening and making ---------------------------------------------------------------------------


def open_record(path: Path) -> tuple[Connection, bool]:
    """A connection to the record at a path, which is made if there is none, and whether it can write.

    Where there is no room or no leave for the files beside a record, it can still be looked at.

    Raises
    ------
    ForeignRecord, NewerRecord
        For a file that is not ours or is ahead of this program; it is not touched.
    KeyNeeded
        For a locked record whose key is not known.
    DamagedRecord, HeldRecord, UnwritableRecord
        With the sentence that says what to do.
    """
    if files.is_there(path):
        files.refuse_open_folder(path.parent)
        refuse_what_is_not_ours(path)
        files.closed_to_others(path)
    else:
        _create(path)
    there = system.identity(path)
    try:
        db, can_write = _connect_or_look(path, key_of(path))
    except RecordTrouble:
        _refuse_if_replaced(path, there)
        raise
    try:
        _refuse_if_replaced(path, there)
    except BaseException:
        db.close()
        raise
    return db, can_write


def _connect_or_look(path: Path, key: LockKey | None) -> tuple[Connection, bool]:
    try:
        return _connect(path, key), True
    except UnwritableRecord:
        looking = _looking(path, key)
        if looking is None:
            raise
        return looking, False


def _refuse_if_replaced(path: Path, there: tuple[int, int] | None) -> None:
    """Refuse a file that lost its name while it was opened: the record was locked or unlocked meanwhile."""
    if system.identity(path) != there:
        raise HeldRecord(f"The record {path} was just written anew by another program. Try again.")


def is_open_here(path: Path) -> bool:
    """Whether this process has the record at a path open."""
    return open_here[files.at_its_end(path)] > 0


def is_locked(path: Path) -> bool:
    """Whether a file that is not open here is locked: a note says so, and it begins as no plain one."""
    if not files.is_noted_as_locked(path):
        return False
    begins = _header(path)[: len(MAGIC)]
    return begins != MAGIC and len(begins) == len(MAGIC)


def key_of(path: Path) -> LockKey | None:
    """What unlocks a record or a copy of one; None for one that is not locked.

    Raises KeyNeeded where its key is not known.
    """
    if is_open_here(path):
        return keys_here[files.at_its_end(path)]
    if not is_locked(path):
        return None
    from tracker.record import lock_keys  # what only those load who lock

    key = lock_keys.known(_header(path)[: len(MAGIC)])
    if key is None:
        raise KeyNeeded(f"{path} is locked; tracker asks for its passphrase in a terminal.")
    return key


def has_damaged_salt(path: Path) -> bool:
    """Whether a locked file begins in a few bits otherwise than those do whose key is known."""
    if is_open_here(path) or not is_locked(path):
        return False
    from tracker.record import lock_keys  # what only those load who lock

    begins = int.from_bytes(_header(path)[: len(MAGIC)], "big")
    flipped = [(begins ^ int.from_bytes(key.salt, "big")).bit_count() for key in lock_keys.all_known()]
    return any(0 < bits <= FEW_BITS for bits in flipped)


def refuse_what_is_not_ours(path: Path) -> None:
    """Look at the header of a file alone, so that one that is not ours keeps every byte.

    One that this process has open is left alone: to close a file takes away every lock that the process has
    on it (POSIX), SQLite's too, and the next program to end would delete the log that is still in use.

    Raises ForeignRecord, NewerRecord, DamagedRecord or UnwritableRecord with the reason.
    """
    if is_open_here(path):
        return
    if not path.is_file():
        raise foreign(path)
    header = _header(path)
    if header.startswith(MAGIC) or not header or not files.is_noted_as_locked(path):
        refuse_header(header, path)


def _header(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(100)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be read: {system.reason(error)}.") from error


def refuse_header(header: bytes, path: Path, kind: FileKind = RECORD) -> None:
    """Refuse a file by its first 100 bytes, with the same errors."""
    if not header:
        raise DamagedRecord(f"{kind.called} {path} is an empty file; {kind.if_empty}.")
    if not header.startswith(MAGIC) or len(header) < 100:
        raise foreign(path, kind)
    refuse_numbers(int.from_bytes(header[68:72], "big"), int.from_bytes(header[60:64], "big"), path, kind)


def refuse_numbers(application: int, version: int, path: Path, kind: FileKind = RECORD) -> None:
    """Refuse a file by whose it is and by the version of its tables, with the same errors."""
    if application != schema.APPLICATION_ID:
        raise foreign(path, kind)
    if version > schema.VERSION:
        raise NewerRecord(
            f"{kind.called} {path} was made by a newer version of this program; it was not touched. "
            "Install the newer version to open it."
        )


def was_a_record(path: Path) -> bool:
    """Whether a file that its header calls foreign was a record: it has backups, or a few bits differ."""
    if not path.is_file():
        return False
    ours = MAGIC + schema.APPLICATION_ID.to_bytes(4, "big")
    with path.open("rb") as file:
        header = file.read(100)
    flipped = int.from_bytes(header[:16] + header[68:72], "big") ^ int.from_bytes(ours, "big")
    return bool(files.made_backups(path)) or flipped.bit_count() <= FEW_BITS


def _create(path: Path) -> None:
    """Make a whole new record aside and give it its name, so that no half-made one is ever seen."""
    files.private_folder(path.parent)
    aside = path.with_name(f".{path.name}.{uuid.uuid4().hex}")
    try:
        system.make_private_file(aside)
        with Connection.to(aside, path) as db:
            _make_durable(db)
            schema.migrate(db)
            _enable_wal(db)  # here, for a cut in the midst of it leaves a journal beside the file
        system.take_name(aside, path)
        aside.unlink(missing_ok=True)
        system.sync_folder(path.parent)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be made: {system.reason(error)}.") from error
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)


def look_only(path: Path, kind: FileKind = RECORD, key: LockKey | None = None) -> Connection:
    """A connection that cannot write; to a file without a log it leaves none beside it either."""
    way = "mode=ro" if files.log_of(path).exists() else "immutable=1"
    return Connection.to(address(path, way), path, kind, key)


def address(path: Path, way: str) -> str:
    """What SQLite is told to open a file in some way."""
    return f"{path.resolve().as_uri()}?{way}"


def _looking(path: Path, key: LockKey | None) -> Connection | None:
    """A connection for looking alone, if a record can be read through it; an older one in memory."""
    log = files.log_of(path)
    is_whole = not log.exists() or log.stat().st_size == 0
    db = Connection.to(address(path, "immutable=1" if is_whole else "mode=rw"), path, key=key)
    try:
        db.execute("pragma locking_mode = exclusive")  # keeps the index of a log in memory
        version = db.value("pragma user_version")
        db.value("select id from batch limit 1")
    except RecordTrouble:
        version = 0
    if version == schema.VERSION:
        return db
    with db:
        return _brought_up_in_memory(db) if 0 < version < schema.VERSION else None


def _brought_up_in_memory(db: Connection) -> Connection:
    copy = Connection.in_memory(db.path)
    db.copy_over(copy)
    schema.migrate(copy)
    return copy


def _connect(path: Path, key: LockKey | None) -> Connection:
    db = Connection.to(path, path, key=key)
    try:
        if key:  # whose header told nothing
            refuse_numbers(db.value("pragma application_id"), db.value("pragma user_version"), path)
        _enable_wal(db)
        _make_durable(db)
        db.execute("pragma foreign_keys = on")
        db.execute("pragma temp_store = memory")
        db.execute("pragma secure_delete = on")  # of drafts; nothing else goes but by erasing
        version = db.value("pragma user_version")
        if version < 1:  # no record was ever made without one
            raise DamagedRecord(f"The record {path} is damaged; {RECORD.if_damaged}.")
        if version < schema.VERSION:
            _lay_aside(db, path)
            schema.migrate(db)
            db.execute("pragma wal_checkpoint(truncate)")
    except BaseException:
        db.close()
        raise
    return db


def _make_durable(db: Connection) -> None:
    """Let every commit wait for the disk, on macOS also for the memory of the disk itself."""
    db.execute("pragma synchronous = full")
    db.execute("pragma fullfsync = on")


def _lay_aside(db: Connection, path: Path) -> None:
    """Copy a record among the backups before it is brought up to a newer version."""
    folder = files.made_backups_folder(path)
    aim = files.unused(folder / f"{path.stem}-before-version-{schema.VERSION}.sqlite")
    with files.written_whole(aim) as aside:
        write_aside(db, aside)


def write_aside(db: Connection, aside: Path) -> None:
    """Write all that was kept into an empty file that is to be a copy, without drafts."""
    db.execute("vacuum into ?", (aside.resolve().as_uri(),))
    with Connection.to(aside, db.path, COPY, db.key) as copy:
        copy.execute("pragma journal_mode = memory")  # else what is taken out would stand in a journal
        draft_rows.leave_out(copy)


def _enable_wal(db: Connection) -> None:
    """Two programs that open a new file together may both ask for the log: try again for a while."""
    until = time.monotonic() + driver.BUSY_SECONDS
    while True:
        try:
            db.rows("pragma journal_mode = wal")
        except RecordTrouble:
            if time.monotonic() > until:
                raise
            time.sleep(0.05)
        else:
            return
