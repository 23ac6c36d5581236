"""`tracker change`."""

from __future__ import annotations

from datetime import date

import click

from tracker.commands.shared import open_record, typed_day
from tracker.diary.changes import dated_change
from tracker.diary.dates import long_day
from tracker.diary.errors import UnknownValue
from tracker.diary.own_changes import DatedChange, change_on, noted_in_words
from tracker.record.change_rows import change_value, no_change_value
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker change
  tracker change today "tablets started"
  tracker change "14 september" "new post at Cawbrook Junction"
  tracker change "14 september" --off
"""


@click.command("change", epilog=EXAMPLES)
@click.argument("day", required=False)
@click.argument("words", nargs=-1)
@click.option("--off", is_flag=True, help="Take the change of the day away.")
@click.pass_context
def command(ctx: click.Context, /, day: str | None, words: tuple[str, ...], off: bool) -> None:
    """Note what changed on a day, in a few words; without anything shows all changes.

    Days before and after it are counted side by side and never judged. A DAY of several words stands in
    quotes.
    """
    if off and (words or day is None):
        raise click.UsageError("--off takes a DAY and no words.")
    record = open_record(ctx, "begin" if words else "refuse")
    if day is None:
        _show(list(record.choices().dated_changes))
    elif off:
        _take_away(record, typed_day(day, record))
    elif words:
        _note(record, dated_change(_day(day, record), " ".join(words), record.today()))
    else:
        _show([_standing(record, typed_day(day, record))])


def _day(text: str, record: Record) -> date:
    try:
        return typed_day(text, record)
    except UnknownValue as error:
        raise UnknownValue(
            f'{error} Here a day of several words stands in quotes, like "14 march".'
        ) from None


def _show(changes: list[DatedChange]) -> None:
    click.echo("\n".join(map(str, changes)) or "No change is noted.")


def _standing(record: Record, day: date) -> DatedChange:
    stands = change_on(day, record.choices().dated_changes)
    if stands is None:
        raise UnknownValue(f"No change is noted on {long_day(day)}.")
    return stands


def _take_away(record: Record, day: date) -> None:
    _standing(record, day)
    record.choose(no_change_value(day))
    click.echo(noted_in_words(day, "", None))


def _note(record: Record, change: DatedChange) -> None:
    stands = change_on(change.day, record.choices().dated_changes)
    if stands == change:
        click.echo(f"{change} stood so already; nothing was written.")
        return
    record.choose(change_value(change))
    click.echo(noted_in_words(*change, stands))
