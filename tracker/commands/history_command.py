"""`tracker history`."""

from __future__ import annotations

import click

from tracker.commands.common import open_record, read_day
from tracker.diary.answers import in_words
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.dates import short_day
from tracker.diary.days import Change, Entry

ROTAS = {"pattern": "from a pattern", "file": "from a rota file"}
"""Where a shift came from with a whole rota, by what its detail says."""


@click.command("history", epilog="\b\nExamples:\n  tracker history yesterday\n  tracker history 2026-03-12")
@click.argument("day")
@click.pass_context
def command(ctx: click.Context, day: str) -> None:
    """Every entry of a day: when it was made, what it says, from where; the last of each field stands.

    DAY is today, yesterday, mon to sun, or a date like 2026-03-17.
    """
    record = open_record(ctx, "refuse")
    wanted = read_day(day, record)
    entries = record.history(wanted)
    click.echo(f"{short_day(wanted)} {wanted.year}")
    if not entries:
        click.echo("Nothing was ever kept of this day.")
    turned_by = record.turned_by(wanted)
    for entry in entries:
        click.echo(line_of(entry, record.choices(), record.clock, turned_by.get(entry.batch, "")))


def line_of(entry: Entry, choices: Choices, clock: Clock, turned_by: str) -> str:
    """When, what, from where, and by undo or redo; a note in full, because only she asks for it."""
    local = clock.local(entry.recorded_at).strftime("%Y-%m-%d %H:%M")
    change = Change(entry.day, entry.field, entry.value, entry.state, entry.detail)
    what = (
        f"note: {entry.value}"
        if entry.field == "note" and entry.state == "kept"
        else in_words(change, choices)
    )
    return f"  {local}  {what} ({_origin(entry, turned_by)})"


def _origin(entry: Entry, turned_by: str) -> str:
    if turned_by and entry.state == "cleared":  # nothing stood before, so nobody typed it
        return f"by {turned_by}"
    source = ROTAS.get(entry.detail.get("by", ""), entry.source)
    return f"{source}, {entry.basis}{f', brought back by {turned_by}' if turned_by else ''}"
