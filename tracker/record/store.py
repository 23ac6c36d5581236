"""The record: one SQLite file, append-only, durable before a call returns."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import date, datetime
from pathlib import Path
from typing import Any, Literal, Self, cast

from tracker import system, words
from tracker.diary import changes as answers
from tracker.diary.answers import changes_in_words, days_in_words, rebased_in_words
from tracker.diary.breaks import Breaks, difference_in_words, ended_by
from tracker.diary.changes import changes_something
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock, from_stamp
from tracker.diary.days import (
    FIELDS,
    LEFT_OUT_AFTER,
    RESTING,
    Basis,
    Change,
    Day,
    Entry,
    Source,
    Square,
)
from tracker.diary.errors import DamagedRecord, NothingToUndo, TrackerError, UnwritableRecord
from tracker.diary.scales import GRIDS
from tracker.diary.settings import Settings, again_in_words
from tracker.record import connection, files, schema, undo
from tracker.record.batch_writer import (
    NO_DAYS,
    Batch,
    BatchWriter,
    Days,
    RecordVersion,
    as_json,
    detail_from,
    entry_from,
    version_of,
)
from tracker.record.change_rows import CHANGE, ChangeEntry, change_entry_from
from tracker.record.choice_rows import (
    break_values,
    choices_from,
    choices_in_words,
    setting_values,
)
from tracker.record.driver import Connection, Row
from tracker.record.undo import BatchRef, Find

Watched = Callable[[Sequence[Change]], Iterable[Change]]
Compose = Callable[[BatchWriter], Days | None]
"""Gathers the rows of an action; gives its days as they stand then, or None where there is nothing to do."""


class Record:
    """All that one person has kept.

    Reading and writing go through one connection of the thread that opened it. Every writing call is
    one transaction and durable when it returns, or raises and leaves the record as it was.
    """

    def __init__(self, db: Connection, clock: Clock) -> None:
        self.db = db
        """The connection, for the other modules of this package."""
        self.clock = clock
        self.read_only = False
        """Whether nothing can be kept, for want of room or of leave to write beside the record."""
        self.generation = 0
        """Moves on whenever what was read before may no longer stand; not by what is kept here."""
        self._version: RecordVersion | None = None
        """The version that choices, and days read by others, rest on; never newer than they are."""
        self._choices: Choices | None = None
        self._seen = 0
        """SQLite's number of the state that was last looked at."""
        self._is_listed = False
        """Whether it counts among those that are open here; one in memory does not."""
        self._file: tuple[int, int] | None = None
        """Which file was opened; another may come to lie in its place."""

    # --- opening and closing ------------------------------------------------------------------

    @classmethod
    def open(cls, path: Path, clock: Clock | None = None) -> Self:
        """Open the record at a path, made if there is none; raises what `connection.open_record` does."""
        db, can_write = connection.open_record(files.at_its_end(path))
        record = cls(db, clock or Clock())
        record._lie_in_its_file(can_write)
        return record

    @classmethod
    def empty(cls, path: Path, clock: Clock | None = None) -> Self:
        """An empty record that is nowhere kept, for whoever reads where there is none; no file is made."""
        db = Connection.in_memory(path)
        schema.migrate(db)
        return cls(db, clock or Clock())

    @property
    def path(self) -> Path:
        """Where it lies, or would lie."""
        return self.db.path

    @property
    def is_locked(self) -> bool:
        """Whether its file is locked with a passphrase."""
        return self.db.key is not None

    def create_file(self) -> None:
        """Lie in the file at its path from now on, for a record that was kept nowhere; made if there is none.

        Raises what `connection.open_record` does; then it stays as it was.
        """
        nowhere = self.db
        self.db, can_write = connection.open_record(self.path)
        self.db.on_wait = nowhere.on_wait
        nowhere.close()
        self.invalidate()
        self._lie_in_its_file(can_write)

    def _lie_in_its_file(self, can_write: bool) -> None:
        self.read_only = not can_write
        self._is_listed = True
        self._file = system.identity(self.path)
        connection.open_here[self.path] += 1
        connection.keys_here[self.path] = self.db.key

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
        return self._file is not None and system.identity(self.path) != self._file

    def _take_the_log_in(self) -> None:
        """Bring what the log beside the old place holds into the file, wherever it lies now.

        SQLite does not for a file that was moved: it would lack its last entries, and a file in the old place
        would be read with a log that belongs to another.
        """
        with suppress(TrackerError):
            self.db.rows("pragma wal_checkpoint(truncate)")

    def _refuse_if_elsewhere(self) -> None:
        if self._is_elsewhere():
            self._take_the_log_in()
            raise UnwritableRecord(words.moved_while_open(self.path))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def invalidate(self) -> None:
        """Read anew what is next asked for."""
        self._version = self._choices = None
        self.generation += 1

    # --- reading ------------------------------------------------------------------------------

    def days(self, first: date | None = None, last: date | None = None) -> dict[date, Day]:
        """The days that have something, from first to last (both included), in order of time."""
        change_hour = self.choices().settings.day_change_hour
        rows = self.db.rows(
            "select e.day, e.field, e.value, e.state, e.detail, e.source, e.basis,"
            " coalesce(o.recorded_at, e.recorded_at) as kept_at"
            " from current_entry e left join entry o on o.id = e.restores"
            " where e.day between ? and ? and e.state <> 'cleared' order by e.day",
            ((first or date.min).isoformat(), (last or date.max).isoformat()),
        )
        found: dict[str, dict[str, Square]] = {}
        try:
            for row in rows:
                found.setdefault(row["day"], {})[row["field"]] = self._square(row, change_hour)
            return {(at := date.fromisoformat(day)): Day(at, **squares) for day, squares in found.items()}
        except (ValueError, TypeError) as error:
            day = row["day"] if rows else ""
            raise DamagedRecord(
                f"The record {self.path} holds a row of {day} that cannot be read; run tracker check."
            ) from error

    def _square(self, row: Row, change_hour: int) -> Square:
        basis, moment = row["basis"], from_stamp(row["kept_at"])
        late = self._days_late(date.fromisoformat(row["day"]), basis, moment, change_hour)
        return Square(
            row["value"], row["state"], basis, row["source"], moment, late, detail_from(row["detail"])
        )

    def _days_late(self, day: date, basis: Basis, moment: datetime, change_hour: int) -> int:
        if basis != "remembered":
            return 0
        return max(0, (self.clock.day_of(moment, change_hour) - day).days)

    def day(self, day: date) -> Day:
        """One day, empty where nothing is kept."""
        return self.days(day, day).get(day, Day(day))

    def answered_days(self, first: date, last: date | None = None) -> int:
        """How many days from first to last hold something in a grid."""
        return sum(day.is_answered for day in self.days(first, last).values())

    def unanswered(self, first: date, last: date) -> int:
        """How many squares of both grids hold nothing on the days from first to last, both included."""
        squares = self.db.value(
            "select count(*) from current_entry where day between ? and ?"
            " and field in ('mood', 'sleep') and state <> 'cleared'",
            (first.isoformat(), last.isoformat()),
        )
        return len(GRIDS) * ((last - first).days + 1) - int(squares)

    def notes_with(self, text: str) -> list[tuple[date, str]]:
        """The days whose note holds a text, in either case, the newest first, each with its note."""
        wanted = text.strip().casefold()
        notes = self.db.rows(
            "select day, value from current_entry where field = 'note' and state = 'kept' order by day desc"
        )
        return [(date.fromisoformat(day), note) for day, note in notes if wanted in note.casefold()]

    def history(self, first: date, last: date | None = None) -> list[Entry]:
        """Every entry of a day, or of the days from first to last, oldest first, one field after another."""
        rows = self.db.rows(
            "select * from entry where day between ? and ?", (first.isoformat(), (last or first).isoformat())
        )
        return sorted(
            map(entry_from, rows),
            key=lambda entry: (entry.turn, entry.recorded_at, FIELDS.index(entry.field), entry.id),
        )

    def change_history(self, first: date, last: date | None = None) -> list[ChangeEntry]:
        """Every row of the changes dated on a day, or on the days from first to last, oldest first."""
        rows = self.db.rows(
            "select * from choice where name between ? and ? order by turn, recorded_at, id",
            (f"{CHANGE}{first}", f"{CHANGE}{last or first}"),
        )
        return list(map(change_entry_from, rows))

    def turned_by(self, day: date) -> dict[str, Literal["undo", "redo"]]:
        """The actions on a day that took another one back or brought it again, by their ids."""
        rows = self.db.rows(
            "select distinct b.id, u.undoes from entry e join batch b on b.id = e.batch"
            " left join batch u on u.id = b.undoes where e.day = ? and b.undoes is not null",
            (day.isoformat(),),
        )
        return {row["id"]: "undo" if row["undoes"] is None else "redo" for row in rows}

    def first_day(self) -> date | None:
        """Earliest day with a mood or sleep that findings use; None where nothing is kept."""
        # What is surely left out is passed over before it is looked at: days between a remembered entry
        # and its day are counted here in UTC, so three more are asked for than the rule has.
        listed = self.db.stream(
            "select distinct day from entry where field in ('mood', 'sleep') and day <= ?"
            " and (basis <> 'remembered' or julianday(recorded_at) - julianday(day) <= ?)"
            " order by day",
            (self.today().isoformat(), LEFT_OUT_AFTER + 3),
        )
        with closing(listed):
            for row in listed:
                day = self.day(date.fromisoformat(row["day"]))
                if day.counts:
                    return day.date
        return None

    def was_kept(self, levels: Iterable[str]) -> bool:
        """Whether a level was ever kept on any day, taken back or not."""
        ids = list(levels)
        places = ", ".join("?" * len(ids))
        return bool(self.db.rows(f"select 1 from entry where value in ({places}) limit 1", ids))

    def today(self) -> date:
        """The day that is going on, by her own day-change hour."""
        return self.clock.today(self.choices().settings.day_change_hour)

    def choices(self) -> Choices:
        """All that she has decided, as it stood when it was last read: see `changed_elsewhere`."""
        if self._choices is None:
            self.version()
            try:
                standing = self._values("select name, value from current_choice where value is not null")
                self._choices = choices_from(standing, self._values(schema.SCALES_TAKEN_BACK))
            except (AttributeError, KeyError, TypeError, ValueError) as error:
                raise DamagedRecord(
                    f"The record {self.path} holds a setting that cannot be read; run tracker check."
                ) from error
        return self._choices

    def _values(self, sql: str) -> dict[str, Any]:
        """Choices by name, each as the last row of a statement has it."""
        return {row["name"]: json.loads(row["value"]) for row in self.db.rows(sql)}

    def version(self) -> RecordVersion:
        """The version that what was read rests on."""
        if self._version is None:
            self._version = version_of(self.db)
        return self._version

    def changed_elsewhere(self) -> bool:
        """Whether another program wrote to the record since this was last asked; then all is read anew.

        Raises UnwritableRecord where the file is no longer the one that was opened.
        """
        self._refuse_if_elsewhere()
        seen = self.db.value("pragma data_version")
        changed = bool(seen != self._seen)
        if changed:
            self.invalidate()
        self._seen = seen
        return changed

    def is_empty(self) -> bool:
        """Whether nothing was ever kept or chosen."""
        version = version_of(self.db)
        return version.last_batch is None and not version.erased

    # --- writing ------------------------------------------------------------------------------

    def keep(
        self,
        changes: Iterable[Change],
        what: str = "",
        source: Source = "typed",
        basis: Basis | None = None,
        *,
        over: bool = True,
        rebase: bool = False,
        choices: Mapping[str, Any] | None = None,
        watched: Watched = iter,
        standing: Callable[[date], Day] | None = None,
        checked: bool = False,
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
            On what they rest; None: as what stood there, or by how long after the day they come.
        over
            Whether a square that is kept already may be changed; if not, it is left as it stands.
        rebase
            Whether an answer that stands already is kept again where it rests on another basis.
        choices
            Choices (name and JSON value) that belong to the same action.
        watched
            Passes the changes on one by one, for whoever shows how far it has come.
        standing
            The days as they stand, where they were read in this `generation`; None: they are read.
        checked
            Whether the changes were checked already, against the choices as they stand.

        Returns
        -------
        The action, with its days as they stand now, or None if everything stood already.

        Raises
        ------
        WrongDay, UnknownValue
            If one of them cannot be kept; then none is.
        RecordTrouble
            If the record cannot be written.
        """
        wanted = list({(change.day, change.field): change for change in changes}.values())
        generation = self.generation

        def compose(write: BatchWriter) -> Days | None:
            decided, is_known = self.choices(), generation == self.generation
            if not (checked and is_known):
                last_open = self.clock.last_open_day(decided.settings.day_change_hour)
                for change in wanted:
                    answers.check(change, decided, last_open)
            stand = standing if standing and is_known else self._read(wanted)
            other = basis if rebase else None
            new = [change for change in wanted if _is_wanted(change, stand(change.day), over, other)]
            answered = [change for change in new if changes_something(change, stand(change.day))]
            breaks = ended_by(decided.breaks, answered)
            values = {**(choices or {}), **break_values(breaks, decided.breaks)}
            if not new and not values:
                return None
            write.what = what or _named(new, choices or {}, breaks, decided)
            for name, value in values.items():
                write.choice(name, value)
            return self._write_answers(write, watched(new), stand, source, basis)

        return self._act(compose)

    def _write_answers(
        self,
        write: BatchWriter,
        changes: Iterable[Change],
        stand: Callable[[date], Day],
        source: Source,
        basis: Basis | None,
    ) -> Days:
        """Gather the entries of changes; gives their days as they stand then."""
        today, change_hour = self.today(), self.choices().settings.day_change_hour
        days: dict[date, Day] = {}
        for change in changes:
            day = days.get(change.day) or stand(change.day)
            stood = day.square(change.field)
            at, keeps_moment = answers.rests_on(change, stood, basis, today)
            moment, first = write.moment, None
            if stood and stood.kept_at and keeps_moment:
                moment, first = stood.kept_at, self._first_entry(change)
            kept = answers.with_its_detail(change, stood)
            write.entry(kept, source, at, first)
            late = self._days_late(change.day, at, moment, change_hour)
            square = Square(kept.value, kept.state, at, source, moment, late, kept.detail)
            days[change.day] = day.after(change.field, square)
        return days

    def _first_entry(self, change: Change) -> str:
        """Id of the first entry whose moment the one that stands in a square has."""
        where = "where day = ? and field = ?"
        return str(
            self.db.value(
                f"select coalesce(restores, id) from current_entry {where}",
                (change.day.isoformat(), change.field),
            )
        )

    def _read(self, changes: Sequence[Change]) -> Callable[[date], Day]:
        """The days of changes as they stand, read at once."""
        days = [change.day for change in changes]
        found = self.days(min(days), max(days)) if days else {}
        return lambda day: found.get(day) or Day(day)

    def rebase(self, first: date, last: date, basis: Basis, source: Source = "typed") -> Batch | None:
        """Let every mood, sleep and anxious mark of the days from first to last rest on another basis.

        Their values and the moments at which they were first kept stay. One action, which undo takes back;
        None if all of them rested so already.
        """
        changes = [
            square.change(day.date, field)
            for day in self.days(first, last).values()
            for field in RESTING
            if (square := day.square(field)) and square.basis != basis
        ]
        what = rebased_in_words(changes, basis) if changes else ""
        return self.keep(changes, what, source, basis, rebase=True)

    def choose(self, values: Mapping[str, Any], what: str = "") -> Batch | None:
        """Keep choices (name and JSON value; None takes one back) as one action; undo names it by them."""
        if not values:
            return None
        answers.check_text("".join(map(as_json, (*values, *values.values()))), "This")

        def compose(write: BatchWriter) -> Days:
            write.what = what or choices_in_words(values)
            for name, value in values.items():
                write.choice(name, value)
            return NO_DAYS

        return self._act(compose)

    def keep_settings(self, settings: Settings) -> Batch | None:
        """Keep settings; those that stand already write nothing."""
        return self.choose(setting_values(settings, self.choices().settings))

    def keep_breaks(self, breaks: Breaks) -> Batch | None:
        """Keep breaks; those that stand already write nothing."""
        stand = self.choices().breaks
        return self.choose(break_values(breaks, stand), words.listed(difference_in_words(stand, breaks)))

    def last_action(self) -> BatchRef | None:
        """What undo would take back."""
        return undo.last_done(self.db)

    def undo(self) -> Batch:
        """Take the last action back that is not taken back yet.

        Raises NothingToUndo when there is none.
        """
        return self._turn_back(undo.last_done, "There is nothing to undo.")

    def redo(self) -> Batch:
        """Bring back the action that was last taken back.

        Raises NothingToUndo when there is none, or when something was kept since.
        """
        return self._turn_back(undo.last_undone, "There is nothing to bring back.")

    def _turn_back(self, find: Find, none: str) -> Batch:
        before = self.choices().settings

        def compose(write: BatchWriter) -> Days:
            found = find(self.db)
            if found is None:
                raise NothingToUndo(none)
            undo.turn_back(self.db, write, found)
            return NO_DAYS

        batch = cast(Batch, self._act(compose))
        self.invalidate()
        return batch._replace(what=batch.what + again_in_words(before, self.choices().settings))

    def _act(self, compose: Compose) -> Batch | None:
        """Write what is gathered as one action; gathered anew where another program wrote meanwhile."""
        write = BatchWriter(self.version(), self.clock)
        days = compose(write)
        if days is None:
            return None
        with self.transaction():
            if not write.write(self.db):
                self.invalidate()  # from here on nobody else writes
                write = BatchWriter(self.version(), self.clock)
                days = compose(write)
                if days is None:
                    return None
                write.write(self.db)
        self._version = RecordVersion(write.last_batch, write.version.erased, write.turn, has_identity=True)
        if write.has_choices:
            self._choices = None
        return write.batch._replace(days=days)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All that is written inside is durable at the end, or none of it; one inside another joins it."""
        if self.db.in_transaction:
            yield
            return
        self.prepare()
        try:
            with self.db.transaction():
                yield
        except BaseException:
            self.invalidate()
            raise

    def prepare(self) -> None:
        """Make ready for writing.

        Raises UnwritableRecord where nothing can be kept, or would be in a file that is not the record.
        """
        self._refuse_if_elsewhere()
        if self.read_only:
            raise UnwritableRecord(words.only_looking(self.path))


def _is_wanted(change: Change, day: Day, over: bool, basis: Basis | None) -> bool:
    stood = day.square(change.field)
    if changes_something(change, day):
        return over or stood is None
    return answers.differs_in_basis(change, stood, basis)


def _named(changes: Sequence[Change], values: Mapping[str, Any], breaks: Breaks, choices: Choices) -> str:
    """Answers and the choices kept with them as undo names them, with the breaks that the answers end.

    What ends a break outlives the erasing of its day, so then it does not say what was answered.
    """
    ends = difference_in_words(choices.breaks, breaks)
    if ends:
        return ", ".join([f"answers of {days_in_words(changes)}", *ends])
    answered = changes_in_words(changes, choices) if changes else ""
    return ", ".join(filter(None, [answered, choices_in_words(values)]))
