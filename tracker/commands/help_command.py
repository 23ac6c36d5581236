"""`tracker help`."""

from __future__ import annotations

import click

from tracker.commands.shared import open_record
from tracker.diary.help_page import help_page

EXAMPLES = """\b
Examples:
  tracker help
  tracker help --own "My practice: 01632 960 011" --own "My sister"
  tracker put --help
"""


@click.command("help", epilog=EXAMPLES)
@click.option(
    "--own", multiple=True, metavar="LINE", help="A line of your own, shown first (replaces the old ones)."
)
@click.option("--no-own", is_flag=True, help="Take your own lines away.")
@click.pass_context
def command(ctx: click.Context, /, own: tuple[str, ...], no_own: bool) -> None:
    """Where to turn, what this program is not, and how its days and findings work."""
    record = open_record(ctx, "begin" if own or no_own else "empty")
    if own or no_own:
        record.choose({"help.own": None if no_own else list(own)})
    for line in help_page(record.choices()):
        click.echo(line)
