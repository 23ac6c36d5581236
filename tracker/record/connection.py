"""From a path to a connection: what is ours is opened, or made; what is not keeps every byte.

The one module that knows a driver of SQLite; what fails in it leaves as one of our errors.
"""

from __future__ import annotations

import sqlite3
import time
import uuid
from collections import Counter
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from tracker import system
from tracker.diary.errors import (
    DamagedRecord,
    LockedRecord,
    NewerRecord,
    RecordTrouble,
    UnwritableRecord,
)
from tracker.record import files, schema
from tracker.record.sqlite_errors import RECORD, FileKind, foreign, in_our_words

if TYPE_CHECKING:
    from sqlite_utils import Database

BUSY_SECONDS = 0.8
"""Seconds that a statement waits in silence for another program: most writing is over by then."""
PATIENCE = 10.0
"""Seconds that somebody waits who was told that another program is in the way."""
open_here: Counter[Path] = Counter()
"""Records that this process has open, by where they lie, so often."""
Row = sqlite3.Row
"""A row by the names of its columns."""
Value = Any
Values = Iterable[Value]
MEMORY = ":memory:"
MAGIC = b"SQLite format 3\0"
FEW_BITS = 4
"""Bits of a header that may be damaged before the file is taken for another program's."""


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


# --- opening and making ---------------------------------------------------------------------------


def open_record(path: Path) -> tuple[Connection, bool]:
    """A connection to the record at a path, which is made if there is none, and whether it can write.

    Where there is no room or no leave for the files beside a record, it can still be looked at.

    Raises
    ------
    ForeignRecord, NewerRecord
        For a file that is not ours or is ahead of this program; it is not touched.
    DamagedRecord, LockedRecord, UnwritableRecord
        With the sentence that says what to do.
    """
    if files.is_there(path):
        files.refuse_open_folder(path.parent)
        refuse_what_is_not_ours(path)
        files.closed_to_others(path)
    else:
        _create(path)
    try:
        return _connect(path), True
    except UnwritableRecord:
        looking = _looking(path)
        if looking is None:
            raise
        return looking, False


def is_open_here(path: Path) -> bool:
    """Whether this process has the record at a path open."""
    return open_here[files.at_its_end(path)] > 0


def refuse_what_is_not_ours(path: Path) -> None:
    """Look at the header of a file alone, so that one that is not ours keeps every byte.

    One that this process has open is left alone: to close a file takes away every lock that the process has
    on it (POSIX), SQLite's too, and the next program to end would delete the log that is still in use.

    Raises ForeignRecord, NewerRecord, DamagedRecord or UnwritableRecord with the reason.
    """
    if is_open_here(path):
        return
    if not path.is_file():
        raise foreign(path)
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be read: {system.reason(error)}.") from error
    refuse_header(header, path)


def refuse_header(header: bytes, path: Path, kind: FileKind = RECORD) -> None:
    """Refuse a file by its first 100 bytes, with the same errors."""
    if not header:
        raise DamagedRecord(f"{kind.called} {path} is an empty file; {kind.if_empty}.")
    if not header.startswith(MAGIC) or len(header) < 100:
        raise foreign(path, kind)
    if int.from_bytes(header[68:72], "big") != schema.APPLICATION_ID:
        raise foreign(path, kind)
    if int.from_bytes(header[60:64], "big") > schema.VERSION:
        raise NewerRecord(
            f"{kind.called} {path} was made by a newer version of this program; it was not touched. "
            "Install the newer version to open it."
        )


def was_a_record(path: Path) -> bool:
    """Whether a file that its header calls foreign was a record: it has backups, or a few bits differ."""
    if not path.is_file():
        return False
    ours = MAGIC + schema.APPLICATION_ID.to_bytes(4, "big")
    with path.open("rb") as file:
        header = file.read(100)
    flipped = int.from_bytes(header[:16] + header[68:72], "big") ^ int.from_bytes(ours, "big")
    return bool(files.made_backups(path)) or flipped.bit_count() <= FEW_BITS


def _create(path: Path) -> None:
    """Make a whole new record aside and give it its name, so that no half-made one is ever seen."""
    files.private_folder(path.parent)
    aside = path.with_name(f".{path.name}.{uuid.uuid4().hex}")
    try:
        system.make_private_file(aside)
        with Connection.to(aside, path) as db:
            _make_durable(db)
            schema.migrate(db)
            _enable_wal(db)  # here, for a cut in the midst of it leaves a journal beside the file
        system.take_name(aside, path)
        aside.unlink(missing_ok=True)
        system.sync_folder(path.parent)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be made: {system.reason(error)}.") from error
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)


def look_only(path: Path, kind: FileKind = RECORD) -> Connection:
    """A connection that cannot write; to a file without a log it leaves none beside it either."""
    way = "mode=ro" if files.log_of(path).exists() else "immutable=1"
    return Connection.to(address(path, way), path, kind)


def address(path: Path, way: str) -> str:
    """What SQLite is told to open a file in some way."""
    return f"{path.resolve().as_uri()}?{way}"


def _looking(path: Path) -> Connection | None:
    """A connection for looking alone, if a record of today's schema can be read through it."""
    log = files.log_of(path)
    is_whole = not log.exists() or log.stat().st_size == 0
    db = Connection.to(address(path, "immutable=1" if is_whole else "mode=rw"), path)
    try:
        db.execute("pragma locking_mode = exclusive")  # keeps the index of a log in memory
        version = db.value("pragma user_version")
        db.value("select id from batch limit 1")
    except RecordTrouble:
        version = 0
    if version == schema.VERSION:
        return db
    db.close()
    return None


def _connect(path: Path) -> Connection:
    db = Connection.to(path, path)
    try:
        _enable_wal(db)
        _make_durable(db)
        db.execute("pragma foreign_keys = on")
        db.execute("pragma temp_store = memory")
        version = db.value("pragma user_version")
        if version < 1:  # no record was ever made without one
            raise DamagedRecord(f"The record {path} is damaged; {RECORD.if_damaged}.")
        if version < schema.VERSION:
            _lay_aside(db, path)
            schema.migrate(db)
            db.execute("pragma wal_checkpoint(truncate)")
    except BaseException:
        db.close()
        raise
    return db


def _make_durable(db: Connection) -> None:
    """Let every commit wait for the disk, on macOS also for the memory of the disk itself."""
    db.execute("pragma synchronous = full")
    db.execute("pragma fullfsync = on")


def _lay_aside(db: Connection, path: Path) -> None:
    """Copy a record among the backups before it is brought up to a newer version."""
    folder = files.backups_folder(path)
    files.private_folder(folder)
    aim = files.unused(folder / f"{path.stem}-before-version-{schema.VERSION}.sqlite")
    with files.written_whole(aim) as aside:
        db.execute("vacuum into ?", (str(aside),))


def _enable_wal(db: Connection) -> None:
    """Two programs that open a new file together may both ask for the log: try again for a while."""
    until = time.monotonic() + BUSY_SECONDS
    while True:
        try:
            db.rows("pragma journal_mode = wal")
        except RecordTrouble:
            if time.monotonic() > until:
                raise
            time.sleep(0.05)
        else:
            return
