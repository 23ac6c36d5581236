"""A connection to SQLite, in the words of the record.

The one module that knows the drivers of SQLite, the usual one and SQLCipher's for locked files; what fails in
them leaves as one of our errors.
"""

from __future__ import annotations

import re
import sqlite3
import sys
import time
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from itertools import chain
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, Self

from tracker.diary.errors import HeldRecord, UnwritableRecord
from tracker.record.sqlite_errors import RECORD, FileKind, in_our_words

if TYPE_CHECKING:
    from sqlite_utils import Database

    from tracker.record.lock_keys import LockKey

BUSY_SECONDS = 0.8
"""Seconds that a statement waits in silence for another program: most writing is over by then."""
PATIENCE = 10.0
"""Seconds that somebody waits who was told that another program is in the way."""
Row = sqlite3.Row
"""A row by the names of its columns."""
Value = Any
Values = Iterable[Value]
MEMORY = ":memory:"
NO_LOCK_HERE = "What locks {} and opens it is not installed. Install it with: {} -m pip install sqlcipher3"
_errors: list[type[Exception]] = [sqlite3.Error]
"""What the drivers that are loaded raise: SQLCipher's errors are no kind of sqlite3's."""


class Connection:
    """SQLite on one file or in memory; its rows have names, and its errors are ours.

    A statement commits by itself, unless a transaction holds it together with others.
    """

    def __init__(
        self,
        driver: sqlite3.Connection,
        path: Path,
        kind: FileKind = RECORD,
        address: str = MEMORY,
        key: LockKey | None = None,
    ) -> None:
        self._driver = driver
        self._address = address
        self.key = key
        """What unlocks the file; None for one that is not locked."""
        self.path = path
        """What sentences call it."""
        self.kind = kind
        self.on_wait: Callable[[str], object] | None = None
        """Is told once what a transaction waits for; where nobody is, it does not wait."""

    @classmethod
    def to(
        cls,
        address: str | Path,
        path: Path,
        kind: FileKind = RECORD,
        key: LockKey | None = None,
        wait: float | None = None,
    ) -> Self:
        """A connection to what SQLite finds at an address, a path or a URI.

        Parameters
        ----------
        key
            What unlocks the file; None for one that is not locked.
        wait
            Seconds that a statement waits for another program; None: as long as a person would.
        """
        library = need_sqlcipher(path) if key else sqlite3
        seconds = BUSY_SECONDS if wait is None else wait
        with in_sentences(path, kind):
            driver = library.connect(str(address), timeout=seconds, isolation_level=None, uri=True)
            driver.row_factory = library.Row
            if key:
                driver.execute("pragma cipher_log_level = none")
                driver.execute(f'pragma key = "{key.raw}"')
        return cls(driver, path, kind, str(address), key)

    @classmethod
    def in_memory(cls, path: Path, kind: FileKind = RECORD, data: bytes = b"") -> Self:
        """A connection to a file that lies in memory alone; `data` are its bytes, none for an empty one."""
        made = cls.to(MEMORY, path, kind)
        made.execute("pragma temp_store = memory")  # else what is sorted may come to lie on the disk
        if data:
            with in_sentences(path, kind):
                made._driver.deserialize(data)
        return made

    def execute(self, sql: str, values: Values = ()) -> int:
        """Run a statement; the number of rows that it wrote."""
        with self.in_sentences():
            return self._driver.execute(sql, tuple(values)).rowcount

    def execute_many(self, sql: str, rows: Iterable[Values]) -> None:
        """Run a statement that writes once for each row of values."""
        with self.in_sentences():
            self._driver.executemany(sql, map(tuple, rows))

    def rows(self, sql: str, values: Values = ()) -> list[Row]:
        """All rows of a statement that reads."""
        with self.in_sentences():
            return self._driver.execute(sql, tuple(values)).fetchall()

    def row(self, sql: str, values: Values = ()) -> Row:
        """The only row of a statement that reads."""
        (found,) = self.rows(sql, values)
        return found

    def value(self, sql: str, values: Values = ()) -> Value:
        """The only value of a statement that reads; None where there is no row."""
        found = self.rows(sql, values)
        return found[0][0] if found else None

    def stream(self, sql: str, values: Values = ()) -> Generator[Row]:
        """The rows of a statement, read no further than they are asked for; close it before writing."""
        with self.in_sentences():
            cursor = self._driver.execute(sql, tuple(values))
            try:
                yield from cursor
            finally:
                cursor.close()

    @property
    def in_transaction(self) -> bool:
        """Whether what is written now waits for others."""
        return self._driver.in_transaction

    @contextmanager
    def transaction(self, how: str = "immediate") -> Iterator[None]:
        """All that is written inside is durable at the end, or none of it stands."""
        self._begin(how)
        try:
            yield
            self.execute("commit")
        except BaseException:
            with suppress(*_errors):
                self._driver.execute("rollback")
            raise

    def _begin(self, how: str) -> None:
        told, until = False, time.monotonic() + PATIENCE
        while True:
            try:
                self.execute(f"begin {how}")
            except HeldRecord as held:
                if self.on_wait is None or time.monotonic() > until:
                    raise
                if not told:
                    self.on_wait(f"{str(held).partition(';')[0]}. Waiting for it; Ctrl+C leaves.")
                    told = True
            else:
                return

    @contextmanager
    def reading(self) -> Iterator[None]:
        """All that is read inside is of one state, whatever other programs write meanwhile."""
        if self.in_transaction:
            yield
            return
        with self.transaction("deferred"):
            yield

    @contextmanager
    def attached(self, other: Connection) -> Iterator[None]:
        """Let statements see another record as `theirs`.

        One that lies in memory, or is open by the other driver, is copied: two drivers of one process on the
        same file take each other's locks away (POSIX).
        """
        is_read = other._address != MEMORY and bool(self.key) == bool(other.key)
        address, key = (other._address, other.key) if is_read else (MEMORY, None)
        self.execute("attach ? as theirs key ?", (address, key.raw if key else ""))
        try:
            if not is_read:
                with self.transaction("deferred"):
                    other._copy_rows(self, "theirs")
            yield
        finally:
            self.execute("detach theirs")

    def utils(self) -> Database:
        """The connection for sqlite-utils, inside `in_sentences`; it joins a transaction of ours."""
        from sqlite_utils import Database

        return Database(self._driver, execute_plugins=False)

    def in_sentences(self) -> AbstractContextManager[None]:
        """What turns errors of a library on this connection into ours."""
        return in_sentences(self.path, self.kind, self.key is not None)

    def copy_over(self, other: Connection) -> None:
        """Let another connection hold what this one does, and nothing else."""
        if not (self.key or other.key):
            with other.in_sentences():
                self._driver.backup(other._driver)
            return
        other.execute("pragma secure_delete = on")
        with other.transaction():
            for table in reversed(other.tables()):  # what points at others goes first
                other.execute(f"drop table {table}")
            for row in other.rows("select name from sqlite_master where type = 'view'"):
                other.execute(f"drop view {row['name']}")
            self._copy_rows(other)

    def _copy_rows(self, other: Connection, place: str = "main") -> None:
        """Fill an empty file of another connection with the tables and rows of this one, by any driver."""
        with self.reading():
            made = "select name, sql from sqlite_master where sql is not null and name not like 'sqlite_%'"
            for row in self.rows(f"{made} and type = 'table' order by rowid"):
                other.execute(_made_in(place, row["sql"]))
                _copy_table(self, other, f"{place}.{row['name']}", row["name"])
            for row in self.rows(f"{made} and type <> 'table'"):
                other.execute(_made_in(place, row["sql"]))
            for number in ("application_id", "user_version"):
                other.execute(f"pragma {place}.{number} = {self.value(f'pragma {number}')}")

    def tables(self) -> list[str]:
        """The tables of the file, in the order in which they were made."""
        made = "select name from sqlite_master where type = 'table' and name not like 'sqlite_%'"
        return [name for (name,) in self.rows(f"{made} order by rowid")]

    def faults(self) -> list[str]:
        """What SQLite finds wrong with the file."""
        return [text for (text,) in self.rows("pragma integrity_check") if text != "ok"]

    def as_bytes(self) -> bytes:
        """The file as it lies in memory."""
        with self.in_sentences():
            return self._driver.serialize()

    def trace(self, seen: Callable[[str], object] | None) -> None:
        """Pass every statement to a function as it is run; None ends that."""
        self._driver.set_trace_callback(seen)

    def close(self) -> None:
        """Close it."""
        self._driver.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


@contextmanager
def in_sentences(path: Path, kind: FileKind = RECORD, is_unlocked: bool = False) -> Iterator[None]:
    """Turn an error of SQLite into the one of ours that names the file and what to do.

    A file that its own key does not open is damaged: the key was proven before.
    """
    try:
        yield
    except tuple(_errors) as error:
        name = getattr(error, "sqlite_errorname", None) or ""
        if is_unlocked and name.startswith("SQLITE_NOTADB"):
            name = "SQLITE_CORRUPT"
        raise in_our_words(name, str(error), path, kind) from error


def need_sqlcipher(path: Path) -> ModuleType:
    """The driver for locked files; raises UnwritableRecord where it is not installed."""
    try:
        from sqlcipher3 import dbapi2  # type: ignore[import-untyped]
    except ImportError:
        raise UnwritableRecord(NO_LOCK_HERE.format(path, sys.executable)) from None
    if dbapi2.Error not in _errors:
        _errors.append(dbapi2.Error)
    library: ModuleType = dbapi2
    return library


def _made_in(place: str, sql: str) -> str:
    """The statement that makes a table, an index or a view, made in an attached file instead."""
    return re.sub(r"(?i)^create (table|view|trigger|(?:unique )?index) ", rf"create \1 {place}.", sql)


def _copy_table(source: Connection, aim: Connection, place: str, name: str) -> None:
    rows = source.stream(f"select * from {name}")  # in the order of its making
    first = next(rows, None)
    if first is not None:
        marks = ", ".join("?" * len(first))
        aim.execute_many(f"insert into {place} values ({marks})", chain([first], rows))
