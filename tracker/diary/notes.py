"""Looking up days by what their notes say."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.diary.days import Day


def days_with(days: Iterable[Day], text: str) -> list[Day]:
    """The days whose note holds a text, in either case, the newest first."""
    wanted = text.strip().casefold()
    found = [day for day in days if day.note_text and wanted in day.note_text.casefold()]
    return sorted(found, key=lambda day: day.date, reverse=True)
