"""`tracker demo`."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.named_record import refuse_missing_folder
from tracker.commands.open_app import lines_told, open_on
from tracker.demo import fill, last_sunday
from tracker.diary.errors import CannotWrite, TrackerError
from tracker.record.files import RECORD_NAME
from tracker.record.store import Record
from tracker.system import reason


@click.command("demo", epilog="\b\nExamples:\n  tracker demo\n  tracker demo --to invented.sqlite")
@click.option(
    "--to",
    "path",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Keep the invented record in a file, to try commands on it.",
)
def command(path: Path | None) -> None:
    """Open the app on two invented years, in a record that is thrown away.

    They are the days of a relief signaller on the Harrowmere line. Whatever you press, your own record
    is not touched.
    """
    if path is not None:
        _keep_in(path)
    elif not terminal.somebody_is_there():
        raise TrackerError(
            "tracker demo opens the app and needs a terminal; "
            "tracker demo --to FILE keeps its record in a file."
        )
    else:
        told = lines_told()
        with invented_record() as record:
            code = open_on(record, told, invented=True)
        sys.exit(code)


@contextmanager
def invented_record() -> Iterator[Record]:
    """The two years in a folder that only its owner can enter, and that goes at the end."""
    with _throw_away_folder() as folder:
        record = Record.open(Path(folder) / RECORD_NAME)
        try:
            fill(record, last_sunday(record.today()))
            yield record
        finally:
            record.close()


def _throw_away_folder() -> tempfile.TemporaryDirectory[str]:
    try:
        return tempfile.TemporaryDirectory(prefix="tracker-demo-", ignore_cleanup_errors=True)
    except OSError as error:
        raise CannotWrite(
            f"No folder for the invented record can be made: {reason(error)}. "
            "Set TMPDIR to a folder that can be written, or name a file: tracker demo --to FILE."
        ) from error


def _keep_in(path: Path) -> None:
    if path.exists():
        raise CannotWrite(f"{path} is there already; name a new file for the invented record.")
    refuse_missing_folder(path)
    with Record.open(path) as record:
        fill(record, last_sunday(record.today()))
    click.echo(f"{words.INVENTED} Kept in {path}; use it as: tracker --record {path}")
