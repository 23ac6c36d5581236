"""The rows of one action: gathered first, then written in four statements, transaction included."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from types import MappingProxyType
from typing import Any, NamedTuple

from tracker.diary.clock import Clock, as_stamp, from_stamp
from tracker.diary.days import NO_DETAIL, Basis, Change, Day, Entry, Field, Source
from tracker.record import schema
from tracker.record.driver import Connection, Row

Json = Any
"""What JSON can hold: None, bool, numbers, text, lists and objects of these."""
Days = Mapping[date, Day]
NO_DAYS: Days = MappingProxyType({})
ROWS_AT_ONCE = 200
"""Rows of one insert: SQLite takes no end of values in a statement."""


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
    days: Days = NO_DAYS
    """The days of its squares as they stand after it; none for an undo."""

    @property
    def day(self) -> date | None:
        """The day of its squares; None where it has none, or several days have."""
        days = {day for day, _ in self.squares}
        return days.pop() if len(days) == 1 else None


class RecordVersion(NamedTuple):
    """What tells the state of a record from every later one."""

    last_batch: str | None
    """Id of the batch that was written last."""
    erased: int
    """How many spans were erased."""
    turn: int
    """The largest turn."""
    has_identity: bool
    """Whether the record has a name of its own."""


def version_of(db: Connection) -> RecordVersion:
    """The version of a record as it stands."""
    return RecordVersion(
        *db.row(
            "select (select id from batch order by rowid desc limit 1), (select count(*) from erased),"
            " max((select coalesce(max(turn), 0) from batch), (select coalesce(max(turn), 0) from erased)),"
            " exists (select 1 from choice where name = ?)",
            (schema.IDENTITY,),
        )
    )


class BatchWriter:
    """Gathers the rows of one action on top of a version of the record."""

    def __init__(self, version: RecordVersion, clock: Clock) -> None:
        self.version = version
        self.moment = from_stamp(as_stamp(clock.now()))
        self.turn = version.turn + 1
        self.id = self.last_batch = str(uuid.uuid4())
        self.what = ""
        self.undoes: str | None = None
        self._stamp = as_stamp(self.moment)
        self._offset = clock.offset_minutes(self.moment)
        self._entries: list[Sequence[Json]] = []
        self._choices: list[Sequence[Json]] = []
        self._squares: list[tuple[date, Field]] = []

    @property
    def batch(self) -> Batch:
        """The action so far."""
        changes = len(self._entries) + len(self._choices)
        return Batch(self.id, self.turn, self.what, changes, tuple(self._squares))

    @property
    def has_choices(self) -> bool:
        """Whether it decides something that is not a day."""
        return bool(self._choices)

    def entry(self, change: Change, source: Source, basis: Basis, restores: str | None = None) -> str:
        """One field of one day; gives its id."""
        id = str(uuid.uuid4())
        self._squares.append((change.day, change.field))
        self._entries.append(
            with_digest(
                id, change.day.isoformat(), change.field, change.value, change.state,
                as_json(change.detail) if change.detail else None, source, basis, self.turn,
                self._stamp, self._offset, self.id, restores,
            )
        )  # fmt: skip
        return id

    def choice(self, name: str, value: Json, restores: str | None = None) -> None:
        """One choice."""
        self._choices.append(self._choice_row(name, value, restores, self.id))

    def write(self, db: Connection) -> bool:
        """Insert the rows, in a transaction; nothing, and False, where the record is of another version."""
        row = self._batch_row(self.id, self.what, self.undoes)
        written = db.execute(
            f"insert into batch ({_columns('batch')}) select {_places(row)}"
            " where (select id from batch order by rowid desc limit 1) is ?"
            " and (select count(*) from erased) = ?",
            (*row, self.version.last_batch, self.version.erased),
        )
        if written:
            insert(db, "entry", self._entries)
            insert(db, "choice", self._choices)
            if not self.version.has_identity:
                self._name_the_record(db)
        return bool(written)

    def _name_the_record(self, db: Connection) -> None:
        """Give the record its identity, in a batch of its own: no undo and no erasing touches it."""
        self.last_batch = str(uuid.uuid4())
        insert(db, "batch", [self._batch_row(self.last_batch, "identity", None)])
        insert(db, "choice", [self._choice_row(schema.IDENTITY, str(uuid.uuid4()), None, self.last_batch)])

    def _batch_row(self, id: str, what: str, undoes: str | None) -> Sequence[Json]:
        return with_digest(id, self.turn, what, undoes, self._stamp)

    def _choice_row(self, name: str, value: Json, restores: str | None, batch: str) -> Sequence[Json]:
        text = None if value is None else as_json(value)
        return with_digest(
            str(uuid.uuid4()), name, text, self.turn, self._stamp, self._offset, batch, restores
        )


def insert(db: Connection, table: str, rows: Sequence[Sequence[Json]]) -> None:
    """Insert rows in the order of their columns."""
    for start in range(0, len(rows), ROWS_AT_ONCE):
        some = rows[start : start + ROWS_AT_ONCE]
        places = ", ".join(f"({_places(row)})" for row in some)
        values = [value for row in some for value in row]
        db.execute(f"insert into {table} ({_columns(table)}) values {places}", values)


def _columns(table: str) -> str:
    return ", ".join(schema.COLUMNS[table])


def _places(row: Sequence[Json]) -> str:
    return ", ".join("?" * len(row))


def entry_from(row: Row) -> Entry:
    """An entry from its row."""
    return Entry(
        row["id"], date.fromisoformat(row["day"]), row["field"], row["value"], row["state"],
        detail_from(row["detail"]), row["source"], row["basis"], row["turn"],
        from_stamp(row["recorded_at"]), row["offset"], row["batch"], row["restores"],
    )  # fmt: skip


def detail_from(text: str | None) -> Mapping[str, Any]:
    """The detail of an entry from its column."""
    return json.loads(text) if text else NO_DETAIL


def with_digest(*values: str | int | None) -> tuple[str | int | None, ...]:
    """The values of a row, in the order of its columns, with their digest at the end."""
    return (*values, digest(values))


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
