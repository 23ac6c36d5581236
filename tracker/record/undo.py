"""Taking back: what stood before an action is written anew, as an action that undoes it."""

from __future__ import annotations

import sqlite3
from collections.abc import Generator
from contextlib import closing
from typing import NamedTuple

from tracker.record import schema
from tracker.record.batch_writer import TableRow, Writer


class BatchRef(NamedTuple):
    """A batch as it stands in the record."""

    id: str
    what: str
    undoes: str | None


def last_done(db: sqlite3.Connection) -> BatchRef | None:
    """The newest action that stands."""
    with closing(_standing(db)) as standing:
        return next((action for action in standing if action.undoes is None), None)


def last_undone(db: sqlite3.Connection) -> BatchRef | None:
    """The newest undo that stands, with no action kept since; a redo hides nothing older."""
    with closing(_standing(db)) as standing:
        for action in standing:
            if action.undoes is None:
                return None
            if not _is_undo(db, action.undoes):
                return action
    return None


def turn_back(db: sqlite3.Connection, write: Writer, action: BatchRef) -> None:
    """Write what stood before an action as new rows of an action that undoes it."""
    write.begin(action.what, undoes=action.id)
    for row in _before(db, "entry", ("day", "field"), action.id):
        write.restored_entry(row)
    for row in _before(db, "choice", ("name",), action.id):
        write.restored_choice(row)


def _standing(db: sqlite3.Connection) -> Generator[BatchRef]:
    """The actions that are not taken back, newest first: an undo stands until it is undone itself.

    They are read no further than they are asked for; whoever asks closes the generator before writing. A
    trial that was drawn, or left, stays so: a lot that can be drawn again until it pleases is no lot.
    """
    newest_first = (
        "select id, what, undoes from batch where id not in (select batch from choice"
        " where name glob 'trial.*' and name not glob '*.missed.*')"
        " order by turn desc, recorded_at desc, id desc"
    )
    taken_back: set[str] = set()
    with closing(db.execute(newest_first)) as rows:
        for action in map(BatchRef._make, rows):
            if action.id in taken_back:
                continue
            if action.undoes is not None:
                taken_back.add(action.undoes)
            yield action


def _is_undo(db: sqlite3.Connection, id: str) -> bool:
    return bool(db.execute("select 1 from batch where id = ? and undoes is not null", (id,)).fetchone())


def _before(db: sqlite3.Connection, table: str, key: tuple[str, ...], id: str) -> list[TableRow]:
    """For each square or choice of an action: its key, and the row that counted before it."""
    columns = schema.COLUMNS[table][:-1]
    same = " and ".join(f"p.{part} = b.{part}" for part in key)
    keys = ", ".join(f"b.{part}" for part in key)
    return db.execute(
        f"select {keys}, {', '.join('p.' + column for column in columns)}"  # noqa: S608
        f" from {table} b left join {table} p on p.id ="
        f" (select p.id from {table} p where {same}"
        "   and (p.turn, p.recorded_at, p.id) < (b.turn, b.recorded_at, b.id)"
        "   order by p.turn desc, p.recorded_at desc, p.id desc limit 1)"
        " where b.batch = ?",
        (id,),
    ).fetchall()
