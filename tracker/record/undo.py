"""Taking back: what stood before an action is written anew, as an action that undoes it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from typing import NamedTuple

from tracker.diary.days import Change
from tracker.record import schema
from tracker.record.batch_writer import BatchWriter, entry_from
from tracker.record.driver import Connection, Row


class BatchRef(NamedTuple):
    """A batch as it stands in the record."""

    id: str
    what: str
    undoes: str | None


Find = Callable[[Connection], BatchRef | None]


def last_done(db: Connection) -> BatchRef | None:
    """The newest action that stands."""
    with closing(db.stream(NEWEST_FIRST)) as rows:
        return next((batch for batch in _standing(rows) if batch.undoes is None), None)


def last_undone(db: Connection) -> BatchRef | None:
    """The newest undo that stands, with no action kept since; a redo hides nothing older."""
    with closing(db.stream(NEWEST_FIRST)) as rows:
        for batch in _standing(rows):
            if batch.undoes is None:
                return None
            if not db.value("select 1 from batch where id = ? and undoes is not null", (batch.undoes,)):
                return batch
    return None


NEWEST_FIRST = (
    "select id, what, undoes from batch where id not in (select batch from choice"
    " where (name glob 'trial.*' and name not glob '*.missed.*') or name = 'record.id')"
    " order by turn desc, recorded_at desc, id desc"
)
"""A trial that was drawn, or left, stays so: a lot that can be drawn again until it pleases is no lot."""


def _standing(rows: Iterator[Row]) -> Iterator[BatchRef]:
    """The actions that are not taken back, of rows newest first: an undo stands until it is undone itself."""
    taken_back: set[str] = set()
    for row in rows:
        batch = BatchRef(row["id"], row["what"], row["undoes"])
        if batch.id in taken_back:
            continue
        if batch.undoes is not None:
            taken_back.add(batch.undoes)
        yield batch


def turn_back(db: Connection, write: BatchWriter, batch: BatchRef) -> None:
    """Write what stood before an action as new rows of an action that undoes it."""
    write.what, write.undoes = batch.what, batch.id
    for row in _before(db, "entry", ("day", "field"), batch.id):
        _restore_entry(write, row)
    for row in _before(db, "choice", ("name",), batch.id):
        value = row["value"]
        write.choice(
            row["key_name"], None if value is None else json.loads(value), row["restores"] or row["id"]
        )


def _restore_entry(write: BatchWriter, row: Row) -> None:
    """What stood before, with its basis and the entry it came from; or nothing."""
    if row["id"] is None:
        day = date.fromisoformat(row["key_day"])
        write.entry(Change(day, row["key_field"], state="cleared"), "typed", "at the time")
        return
    old = entry_from(row)
    write.entry(old.change, old.source, old.basis, old.restores or old.id)


def _before(db: Connection, table: str, key: tuple[str, ...], id: str) -> list[Row]:
    """For each square or choice of an action: its key, and the row that counted before it."""
    columns = ", ".join(f"p.{column}" for column in schema.COLUMNS[table])
    same = " and ".join(f"p.{part} = b.{part}" for part in key)
    keys = ", ".join(f"b.{part} as key_{part}" for part in key)
    return db.rows(
        f"select {keys}, {columns}"
        f" from {table} b left join {table} p on p.id ="
        f" (select p.id from {table} p where {same}"
        "   and (p.turn, p.recorded_at, p.id) < (b.turn, b.recorded_at, b.id)"
        "   order by p.turn desc, p.recorded_at desc, p.id desc limit 1)"
        " where b.batch = ?",
        (id,),
    )
