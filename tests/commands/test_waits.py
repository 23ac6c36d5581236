"""Nobody waits in silence: who is in the way is said at once, and long work says what it is."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tests.record.sample import TODAY
from tracker import system
from tracker.commands import terminal
from tracker.commands.shared import with_bar
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import HeldRecord
from tracker.editing.editor import Editor
from tracker.record import driver
from tracker.record.store import Record

MOOD = Change(TODAY, "mood", "mood5-4")


@pytest.fixture
def writer(run: Run, path: Path) -> Iterator[sqlite3.Connection]:
    """Another program in the midst of writing to a record."""
    run("put", "yesterday", "--mood", "3")
    with closing(sqlite3.connect(path, isolation_level=None, check_same_thread=False)) as other:
        other.execute("begin immediate")
        yield other


def test_a_key_is_refused_within_a_second_and_the_app_goes_on(writer: sqlite3.Connection, path: Path) -> None:
    with Record.open(path) as record:
        editor = Editor(record)
        begun = time.monotonic()
        editor.perform("digit", "3")
        assert "is held by another program" in editor.state.message
        assert time.monotonic() - begun < driver.BUSY_SECONDS + 1
        writer.execute("rollback")
        editor.perform("digit", "3")
        assert editor.state.message.startswith("Kept")


def test_a_command_says_so_and_waits_until_it_can_go_on(
    run: Run, writer: sqlite3.Connection, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(driver, "BUSY_SECONDS", 0.1)
    ends = threading.Timer(1.0, lambda: writer.execute("rollback"))
    ends.start()
    result = run("put", "--mood", "4")
    ends.join()
    assert result.exit_code == 0
    assert result.stderr == (
        f"The record {path} is held by another program. Waiting for it; Ctrl+C leaves.\n"
    )


def test_a_command_gives_up_after_a_while(
    run: Run, writer: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(driver, "BUSY_SECONDS", 0.1)
    monkeypatch.setattr(driver, "PATIENCE", 0.3)
    result = run("put", "--mood", "4")
    assert (result.exit_code, len(result.stderr.splitlines())) == (1, 2)
    assert result.stderr.endswith("is held by another program; nothing was kept. Close it and try again.\n")


HOLDER = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("begin immediate")
print("held", flush=True)
sys.stdin.read()
"""


@pytest.mark.skipif(not Path("/proc/locks").exists(), reason="no list of locks here")
def test_the_program_that_is_in_the_way_is_named(path: Path, clock: Clock) -> None:
    with Record.open(path, clock) as record:
        other = subprocess.Popen(
            [sys.executable, "-c", HOLDER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        assert other.stdout
        assert other.stdin
        other.stdout.readline()
        with pytest.raises(HeldRecord, match=rf"another program \(.+, process {other.pid}\); nothing"):
            record.keep([MOOD])
        other.stdin.close()
        other.wait()
        other.stdout.close()
        assert system.writer_of(Path(f"{path}-shm")) == ""
        assert record.keep([MOOD]) is not None


def test_long_work_says_what_it_is_and_short_work_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(terminal, "SILENCE", 0.05)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    with terminal.told_if_long("Checking"):
        pass
    with terminal.told_if_long("Merging"):
        time.sleep(0.3)
    assert capsys.readouterr().err == "Merging ...\n"


def test_a_bar_says_what_is_done(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert list(with_bar(range(3), 2, "Keeping the days")) == [0, 1, 2]
    assert "Keeping the days" in capsys.readouterr().err
