"""Dated changes of her own, 'tablets started' or 'new job': one line a day, never judged."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from tracker.diary.dates import long_day

LONGEST_WORDS = 40
"""Letters."""


class DatedChange(NamedTuple):
    """A day and what changed on it, in her own words."""

    day: date
    words: str

    def __str__(self) -> str:
        """As a list names it: `14 September 2026: tablets started`."""
        return f"{long_day(self.day)}: {self.words}"


def noted_in_words(day: date, words: str, stood: DatedChange | None) -> str:
    """What was kept of the change of a day, the same for the form and a command; no words: it was taken away.

    `Noted: 14 September 2026: tablets started. Before: new post.`
    """
    if not words:
        return f"The change of {long_day(day)} is taken away."
    before = f" Before: {stood.words}." if stood else ""
    return f"Noted: {DatedChange(day, words)}.{before}"


def change_on(day: date, changes: Iterable[DatedChange]) -> DatedChange | None:
    """The change of a day, or None."""
    return next((change for change in changes if change.day == day), None)


def changes_within(first: date, last: date, changes: Iterable[DatedChange]) -> list[DatedChange]:
    """The changes of the days from first to last, both included."""
    return [change for change in changes if first <= change.day <= last]


def changes_with(text: str, changes: Iterable[DatedChange]) -> list[DatedChange]:
    """The changes whose words hold a text, in either case."""
    wanted = text.strip().casefold()
    return [change for change in changes if wanted in change.words.casefold()]
