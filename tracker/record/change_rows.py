"""Dated changes as rows: one choice a day, `change.2026-09-14`, whose value is her words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from tracker.diary.own_changes import DatedChange

CHANGE = "change."


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
