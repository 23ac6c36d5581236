"""The record: one SQLite file, append-only, durable before a call returns."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import Any, Literal, Self

from tracker import words
from tracker.diary.answers import changes_in_words, days_in_words
from tracker.diary.breaks import Breaks, difference_in_words, ended_by
from tracker.diary.changes import basis_by_hand, changes_something, check, check_text
from tracker.diary.choices import Choices
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
from tracker.diary.errors import DamagedRecord, NothingToUndo, UnwritableRecord
from tracker.diary.scales import GRIDS
from tracker.diary.settings import Settings, again_in_words
from tracker.record import connection, files, schema
from tracker.record.batch_writer import Batch, TableRow, Writer, as_json, entry_from
from tracker.record.choice_rows import (
    break_values,
    choices_from,
    choices_in_words,
    setting_values,
)
from tracker.record.sqlite_errors import in_sentences
from tracker.record.undo import BatchRef, last_done, last_undone, turn_back

NEWEST_LAST = "order by turn, recorded_at, id"
Watched = Callable[[Sequence[Change]], Iterable[Change]]


class Record:
    """All that one person has kept.

    Reading and writing go through one connection of the thread that opened it. Every writing call is
    one transaction and durable when it returns, or raises and leaves the record as it was.
    """

    def __init__(self, db: sqlite3.Connection, path: Path, clock: Clock) -> None:
        self.db = db
        """The connection, for the other modules of this package."""
        self._choices: Choices | None = None
        self._choices_version = 0
        self._seen_version = 0
        self._is_listed = False
        """Whether it counts among those that are open here; one in memory does not."""
        self._file: tuple[int, int] | None = None
        """Which file was opened; another may come to lie in its place."""
        self.read_only = False
        """Whether nothing can be kept, for want of room or of leave to write beside the record."""
        self.path = path
        self.clock = clock

    # --- opening and closing ------------------------------------------------------------------

    @classmethod
    def open(cls, path: Path, clock: Clock | None = None) -> Self:
        """Open the record at a path, and make it if there is none; raises what `opening.connect` does."""
        path = files.at_its_end(path)
        db, can_write = connection.connect(path)
        record = cls(db, path, clock or Clock())
        record._lie_in_its_file(can_write)
        return record

    @classmethod
    def empty(cls, path: Path, clock: Clock | None = None) -> Self:
        """An empty record that is nowhere kept, for whoever reads where there is none; no file is made."""
        db = sqlite3.connect(":memory:", isolation_level=None)
        schema.migrate(db)
        return cls(db, path, clock or Clock())

    def create_file(self) -> None:
        """Lie in the file at its path from now on, for a record that was kept nowhere; made if there is none.

        Raises what `opening.connect` does; then it stays as it was.
        """
        nowhere = self.db
        self.db, can_write = connection.connect(self.path)
        nowhere.close()
        self.invalidate()
        self._lie_in_its_file(can_write)

    def _lie_in_its_file(self, can_write: bool) -> None:
        self.read_only = not can_write
        self._is_listed = True
        self._file = files.identity(self.path)
        connection.open_here[self.path] += 1

    def close(self) -> None:
        """Close the record; its side files go where nobody else has it open."""
        if self._is_listed:
            if self._is_elsewhere():
                self._take_the_log_in()
            self._is_listed = False
            connection.open_here[self.path] -= 1
        self.db.close()

    def _is_elsewhere(self) -> bool:
        """Whether the file was moved away since it was opened, taken away, or another put in its place."""
        return self._file is not None and files.identity(self.path) != self._file

    def _take_the_log_in(self) -> None:
        """Bring what the log beside the old place holds into the file, wherever it lies now.

        SQLite does not for a file that was moved: it would lack its last entries, and a file in the old place
        would be read with a log that belongs to another.
        """
        with suppress(sqlite3.Error):
            self.db.execute("pragma wal_checkpoint(truncate)").fetchall()

    def _refuse_if_elsewhere(self) -> None:
        if self._is_elsewhere():
            self._take_the_log_in()
            raise UnwritableRecord(words.moved_while_open(self.path))

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def invalidate(self) -> None:
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

    def answered_days(self, first: date, last: date | None = None) -> int:
        """How many days from first to last hold something in a grid."""
        return sum(day.is_answered for day in self.days(first, last).values())

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

    def turned_by(self, day: date) -> dict[str, Literal["undo", "redo"]]:
        """The actions on a day that took another one back or brought it again, by their ids."""
        rows = self.query(
            "select distinct b.id, u.undoes from entry e join batch b on b.id = e.batch"
            " left join batch u on u.id = b.undoes where e.day = ? and b.undoes is not null",
            (day.isoformat(),),
        )
        return {id: "undo" if undone is None else "redo" for id, undone in rows}

    def first_day(self) -> date | None:
        """Earliest day with a mood or sleep that findings use; None where nothing is kept."""
        # What is surely left out is passed over before it is looked at: days between a remembered entry
        # and its day are counted here in UTC, so three more are asked for than the rule has.
        with in_sentences(self.path):
            listed = self.db.execute(
                "select distinct day from entry where field in ('mood', 'sleep') and day <= ?"
                " and (basis <> 'remembered' or julianday(recorded_at) - julianday(day) <= ?)"
                " order by day",
                (self.today().isoformat(), LEFT_OUT_AFTER + 3),
            )
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
        """Whether another program wrote to the record since this was last asked.

        Raises UnwritableRecord where the file is no longer the one that was opened.
        """
        self._refuse_if_elsewhere()
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
        what: str = "",
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
            The action in words, as undo will name it; empty: by its day and its answers.
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
            check(change, decided, last_open)
        today = self.today()
        with self.writing() as write:
            new = self._those_that_change(wanted, over)
            breaks = ended_by(decided.breaks, new)
            values = {**(choices or {}), **break_values(breaks, decided.breaks)}
            if not new and not values:
                return None
            write.begin(what or _named(new, breaks, decided))
            for change in watched(new):
                write.entry(change, source, basis or basis_by_hand(change.day, today))
            for name, value in values.items():
                write.choice(name, value)
        if values:
            self._choices = None
        return write.batch

    def choose(self, values: Mapping[str, Any], what: str = "") -> Batch | None:
        """Keep choices (name and JSON value; None takes one back) as one action; undo names it by them."""
        if not values:
            return None
        check_text("".join(map(as_json, (*values, *values.values()))), "This")
        with self.writing() as write:
            write.begin(what or choices_in_words(values))
            for name, value in values.items():
                write.choice(name, value)
        self._choices = None
        return write.batch

    def keep_settings(self, settings: Settings) -> Batch | None:
        """Keep settings; those that stand already write nothing."""
        return self.choose(setting_values(settings, self.choices().settings))

    def keep_breaks(self, breaks: Breaks) -> Batch | None:
        """Keep breaks; those that stand already write nothing."""
        stand = self.choices().breaks
        return self.choose(break_values(breaks, stand), words.listed(difference_in_words(stand, breaks)))

    def last_action(self) -> BatchRef | None:
        """What undo would take back."""
        with in_sentences(self.path):
            return last_done(self.db)

    def undo(self) -> Batch:
        """Take the last action back that is not taken back yet.

        Raises NothingToUndo when there is none.
        """
        return self._turn_back(last_done, "There is nothing to undo.")

    def redo(self) -> Batch:
        """Bring back the action that was last taken back.

        Raises NothingToUndo when there is none, or when something was kept since.
        """
        return self._turn_back(last_undone, "There is nothing to bring back.")

    def _turn_back(self, find: Callable[[sqlite3.Connection], BatchRef | None], none: str) -> Batch:
        before = self.choices().settings
        with self.writing() as write:
            found = find(self.db)
            if found is None:
                raise NothingToUndo(none)
            turn_back(self.db, write, found)
        self._choices = None
        again = again_in_words(before, self.choices().settings)
        return write.batch._replace(what=found.what + again)

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
    def writing(self) -> Iterator[Writer]:
        """One transaction: all of it is durable at the end, or none of it stands."""
        if self.db.in_transaction:
            yield Writer(self.db, self.clock)
            return
        self.refuse_if_nothing_is_kept()
        with in_sentences(self.path):
            self.db.execute("begin immediate")
            try:
                yield Writer(self.db, self.clock)
                self.db.execute("commit")
            except BaseException:
                with suppress(sqlite3.Error):
                    self.db.execute("rollback")
                self._choices = None
                raise

    def refuse_if_nothing_is_kept(self) -> None:
        """Raise UnwritableRecord where nothing can be kept, or would be in a file that is not the record."""
        self._refuse_if_elsewhere()
        if self.read_only:
            raise UnwritableRecord(words.only_looking(self.path))

    def query(self, sql: str, values: tuple[Any, ...] = ()) -> list[TableRow]:
        """Rows of a statement that reads."""
        with in_sentences(self.path):
            return self.db.execute(sql, values).fetchall()

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
        moment, late = from_stamp(kept_at), 0
        if basis == "remembered":
            late = max(0, (self.clock.day_of(moment, change_hour) - date.fromisoformat(day)).days)
        return Square(value, state, basis, source, moment, late, json.loads(detail) if detail else NO_DETAIL)


def _named(changes: Sequence[Change], breaks: Breaks, choices: Choices) -> str:
    """Answers as undo names them, with the breaks that they end.

    What ends a break outlives the erasing of its day, so then it does not say what was answered.
    """
    ends = difference_in_words(choices.breaks, breaks)
    return (
        ", ".join([f"answers of {days_in_words(changes)}", *ends])
        if ends
        else changes_in_words(changes, choices)
    )
