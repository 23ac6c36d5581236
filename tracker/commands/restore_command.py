"""`tracker restore`."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import click

from tracker import words
from tracker.commands.named_record import begun, opened
from tracker.commands.shared import (
    LISTED,
    agreed,
    counted_rows,
    first_of,
    passphrase_for,
    record_path,
    say_dry_run,
)
from tracker.diary.errors import DamagedRecord, ForeignRecord
from tracker.record import snapshots
from tracker.record.backups import beforehand
from tracker.record.files import is_there, made_backups
from tracker.record.row_checks import Rows, all_rows, named, row_faults
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker restore ~/.local/share/tracker-days/record.sqlite-backups/record-2026-03-10.sqlite --dry-run
  tracker restore record-copy.sqlite.age
"""
NOTHING_TO_BRING = "Nothing would change: both hold the same entries and settings."


@click.command("restore", epilog=EXAMPLES)
@click.argument("source", metavar="FROM", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what would change, and change nothing.")
@click.option("--yes", is_flag=True, help="Go on without asking.")
@click.pass_context
def command(ctx: click.Context, /, source: Path, dry_run: bool, yes: bool) -> None:
    """Bring the record back to what a backup holds, after saying what would change.

    The record as it is now is copied first, so that this can be taken back the same way.
    """
    with snapshots.opened(snapshots.read(source, passphrase_for(source)), source) as copy:
        try:
            record = _readable(opened(ctx.find_root().obj, "empty"), ctx)
        except (DamagedRecord, ForeignRecord) as refused:
            path = record_path(ctx)
            if isinstance(refused, ForeignRecord) and not _was_a_record(path):
                raise
            _over_a_damaged_one(path, copy, dry_run, yes)
            return
        now, then = all_rows(record), all_rows(copy)
        changes = list(_what_changes(now, then))
        held = f"The copy holds {words.counted(len(copy.days()), 'day')}, the record {len(record.days())}."
        for line in (*_what_is_wrong(then), held, *(changes or [NOTHING_TO_BRING])):
            click.echo(line)
        if dry_run:
            say_dry_run()
        elif (changes or not is_there(record.path)) and agreed("Bring it back?", yes):
            if not is_there(record.path):
                record = _readable(begun(ctx.find_root().obj), ctx)
            aside = None if record.is_empty() else beforehand(record, "restore")
            snapshots.put_back(record, copy)
            click.echo(f"Brought back.{f' The record as it was is kept in {aside}.' if aside else ''}")


def _readable(record: Record, ctx: click.Context) -> Record:
    """The record, if all of it can be read; closed when the command ends."""
    try:
        record.days()
        all_rows(record)
    except DamagedRecord:
        record.close()
        raise
    ctx.call_on_close(record.close)
    return record


def _was_a_record(path: Path) -> bool:
    """Whether what lies there, unreadable from its first byte on, has backups of a record beside it."""
    return path.is_file() and bool(made_backups(path))


def _over_a_damaged_one(path: Path, copy: Record, dry_run: bool, yes: bool) -> None:
    for line in _what_is_wrong(all_rows(copy)):
        click.echo(line)
    click.echo(
        f"The record {path} is damaged or empty. The copy holds {words.counted(len(copy.days()), 'day')}."
    )
    if not dry_run and agreed("Put the copy in its place?", yes):
        damaged = snapshots.put_in_place(copy, path)
        click.echo(f"Brought back. What lay there stands beside it as {damaged.name}.")


def _what_is_wrong(rows: Rows) -> Iterator[str]:
    """What a look at every row of the copy finds; the only copy there is may still be wanted."""
    faults = row_faults(rows)
    yield from first_of([str(fault) for fault in faults])
    if faults:
        number = words.counted(len(faults), "fault")
        yield f"The copy is not whole: {number}. Take another one if there is one."


def _beyond(rows: Rows, others: Rows, table: str) -> list[dict[str, Any]]:
    """The rows of a table that are not among the others."""
    there = {row[0] for row in others[table]}
    return [named(table, row) for row in rows[table] if row[0] not in there]


def _what_changes(now: Rows, then: Rows) -> Iterator[str]:
    """What would be otherwise if the rows of now gave way to those of then; nothing where it would not."""
    lost, found = _beyond(now, then, "entry"), _beyond(then, now, "entry")
    gone, come = (len(_beyond(*rows, "choice")) for rows in ((now, then), (then, now)))
    goes = words.listed(counted_rows({"entry": len(lost), "choice": gone}))
    comes = words.listed(counted_rows({"entry": len(found), "choice": come}))
    if goes:
        yield f"Would go, because the copy lacks them: {goes}."
    if comes:
        yield f"Would come, because the copy alone holds them: {comes}."
    days = sorted({date.fromisoformat(entry["day"]) for entry in [*lost, *found]})
    if days:
        listed = ", ".join(day.isoformat() for day in days[:LISTED])
        yield f"Days: {listed}{' ...' if len(days) > LISTED else ''}"
    if _beyond(now, then, "erased"):
        yield "Days that were erased since would come back."
