"""What is kept of a day: entries as they were written, squares as they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

Field = Literal["mood", "sleep", "anxious", "shift", "note"]
State = Literal["kept", "could not say", "cleared"]
Source = Literal["typed", "command", "imported", "demo"]
Basis = Literal["at the time", "remembered", "paper"]

FIELDS: tuple[Field, ...] = ("mood", "sleep", "anxious", "shift", "note")
RESTING: tuple[Field, ...] = ("mood", "sleep", "anxious")
"""The fields of which findings ask what they rest on."""
LATE_AFTER = 2
"""Days after which an entry by hand counts as remembered."""
LEFT_OUT_AFTER = 14
"""Days after which a remembered square is left out of the findings."""
LONGEST_NOTE = 2000

NO_DETAIL: Mapping[str, Any] = MappingProxyType({})
NO_HOURS: Mapping[str, Any] = MappingProxyType({"hours": None})
"""The detail of a sleep whose exact hours are taken out; without any detail those that stand stay."""


class Change(NamedTuple):
    """One field of one day as it shall stand."""

    day: date
    field: Field
    value: str = ""
    """Level id, `yes` or `no`, shift kind id, or text; empty unless the state is `kept`."""
    state: State = "kept"
    detail: Mapping[str, Any] = NO_DETAIL
    """`hours` of a sleep, None taking out those that stand; `start` and `end` (UTC) and `by` of a shift."""


class Entry(NamedTuple):
    """One row of the record: a change with when, from where and on what basis it came."""

    id: str
    day: date
    field: Field
    value: str
    state: State
    detail: Mapping[str, Any]
    source: Source
    basis: Basis
    turn: int
    """Place in the order of actions; the larger is the newer."""
    recorded_at: datetime
    """UTC."""
    offset: int
    """Minutes of local time ahead of UTC."""
    batch: str
    restores: str | None
    """Id of the first entry whose moment it keeps: an undo brought that back, or it was put right."""

    @property
    def change(self) -> Change:
        """What it kept or cleared."""
        return Change(self.day, self.field, self.value, self.state, self.detail)


class Square(NamedTuple):
    """A field of a day as it stands: kept, or answered with `could not say`."""

    value: str
    """Level id, `yes` or `no`, shift kind id, or text; empty for `could not say`."""
    state: State = "kept"
    basis: Basis = "at the time"
    source: Source = "typed"
    kept_at: datetime | None = None
    """UTC; of the first entry, where it was brought back by an undo or put right."""
    late_days: int = 0
    """Days from the day to its entry, where that rests on memory; else 0."""
    detail: Mapping[str, Any] = NO_DETAIL

    @property
    def is_kept(self) -> bool:
        """Whether a value stands here."""
        return self.state == "kept"

    def change(self, day: date, field: Field) -> Change:
        """What kept it in a field of a day."""
        return Change(day, field, self.value, self.state, self.detail)

    @property
    def is_left_out(self) -> bool:
        """Whether findings leave the square out: remembered, and too long after."""
        return self.basis == "remembered" and self.late_days > LEFT_OUT_AFTER

    @property
    def used(self) -> str:
        """The value that findings use, empty where they use none."""
        return self.value if self.state == "kept" and not self.is_left_out else ""


class Day(NamedTuple):
    """Everything that stands for one day; None where nothing is kept."""

    date: date
    mood: Square | None = None
    sleep: Square | None = None
    anxious: Square | None = None
    shift: Square | None = None
    note: Square | None = None

    def square(self, field: Field) -> Square | None:
        """The square of a field."""
        found: Square | None = getattr(self, field)
        return found

    def after(self, field: Field, square: Square) -> Day:
        """The day as it stands once a square of it was kept, or cleared."""
        return self._replace(**{field: None if square.state == "cleared" else square})  # type: ignore[arg-type]

    @property
    def counts(self) -> bool:
        """Whether findings use its mood or its sleep."""
        return bool(self.used_mood or self.used_sleep)

    @property
    def used_mood(self) -> str:
        """Id of the mood level that findings use, or empty."""
        return self.mood.used if self.mood else ""

    @property
    def used_sleep(self) -> str:
        """Id of the bucket that findings use, or empty."""
        return self.sleep.used if self.sleep else ""

    @property
    def is_answered(self) -> bool:
        """Whether a square of one of the grids holds something; then the day counts, in a break too."""
        return self.mood is not None or self.sleep is not None

    @property
    def hours(self) -> float | None:
        """Exact hours of sleep, where they were given."""
        hours = self.sleep.detail.get("hours") if self.sleep else None
        return float(hours) if hours is not None else None

    @property
    def is_anxious(self) -> bool | None:
        """Yes, no, or None for not noted."""
        return None if self.anxious is None or not self.anxious.is_kept else self.anxious.value == "yes"

    @property
    def shift_kind(self) -> str:
        """Id of the shift kind, or empty."""
        return self.shift.value if self.shift and self.shift.is_kept else ""

    @property
    def note_text(self) -> str:
        """The note, or empty."""
        return self.note.value if self.note and self.note.is_kept else ""


def kept_values(days: Iterable[Day], field: Field) -> set[str]:
    """Every value that stands in a field of some days."""
    return {square.value for day in days if (square := day.square(field)) and square.is_kept}
