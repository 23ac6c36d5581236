"""The command line: every command has a file of its own."""

from __future__ import annotations

import importlib
import re
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

import click
from click.shell_completion import CompletionItem

from tracker import words
from tracker.commands.terminal import RECORD_NAMED, say
from tracker.diary.command_table import COMMANDS
from tracker.diary.errors import TrackerError

QUOTE_DAYS = 'a day of several words stands in quotes here, like "27 november"'
"""Said where a day of several words was taken for more than one."""

RECORD_FILE = click.Path(dir_okay=False, readable=False, path_type=Path)


def _name_record(ctx: click.Context, _: click.Parameter, path: Path | None) -> None:
    """Let a record that is named behind a command stand for one named before it."""
    if path is not None:
        ctx.find_root().obj = path


RECORD_BEHIND = click.Option(
    ["--record"],
    type=RECORD_FILE,
    expose_value=False,
    callback=_name_record,
    help="Another file of the record; may stand before the command too.",
)


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
        if RECORD_BEHIND not in command.params:
            command.params.append(RECORD_BEHIND)
        return command

    def invoke(self, ctx: click.Context) -> object:
        """Call the command; wrong use that names no command is of this one."""
        try:
            return super().invoke(ctx)
        except click.UsageError as error:
            error.ctx = error.ctx or ctx
            raise

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names."""
        name = args[0]
        if not (name in COMMANDS or name.startswith("-") or ctx.resilient_parsing):
            import difflib  # for a slip alone

            near = difflib.get_close_matches(name, COMMANDS)
            raise click.UsageError(f"There is no command '{name}'{_perhaps(near)}", ctx)
        return super().resolve_command(ctx, args)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """What a word may become, without loading a command."""
        if incomplete.startswith("-"):
            return super().shell_complete(ctx, incomplete)
        return completed_command(incomplete)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without loading one of them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, command.help) for name, command in COMMANDS.items()])


def completed_command(incomplete: str) -> list[CompletionItem]:
    """The commands that begin with some letters, each with its line of help."""
    return [
        CompletionItem(name, help=command.help)
        for name, command in COMMANDS.items()
        if name.startswith(incomplete)
    ]


def run(arguments: Sequence[str]) -> None:
    """Run a command and end the process: 0 done, 1 stopped, 2 wrong use."""
    try:
        sys.exit(tracker.main(args=arguments, prog_name=words.PROGRAM, standalone_mode=False))
    except click.UsageError as error:
        if _cannot_reach_file(error):
            raise TrackerError(f"{error.message.rstrip('.')}; look at the name.") from error
        say(in_our_words(error))
        sys.exit(error.exit_code)
    except click.Abort:
        say("Stopped.")
        sys.exit(1)


def _cannot_reach_file(error: click.UsageError) -> bool:
    """Whether a file is named rightly and is not there, or is no file: that is no wrong use."""
    if not isinstance(error, click.BadParameter) or isinstance(error, click.MissingParameter):
        return False
    return error.param is not None and isinstance(error.param.type, click.Path)


def in_our_words(error: click.UsageError) -> str:
    """Wrong use in one sentence: what is wrong, with which command, and what shows how it is used."""
    command = _command_of(error.ctx) if error.ctx else words.PROGRAM
    return f"{_wrong_use(error, command).rstrip('.')}; {command} --help shows its use."


def _command_of(ctx: click.Context) -> str:
    """`tracker put`, also while the words behind it are still being read."""
    return " ".join(filter(None, (ctx.command_path, ctx.invoked_subcommand)))


def _wrong_use(error: click.UsageError, command: str) -> str:
    if isinstance(error, click.NoSuchOption):
        days = re.fullmatch(r"-(\d+)", error.option_name)
        meant = [f"{days[1]} days ago"] if days else error.possibilities or ()
        return f"{command} has no option {error.option_name}{_perhaps(meant)}"
    if isinstance(error, click.BadParameter) and error.param:
        return _wrong_value(error, error.param, command)
    if isinstance(error, click.BadOptionUsage) and "requires" in error.message:
        return f"{error.option_name} needs a value"
    if isinstance(error, click.BadOptionUsage):
        return f"{error.option_name} takes no value"
    too_many = re.fullmatch(r"Got unexpected extra arguments? \((.*)\)\.?", error.message)
    if not too_many:
        return error.message
    quotes = f"; {QUOTE_DAYS}" if _may_be_of_a_day(too_many[1]) else ""
    return f"{command} has no use for '{too_many[1]}'{quotes}"


def _may_be_of_a_day(words: str) -> bool:
    """Whether words behind an option or argument may belong to the day before them."""
    from tracker.diary.dates import MONTHS  # for a slip alone

    names = [name.casefold() for name in (*MONTHS, "ago")]
    return any(len(part) > 2 and name.startswith(part) for part in words.casefold().split() for name in names)


def _wrong_value(error: click.BadParameter, param: click.Parameter, command: str) -> str:
    named = param.opts[0] if isinstance(param, click.Option) else param.human_readable_name
    if isinstance(error, click.MissingParameter):
        return f"{command} needs a {named}"
    if isinstance(param.type, click.Choice):
        return f"{named} takes {_either(param.type.choices)}"
    if isinstance(param.type, click.IntRange):
        return f"{named} takes a whole number from {param.type.min} to {param.type.max}"
    if param.type is click.FLOAT:
        return f"{named} takes a number"
    return f"{named}: {error.message}"


def _perhaps(near: Sequence[str]) -> str:
    """What may have been meant: ` (perhaps put is meant)`."""
    return f" (perhaps {_either(near)} is meant)" if near else ""


def _either(things: Iterable[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    *others, last = list(things) or [""]
    return f"{', '.join(others)} or {last}" if others else last


@click.group(
    cls=LazyGroup,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog=f"{words.CAUTION} {words.WHERE_TO_TURN_HINT}",
)
@click.option(
    "--record",
    "path",
    type=RECORD_FILE,
    envvar=RECORD_NAMED,
    help="The file of the record; else TRACKER_RECORD, else the platform's data folder.",
)
@click.version_option(None, "-V", "--version", package_name="tracker-days", prog_name="tracker")
@click.pass_context
def tracker(ctx: click.Context, path: Path | None) -> None:
    """Keep a day's mood and the hours you think you slept, and find out what goes with what.

    Without a command: opens the app, or plain lines that ask and answer by ear, for screen readers, where
    TRACKER_LINES=1 is set, or TERM=dumb, or tracker settings lines yes was said once.
    """
    ctx.obj = path
    if ctx.invoked_subcommand is None:
        from tracker.commands.open_app import open_app

        open_app(path)
