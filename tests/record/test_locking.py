"""A record that is locked at rest: what it holds, what stands beside it, and how it comes to be so."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON, NOW
from tests.record.sample import fill
from tests.record.test_connection import no_room
from tests.record.test_power_cut import Disk
from tests.record.test_two_programs import killed_while_it_writes
from tracker import system
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import (
    CannotWrite,
    DamagedRecord,
    ForeignRecord,
    HeldRecord,
    KeyNeeded,
    NewerRecord,
    UnknownValue,
    UnwritableRecord,
)
from tracker.record import (
    backups,
    connection,
    draft_rows,
    driver,
    files,
    lock_keys,
    locking,
    schema,
    snapshots,
)
from tracker.record.integrity import copy_faults, look_over
from tracker.record.json_export import record_as_json
from tracker.record.lock_keys import LockKey
from tracker.record.merge import merge
from tracker.record.store import Record

KEY, OTHER = LockKey(b"k" * 32, b"s" * 16), LockKey(b"q" * 32, b"t" * 16)
TODAY = date(2026, 3, 17)
PRIVATE = "Quiet talk by the Wenfold water tower"
DRAFT = "Not kept yet at Cawbrook"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "here" / "record.sqlite"


@pytest.fixture(scope="module")
def locked(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The folder of a locked record with two backups, and all that it holds."""
    path = tmp_path_factory.mktemp("locked") / "record.sqlite"
    with Record.open(path, Clock(now=lambda: NOW, zone=LONDON)) as record:
        fill(record)
        record.keep([Change(TODAY, "note", PRIVATE)])
        with record.transaction():
            draft_rows.write(record.db, {"note": DRAFT})
        backups.keep_backups(record)
        backups.beforehand(record, "merge")
        whole = record_as_json(record)
    assert locking.lock(path, KEY) == []
    return path.parent, whole


@pytest.fixture
def whole(path: Path, locked: tuple[Path, str]) -> str:
    """All that the locked record at the path holds."""
    folder, whole = locked
    shutil.copytree(folder, path.parent)
    lock_keys.hold(KEY)
    return whole


def held(path: Path, clock: Clock) -> str:
    with Record.open(path, clock) as record:
        return record_as_json(record)


def traces(folder: Path, text: str = PRIVATE) -> list[str]:
    everything = [path for path in folder.rglob("*") if path.is_file()]
    return [path.name for path in everything if text.encode() in path.read_bytes()]


def forget() -> None:
    lock_keys._known.clear()


class TestAtRest:
    def test_it_holds_the_same_under_its_own_name(self, path: Path, whole: str, clock: Clock) -> None:
        assert held(path, clock) == whole
        assert look_over(path, clock).faults == []

    def test_her_words_are_in_no_byte_of_any_file(self, path: Path, whole: str, clock: Clock) -> None:
        with Record.open(path, clock) as record:
            record.keep([Change(TODAY, "note", f"{PRIVATE}, and more")])
            assert files.log_of(path).stat().st_size > 0
            record.db.execute("vacuum")
            backups.write_copy(record, path.parent / "copy.sqlite")
            assert traces(path.parent) == []
        assert traces(path.parent) == []
        assert traces(path.parent, "entry") == []

    def test_every_file_is_of_its_owner_alone(self, path: Path, whole: str) -> None:
        made = [each for each in path.parent.rglob("*") if each.is_file()]
        assert {system.mode_of(each) for each in made} == {0o600}
        assert len(made) == 4

    def test_the_note_beside_it_holds_no_word_and_no_key(self, path: Path, whole: str) -> None:
        assert files.lock_note(path).read_text() == '{"program": "tracker-days", "locked": 1}\n'

    def test_the_backups_that_were_open_are_locked_and_whole(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        made = files.made_backups(path)
        assert [copy_faults(backup) for backup in made] == [[], []]
        assert locking.open_copies(path) == []
        for backup in made:
            with snapshots.opened(backup) as copy:
                assert record_as_json(copy) == whole

    def test_new_backups_are_locked_with_the_same_key(self, path: Path, whole: str, clock: Clock) -> None:
        for backup in files.made_backups(path):
            backup.unlink()
        with Record.open(path, clock) as record:
            made = backups.keep_backups(record)
            assert backups.keep_backups(record) is None
        assert made is not None
        tomorrow = Clock(now=lambda: NOW + timedelta(days=1), zone=LONDON)
        with Record.open(path, tomorrow) as record:
            assert backups.keep_backups(record) is None
        assert made.read_bytes()[:16] == KEY.salt
        assert copy_faults(made) == []


def test_what_is_sorted_in_memory_comes_to_lie_on_no_disk(path: Path, whole: str, clock: Clock) -> None:
    """Source: sqlite.org/pragma.html#pragma_temp_store, 2 is memory."""
    with Record.open(path, clock) as record, snapshots.in_memory(record) as copy:
        assert [each.db.value("pragma temp_store") for each in (record, copy)] == [2, 2]


class TestOpening:
    def test_without_its_key_it_is_not_opened_and_stays_as_it_is(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        forget()
        before = path.read_bytes()
        with pytest.raises(KeyNeeded, match="is locked; tracker asks for its passphrase"):
            Record.open(path, clock)
        assert path.read_bytes() == before

    def test_without_the_note_it_is_foreign_and_untouched(self, path: Path, whole: str, clock: Clock) -> None:
        files.lock_note(path).unlink()
        before = path.read_bytes()
        with pytest.raises(ForeignRecord):
            Record.open(path, clock)
        assert path.read_bytes() == before

    def test_a_note_beside_a_plain_record_says_nothing(self, path: Path, clock: Clock) -> None:
        """As a cut leaves it that came before the record was locked, or after it was unlocked."""
        with Record.open(path, clock) as record:
            fill(record)
        before = held(path, clock)
        files.note_as_locked(path)
        assert held(path, clock) == before

    def test_where_the_library_is_missing_the_line_that_installs_it_is_said(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setitem(sys.modules, "sqlcipher3", None)
        with pytest.raises(
            UnwritableRecord, match=r"What locks .* Install it with: .* -m pip install sqlcipher3"
        ):
            Record.open(path, clock)

    def test_it_says_nothing_beside_our_sentence(
        self, path: Path, whole: str, capfd: pytest.CaptureFixture[str]
    ) -> None:
        with pytest.raises(UnknownValue, match="That does not open"):
            locking.proven(path, "another passphrase")
        assert capfd.readouterr() == ("", "")

    def test_a_newer_one_is_refused(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(schema, "VERSION", 0)
        for opening in (Record.open, lambda path, clock: snapshots.opened(path, clock=clock)):
            with pytest.raises(NewerRecord):
                opening(path, clock)

    def test_a_locked_file_of_another_program_is_foreign(self, path: Path, clock: Clock) -> None:
        path.parent.mkdir()
        with driver.Connection.to(path, path, key=KEY) as db:
            db.execute("create table other (a)")
        files.note_as_locked(path)
        lock_keys.hold(KEY)
        with pytest.raises(ForeignRecord):
            Record.open(path, clock)

    @pytest.mark.parametrize("with_log", [False, True])
    def test_without_room_it_is_looked_at(
        self, path: Path, whole: str, clock: Clock, with_log: bool, tmp_path: Path
    ) -> None:
        looked = path
        if with_log:
            looked = tmp_path / "killed" / "record.sqlite"
            looked.parent.mkdir()
            with Record.open(path, clock) as record:
                record.keep([Change(TODAY, "mood", "mood5-1")])
                whole = record_as_json(record)
                shutil.copy(path, looked)
                shutil.copy(files.log_of(path), files.log_of(looked))
            files.note_as_locked(looked)
        with no_room(), Record.open(looked, clock) as record:
            assert record.read_only
            assert record_as_json(record) == whole

    def test_an_older_one_is_brought_up_to_date_with_a_locked_backup(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def step(db: object) -> None:
            db["entry"].transform(rename={})  # type: ignore[index]

        monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, step))
        monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
        assert held(path, clock) == whole
        (made,) = files.backups_folder(path).glob("record-before-version-*.sqlite")
        assert made.read_bytes()[:16] == KEY.salt
        assert traces(path.parent) == []


class TestDamage:
    @pytest.fixture
    def content(self, path: Path, whole: str) -> bytes:
        return path.read_bytes()

    @pytest.mark.parametrize("page", range(3))
    def test_a_flipped_bit_is_found(self, path: Path, content: bytes, clock: Clock, page: int) -> None:
        place = page * files.PAGE + 2000
        path.write_bytes(content[:place] + bytes([content[place] ^ 4]) + content[place + 1 :])
        assert look_over(path, clock).faults != []

    def test_one_in_the_salt_is_no_key_that_is_known(self, path: Path, content: bytes, clock: Clock) -> None:
        path.write_bytes(bytes([content[0] ^ 1]) + content[1:])
        with pytest.raises(KeyNeeded):
            Record.open(path, clock)

    def test_any_is_found_or_lies_where_nothing_is_kept(
        self, path: Path, content: bytes, whole: str, clock: Clock
    ) -> None:
        dice = random.Random(1852)  # noqa: S311
        for _ in range(15):
            place = dice.randrange(16, len(content))
            path.write_bytes(content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :])
            assert look_over(path, clock).faults or held(path, clock) == whole

    def test_one_in_a_backup_is_found(self, path: Path, whole: str) -> None:
        backup = files.made_backups(path)[0]
        data = bytearray(backup.read_bytes())
        data[5000] ^= 1
        backup.write_bytes(data)
        assert copy_faults(backup) == [f"The file {backup} is damaged: it cannot be read to its end."]

    def test_a_backup_with_another_key_is_told_from_a_whole_one(self, path: Path, whole: str) -> None:
        backup = files.made_backups(path)[0]
        data = backup.read_bytes()
        backup.write_bytes(b"another salt 123" + data[16:])
        (fault,) = copy_faults(backup)
        assert fault.endswith(
            "cannot be read with the passphrase of the record: it has another, or is damaged."
        )

    @pytest.mark.parametrize("key", [None, KEY])
    def test_a_copy_takes_the_place_of_a_damaged_one_in_either_form(
        self, path: Path, content: bytes, whole: str, clock: Clock, key: LockKey | None
    ) -> None:
        with snapshots.opened(files.made_backups(path)[0], clock=clock) as copy:
            path.write_bytes(content[:3000])
            damaged = snapshots.put_in_place(copy, path, key)
        assert damaged.read_bytes() == content[:3000]
        assert held(path, clock) == whole
        assert connection.key_of(path) == key


class TestKeeping:
    def test_killed_at_any_moment_no_day_that_was_acknowledged_is_lost(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        acknowledged: set[str] = set()
        for year, pause in zip((2001, 2002, 2003), (0.02, 0.08, 0.2), strict=True):
            acknowledged |= killed_while_it_writes(path, year, pause, KEY)
            with Record.open(path, clock) as record:
                assert record.db.faults() == []
                kept = {day.isoformat(): what for day, what in record.days().items()}
            assert acknowledged <= set(kept)
            assert all(kept[day].mood and kept[day].sleep and kept[day].note for day in acknowledged)

    def test_after_a_power_cut_the_first_actions_stand_whole(
        self, path: Path, whole: str, clock: Clock, tmp_path: Path
    ) -> None:
        days = [date(2020, 1, 1) + timedelta(n) for n in range(8)]
        with Record.open(path, clock) as record:
            before = len(record.days())
            for day in days:
                record.keep([Change(day, "mood", "mood5-3"), Change(day, "sleep", "sleep8-5")])
            log = files.log_of(path).read_bytes()
            base = path.read_bytes()
        cut = tmp_path / "cut" / "record.sqlite"
        cut.parent.mkdir()
        files.note_as_locked(cut)
        for size in range(0, len(log), len(log) // 12):
            cut.write_bytes(base)
            files.log_of(cut).write_bytes(log[:size])
            with Record.open(cut, clock) as after:
                stands = [day for day in after.days() if day.year == 2020]
                assert len(after.days()) == before + len(stands)
            assert stands == days[: len(stands)]
            assert look_over(cut, clock).faults == []

    def test_another_window_sees_what_one_has_put_back(self, path: Path, whole: str, clock: Clock) -> None:
        with Record.open(path, clock) as record, Record.open(path, clock) as window:
            record.keep([Change(TODAY, "note", "later")])
            assert window.changed_elsewhere()
            with snapshots.opened(files.made_backups(path)[0], clock=clock) as copy:
                snapshots.put_back(record, copy)
            assert window.changed_elsewhere()
            assert record_as_json(window) == whole


FORMS = [None, OTHER]


class TestMerging:
    @pytest.fixture(params=FORMS, ids=["plain", "locked"])
    def mine(self, request: pytest.FixtureRequest, path: Path, clock: Clock) -> Iterator[Record]:
        with Record.open(path, clock) as record:
            fill(record)
        if request.param:
            locking.lock(path, KEY)
        with Record.open(path, clock) as record:
            yield record

    @pytest.fixture(params=FORMS, ids=["with a plain one", "with a locked one"])
    def theirs(self, request: pytest.FixtureRequest, mine: Record, tmp_path: Path, clock: Clock) -> Path:
        there = tmp_path / "there" / "record.sqlite"
        there.parent.mkdir()
        there.write_bytes(snapshots.as_bytes(mine))
        with Record.open(there, clock) as record:
            record.keep([Change(TODAY, "note", PRIVATE), Change(TODAY, "mood", "mood5-5")])
        if request.param:
            locking.lock(there, request.param)
        return there

    def test_each_joins_each_and_both_come_to_the_same(
        self, mine: Record, theirs: Path, clock: Clock
    ) -> None:
        mine.keep([Change(TODAY - timedelta(1), "note", "mine")])
        with snapshots.opened(theirs, clock=clock) as copy:
            assert merge(mine, copy, dry=True).entries == 2
            merge(mine, copy)
        with Record.open(theirs, clock) as other, snapshots.in_memory(mine) as copy:
            merge(other, copy)
            assert record_as_json(other) == record_as_json(mine)
            assert PRIVATE in record_as_json(mine)


class TestTheWayThereAndBack:
    def test_unlocked_it_is_the_same_plain_record_with_its_backups(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        assert locking.unlock(path) == []
        assert lock_keys.all_known() == []
        assert held(path, clock) == whole
        assert [copy_faults(backup) for backup in files.made_backups(path)] == [[], []]
        assert not files.lock_note(path).exists()
        assert path.read_bytes()[:16] == files.MAGIC

    def test_drafts_stay_where_they_were_typed_and_come_into_no_backup(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        assert traces(path.parent, DRAFT) == []
        changes: list[Callable[[], object]] = [
            lambda: locking.lock(path, OTHER),
            lambda: locking.unlock(path),
        ]
        for change in changes:
            with Record.open(path, clock) as record:
                assert draft_rows.drafts_at(record.db, ["note"]) == {"note": DRAFT}
            change()
        assert traces(path.parent, DRAFT) == ["record.sqlite"]

    def test_with_a_new_key_the_old_one_opens_nothing_any_more(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        assert locking.lock(path, OTHER) == []
        assert lock_keys.all_known() == [OTHER]
        assert held(path, clock) == whole
        assert {each.read_bytes()[:16] for each in (path, *files.made_backups(path))} == {OTHER.salt}

    @pytest.mark.parametrize("key", [None, OTHER], ids=["unlocking", "another passphrase"])
    def test_cut_off_at_any_step_it_is_whole_and_the_same_command_finishes_it(
        self, path: Path, whole: str, clock: Clock, key: LockKey | None, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        change = locking.unlock if key is None else lambda path: locking.lock(path, OTHER)
        self.every_step(path, whole, clock, monkeypatch, change, key)

    def test_cut_off_while_it_is_locked_it_is_whole_and_lock_finishes_it(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        locking.unlock(path)
        self.every_step(path, whole, clock, monkeypatch, lambda path: locking.lock(path, KEY), KEY)
        assert traces(path.parent) == []

    @staticmethod
    def every_step(
        path: Path,
        whole: str,
        clock: Clock,
        monkeypatch: pytest.MonkeyPatch,
        change: Callable[[Path], object],
        key: LockKey | None,
    ) -> None:
        """Look at copies of what lies on the disk after each step, as it is found after a power cut."""
        disk, place = Disk(monkeypatch), path.parent.parent
        cuts: list[Path] = []

        def cut() -> None:
            monkeypatch.setattr(disk, "at_each_step", lambda: None)
            cuts.append(shutil.copytree(path.parent, place / f"cut-{len(cuts)}"))
            monkeypatch.setattr(disk, "at_each_step", cut)

        disk.at_each_step = cut
        change(path)
        disk.at_each_step = lambda: None
        assert len(cuts) > 20
        for number, folder in enumerate(cuts):
            lock_keys.hold(KEY)
            lock_keys.hold(OTHER)
            left = folder / path.name
            assert held(left, clock) == whole, folder
            assert len(files.made_backups(left)) == 2, folder
            assert [copy_faults(backup) for backup in files.made_backups(left)] == [[], []], folder
            if number % 5 == 0:
                change(left)
                assert held(left, clock) == whole
                assert connection.key_of(left) == key
                assert files.made_copies(left) == files.made_backups(left)

    def test_while_another_program_has_it_open_nothing_is_changed(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        with Record.open(path, clock) as record:
            with pytest.raises(HeldRecord, match=r"has .* open; nothing was changed"):
                locking.unlock(path)
            record.keep([Change(TODAY, "mood", "mood5-1")])
            whole = record_as_json(record)
        assert held(path, clock) == whole
        assert connection.key_of(path) == KEY

    def test_what_is_kept_by_another_window_at_that_moment_is_not_lost(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        refused = []

        def keep_meanwhile(*_: object) -> None:
            with pytest.raises(HeldRecord) as held_by_us:
                Record.open(path, clock)
            refused.append(str(held_by_us.value))

        monkeypatch.setattr(snapshots, "refuse_other_content", keep_meanwhile)
        locking._change_record(path, None)
        assert len(refused) == 1

    def test_who_opens_it_at_the_moment_it_is_replaced_is_refused(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """An open file that has lost its name must not be written: its log would lie beside another."""

        def replaced_meanwhile(path: Path, key: LockKey | None) -> driver.Connection:
            db = connect(path, key)
            shutil.copy(path, path.with_name("other"))
            path.with_name("other").replace(path)
            return db

        connect = connection._connect
        with monkeypatch.context() as during:
            during.setattr(connection, "_connect", replaced_meanwhile)
            with pytest.raises(HeldRecord, match="was just written anew by another program"):
                Record.open(path, clock)
        assert held(path, clock) == whole

    def test_a_full_disk_leaves_it_as_it_was(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def full(*_: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(snapshots, "write_as", full)
        with pytest.raises(CannotWrite, match="no space left"):
            locking.unlock(path)
        assert held(path, clock) == whole
        assert len(list(path.parent.iterdir())) == 3

    @pytest.mark.parametrize("has_room", [True, False])
    def test_on_a_stick_without_links_the_record_has_its_name_at_every_step(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch, has_room: bool
    ) -> None:
        def refused(*_: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(os, "link", refused)
        if not has_room:
            monkeypatch.setattr(Path, "write_bytes", refused)
        disk, seen = Disk(monkeypatch), set()
        disk.at_each_step = lambda: seen.add(path.stat().st_size > 0)
        with nullcontext() if has_room else pytest.raises(CannotWrite, match="no space left"):
            locking.lock(path, OTHER)
        disk.at_each_step = lambda: None
        assert seen == {True}
        assert held(path, clock) == whole
        assert files.made_copies(path) == files.made_backups(path)

    def test_a_disk_that_is_full_in_the_midst_names_the_record(
        self, path: Path, whole: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def with_little_room(
            source: driver.Connection, aim: driver.Connection, place: str, name: str
        ) -> None:
            aim.execute("pragma max_page_count = 6")
            copy_table(source, aim, place, name)

        copy_table = driver._copy_table
        with snapshots.opened(path) as copy:
            monkeypatch.setattr(driver, "_copy_table", with_little_room)
            with pytest.raises(UnwritableRecord) as refused:
                snapshots.write_as(copy.db, path.with_name("aside"), OTHER)
        assert str(refused.value).startswith(f"The disk of {path} is full; ")

    def test_what_was_written_otherwise_than_it_stands_is_not_kept(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def forgetful(copy: driver.Connection, aside: Path, key: LockKey | None) -> None:
            write_as(copy, aside, key)
            with driver.Connection.to(aside, aside, key=key) as db:
                db.execute("delete from entry where field = 'note'")

        write_as = snapshots.write_as
        monkeypatch.setattr(snapshots, "write_as", forgetful)
        with pytest.raises(DamagedRecord, match="is not the same, so it was not kept"):
            locking.unlock(path)
        assert held(path, clock) == whole

    def test_a_backup_that_cannot_be_read_stays_as_it_is_and_is_named(
        self, path: Path, whole: str, clock: Clock
    ) -> None:
        backup = files.made_backups(path)[0]
        backup.write_bytes(b"\x55" * 8192)
        assert locking.unlock(path) == [backup]
        assert backup.read_bytes() == b"\x55" * 8192
        assert files.lock_note(path).exists()

    @pytest.mark.parametrize("key", [None, OTHER], ids=["unlocking", "another passphrase"])
    def test_the_old_key_is_known_until_no_backup_needs_it(
        self, path: Path, whole: str, monkeypatch: pytest.MonkeyPatch, key: LockKey | None
    ) -> None:
        def full(copy: driver.Connection, aside: Path, key: LockKey | None) -> None:
            if aside.parent != path.parent:
                raise OSError(28, "No space left on device")
            write_as(copy, aside, key)

        write_as = snapshots.write_as
        with monkeypatch.context() as during:
            during.setattr(snapshots, "write_as", full)
            left = locking.lock(path, key) if key else locking.unlock(path)
        assert left == files.made_backups(path)
        assert locking.change_backups(path, key) == []

    @pytest.mark.parametrize("number", [0, 1])
    def test_a_second_name_that_a_cut_left_a_backup_goes_and_the_backup_stays_whole(
        self, path: Path, whole: str, number: int
    ) -> None:
        backup = files.made_backups(path)[number]
        cut_off = backup.with_name(f".{path.name}.cut")
        cut_off.hardlink_to(backup)
        assert locking.change_backups(path, KEY) == []
        assert copy_faults(backup) == []
        assert files.made_copies(path) == files.made_backups(path)

    def test_a_backup_that_is_a_link_is_refused_before_anything_is_changed(
        self, path: Path, clock: Clock, whole: str, tmp_path: Path
    ) -> None:
        locking.unlock(path)
        backup = files.made_backups(path)[0]
        backup.rename(tmp_path / "elsewhere.sqlite")
        backup.symlink_to(tmp_path / "elsewhere.sqlite")
        before = path.read_bytes()
        with pytest.raises(CannotWrite, match="is a link"):
            locking.lock(path, KEY)
        assert path.read_bytes() == before
        assert not files.lock_note(path).exists()

    def test_what_was_plain_is_written_over_before_its_name_goes(
        self, path: Path, whole: str, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        locking.unlock(path)
        overwritten: list[bytes] = []
        overwrite = system.overwrite

        def watched(gone: Path) -> None:
            overwritten.append(gone.read_bytes()[:16])
            overwrite(gone)
            assert set(gone.read_bytes()) == {0}

        monkeypatch.setattr(system, "overwrite", watched)
        locking.lock(path, KEY)
        assert overwritten == [files.MAGIC] * 3


def test_a_record_of_sqlite_itself_opens_nothing_that_is_locked(path: Path, whole: str) -> None:
    db = sqlite3.connect(path)
    with pytest.raises(sqlite3.DatabaseError, match="file is not a database"):
        db.execute("select * from entry")
    db.close()
