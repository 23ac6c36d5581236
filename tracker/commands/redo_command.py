"""`tracker redo`."""

from __future__ import annotations

import click

from tracker.commands.shared import open_record


@click.command("redo", epilog="\b\nExamples:\n  tracker redo")
@click.pass_context
def command(ctx: click.Context) -> None:
    """Bring back what was last taken back, unless something was kept since."""
    batch = open_record(ctx, "refuse").redo()
    click.echo(f"Brought back: {batch.what}.")
