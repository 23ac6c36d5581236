"""A connection to SQLite, in the words of the record.

The one module that knows a driver of SQLite; what fails in it leaves as one of our errors.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from tracker.diary.errors import LockedRecord
from tracker.record.sqlite_errors import RECORD, FileKind, in_our_words

if TYPE_CHECKING:
    from sqlite_utils import Database

BUSY_SECONDS = 0.8
"""Seconds that a statement waits in silence for another program: most writing is over by then."""
PATIENCE = 10.0
"""Seconds that somebody waits who was told that another program is in the way."""
Row = sqlite3.Row
"""A row by the names of its columns."""
Value = Any
Values = Iterable[Value]
MEMORY = ":memory:"


class Connection:
    """SQLite on one file or in memory; its rows have names, and its errors are ours.

    A statement commits by itself, unless a transaction holds it together with others.
    """

    def __init__(
        self, driver: sqlite3.Connection, path: Path, kind: FileKind = RECORD, address: str = MEMORY
    ) -> None:
        driver.row_factory = Row
        self._driver = driver
        self._address = address
        self.path = path
        """What sentences call it."""
        self.kind = kind
        self.on_wait: Callable[[str], object] | None = None
        """Is told once what a transaction waits for; where nobody is, it does not wait."""

    @classmethod
    def to(cls, address: str | Path, path: Path, kind: FileKind = RECORD, wait: float | None = None) -> Self:
        """A connection to what SQLite finds at an address, a path or a URI.

        Parameters
        ----------
        wait
            Seconds that a statement waits for another program; None: as long as a person would.
        """
        seconds = BUSY_SECONDS if wait is None else wait
        with in_sentences(path, kind):
            driver = sqlite3.connect(str(address), timeout=seconds, isolation_level=None, uri=True)
        return cls(driver, path, kind, str(address))

    @classmethod
    def in_memory(cls, path: Path, kind: FileKind = RECORD, data: bytes = b"") -> Self:
        """A connection to a file that lies in memory alone; `data` are its bytes, none for an empty one."""
        made = cls.to(MEMORY, path, kind)
        if data:
            with in_sentences(path, kind):
                made._driver.deserialize(data)
        return made

    def execute(self, sql: str, values: Values = ()) -> int:
        """Run a statement; the number of rows that it wrote."""
        with self.in_sentences():
            return self._driver.execute(sql, tuple(values)).rowcount

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
            with suppress(sqlite3.Error):
                self._driver.execute("rollback")
            raise

    def _begin(self, how: str) -> None:
        told, until = False, time.monotonic() + PATIENCE
        while True:
            try:
                self.execute(f"begin {how}")
            except LockedRecord as held:
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
        """Let statements see another record as `theirs`."""
        self.execute("attach ? as theirs", (other._address,))
        try:
            if other._address == MEMORY:
                data = other.as_bytes()
                with self.in_sentences():
                    self._driver.deserialize(data, name="theirs")
            yield
        finally:
            self.execute("detach theirs")

    def utils(self) -> Database:
        """The connection for sqlite-utils, inside `in_sentences`; it joins a transaction of ours."""
        from sqlite_utils import Database

        return Database(self._driver, execute_plugins=False)

    def in_sentences(self) -> AbstractContextManager[None]:
        """What turns errors of a library on this connection into ours."""
        return in_sentences(self.path, self.kind)

    def copy_over(self, other: Connection) -> None:
        """Let another connection hold what this one does."""
        with other.in_sentences():
            self._driver.backup(other._driver)

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
def in_sentences(path: Path, kind: FileKind = RECORD) -> Iterator[None]:
    """Turn an error of SQLite into the one of ours that names the file and what to do."""
    try:
        yield
    except sqlite3.Error as error:
        name = getattr(error, "sqlite_errorname", None) or ""
        raise in_our_words(name, str(error), path, kind) from error
