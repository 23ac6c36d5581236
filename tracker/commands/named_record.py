"""Which record a call is about, and what becomes of it where there is none yet."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

from tracker.commands import terminal
from tracker.commands.passphrases import have_key
from tracker.diary.clock import Clock
from tracker.diary.errors import UnwritableRecord
from tracker.record.files import at_its_end, backups_folder, default_record, is_there, made_backups
from tracker.record.store import Record

IfMissing = Literal["begin now", "begin", "refuse", "empty"]
"""Begin a record at once, or with the first thing that is kept in it; refuse the call; or go on with an empty
record that is nowhere kept."""


class Unbegun(Record):
    """A record that is not there yet: its file is made with the first thing that is kept in it."""

    is_named = False
    """Whether somebody gave its place: then no folder is made for it, and that it begins is told."""
    is_begun = False

    def create_file(self) -> None:
        """Make its file.

        Raises UnwritableRecord where the folder of a name is not there.
        """
        if self.is_named:
            refuse_missing_folder(self.path)
        super().create_file()
        self.is_begun = True
        if self.is_named:
            terminal.say(f"A new record was begun in {self.path}.")

    def prepare(self) -> None:
        """Make ready for writing, as any record does."""
        if not self.is_begun:
            self.create_file()
        super().prepare()

    def changed_elsewhere(self) -> bool:
        """Whether another program began the record meanwhile, or wrote to it since this was last asked."""
        return super().changed_elsewhere() if self.is_begun else is_there(self.path)


def opened(named: Path | None, if_missing: IfMissing, clock: Clock | None = None) -> Record:
    """The record of a call: the one that is named, or that in the platform's place.

    A name is easily mistyped: a record that is begun under one is told of, no folder is made for it, and
    whoever only reads is refused. In the platform's place nothing is refused, unless a link leads away from
    it: then the place it names may be one that is not there just now, as on a stick. Where backups tell that
    a record was lost, none is begun in its place.

    Raises UnwritableRecord where there is none and none may be begun; RecordTrouble as `Record.open` does;
    what asking for the passphrase of a locked one raises.
    """
    path = place_of(named)
    is_missing = not is_there(path)
    if is_missing and if_missing != "empty":
        refuse_after_a_loss(path)
    if is_missing and (if_missing == "empty" or (if_missing == "refuse" and not _is_named(named))):
        return Record.empty(path, clock)
    if is_missing and if_missing == "refuse":
        raise no_record(path)
    if is_missing and if_missing == "begin":
        return _unbegun(named, clock)
    if is_missing:
        return begun(named, clock)
    have_key(path)
    return Record.open(path, clock)


def begun(named: Path | None, clock: Clock | None = None) -> Record:
    """A new record, told of where it is begun under a name.

    Raises UnwritableRecord where the folder of the name is not there.
    """
    record = _unbegun(named, clock)
    try:
        record.create_file()
    except BaseException:
        record.close()
        raise
    return record


def _unbegun(named: Path | None, clock: Clock | None) -> Unbegun:
    path, is_named = place_of(named), _is_named(named)
    if is_named:
        refuse_missing_folder(path)
    record = Unbegun.empty(path, clock)
    record.is_named = is_named
    return record


def _is_named(named: Path | None) -> bool:
    """Whether somebody named the place of the record, by a link too."""
    usual = default_record()
    return named is not None or usual.is_symlink() or usual.parent.is_symlink()


def place_of(named: Path | None) -> Path:
    """Where the record lies that is named, or the platform's place."""
    return at_its_end(named or default_record())


def named_outside() -> Path | None:
    """The record that the environment names."""
    named = os.environ.get(terminal.RECORD_NAMED)
    return Path(named) if named else None


def no_record(path: Path) -> UnwritableRecord:
    """The refusal of a call that needs a record where there is none."""
    return UnwritableRecord(f"There is no record at {path}; look at the name, or begin one with tracker put.")


def refuse_after_a_loss(path: Path) -> None:
    """Raise UnwritableRecord where backups of a record lie and the record itself does not."""
    if made_backups(path):
        raise UnwritableRecord(
            f"There is no record at {path} any more, but backups of it lie in {backups_folder(path)}. "
            "Bring one back with tracker restore, or move that folder away to begin anew."
        )


def refuse_missing_folder(path: Path) -> None:
    """Raise UnwritableRecord where the folder of a record to be begun is not there."""
    if not path.parent.is_dir():
        raise UnwritableRecord(
            f"No record was begun in {path}, because there is no folder {path.parent}; "
            "look at the name, or make the folder first."
        )
