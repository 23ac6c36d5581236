"""`tracker lock`."""

from __future__ import annotations

from pathlib import Path

import click

from tracker import words
from tracker.commands.named_record import no_record
from tracker.commands.passphrases import have_key, try_keys, typed_key
from tracker.commands.shared import agreed, need_somebody, new_passphrase, record_path
from tracker.commands.terminal import told_if_long
from tracker.diary.errors import DamagedRecord
from tracker.record import files, lock_keys, locking
from tracker.record.connection import is_locked, refuse_what_is_not_ours
from tracker.record.driver import need_sqlcipher
from tracker.record.integrity import look_over
from tracker.record.lock_keys import LockKey
from tracker.record.store import Record

EXAMPLES = "\b\nExamples:\n  tracker lock\n  tracker lock --now\n  tracker lock --new-passphrase"
BEFOREHAND = """\
Encrypting the whole disk comes first: that covers everything. This covers the
record and its backups alone, for one who shares a computer.
Stays readable: exports, pages and copies that you wrote elsewhere, folders
that are synced to other machines, old blocks of a flash disk."""
LOST = """\
Whoever has neither the passphrase nor the recovery key has lost a locked
record and its backups; nobody can open it then. Four random words are a good
passphrase."""
ON_PAPER = """\
The recovery key opens it too. It is shown only now: write it down on paper,
and clear this window afterwards.

{}
"""
OLD_ONES = (
    "The old passphrase and the old recovery key no longer open it; copies elsewhere open with the old ones."
)
ASKED = {
    True: "The passphrase is asked for once a login; tracker lock --now forgets it.",
    False: "The passphrase is asked for at each opening: this system has no folder that goes with a login.",
}


@click.command("lock", epilog=EXAMPLES)
@click.option(
    "--now", is_flag=True, help="Let this login forget the passphrase: the next opening asks for it."
)
@click.option("--new-passphrase", "anew", is_flag=True, help="Lock it with another passphrase instead.")
@click.pass_context
def command(ctx: click.Context, /, now: bool, anew: bool) -> None:
    """Lock the record and its backups with a passphrase, for one who shares a computer.

    A recovery key is shown once, for paper. Whoever has neither of the two has lost the record.
    Finishes what was cut off, and lets a locked record that lost the note beside it be known as one again.
    """
    path = record_path(ctx)
    if now and anew:
        raise click.UsageError("--now and --new-passphrase do not go together")
    if now:
        _forget()
    elif not files.is_there(path):
        raise no_record(path)
    elif not files.is_noted_as_locked(path) and files.may_be_locked(path):
        _bring_note_back(path)
    elif not is_locked(path):
        _lock(path)
    elif anew:
        _lock_anew(path)
    else:
        _finish(path)


def _forget() -> None:
    lock_keys.forget_all()
    click.echo("Locked now: the next opening asks for the passphrase. Windows that are open stay open.")


def _bring_note_back(path: Path) -> None:
    need_sqlcipher(path)
    click.echo(
        f"{path} is no open record. If it is a locked one that lost the note {files.lock_note(path).name}, "
        "its passphrase brings that back."
    )
    typed_key(path)
    files.note_as_locked(path)
    click.echo("It is known as locked again.")


def _lock(path: Path) -> None:
    refuse_what_is_not_ours(path)
    need_sqlcipher(path)
    need_somebody("the passphrase of a record is typed at a terminal")
    Record.open(path).close()  # an older one is brought up to date first
    with told_if_long("Checking the record"):
        faults = look_over(path).faults
    if faults:
        raise DamagedRecord(f"The record {path} is damaged, so it was not locked; run tracker check.")
    click.echo(BEFOREHAND)
    _with_new_passphrase(path)


def _lock_anew(path: Path) -> None:
    need_somebody("the passphrase of a record is typed at a terminal")
    typed_key(path)
    _with_new_passphrase(path)
    click.echo(OLD_ONES)


def _with_new_passphrase(path: Path) -> None:
    key = lock_keys.new_key(new_passphrase(LOST))
    click.echo(ON_PAPER.format(_in_two_lines(key)))
    if not agreed("Is it written down, and shall the record be locked with it?", yes=False):
        raise click.Abort
    with told_if_long("Locking the record and its backups"):
        left = locking.lock(path, key)
    number = words.counted(len(files.made_backups(path)) - len(left), "backup")
    click.echo(f"Locked, with {number}. {ASKED[lock_keys.is_held_by_login()]}")
    _tell_left(path, left)


def _in_two_lines(key: LockKey) -> str:
    groups = key.recovery_key.split("-")
    half = len(groups) // 2
    return f"  {'-'.join(groups[:half])}-\n  {'-'.join(groups[half:])}"


def _finish(path: Path) -> None:
    """Lock what a cut left open, or locked with an older passphrase, of a locked record's backups."""
    key = have_key(path)
    try_keys(files.made_backups(path))
    before = locking.open_copies(path)
    left = locking.change_backups(path, key)
    done = len(before) - len(locking.open_copies(path))
    click.echo(
        f"Locked, or written over, {words.counted(done, 'copy', 'copies')} that had stayed open."
        if done
        else "It is locked already. tracker lock --new-passphrase locks it with another passphrase, "
        "tracker lock --now asks again, tracker unlock opens it for good."
    )
    _tell_left(path, left)


def _tell_left(path: Path, left: list[Path]) -> None:
    if left:
        click.echo(words.left_as_they_are(", ".join(backup.name for backup in left), "lock"))
    readable = [copy.name for copy in locking.open_copies(path)]
    if readable:
        click.echo(f"Readable beside it still: {', '.join(readable)}.")
