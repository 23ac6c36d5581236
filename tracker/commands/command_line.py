"""The command line: every command has a file of its own."""

from __future__ import annotations

import importlib
from pathlib import Path

import click

from tracker import words
from tracker.commands.around import RECORD_NAMED

COMMANDS: dict[str, str] = {
    "put": "Keep a day.",
    "undo": "Take the last action back.",
    "redo": "Bring back what was last taken back.",
    "show": "Show a month or a year; in sentences a week too.",
    "history": "Every entry of a day: when, what, from where.",
    "findings": "What goes with what, and what is not shown.",
    "summary": "Write the page for the GP.",
    "paper": "Print grids for a paper notebook.",
    "export": "Write the days as CSV, or the whole record as JSON.",
    "import": "Take days from a CSV file, or a whole record from JSON.",
    "rota": "Take shifts from a calendar file, or from a pattern.",
    "break": "Mark a time of not keeping.",
    "scales": "Show and change the levels of mood and the buckets of sleep.",
    "kinds": "Show and change the kinds of shifts.",
    "settings": "Show and change settings.",
    "backup": "Write a copy of the record, or show the daily ones.",
    "restore": "Bring the record back to what a backup holds.",
    "check": "Look whether the record is whole.",
    "merge": "Join another copy of the record to this one.",
    "erase": "Erase days, or everything, for good.",
    "demo": "Open two invented years.",
    "help": "Where to turn, and how days and findings work.",
}
"""Every command with its line of help; its module is loaded only when it is called."""


class LazyGroup(click.Group):
    """Loads a command's module when it is wanted, so that each one starts fast."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order of a day's use."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command by its name."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"tracker.commands.{cmd_name}_command")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without loading one of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=LazyGroup,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog=f"{words.CAUTION} {words.WHERE_TO_TURN_HINT}",
)
@click.option(
    "--record",
    "path",
    type=click.Path(dir_okay=False, readable=False, path_type=Path),
    envvar=RECORD_NAMED,
    help="The file of the record; else TRACKER_RECORD, else the platform's data folder.",
)
@click.version_option(package_name="tracker-days", prog_name="tracker")
@click.pass_context
def tracker(ctx: click.Context, path: Path | None) -> None:
    """A square a day for mood, and one for the hours you think you slept.

    Without a command: opens the app.
    """
    ctx.obj = path
    if ctx.invoked_subcommand is None:
        from tracker.commands.open_app import open_app

        open_app(path)
