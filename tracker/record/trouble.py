"""The one place where SQLite's errors become sentences."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from tracker.diary.errors import (
    DamagedRecord,
    ForeignRecord,
    LockedRecord,
    RecordTrouble,
    UnwritableRecord,
)

LEAST_ROOM = 64 * 1024
"""Bytes that the side files of a record take at the least."""


@contextmanager
def in_sentences(path: Path | str) -> Iterator[None]:
    """Turn an error of SQLite into the one of ours that names the record and what to do."""
    try:
        yield
    except sqlite3.Error as error:
        raise _sentence(error, path) from error


def is_held(error: sqlite3.Error) -> bool:
    """Whether another program is in the way."""
    return _name(error).startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))


def _name(error: sqlite3.Error) -> str:
    return getattr(error, "sqlite_errorname", None) or ""


def _sentence(error: sqlite3.Error, path: Path | str) -> RecordTrouble:
    name = _name(error)
    if is_held(error):
        return LockedRecord(
            f"The record {path} is held by another program; nothing was kept. Close it and try again."
        )
    if name.startswith("SQLITE_READONLY"):
        return UnwritableRecord(
            f"The record {path} is read-only; nothing was kept. Give yourself leave to write it."
        )
    hindered = name.startswith(("SQLITE_CANTOPEN", "SQLITE_IOERR", "SQLITE_PERM"))
    if name.startswith("SQLITE_FULL") or (hindered and _is_full(Path(path))):
        return UnwritableRecord(f"The disk of {path} is full; nothing was kept. Make room and try again.")
    if name.startswith("SQLITE_NOTADB"):
        return foreign(path)
    if name.startswith("SQLITE_CORRUPT"):
        return DamagedRecord(
            f"The record {path} is damaged; run tracker check, or bring back a backup with tracker restore."
        )
    if hindered:
        return UnwritableRecord(
            f"The record {path} cannot be opened or written; nothing was kept. Look at its folder and disk."
        )
    return RecordTrouble(f"The record {path} could not be used ({error}); nothing was kept.")


def _is_full(path: Path) -> bool:
    import shutil

    with suppress(OSError):
        return shutil.disk_usage(path.parent).free < LEAST_ROOM
    return False


def foreign(path: Path | str) -> ForeignRecord:
    """The refusal of a file that is not ours."""
    return ForeignRecord(
        f"{path} is not a record of this program; it was not touched. Name another file with --record."
    )
