"""Finding days: by a word of a note or of a change, or the last ones of a kind."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from tracker import words
from tracker.diary.days import Field
from tracker.diary.own_changes import changes_with
from tracker.diary.scales import GRIDS, Grid
from tracker.record.store import Record

SHOWN_OF_A_KIND = 4


class Found(NamedTuple):
    """A day, and why it was found."""

    day: date
    line: str
    """Its note, its change, or what it was."""
    is_change: bool = False


def found_with(record: Record, text: str) -> list[Found]:
    """The days whose note or change holds a text, in either case, the newest first."""
    notes = [Found(*note) for note in record.notes_with(text)]
    changes = changes_with(text, record.choices().dated_changes)
    return sorted([*notes, *(Found(day, f"change: {line}", True) for day, line in changes)], reverse=True)


def how_many(found: Sequence[Found]) -> str:
    """`1 note and 2 changes hold`; of changes only where there are any."""
    changes = sum(one.is_change for one in found)
    notes = len(found) - changes
    counts = [words.counted(notes, "note")] if notes or not changes else []
    counts += [words.counted(changes, "change")] if changes else []
    return f"{words.listed(counts)} {'holds' if len(found) == 1 else 'hold'}"


def last_of_kinds(record: Record, before: date) -> list[Found]:
    """The last days before a day that were anxious, and those of the lowest mood and the least sleep kept."""
    anxious = [Found(day, "anxious") for day, _ in _last_kept(record, "anxious", ["yes"], before)]
    return [*anxious, *(found for grid in GRIDS for found in _lowest(record, grid, before))]


def _lowest(record: Record, grid: Grid, before: date) -> list[Found]:
    """The last days with the lowest level of a grid that was kept before a day, of all versions."""
    labels = {level.id: level.label for scale in record.choices().scales.of(grid) for level in scale.levels}
    by_place: dict[int, list[str]] = {}
    for id in labels:
        by_place.setdefault(record.choices().scales.placed(id).place, []).append(id)
    for place in sorted(by_place):
        kept = _last_kept(record, grid, by_place[place], before)
        if kept:
            return [Found(day, f"{grid} {labels[id]}") for day, id in kept]
    return []


def _last_kept(record: Record, field: Field, values: Sequence[str], before: date) -> list[tuple[date, str]]:
    """The last days before a day on which one of some values stands in a field, and which."""
    rows = record.db.rows(
        "select day, value from current_entry where field = ?"
        f" and value in ({', '.join('?' * len(values))}) and day < ? order by day desc limit ?",
        (field, *values, before.isoformat(), SHOWN_OF_A_KIND),
    )
    return [(date.fromisoformat(day), value) for day, value in rows]
