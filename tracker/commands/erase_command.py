"""`tracker erase`."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from tracker import words
from tracker.commands.passphrases import have_key
from tracker.commands.shared import agreed, open_record, record_path, typed_day
from tracker.diary.dates import long_day
from tracker.diary.days import FIELDS
from tracker.diary.errors import UnknownValue, UnwritableRecord
from tracker.diary.own_changes import changes_within
from tracker.record import erase, files
from tracker.record.backups import keep_backups
from tracker.record.connection import refuse_what_is_not_ours
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker erase 2026-03-12
  tracker erase 2026-03-01 2026-03-12 --backups
  tracker erase --everything --backups
"""
NOTHING = "Nothing was ever kept of {}; no copy that is merged brings anything of it now"
OUT_OF_REACH = (
    "Out of reach: copies and exports elsewhere, folders that are synced to other machines,",
    "snapshots of the disk, and old blocks of a flash disk.",
)


@click.command("erase", epilog=EXAMPLES)
@click.argument("first", metavar="[DAY", required=False)
@click.argument("last", metavar="[DAY]]", required=False)
@click.option("--everything", is_flag=True, help="Erase the whole record.")
@click.option("--backups", "and_backups", is_flag=True, help="Erase it from the backups of this program too.")
@click.option("--yes", is_flag=True, help="Go on without asking.")
@click.pass_context
def command(
    ctx: click.Context, /, first: str | None, last: str | None, everything: bool, and_backups: bool, yes: bool
) -> None:
    """Erase a day, the days from one to another, or everything; for good, history included.

    Undo cannot take this back. To change or clear a square, use tracker put.
    """
    if everything == bool(first):
        raise click.UsageError("Name a day, or --everything.")
    if everything:
        _everything(record_path(ctx), and_backups, yes)
    else:
        _days(ctx, first or "", last, and_backups, yes)
    for line in OUT_OF_REACH:
        click.echo(line)


def _days(ctx: click.Context, first: str, last: str | None, and_backups: bool, yes: bool) -> None:
    _refuse_where_there_is_none(record_path(ctx))
    record = open_record(ctx, "refuse")
    begin = typed_day(first, record)
    end = typed_day(last, record) if last else begin
    if end < begin:
        raise UnknownValue(f"There is no day from {long_day(begin)} to {long_day(end)}.")
    span = long_day(begin) if begin == end else f"{long_day(begin)} to {long_day(end)}"
    entries = _entries(record, begin, end)
    question = (
        f"Erase {entries} of {span} for good?"
        if entries
        else f"Nothing was ever kept of {span}. Erase it all the same, so that no merged copy brings it?"
    )
    if not agreed(question, yes):
        raise click.Abort
    erased = erase.erase_days(record, begin, end)
    done = f"Erased {entries} of {words.counted(erased.days, 'day')}" if entries else NOTHING.format(span)
    click.echo(f"{done}.")
    if not and_backups:
        _backups(record.path, and_backups)
        return
    anew, gone = erase.erase_in_backups(record)
    click.echo(f"Erased from {words.counted(anew, 'backup')} too.")
    if gone:
        click.echo(f"Erased {words.counted(gone, 'damaged copy', 'damaged copies')} as a whole.")
    keep_backups(record)


def _entries(record: Record, first: date, last: date) -> str:
    """How many entries would go, dated changes too, and how many of them stand no longer; or nothing."""
    number = len(record.history(first, last)) + len(record.change_history(first, last))
    if not number:
        return ""
    stand = len(changes_within(first, last, record.choices().dated_changes)) + sum(
        day.square(field) is not None for day in record.days(first, last).values() for field in FIELDS
    )
    older = f" ({number - stand} of them changed or taken back since)" if number > stand else ""
    return words.counted(number, "entry", "entries") + older


def _everything(path: Path, and_backups: bool, yes: bool) -> None:
    if and_backups and not files.is_there(path) and files.made_copies(path):
        _backups_alone(path, yes)
        return
    _refuse_where_there_is_none(path)
    refuse_what_is_not_ours(path)
    have_key(path)
    if not agreed(f"Erase the whole record {path} for good?", yes):
        raise click.Abort
    removed = erase.erase_everything(path)
    click.echo(f"Erased {', '.join(str(part) for part in removed)}.")
    _backups(path, and_backups)


def _backups_alone(path: Path, yes: bool) -> None:
    """Erase what is left of a record that is gone already."""
    if not agreed(f"Erase the backups of the record that lay at {path} for good?", yes):
        raise click.Abort
    _backups(path, and_backups=True)


def _refuse_where_there_is_none(path: Path) -> None:
    if not files.is_there(path):
        advice = "look at the name."
        if files.made_copies(path):
            advice = (
                "copies of one that lay there are left: tracker erase --everything --backups erases them."
            )
        raise UnwritableRecord(f"There is no record at {path}, so nothing was erased; {advice}")


def _backups(path: Path, and_backups: bool) -> None:
    if and_backups:
        click.echo(f"Erased {words.counted(len(erase.erase_backups(path)), 'backup')}.")
        return
    there = files.made_copies(path)
    if there:
        folder = files.backups_folder(path)
        click.echo(
            f"{words.counted(len(there), 'backup')} in {folder} may still hold it; --backups erases them too."
        )
