"""`tracker import`."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date
from functools import partial
from pathlib import Path

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.merge_report import merge_copy, merge_options
from tracker.commands.shared import (
    STREAM,
    first_of,
    open_record,
    passphrase_for,
    say_dry_run,
    tell_earlier_beginning,
    with_bar,
)
from tracker.diary.answers import RESTS_AS, days_in_words, in_words
from tracker.diary.choices import Choices
from tracker.diary.days import Basis, Change, Day, Square
from tracker.record.csv_days import (
    COLUMNS,
    DaysReader,
    HowToRead,
    ImportPlan,
    Order,
    decoded,
    has_columns_of_others,
    has_sleep,
    plan,
    read_days,
    text_of,
)
from tracker.record.files import is_age_file
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker import days.csv --dry-run
  tracker import days.csv
  tracker import paper-2024.csv --paper --dates DMY --column sleep=Schlaf
  tracker import record.json
  tracker --record other.sqlite export - | tracker import -
"""
LONG_WORK = 3000
"""Rows from which on a bar shows how far it has come."""
READING = partial(with_bar, few=LONG_WORK, what="Reading the file")
KEEPING = partial(with_bar, few=LONG_WORK, what="Keeping the days")
NOUNS = {"mood": "square", "sleep": "square", "anxious": "mark", "shift": "shift", "note": "note"}
"""What a field of a day is counted as."""


@click.command("import", epilog=EXAMPLES)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, allow_dash=True, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what would be kept, and keep nothing.")
@click.option("--replace", is_flag=True, help="Let the file win where a square is kept already.")
@click.option("--paper", "basis", flag_value="paper", help="Copied from a record made at the time.")
@click.option("--remembered", "basis", flag_value="remembered", help="Written down from memory.")
@click.option(
    "--sleep-under",
    type=click.Choice(["getting-up", "going-to-bed"]),
    help="Whether a sleep stands under the date of getting up, or of going to bed.",
)
@click.option("--dates", type=click.Choice(["YMD", "DMY", "MDY"]), default="YMD", help="Order of the dates.")
@click.option("--column", "columns", multiple=True, metavar="OURS=THEIRS", help="Name a column of the file.")
@click.option("--ignore-columns", is_flag=True, help="Pass over columns that are not known.")
@click.option(
    "--unmarked",
    type=click.Choice(["not-anxious", "not-noted"]),
    help="What a mood without the anxious mark means (not-noted, if left out).",
)
@merge_options
@click.pass_context
def command(
    ctx: click.Context,
    /,
    file: Path,
    dry_run: bool,
    replace: bool,
    basis: Basis | None,
    sleep_under: str | None,
    dates: Order,
    columns: tuple[str, ...],
    ignore_columns: bool,
    unmarked: str | None,
    another: bool,
    yes: bool,
) -> None:
    """Take days from a CSV file, or a whole record from JSON, by the ending of FILE.

    With - for FILE they come from another program; what begins with a brace is JSON.

    A square that is kept already is never written over, unless with --replace.

    \b
    A CSV file has one row a day, its cells parted by commas, semicolons or tabs,
    and some of these columns; only the date must be there:
      date     2026-03-17 or 17.3.2026; --dates names another order
      mood     number or label of the level, or ? for could not say
      sleep    hours, put into their bucket, or its label, or ?
      hours    exact hours slept, kept as they are
      anxious  yes or no
      shift    code or label of the kind of shift
      note     your own words
    """
    record = open_record(ctx, "empty" if dry_run else "begin")
    text = _text_of(file)
    if file == STREAM:
        file = Path("standard input.json" if text.lstrip().startswith("{") else "standard input")
    if file.suffix.casefold() == ".json" or is_age_file(file):
        _take_whole(record, text, file, dry_run, another, yes)
        return
    named = HowToRead(columns=_columns(columns), ignore_others=ignore_columns, dates=dates)
    how = HowToRead(
        named.columns,
        ignore_columns,
        dates,
        under_going_to_bed=_under_going_to_bed(sleep_under, text, named),
        not_anxious=unmarked == "not-anxious",
    )
    standing = record.days()
    changes = _read(record, standing, text, file, how, asks=unmarked is None and basis == "paper")
    planned = plan(changes, standing, basis)
    _say_plan(planned, record, basis, replace)
    if dry_run:
        say_dry_run()
    else:
        _keep(record, planned, standing, file, basis, replace)


def _read(
    record: Record, standing: Mapping[date, Day], text: str, file: Path, how: HowToRead, asks: bool
) -> list[Change]:
    """What a file of days says; with `asks`, what unmarked days mean is asked where there are any."""

    def read(how: HowToRead) -> list[Change]:
        return read_days(text, file, DaysReader(record.choices(), record.clock, how, standing), READING)

    changes = read(how)
    if asks and _unmarked_is_not_anxious(changes, standing):
        return read(how._replace(not_anxious=True))
    return changes


def _keep(
    record: Record,
    planned: ImportPlan,
    standing: Mapping[date, Day],
    file: Path,
    basis: Basis | None,
    replace: bool,
) -> None:
    over = [change for change, _ in planned.differing] if replace else []
    wanted = [*planned.new, *over, *planned.rebased]
    began, batch = record.first_day(), None
    if wanted:
        what, at = f"import of {file.name}, {days_in_words(wanted)}", basis or "at the time"
        batch = record.keep(
            wanted, what, "imported", at, over=replace, rebase=basis is not None, watched=KEEPING,
            standing=lambda day: standing.get(day) or Day(day), checked=True,
        )  # fmt: skip
    if batch is None:
        click.echo("Nothing was kept.")
    else:
        them = "it" if len(wanted) == 1 else "them"
        click.echo(f"Kept {_counted(wanted)}. tracker undo takes {them} back.")
        tell_earlier_beginning(record, began)


def _counted(changes: Iterable[Change]) -> str:
    """`4 squares and 1 shift`."""
    counts = Counter(NOUNS[change.field] for change in changes)
    return words.listed([words.counted(number, noun) for noun, number in counts.items()])


def _say_plan(planned: ImportPlan, record: Record, basis: Basis | None, replace: bool) -> None:
    days = sorted({change.day for change in planned.new} | {change.day for change, _ in planned.differing})
    span = f", {days[0]} to {days[-1]}" if days else ""
    click.echo(
        f"{_counted(planned.new) or 'Nothing'} new, {planned.same} as they stand, "
        f"{words.counted(len(planned.differing), 'that differs', 'that differ')}{span}."
    )
    if basis and planned.rebased:
        click.echo(f"{_counted(planned.rebased)} as they stand, {RESTS_AS[basis]} from now on.")
    choices = record.choices()
    for line in first_of([_difference(*pair, choices) for pair in planned.differing]):
        click.echo(line)
    if planned.differing:
        click.echo(
            "The file's are taken." if replace else "These stay as they stand; --replace takes the file's."
        )


def _difference(change: Change, square: Square, choices: Choices) -> str:
    stands = square.change(change.day, change.field)
    return f"  {change.day}: {in_words(stands, choices)} stands; the file has {in_words(change, choices)}."


def _columns(pairs: tuple[str, ...]) -> dict[str, str]:
    named: dict[str, str] = {}
    for pair in pairs:
        ours, parted, theirs = pair.partition("=")
        if ours not in COLUMNS or not parted or not theirs:
            raise click.UsageError(
                f"--column takes OURS=THEIRS with one of {', '.join(COLUMNS)}, not '{pair}'."
            )
        if theirs in named.values():
            raise click.UsageError(f"--column names '{theirs}' twice; a column can be one of ours only.")
        named[ours] = theirs
    return named


def _under_going_to_bed(given: str | None, text: str, how: HowToRead) -> bool:
    """One day off would turn what is found round; so a foreign file is asked about."""
    if given or not has_sleep(text, how):
        return given == "going-to-bed"
    if has_columns_of_others(text, how) and terminal.somebody_is_there():
        answer: str = click.prompt(
            "Does a sleep stand under the date of getting up, or of going to bed?",
            type=click.Choice(["getting-up", "going-to-bed"]),
        )
        return answer == "going-to-bed"
    click.echo(
        "Each sleep is taken as that of the day of getting up; --sleep-under going-to-bed moves it.", err=True
    )
    return False


def _unmarked_is_not_anxious(changes: Iterable[Change], standing: Mapping[date, Day]) -> bool:
    """A paper year may mean it either way, so it is asked about where a mood has no mark beside it."""
    kept = [change for change in changes if change.state == "kept"]
    marked = {change.day for change in kept if change.field == "anxious"}
    unmarked = {change.day for change in kept if change.field == "mood"} - marked
    waits = any(standing.get(day, Day(day)).anxious is None for day in unmarked)
    return (
        waits
        and terminal.somebody_is_there()
        and click.confirm("Does a day without the anxious mark mean a day that was not anxious?")
    )


def _take_whole(record: Record, text: str, file: Path, dry_run: bool, another: bool, yes: bool) -> None:
    """Join the rows of an export to the record, which is copied first: undo cannot take this back."""
    from tracker.record.json_export import record_from_json

    with record_from_json(text, file, record.clock) as copy:
        merge_copy(record, copy, "import", dry_run, another, yes)


def _text_of(file: Path) -> str:
    """What a file holds, or what comes in, unlocked."""
    from tracker.record.snapshots import decrypted, read_file

    if file == STREAM:
        return decoded(sys.stdin.buffer.read(), Path("standard input"))
    if not is_age_file(file):
        return text_of(file)
    return decrypted(read_file(file), passphrase_for(file)).decode("utf-8", "replace")
