"""Locking a record and its backups, and unlocking them: each file is written anew in its other form.

A file is at each moment whole, in its old form or the new. The note that a record is locked comes before the
locked file and goes after the last one, and alone it says nothing: so a cut at any moment leaves what can be
opened, and the same command finishes what was cut off.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tracker import system
from tracker.diary.errors import DamagedRecord, HeldRecord, TrackerError, UnknownValue
from tracker.record import erase, files, lock_keys
from tracker.record.connection import address, key_of, look_only, refuse_numbers
from tracker.record.driver import Connection
from tracker.record.lock_keys import LockKey


def lock(path: Path, key: LockKey) -> list[Path]:
    """Lock a record and its backups with a key, also those that were locked with another.

    Returns the backups that could not be read or written: they stay as they are. Raises HeldRecord when
    another program has the record open, CannotWrite or DamagedRecord; then it is as it was.
    """
    erase.refuse_other_names([*files.parts_of(path), *files.made_backups(path)], path)
    older = key_of(path)
    files.note_as_locked(path)
    _change_record(path, key)
    lock_keys.hold(key)
    left = change_backups(path, key)
    if older and older != key and not left:
        lock_keys.forget(older)
    return left


def unlock(path: Path) -> list[Path]:
    """Make a record and its backups plain ones; returns and raises as `lock` does."""
    erase.refuse_other_names([*files.parts_of(path), *files.made_backups(path)], path)
    older = key_of(path)
    if older:
        _change_record(path, None)
    left = change_backups(path, None)
    if not left:
        if older:
            lock_keys.forget(older)
        files.lock_note(path).unlink(missing_ok=True)
        system.sync_folder(path.parent)
    return left


def proven(path: Path, typed: str) -> LockKey:
    """The key that a passphrase or a recovery key is for a file.

    Raises UnknownValue where it does not open it, ForeignRecord or NewerRecord for what is not ours.
    """
    key = lock_keys.key_from(typed, system.read_file(path, lock_keys.SALT_BYTES))
    try:
        with Connection.to(address(path, "immutable=1"), path, key=key) as db:
            refuse_numbers(db.value("pragma application_id"), db.value("pragma user_version"), path)
    except DamagedRecord:
        raise UnknownValue(
            f"That does not open {path}; nothing was changed. If it is the right passphrase or recovery key, "
            "the file is damaged in its first page; bring back a backup with tracker restore."
        ) from None
    return key


def open_copies(path: Path) -> list[Path]:
    """The copies of a record that this program made and that are not locked, what was cut off included."""
    return [copy for copy in files.made_copies(path) if not files.may_be_locked(copy)]


def change_backups(path: Path, key: LockKey | None) -> list[Path]:
    """Write every backup anew, locked with a key or plain, and take away what was cut off.

    Returns those that could not be read or written.
    """
    left = [backup for backup in files.made_backups(path) if not _is_changed(backup, key, path)]
    erase.remove([copy for copy in files.made_copies(path) if copy.name.startswith(".")], path)
    return left


def _is_changed(backup: Path, key: LockKey | None, record: Path) -> bool:
    """Whether a backup has the wanted form now; one that cannot be read or written keeps its own."""
    try:
        stands = key_of(backup)
        if stands != key:
            with look_only(backup, key=stands) as db:
                _write_in_form(db, backup, key, record)
    except TrackerError:
        return False
    return True


def _change_record(path: Path, key: LockKey | None) -> None:
    with _alone(path) as db:
        _write_in_form(db, path, key, path)


@contextmanager
def _alone(path: Path) -> Iterator[Connection]:
    """A connection beside which no other can be: what it reads is the last there is."""
    with Connection.to(path, path, key=key_of(path), wait=1) as db:
        try:
            db.rows("pragma journal_mode = delete")  # which only the last connection can do
            db.execute("pragma locking_mode = exclusive")
            with db.transaction("exclusive"):
                db.value("pragma user_version")
        except HeldRecord as error:
            raise HeldRecord(
                f"Another program has {path} open; nothing was changed. Close it and try again."
            ) from error
        yield db


def _write_in_form(db: Connection, path: Path, key: LockKey | None, record: Path) -> None:
    with Connection.in_memory(path) as copy:
        db.copy_over(copy)
        if system.OPEN_FILES_KEEP_NAMES:
            db.close()
        erase.write_anew(path, copy, key, record)
