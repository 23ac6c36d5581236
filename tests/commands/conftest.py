"""The command line as a person runs it, on Tuesday 17 March 2026 at nine in the evening, in London."""

from __future__ import annotations

import gc
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.conftest import LONDON, NOW
from tracker.commands.main import main
from tracker.diary.clock import Clock
from tracker.record.store import Record

Run = Callable[..., Result]


class Edge:
    """The whole way of a call, from the arguments to the exit code, errors included."""

    name = "tracker"

    def main(self, args: Sequence[str], **_: Any) -> None:
        try:
            main(args)
        finally:
            gc.enable()  # the program ends with a call; these tests do not


@pytest.fixture(autouse=True)
def _frozen_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands make their own clock: its defaults stand still."""
    monkeypatch.setattr(Clock.__new__, "__defaults__", (lambda: NOW, LONDON))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the record of the commands lies."""
    return tmp_path / "record.sqlite"


@pytest.fixture
def run(path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command on the record in the platform's place; gives its exit code, stdout and stderr."""
    monkeypatch.setattr("platformdirs.user_data_path", lambda *_, **__: path.parent)

    def run_command(*arguments: str, typed: str | None = None) -> Result:
        return CliRunner().invoke(Edge(), list(arguments), input=typed)  # type: ignore[arg-type]

    return run_command


@pytest.fixture
def at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody is there to answer."""
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)


@pytest.fixture
def kept(path: Path) -> Callable[[], Record]:
    """Opens the record that the commands wrote."""
    return lambda: Record.open(path)
