"""Keeping days in tests, in few words."""

from __future__ import annotations

from datetime import date
from typing import cast

from tracker.diary.days import Change, Field
from tracker.record.store import Record


def keep(record: Record, day: date, **fields: str) -> None:
    """Keep fields of a day: mood and sleep by rank, the others as they are."""
    ids = {"mood": "mood5-{}", "sleep": "sleep8-{}"}
    changes = [
        Change(day, cast(Field, name), ids.get(name, "{}").format(value)) for name, value in fields.items()
    ]
    record.keep(changes, "x")


def stands(record: Record, day: date, field: str) -> str:
    """What stands in a field: its value, `could not say`, or nothing."""
    square = record.day(day).square(cast(Field, field))
    return "" if square is None else square.value or square.state
