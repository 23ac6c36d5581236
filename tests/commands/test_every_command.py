"""What holds for every command there is, and what opening may load."""

import subprocess
import sys
from pathlib import Path

import click
import pytest

from tests.commands.conftest import Run
from tracker import commands as tracker_commands
from tracker.commands.command_line import tracker
from tracker.diary.command_table import COMMANDS


def test_every_module_of_a_command_stands_in_the_table() -> None:
    modules = Path(tracker_commands.__file__).parent.glob("*_command.py")
    assert {path.name.removesuffix("_command.py") for path in modules} == set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_examples(run: Run, name: str) -> None:
    result = run(name, "--help")
    assert result.exit_code == 0
    assert "Examples:" in result.stdout
    assert f"  tracker {name}" in result.stdout


def test_the_list_of_commands_says_what_each_does_and_carries_the_caution(run: Run) -> None:
    text = " ".join(run("--help").stdout.split())
    assert all(command.help in text for command in COMMANDS.values())
    assert "Not a clinical screening tool. Patterns in a diary are not a diagnosis." in text
    assert "tracker help" in text


def test_an_unknown_command_is_wrong_use(run: Run) -> None:
    result = run("forecast")
    assert result.exit_code == 2
    assert "There is no command 'forecast'" in result.stderr


def test_every_option_says_what_it_is_for() -> None:
    context = click.Context(tracker)
    for name in COMMANDS:
        command = tracker.get_command(context, name)
        assert command is not None
        options = [each for each in command.params if isinstance(each, click.Option)]
        assert [each.name for each in options if not each.help] == []


HEAVY = (
    "numpy",
    "scipy",
    "typst",
    "icalendar",
    "recurring_ical_events",
    "dateutil",
    "sqlite_utils",
    "pyrage",
    "textual",
    "rich",
    "_hashlib",  # OpenSSL, which waits for the first digest
)


@pytest.mark.parametrize(
    "module", ["tracker.record.store", "tracker.commands.put_command", "tracker.record.backups"]
)
def test_keeping_a_day_loads_nothing_heavy(module: str) -> None:
    """A fresh process, so that nothing another test loaded counts."""
    listed = f"import sys, {module}; print(*[name for name in {HEAVY!r} if name in sys.modules])"
    loaded = subprocess.run([sys.executable, "-c", listed], capture_output=True, text=True, check=True)
    assert loaded.stdout.split() == []
