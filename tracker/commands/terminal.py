"""Round every call: whether a person is there, what is said to her, and the backup at the end."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from tracker import words
from tracker.diary.errors import TrackerError

if TYPE_CHECKING:
    from tracker.record.store import Record

SILENCE = 1.0
"""Seconds that nobody wonders at."""
RECORD_NAMED = "TRACKER_RECORD"
"""Names the file of the record in the environment."""


def say(sentence: str) -> None:
    """Say a sentence beside the output."""
    sys.stderr.write(f"{sentence}\n")


def somebody_is_there() -> bool:
    """Whether a person sits at both ends: nothing may wait for an answer that cannot come."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def is_looked_at() -> bool:
    """Whether the output goes to a terminal."""
    return sys.stdout.isatty()


def folded(line: str) -> str:
    """A line, broken between words where somebody looks at it; a pipe gets it whole."""
    if not is_looked_at():
        return line
    from shutil import get_terminal_size

    from tracker.cells import wrapped

    return "\n".join(wrapped(line, get_terminal_size().columns))


def back_up(record: Record) -> None:
    """Make the day's backup if there is none yet; a backup that fails ends nothing else."""
    from tracker.record.backups import keep_backups

    try:
        keep_backups(record)
    except TrackerError as error:
        say(words.no_backup(str(error)))


@contextmanager
def told_if_long(what: str) -> Iterator[None]:
    """Say what is going on to whoever sees it, if it takes more than a second."""
    if not sys.stderr.isatty():
        yield
        return
    import threading

    telling = threading.Timer(SILENCE, say, [f"{what} ..."])
    telling.daemon = True
    telling.start()
    try:
        yield
    finally:
        telling.cancel()
