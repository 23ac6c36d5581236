"""Passphrases of locked records: asked for where neither this process nor this login knows the key."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from tracker import system
from tracker.commands import terminal
from tracker.diary.errors import KeyNeeded, NobodyThere, TrackerError, UnknownValue
from tracker.record import files
from tracker.record.connection import key_of
from tracker.record.driver import need_sqlcipher

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey


TRIES = 3
"""How often a passphrase that does not open the record may be typed: what is not seen is easily mistyped."""


def have_key(path: Path, tries: int = TRIES) -> LockKey | None:
    """The key of a file that may be locked, None where it is not; its passphrase is asked for if need be.

    Raises UnknownValue where what is typed does not open it, NobodyThere where nobody can type.
    """
    try:
        return key_of(path)
    except KeyNeeded:
        return typed_key(path, tries)


def try_keys(backups: Iterable[Path]) -> None:
    """Ask for the passphrases of locked backups that are not known, once each; a wrong one lets them be."""
    from tracker.record import lock_keys

    asked = set()
    for backup in filter(files.may_be_locked, backups):
        salt = system.read_file(backup, lock_keys.SALT_BYTES)
        if salt not in asked:
            asked.add(salt)
            with suppress(TrackerError):
                have_key(backup, tries=1)


def typed_key(path: Path, tries: int = TRIES) -> LockKey:
    """The key of a locked file by its passphrase or recovery key, known from then on; raises the same."""
    import click

    from tracker.record import lock_keys, locking

    need_sqlcipher(path)
    if not terminal.somebody_is_there() and not (sys.stdin.isatty() and sys.stderr.isatty()):
        raise NobodyThere(
            f"{path} is locked, and nobody can type its passphrase here, because this is no terminal. "
            "Run tracker check in a terminal first: where the system can hold it for a login, that is enough."
        )
    typed = click.prompt(f"Passphrase or recovery key of {path.name}", hide_input=True, err=True)
    try:
        key = locking.proven(path, typed)
    except UnknownValue:
        if tries == 1:
            raise
        click.echo("That does not open it.", err=True)
        return typed_key(path, tries - 1)
    lock_keys.hold(key)
    return key
