"""What SQLite's errors mean for a person: which of our errors each is, and its sentence."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from tracker import system
from tracker.diary.errors import (
    DamagedRecord,
    ForeignRecord,
    HeldRecord,
    RecordTrouble,
    UnwritableRecord,
)
from tracker.record import files

LEAST_ROOM = 64 * 1024
"""Bytes that the side files of a record take at the least."""


class FileKind(NamedTuple):
    """How sentences speak of a file, and what they advise."""

    called: str
    if_foreign: str
    if_damaged: str
    if_empty: str


RECORD = FileKind(
    "The record",
    "Name another file with --record, or move this one away.",
    "run tracker check, or bring back a backup with tracker restore",
    "bring back a backup with tracker restore, or remove it",
)
COPY = FileKind(
    "The copy", "Name a backup or another copy of a record.", "take another one", "take another one"
)
"""A file that was named to bring something back from, or in."""


def is_held(name: str) -> bool:
    """Whether an error, by SQLite's name for it, says that another program is in the way."""
    return name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))


def in_our_words(name: str, text: str, path: Path, kind: FileKind) -> RecordTrouble:
    """Our error for one of SQLite's: its name there, what it says, and the file it is about."""
    if is_held(name):
        holder = system.writer_of(files.index_of(path))
        by = f" ({holder})" if holder else ""
        return HeldRecord(
            f"{kind.called} {path} is held by another program{by}; nothing was kept. Close it and try again."
        )
    if name.startswith("SQLITE_READONLY"):
        return UnwritableRecord(
            f"{kind.called} {path} is read-only; nothing was kept. Give yourself leave to write it."
        )
    hindered = name.startswith(("SQLITE_CANTOPEN", "SQLITE_IOERR", "SQLITE_PERM"))
    if name.startswith("SQLITE_FULL") or (hindered and _is_full(path)):
        return UnwritableRecord(f"The disk of {path} is full; nothing was kept. Make room and try again.")
    if name.startswith("SQLITE_NOTADB"):
        return foreign(path, kind)
    if name.startswith("SQLITE_CORRUPT") or (not name and "decode" in text):  # a text that is none
        return DamagedRecord(f"{kind.called} {path} is damaged; {kind.if_damaged}.")
    if hindered:
        return UnwritableRecord(
            f"{kind.called} {path} cannot be opened or written; nothing was kept. "
            "Look at its folder and disk."
        )
    if name == "SQLITE_ERROR":  # the statements are right, so the tables are not as they were made
        return DamagedRecord(f"{kind.called} {path} is damaged ({text}); {kind.if_damaged}.")
    return RecordTrouble(f"{kind.called} {path} could not be used ({name}); nothing was kept.")


def _is_full(path: Path) -> bool:
    import shutil

    with suppress(OSError):
        return shutil.disk_usage(path.parent).free < LEAST_ROOM
    return False


def foreign(path: Path, kind: FileKind = RECORD) -> ForeignRecord:
    """The refusal of a file that is not ours; where a record lay once, the way back to it is named."""
    advice = kind.if_foreign
    if kind is RECORD and files.made_backups(path):
        folder = files.backups_folder(path)
        advice = f"Backups of the record that lay there are in {folder}; bring one back with tracker restore."
    if files.may_be_locked(path) and not files.is_noted_as_locked(path):
        line = "tracker lock" if kind is RECORD else f"tracker --record {path} lock"
        advice += (
            f" If it is a locked record that lost the note {files.lock_note(path).name}, "
            f"{line} mends that with its passphrase."
        )
    return ForeignRecord(f"{path} is not a record of this program; it was not touched. {advice}")
