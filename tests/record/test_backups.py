"""Dated backups, copies in memory, locked copies, and putting one back. Today is 17 March 2026."""

import os
import stat
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON, NOW
from tests.record.sample import TODAY, copy_of, fill
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import (
    CannotWrite,
    DamagedRecord,
    ForeignRecord,
    HeldRecord,
    UnknownValue,
    UnwritableRecord,
)
from tracker.diary.settings import Settings
from tracker.record import backups, driver, erase, files, snapshots
from tracker.record.integrity import faults_of
from tracker.record.json_export import record_as_json
from tracker.record.store import Record

MOOD = Change(TODAY, "mood", "mood5-4")


def names(record: Record) -> list[str]:
    return sorted(path.name for path in files.backups_folder(record.path).iterdir())


class TestDated:
    def test_the_first_of_a_day_is_made_verified_and_private(self, record: Record) -> None:
        fill(record)
        made = backups.keep_backups(record)
        assert made is not None
        assert names(record) == ["record-2026-03-17.sqlite"]
        assert stat.S_IMODE(made.stat().st_mode) == 0o600
        assert stat.S_IMODE(made.parent.stat().st_mode) == 0o700
        with Record.open(made) as copy:
            assert record_as_json(copy) == record_as_json(record)

    def test_one_a_day_is_enough(self, tmp_path: Path) -> None:
        now = [NOW]
        with Record.open(tmp_path / "record.sqlite", Clock(lambda: now[0], LONDON)) as record:
            record.keep([MOOD], "mood")
            backups.keep_backups(record)
            now[0] += timedelta(days=1)
            record.keep([Change(TODAY, "note", "x")], "note")
            assert backups.keep_backups(record) is not None
            record.keep([Change(TODAY, "note", "y")], "note")
            assert backups.keep_backups(record) is None

    @pytest.mark.skipif(sys.platform != "linux", reason="other systems take names of text alone")
    def test_a_name_whose_bytes_are_no_text_is_no_hindrance(self, tmp_path: Path) -> None:
        with Record.open(tmp_path / os.fsdecode(b"\xff.sqlite"), Clock(lambda: NOW, LONDON)) as record:
            record.keep([MOOD], "mood")
            assert backups.keep_backups(record) is not None
            assert names(record) == [os.fsdecode(b"\xff-2026-03-17.sqlite")]

    def test_that_of_the_first_day_keeps_up_with_all_that_is_put_in(self, record: Record) -> None:
        record.keep_settings(Settings(theme="cawbrook-lamps"))
        backups.keep_backups(record)
        fill(record)
        made = backups.keep_backups(record)
        assert made is not None
        assert names(record) == [made.name]
        with Record.open(made) as copy:
            assert record_as_json(copy) == record_as_json(record)
        assert backups.keep_backups(record) is None

    def test_that_of_a_record_that_was_lost_on_its_first_day_stays(self, record: Record) -> None:
        fill(record)
        made = backups.keep_backups(record)
        assert made is not None
        held, path = made.read_bytes(), record.path
        record.close()
        for part in files.parts_of(path):
            part.unlink()
        with Record.open(path, record.clock) as another:
            another.keep([MOOD])
            assert backups.keep_backups(another) is None
        assert made.read_bytes() == held

    def test_an_empty_record_needs_none(self, record: Record) -> None:
        assert backups.keep_backups(record) is None
        assert not files.backups_folder(record.path).exists()

    def test_where_nothing_was_kept_since_there_is_no_other(self, tmp_path: Path) -> None:
        now = [NOW]
        with Record.open(tmp_path / "record.sqlite", Clock(lambda: now[0], LONDON)) as record:
            record.keep([MOOD], "mood")
            backups.keep_backups(record)
            now[0] += timedelta(days=1)
            assert backups.keep_backups(record) is None
            record.keep([Change(TODAY, "note", "x")], "note")
            assert backups.keep_backups(record) is not None

    def test_another_record_with_as_many_actions_is_not_the_same(self, tmp_path: Path) -> None:
        now = [NOW]
        with Record.open(tmp_path / "record.sqlite", Clock(lambda: now[0], LONDON)) as record:
            fill(record)
            before = snapshots.as_bytes(record)
            record.keep([Change(TODAY, "note", "x")], "note")
            backups.keep_backups(record)
            now[0] += timedelta(days=1)
            for note in "yz":
                with snapshots.from_bytes(before, record.path) as copy:
                    snapshots.put_back(record, copy)
                record.keep([Change(TODAY, "note", note)], "note")
                made = backups.keep_backups(record)
                assert made is not None
                made.unlink()

    def test_by_a_clock_that_is_years_behind_the_new_one_stays(self, tmp_path: Path) -> None:
        with Record.open(tmp_path / "record.sqlite", Clock(lambda: NOW, LONDON)) as record:
            fill(record)
            made = backups.keep_backups(record)
            assert made is not None
            for number in range(40):
                later = TODAY + timedelta(days=31 * number + 31)
                made.with_name(f"record-{later}.sqlite").write_bytes(made.read_bytes())
            record.keep([Change(TODAY, "note", "x")], "note")
            made.unlink()
            assert backups.keep_backups(record) == made
            assert made.exists()

    def test_a_copy_that_is_not_whole_is_not_kept(
        self, record: Record, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        record.keep([MOOD], "mood")
        monkeypatch.setattr("tracker.record.integrity.altered_in_copy", lambda path, key: ["planted."])
        with pytest.raises(DamagedRecord, match="is not whole, so it was not kept"):
            backups.keep_backups(record)
        assert names(record) == []

    def test_two_years_of_daily_backups_thin_out(self) -> None:
        """Ten days, the last of six weeks, the last of 24 months."""
        days = [date(2026, 3, 18) - timedelta(n) for n in range(1000)]
        gone = {
            date.fromisoformat(path.name) for path in backups.unneeded({day: Path(str(day)) for day in days})
        }
        kept = sorted(set(days) - gone, reverse=True)
        sundays = [date(2026, 3, 8), date(2026, 3, 1), date(2026, 2, 22), date(2026, 2, 15)]
        assert kept[:15] == [*days[:10], *sundays[:2], date(2026, 2, 28), *sundays[2:]]
        assert kept[-1] == date(2024, 4, 30)
        assert len(kept) == 10 + len(sundays) + 23

    def test_few_backups_are_all_kept(self) -> None:
        assert backups.unneeded({TODAY - timedelta(40 * n): Path(str(n)) for n in range(20)}) == []

    def test_two_records_in_a_folder_keep_their_backups_apart(self, tmp_path: Path, clock: Clock) -> None:
        for name in ("a.sqlite", "a.db"):
            with Record.open(tmp_path / name, clock) as record:
                record.keep([MOOD], "mood")
                made = backups.keep_backups(record)
                assert made == tmp_path / f"{name}-backups" / "a-2026-03-17.sqlite"

    def test_what_is_left_of_another_record_is_no_copy_of_this_one(self, tmp_path: Path) -> None:
        left = tmp_path / "diary-damaged-2026-01-01-120000.sqlite"
        left.write_text("x")
        assert files.made_copies(tmp_path / "diary.db") == []
        assert files.made_copies(tmp_path / "diary.sqlite") == [left]

    def test_a_name_that_is_no_date_is_no_dated_backup(self, record: Record) -> None:
        folder = files.backups_folder(record.path)
        folder.mkdir()
        (folder / "record-2026-13-40.sqlite").write_text("x")
        assert backups.dated(record.path) == {}

    def test_files_of_others_in_the_folder_are_left_alone(self, record: Record) -> None:
        record.keep([MOOD], "mood")
        backups.keep_backups(record)
        other = files.backups_folder(record.path) / "holiday.sqlite"
        other.write_text("mine")
        beside = files.backups_folder(record.path) / "record-b-2026-03-17.sqlite"
        beside.write_text("of the record that is called record-b")
        assert list(backups.dated(record.path)) == [TODAY]
        assert erase.erase_backups(record.path) == [beside.with_name("record-2026-03-17.sqlite")]
        assert [path.name for path in (other, beside) if path.exists()] == [other.name, beside.name]


class TestCopies:
    def test_a_copy_in_memory_holds_the_same(self, record: Record) -> None:
        fill(record)
        with snapshots.from_bytes(snapshots.as_bytes(record), Path("copy")) as copy:
            assert record_as_json(copy) == record_as_json(record)

    def test_what_still_lies_in_the_log_is_read_too(self, record: Record) -> None:
        """The record is open, so the newest rows are in the write-ahead log."""
        fill(record)
        with snapshots.opened(record.path) as copy:
            assert record_as_json(copy) == record_as_json(record)

    def test_a_damaged_copy_is_refused(self, record: Record) -> None:
        fill(record)
        data = bytearray(snapshots.as_bytes(record))
        data[4096:8192] = b"\x55" * 4096
        with pytest.raises(DamagedRecord):
            snapshots.from_bytes(bytes(data), Path("copy"))

    def test_a_file_that_is_no_record_is_refused(self, tmp_path: Path) -> None:
        other = tmp_path / "x.sqlite"
        other.write_text("hello " * 50)
        with pytest.raises(ForeignRecord):
            snapshots.opened(other)

    def test_a_locked_copy_opens_with_its_passphrase_alone(self, record: Record, tmp_path: Path) -> None:
        fill(record)
        locked = tmp_path / "copy.sqlite.age"
        locked.write_bytes(snapshots.encrypted(snapshots.as_bytes(record), "four plain words here"))
        assert b"Selderby" not in locked.read_bytes()
        assert b"SQLite" not in locked.read_bytes()
        with snapshots.opened(locked, "four plain words here") as copy:
            assert record_as_json(copy) == record_as_json(record)
        with pytest.raises(UnknownValue, match="This passphrase does not unlock the file"):
            snapshots.opened(locked, "other words")

    def test_a_file_that_was_never_locked_is_refused(self) -> None:
        with pytest.raises(UnknownValue, match="or it is no locked copy"):
            snapshots.decrypted(b"hello", "words")


class TestPuttingBack:
    def test_the_record_becomes_what_the_copy_is(self, record: Record) -> None:
        fill(record)
        data = snapshots.as_bytes(record)
        before = record_as_json(record)
        record.keep([Change(TODAY, "note", "later")], "note")
        with snapshots.from_bytes(data, record.path) as copy:
            snapshots.put_back(record, copy)
        assert record_as_json(record) == before
        assert record.keep([MOOD], "mood") is not None

    def test_another_open_window_sees_it(self, record: Record, clock: Clock) -> None:
        record.keep([MOOD], "mood")
        data = snapshots.as_bytes(record)
        record.keep([Change(TODAY, "note", "later")], "note")
        with Record.open(record.path, clock) as window, snapshots.from_bytes(data, record.path) as copy:
            window.changed_elsewhere()
            snapshots.put_back(record, copy)
            assert window.changed_elsewhere()
            assert window.day(TODAY).note is None

    def test_while_another_program_writes_nothing_changes(
        self, record: Record, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(driver, "BUSY_SECONDS", 0.05)
        fill(record)
        with (
            Record.open(record.path) as second,
            snapshots.from_bytes(snapshots.as_bytes(record), record.path) as copy,
        ):
            record.db.execute("begin immediate")
            with pytest.raises(HeldRecord):
                snapshots.put_back(second, copy)
            record.db.execute("rollback")

    def test_over_a_damaged_record_the_copy_takes_its_place(self, record: Record, tmp_path: Path) -> None:
        fill(record)
        broken = tmp_path / "broken.sqlite"
        broken.write_bytes(b"")
        with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
            damaged = snapshots.put_in_place(copy, broken)
        assert damaged.name.startswith("broken-damaged-")
        assert damaged.read_bytes() == b""
        assert stat.S_IMODE(broken.stat().st_mode) == 0o600
        with Record.open(broken) as restored:
            assert record_as_json(restored) == record_as_json(record)

    def test_a_damaged_record_stays_in_its_place_until_the_copy_is_written(
        self, record: Record, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        fill(record)
        broken = tmp_path / "broken.sqlite"
        broken.write_bytes(b"all that is left")

        def full(*_: object) -> None:
            raise OSError(28, "No space left on device")

        with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
            monkeypatch.setattr(snapshots, "write_as", full)
            with pytest.raises(CannotWrite, match="no space left"):
                snapshots.put_in_place(copy, broken)
        assert [(path.name, path.read_bytes()) for path in tmp_path.glob("*broken*")] == [
            ("broken.sqlite", b"all that is left")
        ]


def test_a_copy_that_cannot_be_written_leaves_nothing(record: Record, tmp_path: Path) -> None:
    record.keep([MOOD], "mood")
    with pytest.raises(CannotWrite, match="the folder"):
        backups.write_copy(record, tmp_path / "nowhere" / "copy.sqlite")
    assert not (tmp_path / "nowhere").exists()


def test_a_copy_made_beforehand_says_why_and_when(record: Record) -> None:
    record.keep([MOOD], "mood")
    made = backups.beforehand(record, "merge")
    assert made.name == "record-before-merge-2026-03-17-210000.sqlite"
    with snapshots.opened(made) as copy:
        assert record_as_json(copy) == record_as_json(record)
    assert datetime(2026, 3, 17, 21, tzinfo=UTC) == NOW


def test_of_two_copies_made_beforehand_in_a_second_both_stay(record: Record) -> None:
    record.keep([MOOD], "mood")
    first = backups.beforehand(record, "restore")
    record.undo()
    second = backups.beforehand(record, "restore")
    with Record.open(first) as before, Record.open(second) as after:
        assert (bool(before.day(TODAY).mood), bool(after.day(TODAY).mood)) == (True, False)
    assert {first, second} <= set(files.made_backups(record.path))


def test_of_two_damaged_files_in_a_second_both_stay(record: Record, tmp_path: Path) -> None:
    broken = tmp_path / "broken.sqlite"
    with snapshots.from_bytes(snapshots.as_bytes(record), broken, record.clock) as copy:
        for left in (b"one", b"two"):
            broken.write_bytes(left)
            snapshots.put_in_place(copy, broken)
    assert {path.read_bytes() for path in tmp_path.glob("broken-damaged-*")} == {b"one", b"two"}
    assert len(set(files.made_copies(broken))) == 2


class TestDamage:
    """What is wrong with the record does not spread into its backups."""

    def test_a_backup_of_an_altered_row_is_not_kept_and_no_older_one_goes(
        self, record: Record, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        fill(record)
        old = backups.keep_backups(record)
        assert old is not None
        old = old.rename(old.with_name("record-2026-03-01.sqlite"))
        record.keep([MOOD], "mood")
        record.db.execute("update entry set value = 'mood5-5' where value = 'mood5-2'")
        monkeypatch.setattr(backups, "unneeded", lambda there: list(there.values()))
        with pytest.raises(DamagedRecord, match=r"is not whole, so it was not kept\. entry \d+: the mood of"):
            backups.keep_backups(record)
        assert files.made_backups(record.path) == [old]

    @pytest.mark.parametrize(
        ("statement", "fault"),
        [
            ("create table more (a)", "the table more is not as it was made"),
            ("create trigger gone after insert on entry begin delete from entry; end", "the trigger gone"),
            ("drop view current_entry", "the view current_entry is not as it was made"),
            ("drop index entry_by_day", "the index entry_by_day is not as it was made"),
        ],
    )
    def test_other_tables_views_and_triggers_are_found(
        self, record: Record, statement: str, fault: str
    ) -> None:
        fill(record)
        record.db.execute(statement)
        assert any(fault in found for found in faults_of(record.db))
        with pytest.raises(DamagedRecord, match="not as it was made"), copy_of(record):
            pass


class TestLinkedFolder:
    """The folder of the backups is a link to another one, which holds what looks like a backup."""

    @pytest.fixture
    def elsewhere(self, record: Record, tmp_path: Path) -> Path:
        elsewhere = tmp_path / "elsewhere"
        elsewhere.mkdir()
        (elsewhere / "record-2020-01-01.sqlite").write_text("of somebody else")
        files.backups_folder(record.path).symlink_to(elsewhere)
        record.keep([MOOD])
        return elsewhere

    @pytest.mark.parametrize(
        "act", [backups.keep_backups, lambda record: backups.beforehand(record, "merge")]
    )
    def test_nothing_is_written_through_it(
        self, record: Record, elsewhere: Path, act: Callable[[Record], object]
    ) -> None:
        with pytest.raises(UnwritableRecord, match="is a link, and none is followed"):
            act(record)
        assert [path.name for path in elsewhere.iterdir()] == ["record-2020-01-01.sqlite"]

    def test_nothing_is_erased_through_it(self, record: Record, elsewhere: Path) -> None:
        for act in (lambda: erase.erase_in_backups(record), lambda: erase.erase_backups(record.path)):
            with pytest.raises(UnwritableRecord, match="is a link, and none is followed"):
                act()
        assert (elsewhere / "record-2020-01-01.sqlite").read_text() == "of somebody else"
