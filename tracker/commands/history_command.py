"""`tracker history`."""

from __future__ import annotations

import click

from tracker.commands.shared import open_record, typed_day
from tracker.diary.answers import entry_in_words
from tracker.diary.dates import short_day


@click.command("history", epilog="\b\nExamples:\n  tracker history yesterday\n  tracker history 12 march")
@click.argument("day", nargs=-1, required=True)
@click.pass_context
def command(ctx: click.Context, day: tuple[str, ...]) -> None:
    """Every entry of a day: when it was made, what it says, from where; the last of each field stands.

    DAY is today, yesterday, mon to sun, 3 days ago, or a date like 17 March 2026 or 2026-03-17.
    """
    record = open_record(ctx, "refuse")
    wanted = typed_day(" ".join(day), record)
    entries, changes = record.history(wanted), record.change_history(wanted)
    click.echo(f"{short_day(wanted)} {wanted.year}")
    if not (entries or changes):
        click.echo("Nothing was ever kept of this day.")
    turned_by = record.turned_by(wanted)
    for entry in entries:
        said = entry_in_words(entry, record.choices(), record.clock, turned_by.get(entry.batch, ""))
        click.echo(f"  {said}")
    for change in changes:
        when = record.clock.local(change.recorded_at).strftime("%Y-%m-%d %H:%M")
        click.echo(f"  {when}  change: {change.words or 'taken away'}")
