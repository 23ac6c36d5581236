"""A closed window, or a system that shuts down, ends the program as `q` does: in a terminal of its own."""

from __future__ import annotations

import os
import pty
import select
import signal
import sys
import termios
import time
from pathlib import Path

import pytest

from tracker import words
from tracker.record.integrity import look_over
from tracker.record.store import Record

ENDS = 60
"""Seconds that a busy machine may take."""
BACK_FROM_SCREENS = b"\x1b[?1049l"


class Program:
    """The program on a record, as a terminal shows it."""

    def __init__(self, path: Path, *command: str, **more: str) -> None:
        command = command or (sys.executable, "-m", "tracker")
        self.pid, self.window = pty.fork()
        if self.pid == 0:  # pragma: no cover
            for number in (signal.SIGHUP, signal.SIGINT, signal.SIGTERM, signal.SIGTSTP):
                signal.signal(number, signal.SIG_DFL)  # what runs the tests may ignore some, as nohup does
            os.environ.update({"TRACKER_RECORD": str(path), "TERM": "xterm-256color", **more})
            os.execvp(command[0], command)  # noqa: S606
        self.shown = b""

    def read_until(self, wanted: bytes) -> None:
        until = time.monotonic() + ENDS
        while wanted not in self.shown and time.monotonic() < until:
            if select.select([self.window], [], [], 0.2)[0]:
                try:
                    self.shown += os.read(self.window, 1 << 16)
                except OSError:
                    break
        assert wanted in self.shown

    def code(self) -> int:
        until = time.monotonic() + ENDS
        while time.monotonic() < until:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                return os.waitstatus_to_exitcode(status)
            time.sleep(0.05)
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        raise AssertionError("it does not end")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "record.sqlite"
    with Record.open(path) as record:
        record.keep_settings(record.choices().settings.with_value("latitude", "55"))
    return path


def is_closed_well(path: Path) -> bool:
    beside = [each.name for each in path.parent.glob("record.sqlite-*") if each.is_file()]
    return beside == [] and look_over(path).faults == []


def test_told_to_end_the_screens_go_and_the_log_is_taken_in(path: Path) -> None:
    program = Program(path)
    program.read_until(b"help")
    os.write(program.window, b"3")
    program.read_until(b"Kept")
    os.kill(program.pid, signal.SIGTERM)
    program.read_until(BACK_FROM_SCREENS)
    assert (program.code(), is_closed_well(path)) == (0, True)


def test_a_closed_window_ends_it_too(path: Path) -> None:
    program = Program(path)
    program.read_until(b"help")
    os.close(program.window)
    assert (program.code(), is_closed_well(path)) == (0, True)


def test_plain_lines_end_in_the_midst_of_a_question(path: Path) -> None:
    program = Program(path, TRACKER_LINES="1")
    program.read_until(b"Sleep of")
    time.sleep(0.5)  # readline shows a question before it waits for the answer
    os.kill(program.pid, signal.SIGTERM)
    assert (program.code(), is_closed_well(path)) == (0, True)


def test_a_program_that_asks_for_a_passphrase_leaves_the_terminal_as_it_was(path: Path) -> None:
    program = Program(path, sys.executable, "-m", "tracker", "backup", str(path.with_name("copy.sqlite.age")))
    program.read_until(b"Passphrase")
    hidden = shows_what_is_typed(program)
    os.kill(program.pid, signal.SIGTERM)
    program.read_until(words.ENDED.encode())
    assert (hidden, shows_what_is_typed(program), program.code()) == (False, True, 1)


def shows_what_is_typed(program: Program) -> bool:
    return bool(termios.tcgetattr(program.window)[3] & termios.ECHO)


def test_what_nohup_lets_run_on_goes_on(path: Path) -> None:
    ignore = "import os, signal, sys; signal.signal(signal.SIGHUP, signal.SIG_IGN)"
    run = "os.execv(sys.executable, [sys.executable, '-m', 'tracker'])"
    program = Program(path, sys.executable, "-c", f"{ignore}; {run}")
    program.read_until(b"help")
    os.kill(program.pid, signal.SIGHUP)
    os.write(program.window, b"3")
    program.read_until(b"Kept")
    os.write(program.window, b"q")
    assert program.code() == 0


def test_what_is_typed_is_written_to_no_log(path: Path, tmp_path: Path) -> None:
    log = tmp_path / "textual.log"
    program = Program(path, TEXTUAL_LOG=str(log), TEXTUAL="debug", TEXTUAL_SCREENSHOT="1")
    program.read_until(b"help")
    os.write(program.window, b"q")
    program.read_until(BACK_FROM_SCREENS)
    assert program.code() == 0
    assert not log.exists()
