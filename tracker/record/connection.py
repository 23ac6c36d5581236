"""From a path to a connection: what is ours is opened, or made; what is not keeps every byte."""

from __future__ import annotations

import os
import sqlite3
import time
import uuid
from collections import Counter
from contextlib import suppress
from pathlib import Path

from tracker.diary.errors import DamagedRecord, NewerRecord, UnwritableRecord
from tracker.record import files, schema
from tracker.record.sqlite_errors import RECORD, FileKind, foreign, in_sentences, is_held

BUSY_SECONDS = 10.0
open_here: Counter[Path] = Counter()
"""Records that this process has open, by where they lie, so often."""


def connect(path: Path) -> tuple[sqlite3.Connection, bool]:
    """A connection to the record at a path, which is made if there is none, and whether it can write.

    Where there is no room or no leave for the files beside a record, it can still be looked at.

    Raises
    ------
    ForeignRecord, NewerRecord
        For a file that is not ours or is ahead of this program; it is not touched.
    DamagedRecord, LockedRecord, UnwritableRecord
        With the sentence that says what to do.
    """
    if files.is_there(path):
        files.refuse_open_folder(path.parent)
        refuse_what_is_not_ours(path)
        files.closed_to_others(path)
    else:
        _create(path)
    with in_sentences(path):
        try:
            return _connect(path), True
        except sqlite3.OperationalError as error:
            looking = None if is_held(error) else _looking(path)
            if looking is None:
                raise
            return looking, False


def is_open_here(path: Path) -> bool:
    """Whether this process has the record at a path open."""
    return open_here[files.at_its_end(path)] > 0


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
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be read: {files.reason(error)}.") from error
    refuse_header(header, path)


def refuse_header(header: bytes, path: Path, kind: FileKind = RECORD) -> None:
    """Refuse a file by its first 100 bytes, with the same errors."""
    if not header:
        raise DamagedRecord(f"{kind.called} {path} is an empty file; {kind.if_empty}.")
    if not header.startswith(b"SQLite format 3\0") or len(header) < 100:
        raise foreign(path, kind)
    if int.from_bytes(header[68:72], "big") != schema.APPLICATION_ID:
        raise foreign(path, kind)
    if int.from_bytes(header[60:64], "big") > schema.VERSION:
        raise NewerRecord(
            f"{kind.called} {path} was made by a newer version of this program; it was not touched. "
            "Install the newer version to open it."
        )


def _create(path: Path) -> None:
    """Make a whole new record aside and give it its name, so that no half-made one is ever seen."""
    files.private_folder(path.parent)
    aside = path.with_name(f".{path.name}.{uuid.uuid4().hex}")
    try:
        files.private_file(aside)
        with in_sentences(path):
            db = sqlite3.connect(aside, isolation_level=None)
            try:
                _make_durable(db)
                schema.migrate(db)
                _enable_wal(db)  # here, for a cut in the midst of it leaves a journal beside the file
            finally:
                db.close()
        _take_name(aside, path)
        aside.unlink(missing_ok=True)
        files.sync_folder(path.parent)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be made: {files.reason(error)}.") from error
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)


def _take_name(aside: Path, path: Path) -> None:
    """Give a new record its name, unless another program was quicker."""
    try:
        os.link(aside, path)
    except FileExistsError:
        return
    except OSError:
        # A file system without links, as on memory sticks.
        if not path.exists():
            aside.rename(path)


def look_only(path: Path) -> sqlite3.Connection:
    """A connection that cannot write; to a file without a log it leaves none beside it either."""
    return sqlite3.connect(_address(path, "mode=ro" if _log(path).exists() else "immutable=1"), uri=True)


def _log(path: Path) -> Path:
    return path.with_name(path.name + "-wal")


def _address(path: Path, way: str) -> str:
    """What SQLite is told to open a file in some way."""
    return f"{path.resolve().as_uri()}?{way}"


def integrity_faults(db: sqlite3.Connection) -> list[str]:
    """What SQLite finds wrong with a file."""
    return [text for (text,) in db.execute("pragma integrity_check") if text != "ok"]


def _looking(path: Path) -> sqlite3.Connection | None:
    """A connection for looking alone, if a record of today's schema can be read through it."""
    log = _log(path)
    is_whole = not log.exists() or log.stat().st_size == 0
    address = _address(path, "immutable=1" if is_whole else "mode=rw")
    db = sqlite3.connect(address, uri=True, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        db.execute("pragma locking_mode = exclusive")  # keeps the index of a log in memory
        (version,) = db.execute("pragma user_version").fetchone()
        db.execute("select id from batch limit 1").fetchone()
    except sqlite3.Error:
        version = 0
    if version == schema.VERSION:
        return db
    db.close()
    return None


def _connect(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        _enable_wal(db)
        _make_durable(db)
        db.execute("pragma foreign_keys = on")
        db.execute("pragma temp_store = memory")
        (version,) = db.execute("pragma user_version").fetchone()
        if version < schema.VERSION:
            _lay_aside(db, path)
            schema.migrate(db)
            db.execute("pragma wal_checkpoint(truncate)")
    except BaseException:
        db.close()
        raise
    return db


def _make_durable(db: sqlite3.Connection) -> None:
    """Let every commit wait for the disk, on macOS also for the memory of the disk itself."""
    db.execute("pragma synchronous = full")
    db.execute("pragma fullfsync = on")


def _lay_aside(db: sqlite3.Connection, path: Path) -> None:
    """Copy a record among the backups before it is brought up to a newer version."""
    folder = files.backups_folder(path)
    files.private_folder(folder)
    aim = files.unused(folder / f"{path.stem}-before-version-{schema.VERSION}.sqlite")
    with files.written_whole(aim) as aside:
        db.execute("vacuum into ?", (str(aside),))


def _enable_wal(db: sqlite3.Connection) -> None:
    """Two programs that open a new file together may both ask for the log: try again for a while."""
    for attempt in range(20):
        try:
            db.execute("pragma journal_mode = wal").fetchone()
        except sqlite3.OperationalError:
            if attempt == 19:
                raise
            time.sleep(0.05)
        else:
            return
