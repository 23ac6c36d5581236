"""What the README promises is so: its commands exist, and its examples run."""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.commands.conftest import Edge
from tests.conftest import LONDON
from tracker.demo import fill, last_sunday
from tracker.diary.clock import Clock
from tracker.diary.command_table import COMMANDS, line_to_type
from tracker.record.snapshots import as_bytes
from tracker.record.store import Record

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
EXAMPLES = re.findall(r"^\| `tracker ?([^`]*)` \|", README, re.MULTILINE)
NEED_A_TERMINAL = ("", "demo", "lock", "erase 2026-03-12")
LAST = datetime(2026, 11, 23, 9, 30, tzinfo=UTC)


BEFORE = {"import": "export days.csv", "restore": "backup copy.sqlite", "redo": "undo"}
"""What an example takes for granted."""


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented record, and another one of the same days."""
    folder = tmp_path_factory.mktemp("readme")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Clock.__new__, "__defaults__", (lambda: LAST, LONDON))
        with Record.open(folder / "record.sqlite") as record:
            fill(record, last_sunday(record.today()))
            (folder / "laptop.sqlite").write_bytes(as_bytes(record))
    return folder


@pytest.fixture
def run(invented: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Result]:
    """Runs a line of the README on a copy of the invented record."""
    folder = tmp_path / "readme"
    shutil.copytree(invented, folder)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("TRACKER_RECORD", str(folder / "record.sqlite"))
    monkeypatch.setattr(Clock.__new__, "__defaults__", (lambda: LAST, LONDON))

    def call(line: str) -> Result:
        return CliRunner().invoke(Edge(), shlex.split(line))  # type: ignore[arg-type]

    def run_line(line: str) -> Result:
        if before := BEFORE.get(line.split(" ", maxsplit=1)[0]):
            call(before)
        return call(line)

    return run_line


def test_every_command_stands_in_the_readme_with_an_example() -> None:
    assert {example.split()[0] for example in EXAMPLES if example} == set(COMMANDS)


def test_the_line_to_type_of_a_command_is_an_example_of_the_readme_and_so_runs() -> None:
    lines = {line_to_type(name).removeprefix("tracker ") for name in COMMANDS}
    assert lines - set(EXAMPLES) == set()


@pytest.mark.parametrize("example", [line for line in EXAMPLES if line not in NEED_A_TERMINAL])
def test_an_example_of_the_readme_runs(example: str, run: Callable[[str], Result]) -> None:
    ran = run(example)
    assert (ran.exit_code, ran.output.strip() == "") == (0, False), ran.output


@pytest.mark.parametrize("example", NEED_A_TERMINAL)
def test_what_needs_a_terminal_says_so(example: str, run: Callable[[str], Result]) -> None:
    ran = run(example)
    assert ran.exit_code == 1
    assert "terminal" in ran.output


def test_the_readme_opens_with_the_job_the_caution_and_two_commands() -> None:
    first, *rest = re.findall(r"^    (python3 .*)$", README, re.MULTILINE)
    assert first.endswith(".venv/bin/tracker demo")
    assert [line.endswith(".venv/bin/pytest --numprocesses auto") for line in rest] == [True]
    assert "not a clinical screening tool" in README.split("    python3")[0].replace("\n", " ")


def test_the_rates_stand_after_the_start_the_pictures_and_the_commands() -> None:
    """Who comes first wants to begin, who doubts reads on (common practice, no source)."""
    order = [
        "tracker demo\n",
        "## For daily use\n",
        "tests/pictures/month.png",
        "## All commands\n",
        "| claimed | on one verdict day",
    ]
    places = [README.index(part) for part in order]
    assert places == sorted(places)


def test_every_picture_of_the_readme_is_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures
    assert [picture for picture in pictures if not (ROOT / picture).is_file()] == []
