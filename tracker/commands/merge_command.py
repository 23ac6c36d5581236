"""`tracker merge`."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.commands.merge_report import join_rows
from tracker.commands.shared import open_record, passphrase_for
from tracker.diary.errors import BrokenFile
from tracker.record import snapshots
from tracker.record.row_checks import all_rows, row_faults


@click.command(
    "merge", epilog="\b\nExamples:\n  tracker merge laptop.sqlite --dry-run\n  tracker merge laptop.sqlite"
)
@click.argument("other", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what would come in, and change nothing.")
@click.pass_context
def command(ctx: click.Context, /, other: Path, dry_run: bool) -> None:
    """Join another copy of the record to this one, and list what was kept differently on both.

    Both sides come to the same, whichever is joined to which. OTHER is not changed.
    """
    record = open_record(ctx, "empty" if dry_run else "begin")
    with snapshots.opened(snapshots.read(other, passphrase_for(other)), other, record.clock) as copy:
        theirs = all_rows(copy)
    faults = row_faults(theirs)
    if faults:
        raise BrokenFile(other, faults, "Nothing was joined; run tracker check on that copy.")
    join_rows(record, theirs, "merge", dry_run)
