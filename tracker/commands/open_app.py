"""Bare `tracker`: the screens on the record, or plain questions where she prefers them."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tracker import words
from tracker.commands import terminal
from tracker.commands.named_record import named_outside, opened
from tracker.diary.errors import TrackerError
from tracker.record.store import Record

NOBODY_THERE = (
    "tracker opens the screens and needs a terminal for its keys and its output; "
    "tracker put keeps a day and tracker show prints a month without one."
)


def open_app(path: Path | None = None) -> None:
    """Open the screens on a record, or ask in plain lines; ends the process.

    Parameters
    ----------
    path
        The record; none: the one that the environment names, or that in the platform's place.

    Raises TrackerError where nobody sits at the terminal.
    """
    if not terminal.somebody_is_there():
        raise TrackerError(NOBODY_THERE)
    with opened(path or named_outside(), "begin now") as record:
        try:
            code = _open(record)
        finally:
            terminal.back_up(record)
    sys.exit(code)


def _open(record: Record) -> int:
    if os.environ.get("TRACKER_LINES") == "1" or record.choices().settings.lines:
        from tracker.commands.line_mode import ask_in_lines

        ask_in_lines(record)
        return 0
    with _terminal_titled():
        return open_screens(record)


def open_screens(record: Record, invented: bool = False) -> int:
    """Open the screens on a record until she leaves; the exit code.

    Parameters
    ----------
    invented
        Whether its days are those of the demo.
    """
    from tracker.screens.app import run_app

    gc.freeze()  # all that was loaded stays, so garbage is not looked for among it
    gc.enable()
    return run_app(record, invented)


@contextmanager
def _terminal_titled() -> Iterator[None]:
    """Name the window for the program alone: no record, no day, no name stands in a task bar."""
    sys.stdout.write(f"\x1b[22;0t\x1b]2;{words.PROGRAM}\x07")
    sys.stdout.flush()
    try:
        yield
    finally:
        sys.stdout.write("\x1b[23;0t")
        sys.stdout.flush()
