"""`tracker break`."""

from __future__ import annotations

from datetime import date

import click

from tracker import words
from tracker.commands.shared import open_record, typed_day, typed_days
from tracker.diary.breaks import Break, added, ended, removed
from tracker.diary.dates import long_day
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
@click.option("--end", is_flag=True, help="End the break that holds today; today is kept again.")
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
    breaks = added(record.choices().breaks, Break(first, last))
    span = next(span for span in breaks if span.from_day == first)
    kept = record.answered_days(*span)
    record.keep_breaks(breaks)
    click.echo(f"Marked a break {span}.{words.squares_in_a_break(kept)}")


def _end(record: Record) -> None:
    record.keep_breaks(ended(record.choices().breaks, record.today()))
    click.echo(f"The break has ended; {long_day(record.today())} is kept again.")


def _remove(record: Record, first: date) -> None:
    record.keep_breaks(removed(record.choices().breaks, first))
    click.echo(f"The break from {long_day(first)} is taken away.")


def _show(record: Record) -> None:
    breaks = record.choices().breaks
    click.echo("\n".join(map(str, breaks)) or "No break is marked.")
