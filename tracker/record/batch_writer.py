"""Rows of one action, inside its transaction."""

from __future__ import annotations

import json
import sqlite3
import uuid
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, NamedTuple

from tracker.diary.clock import Clock, as_stamp, from_stamp
from tracker.diary.days import NO_DETAIL, Basis, Change, Entry, Field, Source
from tracker.record import schema

TableRow = tuple[Any, ...]
Json = Any
"""What JSON can hold: None, bool, numbers, text, lists and objects of these."""


class Batch(NamedTuple):
    """One action: a key, a command, an import of many days."""

    id: str
    turn: int
    what: str
    """The action in words, as undo names it."""
    changes: int
    """How many squares and choices it changed."""
    squares: tuple[tuple[date, Field], ...] = ()
    """The squares among them."""

    @property
    def day(self) -> date | None:
        """The day of its squares; None where it has none, or several days have."""
        days = {day for day, _ in self.squares}
        return days.pop() if len(days) == 1 else None


class Writer:
    """Writes the rows of one action, inside its transaction."""

    def __init__(self, db: sqlite3.Connection, clock: Clock) -> None:
        self._db = db
        moment = clock.now()
        self._stamp = as_stamp(moment)
        self._offset = clock.offset_minutes(moment)
        self._batch, self._turn, self._what, self._changes = "", 0, "", 0
        self._squares: list[tuple[date, Field]] = []

    @property
    def batch(self) -> Batch:
        """The action so far."""
        return Batch(self._batch, self._turn, self._what, self._changes, tuple(self._squares))

    def begin(self, what: str, undoes: str | None = None) -> None:
        """Begin the action: its turn is one after the largest in the record."""
        turn = self._next_turn()
        self._batch, self._turn, self._what = str(uuid.uuid4()), turn, what
        self.row("batch", (self._batch, turn, what, undoes, self._stamp))

    def entry(self, change: Change, source: Source, basis: Basis, restores: str | None = None) -> None:
        """One field of one day."""
        self._changes += 1
        self._squares.append((change.day, change.field))
        self.row(
            "entry",
            (
                str(uuid.uuid4()), change.day.isoformat(), change.field, change.value, change.state,
                as_json(change.detail) if change.detail else None, source, basis, self._turn,
                self._stamp, self._offset, self._batch, restores,
            ),
        )  # fmt: skip

    def choice(self, name: str, value: Json, restores: str | None = None) -> None:
        """One choice."""
        self._changes += 1
        text = None if value is None else as_json(value)
        self.row(
            "choice",
            (str(uuid.uuid4()), name, text, self._turn, self._stamp, self._offset, self._batch, restores),
        )

    def restored_entry(self, row: TableRow) -> None:
        """What stood before, with its basis and the entry it came from; or nothing."""
        day, field, id, *rest = row
        if id is None:
            self.entry(Change(date.fromisoformat(day), field, state="cleared"), "typed", "at the time")
            return
        old = entry_from((id, *rest))
        self.entry(old.change, old.source, old.basis, old.restores or old.id)

    def restored_choice(self, row: TableRow) -> None:
        """The value that stood before, or none."""
        name, id, _, value, *rest = row
        self.choice(name, None if value is None else json.loads(value), rest[-1] or id)

    def erased_span(self, id: str, first: date, last: date) -> None:
        """A span of days that was erased; it takes a turn of its own."""
        turn = self._next_turn()
        self.row("erased", (id, first.isoformat(), last.isoformat(), turn, self._stamp))

    def _next_turn(self) -> int:
        (turn,) = self._db.execute(
            "select 1 + max((select coalesce(max(turn), 0) from batch),"
            " (select coalesce(max(turn), 0) from erased))"
        ).fetchone()
        return int(turn)

    def copied(self, table: str, row: TableRow) -> None:
        """A row of another copy, as it is."""
        places = ", ".join("?" * len(row))
        columns = ", ".join(schema.COLUMNS[table])
        self._db.execute(f"insert into {table} ({columns}) values ({places})", row)  # noqa: S608

    def row(self, table: str, values: TableRow) -> None:
        """Insert a row with its digest."""
        self.copied(table, (*values, digest(values)))


def entry_from(row: TableRow) -> Entry:
    """An entry from the columns of its table, without the digest."""
    (id, day, field, value, state, detail, source, basis, turn, at, offset, batch, restores) = row
    parsed = json.loads(detail) if detail else NO_DETAIL
    return Entry(
        id, date.fromisoformat(day), field, value, state, parsed, source, basis, turn,
        from_stamp(at), offset, batch, restores,
    )  # fmt: skip


def digest(values: Iterable[str | int | None]) -> str:
    """A SHA-256 over a row's values, in the order of its columns, without the digest itself.

    It finds a flipped bit that SQLite itself does not see.
    """
    import hashlib  # not at the top: it loads OpenSSL, which the first picture need not wait for

    text = json.dumps(list(values), ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def as_json(value: Json) -> str:
    """JSON in the one form that this program writes: the same value gives the same text."""
    plain = dict(value) if isinstance(value, Mapping) else value
    return json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)
