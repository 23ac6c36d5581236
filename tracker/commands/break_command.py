"""`tracker break`."""

from __future__ import annotations

from datetime import date, timedelta

import click

from tracker import words
from tracker.commands.shared import open_record, typed_day, typed_days
from tracker.diary.choices import Break
from tracker.diary.dates import long_day, short_day
from tracker.diary.errors import UnknownValue
from tracker.record.choice_rows import break_until, break_value
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker break 2026-04-01 2026-04-14
  tracker break 1 april to 14 april
  tracker break tomorrow
  tracker break --end
"""


@click.command("break", epilog=EXAMPLES)
@click.argument("days", nargs=-1, metavar="[FROM [TO]]")
@click.option("--end", is_flag=True, help="End the break that is going on; today is kept again.")
@click.option("--remove", metavar="FROM", help="Take away the break that begins on a day.")
@click.pass_context
def command(ctx: click.Context, /, days: tuple[str, ...], end: bool, remove: str | None) -> None:
    """Mark a time of not keeping: its squares do not wait. Without TO it goes on until you keep one again.

    Without anything: shows the breaks.
    """
    if sum((bool(days), end, bool(remove))) > 1:
        raise click.UsageError("Name a break, or --end, or --remove; one of them.")
    record = open_record(ctx, "begin" if days else "refuse")
    if days:
        _mark(record, *typed_days(days, record))
    elif end:
        _end(record)
    elif remove:
        _remove(record, typed_day(remove, record))
    else:
        _show(record)


def _mark(record: Record, first: date, last: date | None) -> None:
    if last is not None and last < first:
        raise UnknownValue(f"A break cannot end on {long_day(last)}, before it begins on {long_day(first)}.")
    span = Break(first, last)
    for other in record.choices().breaks:
        if first <= (other.to_day or date.max) and other.from_day <= (last or date.max):
            raise UnknownValue(f"It overlaps the break {spoken(other)}; --remove takes that one away.")
    kept = record.answered_days(first, last)
    record.choose(break_value(span))
    click.echo(f"Marked a break {spoken(span)}.{words.squares_in_a_break(kept)}")


def _end(record: Record) -> None:
    going_on = [span for span in record.choices().breaks if span.to_day is None]
    if not going_on:
        raise UnknownValue("No break is going on.")
    yesterday = record.today() - timedelta(days=1)
    values = {name: value for span in going_on for name, value in break_until(span, yesterday).items()}
    first = short_day(min(span.from_day for span in going_on))
    record.choose(values, words.end_of_break(first))
    click.echo(f"The break has ended; {long_day(record.today())} is kept again.")


def _remove(record: Record, first: date) -> None:
    if first not in [span.from_day for span in record.choices().breaks]:
        raise UnknownValue(f"No break begins on {long_day(first)}.")
    record.choose(dict.fromkeys(break_value(Break(first))), words.break_taken_away(short_day(first)))
    click.echo(f"The break from {long_day(first)} is taken away.")


def _show(record: Record) -> None:
    breaks = record.choices().breaks
    for span in breaks:
        click.echo(spoken(span))
    if not breaks:
        click.echo("No break is marked.")


def spoken(span: Break) -> str:
    """`from 1 April 2026 to 14 April 2026`."""
    end = f"to {long_day(span.to_day)}" if span.to_day else "until you keep a square again"
    return f"from {long_day(span.from_day)} {end}"
