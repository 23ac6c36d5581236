"""What was typed is found again however the program ended, and Ctrl-Z comes back; on a pseudo-terminal."""

from __future__ import annotations

import os
import shutil
import signal
import sys
import time
from pathlib import Path

import pytest

from tests.commands.test_closing import BACK_FROM_SCREENS, ENDS, Program, is_closed_well, path
from tracker import words
from tracker.record.store import Record

__all__ = ["path"]
TO_SCREENS = b"\x1b[?1049h"
LAST_WORD = "Junction"
TYPED = f"fog at Cawbrook {LAST_WORD}"


def typing(path: Path) -> Program:
    """The program with a note of today half typed."""
    program = Program(path)
    program.read_until(b"help")
    os.write(program.window, b"tn")
    program.read_until(b"No patients' names")
    os.write(program.window, TYPED.encode())
    program.read_until(LAST_WORD.encode())
    return program


def waits(path: Path) -> list[str]:
    with Record.open(path) as record:
        return [row["text"] for row in record.db.rows("select text from draft where place glob 'note.*'")]


def notes(path: Path) -> list[str]:
    with Record.open(path) as record:
        return [note for _, note in record.notes_with("")]


def killed(program: Program, path: Path) -> None:
    """Once it has written: how soon that is, on a busy machine, is measured nowhere here."""
    until = time.monotonic() + ENDS
    while not waits(path) and time.monotonic() < until:
        time.sleep(0.2)
    os.kill(program.pid, signal.SIGKILL)


def told_to_end(program: Program, _: Path) -> None:
    os.kill(program.pid, signal.SIGTERM)
    program.read_until(BACK_FROM_SCREENS)


def window_closed(program: Program, _: Path) -> None:
    os.close(program.window)


def interrupted(program: Program, _: Path) -> None:
    os.write(program.window, b"\x03")
    program.read_until(words.TYPED_WAITS.encode())


@pytest.mark.parametrize(
    ("end", "code"), [(killed, -9), (told_to_end, 0), (window_closed, 0), (interrupted, 0)]
)
def test_what_was_typed_waits_however_it_ended(path: Path, end, code: int) -> None:  # type: ignore[no-untyped-def]
    program = typing(path)
    end(program, path)
    assert (program.code(), waits(path)) == (code, [TYPED])
    assert is_closed_well(path)
    again = Program(path)
    again.read_until(b"help")
    os.write(again.window, b"tn")
    again.read_until(b"did not keep")
    os.write(again.window, b"\r")
    again.read_until(b"Kept")
    os.write(again.window, b"q")
    assert (again.code(), waits(path)) == (0, [])
    assert notes(path) == [TYPED]


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs a shell with job control")
def test_ctrl_z_gives_the_terminal_back_until_fg(path: Path) -> None:
    shell = Program(path, "bash", "--norc", "--noprofile", "-i", PS1="ready> ")
    shell.read_until(b"ready> ")
    os.write(shell.window, f"{sys.executable} -m tracker\n".encode())
    shell.read_until(b"help")
    os.write(shell.window, b"tn")
    shell.read_until(b"No patients' names")
    os.write(shell.window, TYPED.encode() + b"\x1a")
    shell.read_until(words.SUSPENDED.encode())
    assert BACK_FROM_SCREENS in shell.shown
    assert waits(path) == [TYPED]
    shell.shown = b""
    os.write(shell.window, b"fg\n")
    shell.read_until(TO_SCREENS)
    shell.read_until(LAST_WORD.encode())
    os.write(shell.window, b"s\r")
    shell.read_until(b"Kept")
    shell.shown = b""
    os.write(shell.window, b"q")
    shell.read_until(BACK_FROM_SCREENS)
    shell.read_until(b"ready> ")  # before it, letters are thrown away with the screens
    os.write(shell.window, b"exit\n")
    assert shell.code() == 0
    assert notes(path) == [f"{TYPED}s"]


def test_where_no_shell_could_bring_it_back_ctrl_z_says_so_and_it_goes_on(path: Path) -> None:
    program = Program(path)
    program.read_until(b"help")
    os.write(program.window, b"\x1a")
    program.read_until(words.not_suspended("q").encode())
    os.write(program.window, b"3")
    program.read_until(b"Kept")
    os.write(program.window, b"q")
    assert program.code() == 0
