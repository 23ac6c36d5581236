"""The record: one SQLite file, append-only, durable before a call returns."""

from __future__ import annotations

import json
import os
import sqlite3
import time
import uuid
from collections import Counter
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tracker.diary import keeping
from tracker.diary.choices import Choices, Settings
from tracker.diary.clock import Clock, from_stamp
from tracker.diary.days import (
    FIELDS,
    LEFT_OUT_AFTER,
    NO_DETAIL,
    Basis,
    Change,
    Day,
    Entry,
    Source,
    Square,
    State,
)
from tracker.diary.errors import DamagedRecord, NewerRecord, NothingToUndo, UnwritableRecord
from tracker.diary.keeping import changes_something
from tracker.diary.scales import GRIDS
from tracker.record import files, schema
from tracker.record.choices import choices_from, ended_breaks, setting_values
from tracker.record.trouble import foreign, in_sentences
from tracker.record.writer import Batch, Row, Writer, as_json, entry_from

BUSY_SECONDS = 10.0
NEWEST_LAST = "order by turn, recorded_at, id"
_open_here: Counter[Path] = Counter()
"""Records that this process has open, by where they lie, so often."""
Watched = Callable[[Sequence[Change]], Iterable[Change]]


class Record:
    """All that one person has kept.

    Reading and writing go through one connection of the thread that opened it. Every writing call is
    one transaction and durable when it returns, or raises and leaves the record as it was.
    """

    def __init__(self, db: sqlite3.Connection, path: Path, clock: Clock) -> None:
        self._db = db
        self._choices: Choices | None = None
        self._choices_version = 0
        self._seen_version = 0
        self._is_listed = False
        """Whether it counts among those that are open here; one in memory does not."""
        self.path = path
        self.clock = clock

    # --- opening and closing ------------------------------------------------------------------

    @classmethod
    def open(cls, path: Path, clock: Clock | None = None) -> Self:
        """Open the record at a path, and make it if there is none.

        Raises
        ------
        ForeignRecord, NewerRecord
            For a file that is not ours or is ahead of this program; it is not touched.
        DamagedRecord, LockedRecord, UnwritableRecord
            With the sentence that says what to do.
        """
        path = files.at_its_end(path)
        if files.is_there(path):
            files.refuse_open_folder(path.parent)
            refuse_what_is_not_ours(path)
            files.closed_to_others(path)
        else:
            _create(path)
        with in_sentences(path):
            db = _connect(path)
        record = cls(db, path, clock or Clock())
        record._is_listed = True
        _open_here[path] += 1
        return record

    def close(self) -> None:
        """Close the record; its side files go where nobody else has it open."""
        if self._is_listed:
            self._is_listed = False
            _open_here[self.path] -= 1
        self._db.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def db(self) -> sqlite3.Connection:
        """The connection, for the other modules of this package."""
        return self._db

    def forget(self) -> None:
        """Read the choices anew when they are next asked for."""
        self._choices = None

    # --- reading ------------------------------------------------------------------------------

    def days(self, first: date | None = None, last: date | None = None) -> dict[date, Day]:
        """The days that have something, from first to last (both included), in order of time."""
        span = ((first or date.min).isoformat(), (last or date.max).isoformat())
        rows = self.query(
            "select e.day, e.field, e.value, e.state, e.detail, e.source, e.basis,"
            " coalesce(o.recorded_at, e.recorded_at)"
            " from current_entry e left join entry o on o.id = e.restores"
            " where e.day between ? and ? and e.state <> 'cleared' order by e.day",
            span,
        )
        change_hour = self.choices().settings.day_change_hour
        squares: dict[str, dict[str, Square]] = {}
        try:
            for day, field, *rest in rows:
                squares.setdefault(day, {})[field] = self._square(change_hour, day, *rest)
        except ValueError as error:
            raise DamagedRecord(
                f"The record {self.path} holds a row of {day} that cannot be read; run tracker check."
            ) from error
        return {(at := date.fromisoformat(day)): Day(at, **fields) for day, fields in squares.items()}

    def day(self, day: date) -> Day:
        """One day, empty where nothing is kept."""
        return self.days(day, day).get(day, Day(day))

    def unanswered(self, first: date, last: date) -> int:
        """How many squares of both grids hold nothing on the days from first to last, both included."""
        ((squares,),) = self.query(
            "select count(*) from current_entry where day between ? and ?"
            " and field in ('mood', 'sleep') and state <> 'cleared'",
            (first.isoformat(), last.isoformat()),
        )
        return len(GRIDS) * ((last - first).days + 1) - int(squares)

    def history(self, first: date, last: date | None = None) -> list[Entry]:
        """Every entry of a day, or of the days from first to last, oldest first, one field after another."""
        rows = self.query(
            f"select {', '.join(schema.COLUMNS['entry'][:-1])} from entry"  # noqa: S608
            f" where day between ? and ? {NEWEST_LAST}",
            (first.isoformat(), (last or first).isoformat()),
        )
        entries = [entry_from(row) for row in rows]
        return sorted(entries, key=lambda entry: (entry.turn, entry.recorded_at, FIELDS.index(entry.field)))

    def first_day(self) -> date | None:
        """Earliest day with a mood or sleep that findings use; None where nothing is kept."""
        # What is surely left out is passed over before it is looked at: days between a remembered entry
        # and its day are counted here in UTC, so three more are asked for than the rule has.
        listed = self._db.execute(
            "select distinct day from entry where field in ('mood', 'sleep') and day <= ?"
            " and (basis <> 'remembered' or julianday(recorded_at) - julianday(day) <= ?)"
            " order by day",
            (self.today().isoformat(), LEFT_OUT_AFTER + 3),
        )
        with in_sentences(self.path):
            for (text,) in listed:
                day = self.day(date.fromisoformat(text))
                if any(
                    square and square.is_kept and not square.is_left_out for square in (day.mood, day.sleep)
                ):
                    return day.date
        return None

    def was_kept(self, levels: Iterable[str]) -> bool:
        """Whether a level was ever kept on any day, taken back or not."""
        ids = list(levels)
        places = ", ".join("?" * len(ids))
        return bool(self.query(f"select 1 from entry where value in ({places}) limit 1", tuple(ids)))  # noqa: S608

    def today(self) -> date:
        """The day that is going on, by her own day-change hour."""
        return self.clock.today(self.choices().settings.day_change_hour)

    def choices(self) -> Choices:
        """All that she has decided, as it stands."""
        version = self._data_version()
        if self._choices is None or version != self._choices_version:
            standing = self._values("select name, value from current_choice where value is not null")
            self._choices = choices_from(standing, self._values(schema.SCALES_TAKEN_BACK))
            self._choices_version = version
        return self._choices

    def _values(self, sql: str) -> dict[str, Any]:
        """Choices by name, each as the last row of a statement has it."""
        return {name: json.loads(value) for name, value in self.query(sql)}

    def changed_elsewhere(self) -> bool:
        """Whether another program wrote to the record since this was last asked."""
        version = self._data_version()
        changed = version != self._seen_version
        self._seen_version = version
        return changed

    def _data_version(self) -> int:
        """A number of SQLite's that moves when another connection writes."""
        ((version,),) = self.query("pragma data_version", ())
        return int(version)

    def is_empty(self) -> bool:
        """Whether nothing was ever kept or chosen."""
        return not self.query("select 1 from batch limit 1", ()) and not self.query(
            "select 1 from erased limit 1", ()
        )

    # --- writing ------------------------------------------------------------------------------

    def keep(
        self,
        changes: Iterable[Change],
        what: str,
        source: Source = "typed",
        basis: Basis | None = None,
        *,
        over: bool = True,
        choices: Mapping[str, Any] | None = None,
        watched: Watched = iter,
    ) -> Batch | None:
        """Keep changes as one action; those that change nothing are left out.

        A mood or sleep inside a break that is still going on ends the break on the day before.

        Parameters
        ----------
        changes
            Of several for one field of a day the last counts.
        what
            The action in words, as undo will name it.
        basis
            On what they rest; None: by how long after the day they come.
        over
            Whether a square that is kept already may be changed; if not, it is left as it stands.
        choices
            Choices (name and JSON value) that belong to the same action.
        watched
            Passes the changes on one by one, for whoever shows how far it has come.

        Returns
        -------
        The action, or None if everything stood already.

        Raises
        ------
        WrongDay, UnknownValue
            If one of them cannot be kept; then none is.
        RecordTrouble
            If the record cannot be written.
        """
        wanted = list({(change.day, change.field): change for change in changes}.values())
        decided = self.choices()
        last_open = self.clock.last_open_day(decided.settings.day_change_hour)
        for change in wanted:
            keeping.check(change, decided, last_open)
        today = self.today()
        with self.writing() as write:
            new = self._those_that_change(wanted, over)
            values = {**(choices or {}), **ended_breaks(new, self.choices().breaks)}
            if not new and not values:
                return None
            write.begin(what)
            for change in watched(new):
                write.entry(change, source, basis or keeping.basis_by_hand(change.day, today))
            for name, value in values.items():
                write.choice(name, value)
        self._choices = None
        return write.batch

    def choose(self, values: Mapping[str, Any], what: str) -> Batch | None:
        """Keep choices (name and JSON value; None takes one back) as one action."""
        if not values:
            return None
        keeping.check_text("".join(map(as_json, (*values, *values.values()))), "This")
        with self.writing() as write:
            write.begin(what)
            for name, value in values.items():
                write.choice(name, value)
        self._choices = None
        return write.batch

    def keep_settings(self, settings: Settings, what: str = "settings") -> Batch | None:
        """Keep settings; those that stand already write nothing."""
        return self.choose(setting_values(settings, self.choices().settings), what)

    def undo(self) -> Batch:
        """Take the last action back that is not taken back yet.

        Raises NothingToUndo when there is none.
        """
        found = self._last_done()
        if found is None:
            raise NothingToUndo("There is nothing to undo.")
        return self._turn_back(*found)

    def redo(self) -> Batch:
        """Bring back the action that was last taken back.

        Raises NothingToUndo when there is none, or when something was kept since.
        """
        found = self._last_undone()
        if found is None:
            raise NothingToUndo("There is nothing to bring back.")
        return self._turn_back(*found)

    def _last_done(self) -> tuple[str, str] | None:
        """The newest action that stands."""
        with closing(self._standing()) as standing:
            return next(((id, what) for id, what, undoes in standing if undoes is None), None)

    def _last_undone(self) -> tuple[str, str] | None:
        """The newest undo that stands, with no action kept since; a redo hides nothing older."""
        with closing(self._standing()) as standing:
            for id, what, undoes in standing:
                if undoes is None:
                    return None
                if not self._is_undo(undoes):
                    return id, what
        return None

    def _standing(self) -> Generator[tuple[str, str, str | None]]:
        """The actions that are not taken back, newest first: an undo stands until it is undone itself.

        They are read no further than they are asked for; whoever asks closes the generator before writing.
        """
        newest_first = "select id, what, undoes from batch order by turn desc, recorded_at desc, id desc"
        taken_back: set[str] = set()
        with in_sentences(self.path), closing(self._db.execute(newest_first)) as actions:
            for id, what, undoes in actions:
                if id in taken_back:
                    continue
                if undoes is not None:
                    taken_back.add(undoes)
                yield id, what, undoes

    def _is_undo(self, batch_id: str) -> bool:
        return bool(self.query("select 1 from batch where id = ? and undoes is not null", (batch_id,)))

    def _turn_back(self, batch_id: str, what: str) -> Batch:
        """Write what stood before a batch as new rows of a batch that undoes it."""
        with self.writing() as write:
            write.begin(what, undoes=batch_id)
            for row in self._before("entry", ("day", "field"), batch_id):
                write.restored_entry(row)
            for row in self._before("choice", ("name",), batch_id):
                write.restored_choice(row)
        self._choices = None
        return write.batch

    def _before(self, table: str, key: tuple[str, ...], batch_id: str) -> list[Row]:
        """For each square or choice of a batch: its key, and the row that counted before it."""
        columns = schema.COLUMNS[table][:-1]
        same = " and ".join(f"p.{part} = b.{part}" for part in key)
        keys = ", ".join(f"b.{part}" for part in key)
        return self.query(
            f"select {keys}, {', '.join('p.' + column for column in columns)}"  # noqa: S608
            f" from {table} b left join {table} p on p.id ="
            f" (select p.id from {table} p where {same}"
            "   and (p.turn, p.recorded_at, p.id) < (b.turn, b.recorded_at, b.id)"
            "   order by p.turn desc, p.recorded_at desc, p.id desc limit 1)"
            " where b.batch = ?",
            (batch_id,),
        )

    def _those_that_change(self, changes: list[Change], over: bool) -> list[Change]:
        if not changes:
            return []
        stand = self.days(min(c.day for c in changes), max(c.day for c in changes))
        return [
            change
            for change in changes
            if changes_something(change, day := stand.get(change.day, Day(change.day)))
            and (over or day.square(change.field) is None)
        ]

    @contextmanager
    def together(self) -> Iterator[None]:
        """Make one transaction of all actions inside: durable at the end, or none of them stands."""
        with self.writing():
            yield

    @contextmanager
    def writing(self) -> Iterator[Writer]:
        """One transaction: all of it is durable at the end, or none of it stands."""
        if self._db.in_transaction:
            yield Writer(self._db, self.clock)
            return
        with in_sentences(self.path):
            self._db.execute("begin immediate")
            try:
                yield Writer(self._db, self.clock)
                self._db.execute("commit")
            except BaseException:
                with suppress(sqlite3.Error):
                    self._db.execute("rollback")
                self._choices = None
                raise

    def query(self, sql: str, values: tuple[Any, ...] = ()) -> list[Row]:
        """Rows of a statement that reads."""
        with in_sentences(self.path):
            return self._db.execute(sql, values).fetchall()

    def _square(
        self,
        change_hour: int,
        day: str,
        value: str,
        state: State,
        detail: str | None,
        source: Source,
        basis: Basis,
        kept_at: str,
    ) -> Square:
        moment = from_stamp(kept_at)
        late = (self.clock.day_of(moment, change_hour) - date.fromisoformat(day)).days
        return Square(
            value, state, basis, source, moment, max(0, late), json.loads(detail) if detail else NO_DETAIL
        )


def is_open_here(path: Path) -> bool:
    """Whether this process has the record at a path open."""
    return _open_here[files.at_its_end(path)] > 0


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
        raise UnwritableRecord(f"The record {path} cannot be read: {files.reason(error)}.") from error
    refuse_header(header, path)


def refuse_header(header: bytes, path: Path) -> None:
    """Refuse a file by its first 100 bytes, with the same errors."""
    if not header:
        raise DamagedRecord(
            f"The record {path} is an empty file; bring back a backup with tracker restore, or remove it."
        )
    if not header.startswith(b"SQLite format 3\0") or len(header) < 100:
        raise foreign(path)
    if int.from_bytes(header[68:72], "big") != schema.APPLICATION_ID:
        raise foreign(path)
    if int.from_bytes(header[60:64], "big") > schema.VERSION:
        raise NewerRecord(
            f"The record {path} was made by a newer version of this program; it was not touched. "
            "Install the newer version to open it."
        )


def _create(path: Path) -> None:
    """Make a whole new record aside and give it its name, so that no half-made one is ever seen."""
    files.private_folder(path.parent)
    aside = path.with_name(f".{path.name}.{uuid.uuid4().hex}")
    try:
        files.private_file(aside)
        with in_sentences(path):
            db = sqlite3.connect(aside, isolation_level=None)
            try:
                schema.migrate(db)
            finally:
                db.close()
        _take_name(aside, path)
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be made: {files.reason(error)}.") from error
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)


def _take_name(aside: Path, path: Path) -> None:
    """Give a new record its name, unless another program was quicker."""
    try:
        os.link(aside, path)
    except FileExistsError:
        return
    except OSError:
        # A file system without links, as on memory sticks.
        if not path.exists():
            aside.rename(path)


def look_only(path: Path) -> sqlite3.Connection:
    """A connection that cannot write; to a file without a log it leaves none beside it either."""
    way = "mode=ro" if path.with_name(path.name + "-wal").exists() else "immutable=1"
    return sqlite3.connect(f"{path.resolve().as_uri()}?{way}", uri=True)


def _connect(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        _enable_wal(db)
        db.execute("pragma synchronous = full")
        db.execute("pragma foreign_keys = on")
        db.execute("pragma temp_store = memory")
        (version,) = db.execute("pragma user_version").fetchone()
        if version < schema.VERSION:
            _lay_aside(db, path)
            schema.migrate(db)
            db.execute("pragma wal_checkpoint(truncate)")
    except BaseException:
        db.close()
        raise
    return db


def _lay_aside(db: sqlite3.Connection, path: Path) -> None:
    """Copy a record among the backups before it is brought up to a newer version."""
    folder = files.backups_folder(path)
    files.private_folder(folder)
    with files.written_whole(folder / f"{path.stem}-before-version-{schema.VERSION}.sqlite") as aside:
        db.execute("vacuum into ?", (str(aside),))


def _enable_wal(db: sqlite3.Connection) -> None:
    """Two programs that open a new file together may both ask for the log: try again for a while."""
    for attempt in range(20):
        try:
            db.execute("pragma journal_mode = wal").fetchone()
        except sqlite3.OperationalError:
            if attempt == 19:
                raise
            time.sleep(0.05)
        else:
            return
