"""`tracker backup`."""

from __future__ import annotations

from pathlib import Path

import click

from tracker import words
from tracker.commands.shared import new_passphrase, open_record
from tracker.commands.terminal import told_if_long
from tracker.diary.errors import CannotWrite
from tracker.record import backups, files, snapshots
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker backup
  tracker backup /media/stick/record-copy.sqlite
  tracker backup record-copy.sqlite.age
"""


@click.command("backup", epilog=EXAMPLES)
@click.argument("to", required=False, type=click.Path(dir_okay=False, path_type=Path))
@click.option("--force", is_flag=True, help="Write over a file that is there already.")
@click.pass_context
def command(ctx: click.Context, /, to: Path | None, force: bool) -> None:
    """Write a verified copy of the record to TO, locked with a passphrase if its name ends in .age.

    A copy of a locked record is locked as that is, whatever its name.

    Without TO: shows the backups that are made by themselves, one a day.
    """
    record = open_record(ctx, "refuse")
    if to is None:
        _list(record)
        return
    files.refuse_existing(to, force, record.path)
    if not to.parent.is_dir():
        raise CannotWrite(f"{to} cannot be written: the folder {to.parent} is not there.")
    if files.is_age_file(to):
        files.write_bytes(to, snapshots.encrypted(snapshots.as_bytes(record), new_passphrase()))
        click.echo(f"Wrote a copy to {to}, locked with your passphrase.")
    else:
        with told_if_long("Writing the copy and checking it"):
            if record.is_locked:
                files.note_as_locked(to)
            backups.write_copy(record, to)
        click.echo(f"Wrote a copy to {to}, and it is whole.")
        if record.is_locked:
            click.echo(f"It is locked as the record is; take {files.lock_note(to).name} along with it.")


def _list(record: Record) -> None:
    backups.keep_backups(record)
    there = files.made_backups(record.path)
    click.echo(f"{words.counted(len(there), 'backup')} in {files.backups_folder(record.path)}")
    for path in there:
        click.echo(f"  {path.name}")
