"""Bare `tracker`: the screens on the record, or plain questions where she prefers them."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from tracker import system, words
from tracker.commands import terminal
from tracker.commands.named_record import named_outside, opened
from tracker.diary.errors import TrackerError
from tracker.diary.settings import setting
from tracker.record.store import Record

LINES = "TRACKER_LINES"
"""Says in the environment whether plain lines open, whatever the setting is."""
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
    told = lines_told()
    with opened(path or named_outside(), "begin now") as record:
        try:
            code = open_on(record, told)
        finally:
            terminal.back_up(record)
    sys.exit(code)


def open_on(record: Record, told: bool | None, invented: bool = False) -> int:
    """Open the screens or the plain lines on a record until she leaves; the exit code.

    Parameters
    ----------
    told
        What the environment says of plain lines.
    invented
        Whether its days are those of the demo.
    """
    if _wants_lines(record) if told is None else told:
        from tracker.commands.lines.conversation import ask_in_lines

        if invented:
            sys.stdout.write(f"{words.INVENTED}\n")
        system.when_told_to_end(partial(sys.exit, 0))
        ask_in_lines(record)
        return 0
    from tracker.screens.app import run_app

    gc.freeze()  # all that was loaded stays, so garbage is not looked for among it
    gc.enable()
    with _terminal_titled():
        return run_app(record, invented)


def lines_told() -> bool | None:
    """Whether the environment asks for plain lines; None: it says nothing.

    Raises UnknownValue where it says neither yes nor no.
    """
    told = os.environ.get(LINES, "").strip()
    return bool(setting("lines")._replace(name=LINES).value_of(told)) if told else None


def _wants_lines(record: Record) -> bool:
    """Whether plain lines are set, or the terminal can draw nothing."""
    return record.choices().settings.lines or os.environ.get("TERM") == "dumb"


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
