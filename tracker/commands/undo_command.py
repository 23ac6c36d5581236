"""`tracker undo`."""

from __future__ import annotations

import click

from tracker.commands.shared import open_record


@click.command("undo", epilog="\b\nExamples:\n  tracker undo")
@click.pass_context
def command(ctx: click.Context) -> None:
    """Take the last action back; again and again, across restarts."""
    batch = open_record(ctx, "refuse").undo()
    click.echo(f"Taken back: {batch.what}. tracker redo brings it back.")
