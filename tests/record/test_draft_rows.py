"""Drafts belong to one file alone, and leave no trace where they go. Today is 17 March 2026."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.record.sample import TODAY, YESTERDAY, copy_of, fill
from tests.record.test_connection import no_room
from tests.record.test_erase import traces
from tests.record.test_version_1 import FOLDER as VERSION_1
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import UnwritableRecord
from tracker.record import backups, connection, draft_rows, erase, schema, snapshots
from tracker.record.draft_rows import drafts_at, place_of, write
from tracker.record.driver import Connection
from tracker.record.integrity import look_over
from tracker.record.json_export import record_as_json
from tracker.record.merge import merge
from tracker.record.store import Record

TYPED = "Quiet talk by the Wenfold water tower"
NOTE = place_of("note", TODAY)
OTHERS = (place_of("note", YESTERDAY), place_of("trial.tried"))


def drafts(record: Record) -> dict[str, str]:
    return {row["place"]: row["text"] for row in record.db.rows("select place, text from draft")}


@pytest.fixture
def typed(record: Record) -> Record:
    """A record in which a note is half typed."""
    fill(record)
    with record.transaction():
        write(record.db, {NOTE: TYPED})
    return record


def test_it_is_found_at_its_place_alone(typed: Record) -> None:
    assert drafts_at(typed.db, [*OTHERS, NOTE]) == {NOTE: TYPED}
    assert drafts_at(typed.db, OTHERS) == {}


def test_the_next_one_takes_its_place_and_an_empty_one_takes_it_away(typed: Record) -> None:
    write(typed.db, {NOTE: "Fog", OTHERS[0]: "Tea"})
    assert drafts(typed) == {NOTE: "Fog", OTHERS[0]: "Tea"}
    write(typed.db, {NOTE: ""})
    assert drafts(typed) == {OTHERS[0]: "Tea"}


def test_it_is_in_no_history_no_search_and_no_undo(typed: Record) -> None:
    assert [entry.value for entry in typed.history(TODAY) if TYPED in entry.value] == []
    assert typed.notes_with("Wenfold") == []
    typed.undo()
    assert drafts(typed) == {NOTE: TYPED}


@pytest.mark.parametrize("text", [TYPED, "long " * 3000])
def test_no_byte_is_left_of_one_that_was_written_over(typed: Record, text: str) -> None:
    write(typed.db, {NOTE: text})
    write(typed.db, {NOTE: "Fog"})
    write(typed.db, {NOTE: ""})
    typed.close()
    assert traces(typed.path.parent, text[:20]) == []


class TestWhereSqliteLeavesBytesByDefault:
    """It may be built either way; a record asks for none to be left, and so does what makes a copy."""

    @pytest.fixture(autouse=True)
    def _left(self, monkeypatch: pytest.MonkeyPatch) -> None:
        to = Connection.to

        def leaving(*args: Any, **more: Any) -> Connection:
            db = to(*args, **more)
            db.execute("pragma secure_delete = off")
            return db

        monkeypatch.setattr(Connection, "to", leaving)

    def test_a_record_asks_for_none(self, tmp_path: Path, clock: Clock) -> None:
        with Record.open(tmp_path / "record.sqlite", clock) as record:
            write(record.db, {NOTE: TYPED, OTHERS[0]: "Fog"})
            write(record.db, {NOTE: ""})
        assert traces(tmp_path) == []

    def test_a_copy_asks_for_none(self, tmp_path: Path, clock: Clock) -> None:
        with Record.open(tmp_path / "record.sqlite", clock) as record:
            fill(record)
            write(record.db, {NOTE: TYPED})
            backups.write_copy(record, tmp_path / "copies.sqlite")
            assert traces(tmp_path, TYPED) == ["record.sqlite-wal"]
            assert TYPED.encode() not in snapshots.as_bytes(record)


def test_what_is_taken_out_of_a_copy_stands_in_no_journal_beside_it(
    typed: Record, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []
    monkeypatch.setattr(draft_rows, "leave_out", lambda db: seen.append(db.value("pragma journal_mode")))
    backups.write_copy(typed, tmp_path / "copy.sqlite")
    assert seen == ["memory"]


def test_it_is_there_after_the_program_was_killed(typed: Record, tmp_path: Path, clock: Clock) -> None:
    """What lies on the disk while the record is open is all that a killed program leaves."""
    for end in ("", "-wal"):
        shutil.copy(f"{typed.path}{end}", f"{tmp_path / 'left.sqlite'}{end}")
    with Record.open(tmp_path / "left.sqlite", clock) as left:
        assert drafts(left) == {NOTE: TYPED}


class TestCopies:
    """None of them holds a draft, nor a byte of it."""

    def test_a_backup_has_none(self, typed: Record) -> None:
        made = backups.keep_backups(typed)
        assert made is not None
        assert traces(made.parent) == []
        with snapshots.opened(made) as copy:
            assert (drafts(copy), copy.days() == typed.days()) == ({}, True)
        assert [path.name for path in made.parent.iterdir()] == [made.name]

    def test_a_locked_copy_has_none(self, typed: Record) -> None:
        assert TYPED.encode() not in snapshots.as_bytes(typed)

    def test_the_one_before_a_newer_version_has_none(
        self, typed: Record, monkeypatch: pytest.MonkeyPatch, clock: Clock
    ) -> None:
        typed.close()
        monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, lambda _: None))
        monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
        with Record.open(typed.path, clock) as record:
            assert drafts(record) == {NOTE: TYPED}
        folder = typed.path.with_name("record.sqlite-backups")
        assert [path.name for path in folder.iterdir()] == [f"record-before-version-{schema.VERSION}.sqlite"]
        assert traces(folder) == []

    def test_an_export_and_a_digest_are_the_same_without_it(self, typed: Record) -> None:
        with copy_of(typed) as copy:
            assert drafts(copy) == {}
            assert record_as_json(copy) == record_as_json(typed)
        assert "Wenfold" not in record_as_json(typed)

    def test_bringing_one_back_leaves_it_where_it_was_typed(self, typed: Record) -> None:
        with copy_of(typed) as copy:
            write(copy.db, {NOTE: "of the copy", OTHERS[0]: "of the copy"})
            before = copy.days()
            typed.keep([Change(TODAY, "mood", "mood5-1")])
            snapshots.put_back(typed, copy)
        assert (typed.days(), drafts(typed)) == (before, {NOTE: TYPED})

    def test_merging_brings_none_and_takes_none(self, typed: Record) -> None:
        with copy_of(typed) as copy:
            write(copy.db, {OTHERS[0]: "of the copy"})
            copy.keep([Change(TODAY, "mood", "mood5-1")])
            merge(typed, copy)
        assert drafts(typed) == {NOTE: TYPED}


class TestErasing:
    def test_it_goes_with_its_day_and_no_other(self, typed: Record) -> None:
        write(typed.db, {OTHERS[0]: "Tea", OTHERS[1]: "Ear plugs"})
        erase.erase_days(typed, TODAY, TODAY)
        assert drafts(typed) == {OTHERS[0]: "Tea", OTHERS[1]: "Ear plugs"}
        assert traces(typed.path.parent) == []

    def test_a_day_of_which_there_is_nothing_else_is_erased_too(self, typed: Record) -> None:
        day = date(2026, 2, 1)
        write(typed.db, {place_of("change", day): "new post"})
        erase.erase_days(typed, day, day)
        assert drafts(typed) == {NOTE: TYPED}

    def test_it_goes_where_another_copy_erased_its_day(self, typed: Record) -> None:
        write(typed.db, {OTHERS[0]: "Tea"})
        with copy_of(typed) as copy:
            erase.erase_days(copy, TODAY, TODAY)
            merge(typed, copy)
        assert drafts(typed) == {OTHERS[0]: "Tea"}

    def test_one_that_was_typed_since_outlives_a_merge(self, typed: Record) -> None:
        with copy_of(typed) as copy:
            erase.erase_days(copy, TODAY, TODAY)
            merge(typed, copy)
            write(typed.db, {NOTE: TYPED})
            copy.keep([Change(TODAY, "mood", "mood5-1")])
            merge(typed, copy)
        assert drafts(typed) == {NOTE: TYPED}


class TestOlderRecords:
    """Those of version 1 have no drafts."""

    @pytest.fixture
    def old(self, tmp_path: Path) -> Path:
        return Path(shutil.copy(VERSION_1 / "record.sqlite", tmp_path / "record.sqlite"))

    def test_they_are_brought_up_and_take_one(self, old: Path, clock: Clock) -> None:
        with Record.open(old, clock) as record:
            write(record.db, {NOTE: TYPED})
            assert (drafts(record), schema.faults(record.db)) == ({NOTE: TYPED}, [])

    def test_without_room_they_are_shown_as_they_are(self, old: Path, clock: Clock) -> None:
        before = old.read_bytes()
        with no_room(), Record.open(old, clock) as record:
            assert (len(record.days()), drafts(record)) == (4, {})
            with pytest.raises(UnwritableRecord, match="Nothing is kept"), record.transaction():
                write(record.db, {NOTE: TYPED})
        assert old.read_bytes() == before

    def test_a_backup_of_one_is_still_a_backup(self, old: Path, typed: Record) -> None:
        with snapshots.opened(VERSION_1 / "record.sqlite") as copy:
            snapshots.put_back(typed, copy)
        assert (len(typed.days()), drafts(typed)) == (4, {NOTE: TYPED})


class TestChecking:
    @pytest.fixture
    def damaged(self, typed: Record) -> Callable[[str], list[str]]:
        """The faults after a statement of another program."""

        def run(statement: str) -> list[str]:
            typed.close()
            with closing(sqlite3.connect(typed.path, isolation_level=None)) as db:
                db.execute(statement)
            return look_over(typed.path, typed.clock).faults

        return run

    def test_they_are_counted(self, typed: Record) -> None:
        assert look_over(typed.path, typed.clock).counts["draft"] == 1

    def test_a_record_without_the_table_is_not_whole(self, damaged: Callable[[str], list[str]]) -> None:
        (fault,) = damaged("drop table draft")
        assert fault.endswith("is damaged: the table draft is not as it was made.")

    def test_one_that_cannot_be_read_is_a_fault(self, damaged: Callable[[str], list[str]]) -> None:
        (fault,) = damaged("update draft set text = cast(x'ff41' as text)")
        assert fault.endswith("is damaged: it cannot be read to its end.")


def test_looking_alone_shows_what_was_typed(typed: Record) -> None:
    typed.close()
    with connection.look_only(typed.path) as db:
        assert draft_rows.number_of(db) == 1
