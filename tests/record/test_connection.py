"""Opening a record, and refusing what is none, without touching it."""

import os
import re
import resource
import shutil
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import pytest
from sqlite_utils import Database

import tracker
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import (
    CannotWrite,
    DamagedRecord,
    ForeignRecord,
    HeldRecord,
    NewerRecord,
    TrackerError,
    UnwritableRecord,
)
from tracker.record import backups, driver, files, schema, snapshots
from tracker.record.connection import look_only, refuse_what_is_not_ours
from tracker.record.driver import in_sentences
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
MOOD = Change(TODAY, "mood", "mood5-4")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "record.sqlite"


@pytest.fixture
def open_umask() -> Iterator[None]:
    """The umask that hides nothing."""
    before = os.umask(0)
    yield
    os.umask(before)


def modes(folder: Path) -> dict[str, str]:
    return {item.name: oct(stat.S_IMODE(item.stat().st_mode)) for item in sorted(folder.iterdir())}


def foreign_database(path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("create table other (a)")
    db.commit()
    db.close()


@pytest.mark.usefixtures("open_umask")
def test_only_their_owner_can_read_the_record_and_enter_its_folders(tmp_path: Path, clock: Clock) -> None:
    folder = tmp_path / "a" / "b"
    with Record.open(folder / "record.sqlite", clock) as record:
        record.keep([MOOD], "mood")
        assert modes(folder) == {
            "record.sqlite": "0o600",
            "record.sqlite-shm": "0o600",
            "record.sqlite-wal": "0o600",
        }
    assert modes(folder) == {"record.sqlite": "0o600"}
    assert (modes(tmp_path)["a"], modes(tmp_path / "a")["b"]) == ("0o700", "0o700")


def test_every_write_is_durable_and_readers_never_wait(record: Record) -> None:
    settings = {
        name: record.db.value(f"pragma {name}")
        for name in ("journal_mode", "synchronous", "fullfsync", "foreign_keys")
    }
    assert settings == {"journal_mode": "wal", "synchronous": 2, "fullfsync": 1, "foreign_keys": 1}


def test_the_header_says_whose_file_it_is(record: Record) -> None:
    assert record.db.value("pragma application_id") == schema.APPLICATION_ID
    assert record.db.value("pragma user_version") == schema.VERSION


@pytest.mark.parametrize(
    ("make", "error", "sentence"),
    [
        (
            lambda path: path.write_text("Dear diary, " * 20),
            ForeignRecord,
            "{path} is not a record of this program; it was not touched. "
            "Name another file with --record, or move this one away.",
        ),
        (
            foreign_database,
            ForeignRecord,
            "{path} is not a record of this program; it was not touched. "
            "Name another file with --record, or move this one away.",
        ),
        (
            lambda path: path.write_bytes(b""),
            DamagedRecord,
            "The record {path} is an empty file; bring back a backup with tracker restore, or remove it.",
        ),
        (
            lambda path: path.mkdir(),
            ForeignRecord,
            "{path} is not a record of this program; it was not touched. "
            "Name another file with --record, or move this one away.",
        ),
        (
            os.mkfifo,
            ForeignRecord,
            "{path} is not a record of this program; it was not touched. "
            "Name another file with --record, or move this one away.",
        ),
    ],
)
def test_a_file_that_is_none_of_ours_is_refused_untouched(  # type: ignore[no-untyped-def]
    path: Path, make, error: type[TrackerError], sentence: str
) -> None:
    make(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(error) as refused:
        Record.open(path)
    assert str(refused.value) == sentence.format(path=path)
    assert (path.read_bytes() if path.is_file() else None) == before
    assert [item.name for item in path.parent.iterdir() if item.is_file()] in ([path.name], [])


def test_a_record_of_a_newer_program_is_refused_untouched(path: Path, clock: Clock) -> None:
    Record.open(path, clock).close()
    db = sqlite3.connect(path)
    db.execute(f"pragma user_version = {schema.VERSION + 1}")
    db.close()
    before = path.read_bytes()
    with pytest.raises(NewerRecord, match="was made by a newer version of this program; it was not touched"):
        Record.open(path, clock)
    assert path.read_bytes() == before


def test_a_damaged_record_says_what_to_do(path: Path, clock: Clock) -> None:
    with Record.open(path, clock) as record:
        record.keep([MOOD], "mood")
    content = bytearray(path.read_bytes())
    content[4096:] = b"\x55" * (len(content) - 4096)
    path.write_bytes(content)
    with (
        Record.open(path, clock) as record,
        pytest.raises(DamagedRecord, match="is damaged; run tracker check, or bring back a backup"),
    ):
        record.days()


def test_a_record_that_another_program_holds_is_refused(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(driver, "BUSY_SECONDS", 0.05)
    other = sqlite3.connect(record.path)
    other.execute("begin immediate")
    with (
        Record.open(record.path, record.clock) as second,
        pytest.raises(HeldRecord, match="is held by another program; nothing was kept"),
    ):
        second.keep([MOOD], "mood")
    other.close()
    assert record.is_empty()


def test_on_a_full_disk_nothing_is_kept_and_the_record_stays_usable(record: Record) -> None:
    """A limit on the pages of the file stands for the full disk: both give SQLITE_FULL."""
    record.keep([MOOD], "mood")
    pages = record.db.value("pragma page_count")
    record.db.execute(f"pragma max_page_count = {pages}")
    many = [Change(date(2025, 1, 1 + n), "note", "x" * 2000) for n in range(28)]
    with pytest.raises(UnwritableRecord, match="is full; nothing was kept"):
        record.keep(many, "notes")
    assert list(record.days()) == [TODAY]
    record.db.execute("pragma max_page_count = 1000000")
    assert record.keep(many, "notes") is not None


@contextmanager
def no_room() -> Iterator[None]:
    """No file grows: what a full disk does to the files beside a record."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_without_room_a_record_is_shown_and_nothing_is_kept(tmp_path: Path, clock: Clock) -> None:
    path = tmp_path / "full.sqlite"
    with Record.open(path, clock) as record:
        record.keep([MOOD])
    before = path.read_bytes()
    with no_room(), Record.open(path, clock) as record:
        assert list(record.days()) == [TODAY]
        with pytest.raises(UnwritableRecord, match="Nothing is kept: no room on the disk"):
            record.keep([MOOD._replace(value="mood5-1")])
        with pytest.raises(UnwritableRecord, match="Nothing is kept"):
            record.undo()
    assert path.read_bytes() == before


def test_without_room_what_a_killed_program_left_in_its_log_is_shown(tmp_path: Path, clock: Clock) -> None:
    path = tmp_path / "full.sqlite"
    with Record.open(tmp_path / "running.sqlite", clock) as record:
        record.keep([MOOD])
        for end in ("", "-wal"):
            shutil.copy(f"{record.path}{end}", f"{path}{end}")
    with no_room(), Record.open(path, clock) as record:
        assert list(record.days()) == [TODAY]
    with Record.open(path, clock) as record:
        assert list(record.days()) == [TODAY]


@pytest.fixture
def looking(tmp_path: Path, clock: Clock) -> Iterator[Record]:
    """A record that was opened while there was no room, with a mood of today."""
    path = tmp_path / "full.sqlite"
    with Record.open(path, clock) as record:
        record.keep([MOOD])
    with no_room():
        record = Record.open(path, clock)
    with record:
        yield record


def test_what_can_only_be_looked_at_is_copied_to_where_there_is_room(looking: Record, tmp_path: Path) -> None:
    copy = tmp_path / "elsewhere.sqlite"
    backups.write_copy(looking, copy)
    with Record.open(copy) as there:
        assert list(there.days()) == [TODAY]


def test_no_copy_takes_the_place_of_what_can_only_be_looked_at(looking: Record) -> None:
    before = looking.path.read_bytes()
    with (
        snapshots.from_bytes(snapshots.as_bytes(looking), looking.path) as copy,
        pytest.raises(UnwritableRecord, match="Nothing is kept: no room on the disk"),
    ):
        snapshots.put_back(looking, copy)
    assert looking.path.read_bytes() == before


def test_what_can_only_be_looked_at_makes_no_backup_by_itself(looking: Record) -> None:
    assert backups.keep_backups(looking) is None
    assert not files.backups_folder(looking.path).exists()


def test_a_copy_without_room_blames_its_own_disk(record: Record, tmp_path: Path) -> None:
    record.keep([MOOD])
    copy = tmp_path / "copy.sqlite"
    with no_room(), pytest.raises(CannotWrite, match=r"copy\.sqlite cannot be written: its disk is full"):
        backups.write_copy(record, copy)
    assert list(tmp_path.glob("*copy*")) == []


def test_a_read_only_record_is_not_written(record: Record) -> None:
    record.db.execute("pragma query_only = on")
    with pytest.raises(UnwritableRecord, match="is read-only; nothing was kept"):
        record.keep([MOOD], "mood")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_without_leave_to_write_is_refused(tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    with pytest.raises(UnwritableRecord, match="cannot be made: permission denied"):
        Record.open(closed / "a" / "record.sqlite")


def test_a_file_where_a_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(UnwritableRecord, match="cannot be made: not a directory"):
        Record.open(tmp_path / "file" / "record.sqlite")


def test_a_folder_that_everybody_can_write_is_refused(tmp_path: Path) -> None:
    open_to_all = tmp_path / "open"
    open_to_all.mkdir()
    open_to_all.chmod(0o777)
    with pytest.raises(UnwritableRecord, match="can be written by everybody on this computer"):
        Record.open(open_to_all / "record.sqlite")
    open_to_all.chmod(0o1777)
    Record.open(open_to_all / "record.sqlite").close()


def test_folders_that_cannot_be_entered_are_named(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(self: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "exists", refused)
    with pytest.raises(UnwritableRecord, match="cannot be reached: permission denied"):
        Record.open(path)


def test_a_link_to_nowhere_makes_a_private_record_at_its_end(tmp_path: Path, clock: Clock) -> None:
    link, end = tmp_path / "link.sqlite", tmp_path / "far" / "record.sqlite"
    link.symlink_to(end)
    with Record.open(link, clock) as record:
        record.keep([MOOD], "mood")
        assert record.path == end
    assert modes(end.parent) == {"record.sqlite": "0o600"}


def test_a_link_does_not_hide_a_folder_that_everybody_can_write(tmp_path: Path) -> None:
    open_to_all = tmp_path / "open"
    open_to_all.mkdir()
    Record.open(open_to_all / "record.sqlite").close()
    (tmp_path / "link.sqlite").symlink_to(open_to_all / "record.sqlite")
    open_to_all.chmod(0o777)
    with pytest.raises(UnwritableRecord, match="can be written by everybody on this computer"):
        Record.open(tmp_path / "link.sqlite")


def test_a_record_that_others_can_read_is_closed_before_its_side_files_take_its_modes(
    path: Path, clock: Clock
) -> None:
    Record.open(path, clock).close()
    path.chmod(0o644)
    with Record.open(path, clock):
        assert set(modes(path.parent).values()) == {"0o600"}


def test_a_side_file_of_a_record_that_was_read_only_does_not_lock_its_owner_out(
    path: Path, clock: Clock
) -> None:
    Record.open(path, clock).close()
    shared = path.with_name(path.name + "-shm")
    shared.write_bytes(b"")
    shared.chmod(0o400)
    assert files.closed_to_others(path) == []
    assert modes(path.parent)[shared.name] == "0o600"


def test_a_side_file_that_another_program_takes_away_meanwhile_is_no_trouble(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = path.with_name(path.name + "-shm")
    monkeypatch.setattr(files, "parts_of", lambda record: [gone])
    assert files.closed_to_others(path) == []


def test_a_disk_without_room_is_called_full_whatever_the_error(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where even the side files find no room, SQLite speaks of input and output."""
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorname = "SQLITE_IOERR_SHMSIZE"
    monkeypatch.setattr("shutil.disk_usage", lambda folder: SimpleNamespace(free=4096))
    with (
        pytest.raises(UnwritableRecord, match=r"The disk of .* is full; nothing was kept"),
        in_sentences(path),
    ):
        raise error
    monkeypatch.setattr("shutil.disk_usage", lambda folder: SimpleNamespace(free=10**9))
    with pytest.raises(UnwritableRecord, match="cannot be opened or written"), in_sentences(path):
        raise error


def test_looking_alone_leaves_no_file_beside_the_record(path: Path, clock: Clock) -> None:
    with Record.open(path, clock) as record:
        record.keep([MOOD], "mood")
    with look_only(path) as db:
        assert db.value("select value from entry") == "mood5-4"
        with pytest.raises(UnwritableRecord, match="is read-only"):
            db.execute("delete from entry")
    assert modes(path.parent) == {"record.sqlite": "0o600"}


def test_a_half_made_record_is_never_seen(path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(schema, "TABLES", f"{schema.TABLES}; create table batch (a)")
    with pytest.raises(TrackerError):
        Record.open(path, clock)
    assert list(path.parent.glob("*record*")) == []


class TestOlderRecords:
    """A record of this version, brought up to a later one."""

    @pytest.fixture
    def old(self, path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch) -> Path:
        with Record.open(path, clock) as record:
            record.keep([MOOD], "mood")
        monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, self.allow_another_source))
        monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
        return path

    @staticmethod
    def allow_another_source(db: Database) -> None:
        """What a step is for: a check of a table that cannot be altered where it stands."""
        for view in ("current_entry", "current_choice"):
            db.view(view).drop()
        db.table("erased").transform(column_order=list(schema.COLUMNS["erased"]))
        db.table("batch").transform(column_order=list(schema.COLUMNS["batch"]))
        for statement in schema.TABLES.split(";"):
            if "create view" in statement:
                db.execute(statement)

    def test_it_is_brought_up_to_today_and_keeps_its_days(self, old: Path, clock: Clock) -> None:
        with Record.open(old, clock) as record:
            assert list(record.days()) == [TODAY]
            assert record.db.value("pragma user_version") == schema.VERSION
            assert record.db.rows("pragma foreign_key_check") == []
            assert record.db.value("pragma foreign_keys") == 1

    def test_it_then_has_the_tables_of_a_new_one(self, old: Path, clock: Clock) -> None:
        shapes = []
        for path in (old, old.with_name("new.sqlite")):
            with Record.open(path, clock) as record, record.db.in_sentences():
                db = record.db.utils()
                shapes.append(
                    {
                        table.name: (table.columns, table.strict, table.foreign_keys, table.indexes)
                        for table in sorted(db.tables, key=lambda table: table.name)
                    }
                )
        assert shapes[0] == shapes[1]

    def test_a_copy_of_the_older_one_is_laid_aside_first(self, old: Path, clock: Clock) -> None:
        Record.open(old, clock).close()
        (copy,) = (files.backups_folder(old)).iterdir()
        assert copy.name == f"record-before-version-{schema.VERSION}.sqlite"
        assert stat.S_IMODE(copy.stat().st_mode) == 0o600
        with look_only(copy) as db:
            kept, version = db.value("select value from entry"), db.value("pragma user_version")
            assert (kept, version) == ("mood5-4", schema.VERSION - 1)

    def test_a_step_that_fails_leaves_everything_as_it_was(
        self, old: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def half_way(db: Database) -> None:
            db.table("later").create({"id": str})
            raise sqlite3.OperationalError("planted")

        monkeypatch.setattr(schema, "STEPS", (*schema.STEPS[:-1], half_way))
        with pytest.raises(TrackerError):
            Record.open(old, clock)
        with look_only(old) as db:
            assert db.value("pragma user_version") == schema.VERSION - 1
            assert db.rows("select name from sqlite_master where name = 'later'") == []


def test_one_module_alone_knows_a_driver_of_sqlite() -> None:
    """Another driver has errors of its own; whoever caught one of them elsewhere would miss the other's."""
    known = re.compile(r"^\s*(import|from) sqlite3", re.M)
    modules = Path(tracker.__file__).parent.rglob("*.py")
    assert [path.name for path in modules if known.search(path.read_text())] == ["driver.py"]


def test_a_failure_is_turned_into_ours_once(record: Record) -> None:
    record.db.execute("drop table entry")
    with pytest.raises(DamagedRecord) as failed:
        record.keep([MOOD])
    assert isinstance(failed.value.__cause__, sqlite3.OperationalError)
    assert failed.value.__cause__.__cause__ is None


def test_a_text_that_cannot_be_read_is_damage_and_is_not_shown(record: Record) -> None:
    record.keep([Change(TODAY, "note", "Quiet talk")])
    record.db.execute("update entry set value = cast(x'51756965742074616c6bff' as text)")
    with pytest.raises(DamagedRecord) as refused:
        record.days()
    assert "Quiet" not in str(refused.value)


BESIDE = """
import sys
from pathlib import Path
from tracker.record.store import Record

with Record.open(Path(sys.argv[1])) as record:
    print(len(record.history(record.today(), record.today())))
"""


def entries_seen_beside(path: Path) -> int:
    """How many entries of today another program finds, which opens the record and closes it again."""
    command = [sys.executable, "-c", BESIDE, str(path)]
    return int(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def test_a_record_that_is_opened_once_more_here_stays_in_use_for_other_programs(path: Path) -> None:
    """To close any handle of a file takes away every lock of the process on it (POSIX, fcntl)."""
    with Record.open(path) as record:
        record.keep([Change(record.today(), "mood", "mood5-4")], "one")
        Record.open(path).close()
        refuse_what_is_not_ours(path)
        assert entries_seen_beside(path) == 1
        assert path.with_name(path.name + "-wal").exists()
        record.keep([Change(record.today(), "mood", "mood5-3")], "two")
        assert entries_seen_beside(path) == 2


def test_a_record_that_was_closed_is_looked_at_again(path: Path) -> None:
    Record.open(path).close()
    path.write_bytes(b"something else" * 20)
    with pytest.raises(ForeignRecord):
        Record.open(path)


class TestAFileThatChangesPlaceWhileItIsOpen:
    """SQLite takes no log into a file that was moved, and lays it over whatever lies in its place."""

    def test_nothing_more_is_kept_and_what_was_kept_goes_with_it(self, path: Path, clock: Clock) -> None:
        moved = path.with_name("moved.sqlite")
        with Record.open(path, clock) as record:
            record.keep([MOOD])
            path.rename(moved)
            with pytest.raises(UnwritableRecord, match="was moved or replaced"):
                record.undo()
            with pytest.raises(UnwritableRecord, match="was moved"):
                record.changed_elsewhere()
        with Record.open(moved, clock) as there:
            assert there.day(MOOD.day).mood is not None

    def test_what_was_kept_goes_with_it_without_another_key(self, path: Path, clock: Clock) -> None:
        moved = path.with_name("moved.sqlite")
        with Record.open(path, clock) as record:
            record.keep([MOOD])
            path.rename(moved)
        with Record.open(moved, clock) as there:
            assert there.day(MOOD.day).mood is not None

    def test_another_in_its_place_stays_as_it_is(self, path: Path, clock: Clock) -> None:
        other = path.with_name("other.sqlite")
        with Record.open(other, clock) as synced:
            synced.keep([MOOD._replace(field="note", value="kept on the other computer")])
        with Record.open(path, clock) as record:
            record.keep([MOOD])
            other.replace(path)
            with pytest.raises(UnwritableRecord, match="or replaced"):
                record.keep([MOOD._replace(value="mood5-1")])
        with Record.open(path, clock) as there:
            assert there.day(MOOD.day).note_text == "kept on the other computer"

    def test_put_back_it_is_kept_in_again(self, path: Path, clock: Clock) -> None:
        with Record.open(path, clock) as record:
            away = path.rename(path.with_name("moved.sqlite"))
            with pytest.raises(UnwritableRecord):
                record.keep([MOOD])
            away.rename(path)
            assert record.keep([MOOD]) is not None
