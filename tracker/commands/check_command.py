"""`tracker check`."""

from __future__ import annotations

import sys
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

import click

from tracker import words
from tracker.commands.named_record import no_record
from tracker.commands.passphrases import have_key
from tracker.commands.shared import counted_rows, first_of, record_path, with_bar
from tracker.commands.terminal import told_if_long
from tracker.diary.errors import UnwritableRecord
from tracker.record import backups, files
from tracker.record.connection import refuse_what_is_not_ours
from tracker.record.integrity import Report, copy_faults, look_over

WELL_BUT_ONLY_LOOKED_AT = (
    "What it holds is well, but it could only be looked at: no room on the disk, or no leave to write. "
    "Until that is mended nothing can be kept in it."
)
FEW_BACKUPS = 3
"""Backups that are looked at in less than a second."""


@click.command("check", epilog="\b\nExamples:\n  tracker check\n  tracker --record copy.sqlite check")
@click.pass_context
def command(ctx: click.Context) -> None:
    """Look whether the record is whole: the file, every row, and the days that come of them.

    Prints what it holds and a digest; two copies with the same digest hold the same.
    """
    path = record_path(ctx)
    if not files.is_there(path):
        raise no_record(path)
    refuse_what_is_not_ours(path)
    key = have_key(path)
    with told_if_long("Checking the record"):
        report = look_over(path)
    click.echo(f"The record {path}")
    locked = _what_stays_open(path) if key else []
    for line in (*report.mended, *_what_it_holds(report), *locked, _last_backup(ctx)):
        click.echo(line)
    broken = _broken_backups(path)
    if report.faults:
        _refuse(report.faults, "The record is not whole; tracker restore brings a backup back.")
    if broken:
        _refuse(broken, "The record is whole, but not all of its backups; none of these can be brought back.")
    click.echo(WELL_BUT_ONLY_LOOKED_AT if report.read_only else "All is well.")


def _what_stays_open(path: Path) -> list[str]:
    """That a record is locked, and which copies of it are not."""
    from tracker.record.locking import open_copies

    there = [copy.name for copy in open_copies(path)]
    readable = (
        [f"Not locked are {words.listed(there)}; tracker lock locks what can be read."] if there else []
    )
    return ["It is locked.", *readable]


def _refuse(faults: list[str], sentence: str) -> NoReturn:
    for line in (*first_of(faults), sentence):
        click.echo(line, err=True)
    sys.exit(1)


def _broken_backups(path: Path) -> list[str]:
    """What is wrong with the backups, a sentence each."""
    with suppress(UnwritableRecord):  # that they cannot be looked at is said already
        there = files.made_backups(path)
        found = {
            backup: copy_faults(backup) for backup in with_bar(there, FEW_BACKUPS, "Checking the backups")
        }
        return [
            f"The backup {backup.name} is damaged. {faults[0]}" for backup, faults in found.items() if faults
        ]
    return []


def _what_it_holds(report: Report) -> list[str]:
    counts = report.counts
    if not counts:
        return []
    held = counted_rows(counts)
    digest = [f"Digest {report.digest}"] if report.digest else []
    return [f"holds {words.listed([words.counted(counts['days'], 'day'), *held])}.", *digest]


def _last_backup(ctx: click.Context) -> str:
    path = record_path(ctx)
    folder = files.backups_folder(path)
    try:
        there = backups.dated(path)
    except UnwritableRecord as error:
        return str(error)
    if not there:
        return f"There is no backup yet; the first one will lie in {folder}."
    return f"Last backup {max(there)}, of {len(there)} in {folder}."
