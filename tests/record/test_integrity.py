"""Whether a record is whole."""

import shutil
import sqlite3
import stat
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.record.sample import fill
from tests.record.test_connection import no_room
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import UnwritableRecord
from tracker.record.driver import Connection, in_sentences
from tracker.record.integrity import look_over
from tracker.record.store import Record


@pytest.fixture
def path(tmp_path: Path, clock: Clock) -> Path:
    with Record.open(tmp_path / "record.sqlite", clock) as record:
        fill(record)
    return tmp_path / "record.sqlite"


def damage(path: Path, statement: str) -> None:
    db = sqlite3.connect(path)
    db.execute(statement)
    db.commit()
    db.close()


def test_a_whole_record_has_no_faults_and_says_what_it_holds(path: Path, clock: Clock) -> None:
    report = look_over(path, clock)
    assert (report.faults, report.mended) == ([], [])
    assert report.counts == {"days": 3, "batch": 14, "entry": 8, "choice": 7, "erased": 0, "draft": 0}
    assert len(report.digest) == 64


def test_what_was_undone_after_a_clock_ran_ahead_is_no_fault(path: Path, clock: Clock) -> None:
    ahead = Clock(lambda: clock.now() + timedelta(days=400), clock.zone)
    with Record.open(path, ahead) as record:
        for level in ("mood5-4", "mood5-2"):
            record.keep([Change(record.today(), "mood", level)])
    for _ in range(2):
        with Record.open(path, clock) as record:
            record.undo()
        assert look_over(path, clock).faults == []


def test_two_copies_that_hold_the_same_have_the_same_digest(path: Path, clock: Clock, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(path.read_bytes())
    assert look_over(copy, clock).digest == look_over(path, clock).digest
    with Record.open(copy, clock) as record:
        record.undo()
    assert look_over(copy, clock).digest != look_over(path, clock).digest


@pytest.mark.parametrize(
    ("statement", "fault"),
    [
        (
            "update entry set value = 'mood5-5' where value = 'mood5-4' and restores is null",
            "entry 1: the mood of 2026-03-16 was altered; its digest is another.",
        ),
        (
            "update choice set value = '\"Wales\"' where name = 'setting.country'",
            "the setting setting.country was altered; its digest is another.",
        ),
        ("update batch set what = 'x' where turn = 3", "an action was altered; its digest is another."),
        (
            "insert into erased values ('0b6c2f3e-9d4c-4f6a-8f0e-3f6f3a1b2c4d', '2025-01-01', '2025-01-02',"
            " 99, '2026-03-17T21:00:00.000000Z', '" + 64 * "0" + "')",
            "an erased span was altered; its digest is another.",
        ),
        ("update entry set day = '2026-02-30' where field = 'note'", "day cannot be right."),
        ("delete from batch where turn = 1", "belongs to an action that is not there"),
    ],
)
def test_a_row_that_was_altered_is_found(path: Path, clock: Clock, statement: str, fault: str) -> None:
    damage(path, statement)
    assert any(fault in found for found in look_over(path, clock).faults)


def test_one_flipped_bit_in_a_note_is_found_although_sqlite_sees_nothing(path: Path, clock: Clock) -> None:
    """A changed text in a column without an index passes SQLite's own integrity check."""
    content = path.read_bytes()
    place = content.index(b"Sunrise over")
    path.write_bytes(content[:place] + b"s" + content[place + 1 :])
    db = sqlite3.connect(path)
    assert db.execute("pragma integrity_check").fetchall() == [("ok",)]
    db.close()
    (fault,) = look_over(path, clock).faults
    assert fault.endswith("the note of 2026-03-17 was altered; its digest is another.")


@pytest.mark.parametrize(
    "broken",
    [
        lambda content: content[: len(content) // 2],
        lambda content: content[:4096] + b"\x00" * 100 + content[4196:],
        lambda content: b"",
        lambda content: b"Dear diary" * 100,
    ],
    ids=["cut in half", "page header overwritten", "empty", "a text file"],
)
def test_a_damaged_file_is_a_fault_and_no_traceback(path: Path, clock: Clock, broken) -> None:  # type: ignore[no-untyped-def]
    path.write_bytes(broken(path.read_bytes()))
    assert look_over(path, clock).faults != []


def test_a_file_that_cannot_be_looked_at_is_not_called_damaged(
    path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_room(path: Path, key: object = None) -> Connection:
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorname = "SQLITE_IOERR_SHMSIZE"
        with in_sentences(path):
            raise error

    monkeypatch.setattr("tracker.record.integrity.look_only", no_room)
    monkeypatch.setattr("tracker.record.connection._connect", no_room)
    monkeypatch.setattr("tracker.record.connection._looking", lambda path, key: None)
    with pytest.raises(UnwritableRecord, match="cannot be opened or written"):
        look_over(path, clock)


@pytest.mark.parametrize("damaged", [False, True])
@pytest.mark.parametrize("has_log", [False, True])
def test_without_room_all_is_looked_at_as_ever(
    tmp_path: Path, clock: Clock, has_log: bool, damaged: bool
) -> None:
    """Also what a killed program left in its log."""
    path = tmp_path / "full.sqlite"
    with Record.open(tmp_path / "running.sqlite", clock) as record:
        record.keep([Change(date(2026, 3, 16), "mood", "mood5-4")])
        if damaged:
            record.db.execute("update entry set value = 'mood5-5'")
        if not has_log:
            record.db.execute("pragma wal_checkpoint(truncate)")
        for end in ("", "-wal"):
            shutil.copy(f"{record.path}{end}", f"{path}{end}")
    with no_room():
        report = look_over(path, clock)
    assert (report.read_only, report.counts["entry"], bool(report.faults)) == (True, 1, damaged)


def test_modes_that_let_others_in_are_mended_with_a_sentence(path: Path, clock: Clock) -> None:
    path.chmod(0o644)
    assert look_over(path, clock).mended == [f"Others could read {path}; that is mended."]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
