"""`tracker help`."""

from __future__ import annotations

from typing import cast

import click
from click.shell_completion import CompletionItem

from tracker.commands.command_line import completed_command
from tracker.commands.shared import open_record
from tracker.diary.help_page import help_page

EXAMPLES = """\b
Examples:
  tracker help
  tracker help --own "My practice: 01632 960 011" --own "My sister"
  tracker help put
"""


def _completed(_: click.Context, __: click.Parameter, incomplete: str) -> list[CompletionItem]:
    return completed_command(incomplete)


def _use_of(root: click.Context, name: str) -> str:
    """What `tracker NAME --help` prints; raises UsageError for a command that is none."""
    _, named, _ = cast("click.Group", root.command).resolve_command(root, [name])
    return named.get_help(click.Context(named, root, name)) if named else ""


@click.command("help", epilog=EXAMPLES)
@click.argument("name", metavar="[COMMAND]", required=False, shell_complete=_completed)
@click.option(
    "--own", multiple=True, metavar="LINE", help="A line of your own, shown first (replaces the old ones)."
)
@click.option("--no-own", is_flag=True, help="Take your own lines away.")
@click.pass_context
def command(ctx: click.Context, /, name: str | None, own: tuple[str, ...], no_own: bool) -> None:
    """Where to turn, what this program is not, and how its days and findings work.

    With the name of a command: how that one is used.
    """
    if name is not None:
        if own or no_own:
            raise click.UsageError("--own and --no-own go without a command.")
        click.echo(_use_of(ctx.find_root(), name))
        return
    record = open_record(ctx, "begin" if own or no_own else "empty")
    if own or no_own:
        record.choose({"help.own": None if no_own else list(own)})
    for line in help_page(record.choices()):
        click.echo(line)
