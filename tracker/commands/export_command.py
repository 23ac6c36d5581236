"""`tracker export`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from tracker import words
from tracker.commands.shared import STREAM, day_or_none, new_passphrase, open_record
from tracker.diary.answers import scale_span
from tracker.diary.choices import Choices
from tracker.diary.days import Day
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import GRIDS
from tracker.record import files
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker export days.csv
  tracker export days.csv --from 2025-01-01 --notes
  tracker export for-the-study.csv --guide
  tracker export record.json
  tracker export record.json.age
  tracker export - --from monday
"""


@click.command("export", epilog=EXAMPLES)
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--notes", is_flag=True, help="CSV: with your notes (left out otherwise).")
@click.option("--from", "first", metavar="DAY", help="CSV: first day.")
@click.option("--to", "last", metavar="DAY", help="CSV: last day.")
@click.option("--guide", is_flag=True, help="CSV: beside it, FILE.columns.txt says what the columns hold.")
@click.option("--json", "as_json", is_flag=True, help="With -: the whole record as JSON, not the days.")
@click.option("--force", is_flag=True, help="Write over a file that is there already.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    file: Path,
    notes: bool,
    first: str | None,
    last: str | None,
    guide: bool,
    as_json: bool,
    force: bool,
) -> None:
    """Write the days as CSV, or the whole record with its history as JSON, by the ending of FILE.

    With .age behind the ending the file is locked with a passphrase that you choose. With - for FILE they are
    printed, for another program to read.
    """
    if (as_json and file != STREAM) or (guide and file == STREAM):
        raise click.UsageError("--json goes with -, --guide with the name of a FILE.")
    record = open_record(ctx, "refuse")
    if file != STREAM:
        files.refuse_existing(file, force, record.path)
    if as_json or (file != STREAM and not _is_csv(file)):
        if notes or first or last or guide:
            raise click.UsageError("--notes, --from, --to and --guide are for CSV; JSON holds everything.")
        _write_whole(record, file)
        return
    span = (day_or_none(first, record), day_or_none(last, record))
    with record.db.reading():
        days, choices = list(record.days(*span).values()), record.choices()
    _write_days(choices, file, days, notes)
    if guide:
        _write_guide(record, file, days, force)


def _is_csv(file: Path) -> bool:
    """Whether a name is one for days, not for a whole record; raises UnknownValue where it is for neither."""
    ending = "".join(file.suffixes[-2:]) if files.is_age_file(file) else file.suffix
    if ending.casefold() not in (".csv", ".json", f".json{files.AGE}"):
        raise UnknownValue(f"{file} cannot be written: the name must end in .csv, .json or .json{files.AGE}.")
    return ending.casefold() == ".csv"


def _write(file: Path, data: bytes, told: str) -> None:
    """Write a file and say so, or give it to the program that reads."""
    if file == STREAM:
        sys.stdout.buffer.write(data)
    else:
        files.write_bytes(file, data)
        click.echo(told)


def _write_days(choices: Choices, file: Path, days: list[Day], notes: bool) -> None:
    from tracker.record.csv_days import days_as_csv, level_sets

    told = f"Wrote the days to {file}, {'with' if notes else 'without'} notes."
    _write(file, days_as_csv(days, choices, notes).encode(), told)
    for grid in GRIDS:
        scales = level_sets(days, choices, grid)
        if len(scales) > 1:
            spans = "; ".join(map(scale_span, scales))
            click.echo(
                f"{grid} was kept by {len(scales)} sets of levels ({spans}), and CSV does not say which is "
                "whose; --guide lists them, and JSON keeps them apart.",
                err=True,
            )


def _write_guide(record: Record, file: Path, days: list[Day], force: bool) -> None:
    from tracker.record.csv_days import column_guide

    beside = file.with_name(f"{file.name}.columns.txt")
    files.refuse_existing(beside, force, record.path)
    files.write_text(beside, column_guide(file.name, days, record.choices(), words.CAUTION))
    click.echo(f"Wrote what the columns hold to {beside}.")


def _write_whole(record: Record, file: Path) -> None:
    from tracker.commands.terminal import told_if_long
    from tracker.record.json_export import record_as_json
    from tracker.record.snapshots import encrypted

    with told_if_long("Exporting the record"):
        data = record_as_json(record).encode()
    locked = files.is_age_file(file)
    if locked:
        data = encrypted(data, new_passphrase())
    how = ", locked with your passphrase" if locked else ""
    _write(file, data, f"Wrote the whole record, history and notes included, to {file}{how}.")
