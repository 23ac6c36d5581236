"""Dated changes as rows: one choice a day, `change.2026-09-14`, whose value is her words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any, NamedTuple

from tracker.diary.clock import from_stamp
from tracker.diary.own_changes import DatedChange
from tracker.record.driver import Row

CHANGE = "change."


class ChangeEntry(NamedTuple):
    """One row of the record about the change of a day."""

    day: date
    words: str
    """Empty where it was taken away."""
    recorded_at: datetime
    """UTC."""
    batch: str


def changes_from(values: Mapping[str, Any]) -> tuple[DatedChange, ...]:
    """The changes among some choices, in order of time."""
    named = {name.removeprefix(CHANGE): words for name, words in values.items() if name.startswith(CHANGE)}
    return tuple(sorted(DatedChange(date.fromisoformat(day), words) for day, words in named.items()))


def change_value(change: DatedChange) -> dict[str, Any]:
    """The row of a change: name and value."""
    return {f"{CHANGE}{change.day}": change.words}


def no_change_value(day: date) -> dict[str, Any]:
    """The row that takes the change of a day away."""
    return {f"{CHANGE}{day}": None}


def change_entry_from(row: Row) -> ChangeEntry:
    """What a row of the table of choices says of a change."""
    words = json.loads(row["value"]) if row["value"] else ""
    day = date.fromisoformat(row["name"].removeprefix(CHANGE))
    return ChangeEntry(day, words, from_stamp(row["recorded_at"]), row["batch"])
