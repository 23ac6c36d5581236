"""Round every call: whether a person is there, what is said to her, and the backup at the end."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from tracker import words
from tracker.diary.errors import TrackerError

if TYPE_CHECKING:
    from tracker.record.store import Record

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


def back_up(record: Record) -> None:
    """Make the day's backup if there is none yet; a backup that fails ends nothing else."""
    from tracker.record.backups import keep_backups

    try:
        keep_backups(record)
    except TrackerError as error:
        say(words.no_backup(str(error)))
