"""`tracker export`."""

from __future__ import annotations

from pathlib import Path

import click

from tracker import words
from tracker.commands.common import new_words, open_record, read_day
from tracker.diary.errors import CannotWrite
from tracker.record import files
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker export days.csv
  tracker export days.csv --from 2025-01-01 --notes
  tracker export for-the-study.csv --guide
  tracker export record.json
  tracker export record.json.age
"""


@click.command("export", epilog=EXAMPLES)
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--notes", is_flag=True, help="CSV: with your notes (left out otherwise).")
@click.option("--from", "first", metavar="DAY", help="CSV: first day.")
@click.option("--to", "last", metavar="DAY", help="CSV: last day.")
@click.option("--guide", is_flag=True, help="CSV: beside it, FILE.columns.txt says what the columns hold.")
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
    force: bool,
) -> None:
    """Write the days as CSV, or the whole record with its history as JSON, by the ending of FILE.

    With .age behind the ending the file is locked with words that you choose.
    """
    record = open_record(ctx)
    files.refuse_existing(file, force, record.path)
    ending = "".join(file.suffixes[-2:]) if file.suffix == ".age" else file.suffix
    if ending.casefold() not in (".csv", ".json", ".json.age"):
        raise CannotWrite(f"{file} cannot be written: the name must end in .csv, .json or .json.age.")
    if ending.casefold() != ".csv":
        if notes or first or last or guide:
            raise click.UsageError("--notes, --from, --to and --guide are for CSV; JSON holds everything.")
        _write_whole(record, file)
        return
    _write_days(record, file, notes, first, last)
    if guide:
        _write_guide(record, file, force)


def _write_days(record: Record, file: Path, notes: bool, first: str | None, last: str | None) -> None:
    from tracker.record.exchange import days_as_csv

    span = (read_day(first, record) if first else None, read_day(last, record) if last else None)
    text = days_as_csv(record.days(*span).values(), record.choices(), notes)
    files.write_text(file, text)
    click.echo(f"Wrote the days to {file}, {'with' if notes else 'without'} notes.")


def _write_guide(record: Record, file: Path, force: bool) -> None:
    from tracker.record.exchange import column_guide

    beside = file.with_name(f"{file.name}.columns.txt")
    files.refuse_existing(beside, force, record.path)
    files.write_text(beside, column_guide(file.name, record.choices(), words.CAUTION))
    click.echo(f"Wrote what the columns hold to {beside}.")


def _write_whole(record: Record, file: Path) -> None:
    from tracker.record.copies import LOCKED, lock
    from tracker.record.whole import record_as_json

    data = record_as_json(record).encode()
    locked = file.suffix == LOCKED
    if locked:
        data = lock(data, new_words())
    files.write_bytes(file, data)
    how = ", locked with your words" if locked else ""
    click.echo(f"Wrote the whole record, history and notes included, to {file}{how}.")
