"""`tracker merge`."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.commands.merge_report import merge_copy, merge_options
from tracker.commands.shared import open_record, passphrase_for
from tracker.record import snapshots


@click.command(
    "merge", epilog="\b\nExamples:\n  tracker merge laptop.sqlite --dry-run\n  tracker merge laptop.sqlite"
)
@click.argument("other", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what would come in, and change nothing.")
@merge_options
@click.pass_context
def command(ctx: click.Context, /, other: Path, dry_run: bool, another: bool, yes: bool) -> None:
    """Join another copy of the record to this one, and list what was kept differently on both.

    Both sides come to the same, whichever is joined to which. OTHER is not changed.
    """
    record = open_record(ctx, "empty" if dry_run else "begin")
    with snapshots.opened(other, passphrase_for(other), record.clock) as copy:
        merge_copy(record, copy, "merge", dry_run, another, yes)
