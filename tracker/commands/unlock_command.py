"""`tracker unlock`."""

from __future__ import annotations

import click

from tracker import words
from tracker.commands.named_record import no_record
from tracker.commands.passphrases import have_key, try_keys
from tracker.commands.shared import agreed, record_path
from tracker.commands.terminal import told_if_long
from tracker.record import files, locking
from tracker.record.connection import refuse_what_is_not_ours

EXAMPLES = "\b\nExamples:\n  tracker unlock"


@click.command("unlock", epilog=EXAMPLES)
@click.option("--yes", is_flag=True, help="Go on without asking.")
@click.pass_context
def command(ctx: click.Context, /, yes: bool) -> None:
    """Make a locked record and its backups open ones again, for good.

    Just to open it no command is needed: whatever opens it asks for the passphrase.
    """
    path = record_path(ctx)
    if not files.is_there(path):
        raise no_record(path)
    refuse_what_is_not_ours(path)
    if not files.is_noted_as_locked(path):
        click.echo("The record is not locked.")
        return
    if not have_key(path):  # unlocking was cut off, so backups may be locked still
        try_keys(files.made_backups(path))
    if not agreed(f"Unlock {path} for good, so that whoever can open your files can read it?", yes):
        raise click.Abort
    with told_if_long("Unlocking the record and its backups"):
        left = locking.unlock(path)
    number = words.counted(len(files.made_backups(path)) - len(left), "backup")
    click.echo(f"Unlocked, with {number}. No passphrase is asked for any more.")
    if left:
        click.echo(words.left_as_they_are(", ".join(backup.name for backup in left), "unlock"))
