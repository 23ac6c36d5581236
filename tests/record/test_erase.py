"""Erasing for good. Today is 17 March 2026."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON, NOW
from tests.record.sample import TODAY, YESTERDAY, copy_of, fill
from tracker import system
from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import CannotWrite, HeldRecord, NothingToUndo
from tracker.diary.own_changes import DatedChange
from tracker.record import backups, erase, files, integrity, snapshots
from tracker.record.change_rows import change_value, no_change_value
from tracker.record.choice_rows import break_value
from tracker.record.json_export import record_as_json
from tracker.record.merge import merge
from tracker.record.row_checks import all_faults
from tracker.record.store import Record

PRIVATE = "Quiet talk by the Wenfold water tower"


def traces(folder: Path, text: str = PRIVATE) -> list[str]:
    return [path.name for path in folder.rglob("*") if path.is_file() and text.encode() in path.read_bytes()]


@pytest.fixture
def told(record: Record) -> Record:
    """A record with a secret in a note that was written over and undone."""
    fill(record)
    record.keep([Change(TODAY, "note", PRIVATE)], "note")
    record.keep([Change(TODAY, "note", "nothing")], "note")
    record.undo()
    return record


def test_no_byte_of_an_erased_note_is_left_in_any_file(told: Record) -> None:
    assert (traces(told.path.parent) == []) == told.is_locked
    erase.erase_days(told, TODAY, TODAY)
    assert traces(told.path.parent) == []
    told.close()
    assert traces(told.path.parent) == []


def test_the_day_is_gone_with_its_history_and_the_others_stay(told: Record) -> None:
    others = {day: what for day, what in told.days().items() if day != TODAY}
    erased = erase.erase_days(told, TODAY, TODAY)
    assert (erased.days, erased.entries, erased.changes) == (1, 7, 0)
    assert told.days() == others
    assert told.history(TODAY) == []
    assert all_faults(told.db) == []


def test_an_undo_brings_nothing_of_it_back(told: Record) -> None:
    erase.erase_days(told, TODAY, TODAY)
    for _ in range(6):
        told.undo()
        assert TODAY not in told.days()
    with pytest.raises(NothingToUndo):
        told.undo()


def test_an_action_of_answers_and_a_change_of_her_own_goes_whole(record: Record) -> None:
    record.keep([Change(YESTERDAY, "note", "tea")])
    noted = change_value(DatedChange(TODAY, PRIVATE))
    record.keep([Change(TODAY, "note", PRIVATE)], choices=noted)
    erase.erase_days(record, TODAY, TODAY)
    assert record.choices().dated_changes == ()
    assert [row["what"] for row in record.db.rows("select what from batch where what <> 'identity'")] == [
        "Mon 16 March, a note"
    ]
    record.close()
    assert traces(record.path.parent) == []


def test_an_action_that_ended_a_break_does_not_tell_what_was_erased(record: Record) -> None:
    record.choose(break_value(Break(YESTERDAY)))
    record.keep([Change(TODAY, "mood", "mood5-1")])
    assert record.undo().what == "answers of Tue 17 March, end of the break from Mon 16 March"
    record.redo()
    erase.erase_days(record, TODAY, TODAY)
    assert traces(record.path.parent, "very low") == []
    assert record.choices().breaks == (Break(YESTERDAY, YESTERDAY),)


def test_an_older_copy_does_not_bring_it_back(told: Record, tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as old:
        merge(old, told)
        copy = copy_of(old)
    erase.erase_days(told, TODAY, TODAY)
    before = record_as_json(told)
    with copy:
        assert merge(told, copy).entries == 0
    assert record_as_json(told) == before
    assert traces(told.path.parent / "record.sqlite") == []
    assert b"Wenfold" not in told.path.read_bytes()


def test_what_was_erased_on_the_other_side_is_erased_here(told: Record, tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
        merge(other, told)
        erase.erase_days(other, TODAY, TODAY)
        joined = merge(told, other)
        assert joined.gone == 7
        assert told.history(TODAY) == []
        assert record_as_json(told) == record_as_json(other)
    assert traces(tmp_path) == []


def test_an_undo_on_the_other_side_does_not_bring_it_back_later(
    told: Record, tmp_path: Path, clock: Clock
) -> None:
    """The undo is newer than the erasing, but what it brought back is older."""
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
        merge(other, told)
        for number in range(3):
            other.keep([Change(TODAY, "note", f"note {number}")], "note")
        erase.erase_days(told, TODAY, TODAY)
        for _ in range(3):
            other.undo()
        merge(told, other)
        assert PRIVATE not in [entry.value for entry in told.history(TODAY)]
        merge(other, told)
        assert record_as_json(told) == record_as_json(other)


def test_an_erased_day_may_be_kept_anew_and_outlives_a_merge(
    told: Record, tmp_path: Path, clock: Clock
) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as old:
        merge(old, told)
        erase.erase_days(told, TODAY, TODAY)
        told.keep([Change(TODAY, "mood", "mood5-5")], "mood")
        merge(told, old)
        assert [entry.value for entry in told.history(TODAY)] == ["mood5-5"]


def test_everything_goes_with_its_side_files_and_backups(told: Record) -> None:
    backups.keep_backups(told)
    folder, path = told.path.parent, told.path
    told.close()
    kept = files.backups_folder(path) / "record-before-merge-2026-01-01-120000.sqlite"
    kept.write_text("x")
    cut_off = [path.with_name(".record.sqlite.ab12"), kept.with_name(".record-2026-03-16.sqlite.cd34")]
    for leftover in (*cut_off, path.with_name("record-damaged-2026-01-01-120000.sqlite-wal")):
        leftover.write_text(PRIVATE)
    assert erase.erase_everything(path) == [path]
    assert sorted(item.name for item in erase.erase_backups(path)) == [
        ".record-2026-03-16.sqlite.cd34",
        ".record.sqlite.ab12",
        "record-2026-03-17.sqlite",
        "record-before-merge-2026-01-01-120000.sqlite",
        "record-damaged-2026-01-01-120000.sqlite-wal",
    ]
    assert list(folder.iterdir()) == []


def test_what_cannot_be_erased_is_named(told: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(path: Path) -> None:
        raise PermissionError(13, "Permission denied")

    told.close()
    monkeypatch.setattr(system, "overwrite", refused)
    with pytest.raises(CannotWrite, match="sqlite cannot be erased: permission denied"):
        erase.erase_everything(told.path)


def test_days_that_left_traces_for_want_of_room_are_said_to_be_erased_all_the_same(told: Record) -> None:
    told.db.execute("pragma query_only = on")
    with pytest.raises(HeldRecord, match=r"The days are erased, but .* or the disk is full"):
        erase.compact(told)


def test_only_the_days_between_are_erased(record: Record) -> None:
    for day in range(10, 17):
        record.keep([Change(date(2026, 3, day), "mood", "mood5-3")], "mood")
    erase.erase_days(record, date(2026, 3, 12), date(2026, 3, 14))
    assert [day.day for day in record.days()] == [10, 11, 15, 16]
    assert YESTERDAY in record.days()


def test_a_day_kept_anew_outlives_the_erasing_of_another_although_the_clock_ran_ahead(tmp_path: Path) -> None:
    """What was erased came before in the order of the record; what a clock said then is no order."""
    now = [NOW + timedelta(days=1)]
    with Record.open(tmp_path / "r.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
        record.keep([Change(TODAY, "note", "first")])
        erase.erase_days(record, TODAY, TODAY)
        now[0] = NOW
        record.keep([Change(TODAY, "note", "anew")])
        erase.erase_days(record, YESTERDAY, YESTERDAY)
        assert record.day(TODAY).note_text == "anew"


def test_of_two_copies_only_what_came_before_goes_and_what_stays_is_named(
    told: Record, tmp_path: Path, clock: Clock
) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
        merge(other, told)
        erase.erase_days(told, TODAY, TODAY)
        for number in range(3):
            other.keep([Change(TODAY, "note", f"note {number}")])
        result = merge(told, other)
        assert (result.outlive, result.stay_out) == ([TODAY], 7)
        assert [entry.value for entry in told.history(TODAY)] == ["note 0", "note 1", "note 2"]
        again = merge(other, told)
        assert (again.outlive, again.gone) == ([], 7)
        assert record_as_json(told) == record_as_json(other)
        assert merge(told, other).outlive == []


class TestChanges:
    """A dated change of her own goes with its day, like a note."""

    @pytest.fixture
    def changed(self, record: Record) -> Record:
        """A change that was put otherwise, taken away and brought back, and one of another day."""
        record.choose(change_value(DatedChange(YESTERDAY, "new post")))
        record.choose(change_value(DatedChange(TODAY, PRIVATE)))
        record.choose(change_value(DatedChange(TODAY, "tablets started")))
        record.choose(no_change_value(TODAY))
        record.undo()
        return record

    def test_it_goes_with_its_older_values_and_what_was_undone(self, changed: Record) -> None:
        erased = erase.erase_days(changed, TODAY, TODAY)
        assert (erased.days, erased.entries, erased.changes) == (1, 0, 4)
        assert changed.choices().dated_changes == (DatedChange(YESTERDAY, "new post"),)
        assert changed.change_history(TODAY) == []
        assert all_faults(changed.db) == []
        changed.close()
        assert traces(changed.path.parent) + traces(changed.path.parent, "tablets started") == []

    def test_an_older_copy_does_not_bring_it_back(
        self, changed: Record, tmp_path: Path, clock: Clock
    ) -> None:
        with Record.open(tmp_path / "copy" / "other.sqlite", clock) as old:
            merge(old, changed)
            copy = copy_of(old)
        erase.erase_days(changed, TODAY, TODAY)
        with copy:
            assert merge(changed, copy).stay_out == 4
        assert changed.choices().dated_changes == (DatedChange(YESTERDAY, "new post"),)

    def test_a_copy_in_which_it_was_erased_takes_it_away_here(
        self, changed: Record, tmp_path: Path, clock: Clock
    ) -> None:
        with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
            merge(other, changed)
            erase.erase_days(other, TODAY, TODAY)
            copy = copy_of(other)
        with copy:
            assert merge(changed, copy).gone == 4
        assert changed.choices().dated_changes == (DatedChange(YESTERDAY, "new post"),)

    def test_one_noted_anew_on_the_other_side_outlives_it_and_is_named(
        self, changed: Record, tmp_path: Path, clock: Clock
    ) -> None:
        with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
            merge(other, changed)
            erase.erase_days(changed, TODAY, TODAY)
            for words in ("tablets changed", "moved"):
                other.choose(change_value(DatedChange(TODAY, words)))
            assert merge(changed, other).outlive == [TODAY]
        assert changed.choices().dated_changes[-1] == DatedChange(TODAY, "moved")


class TestLinks:
    """What lies behind a link, or under another name elsewhere, is not ours."""

    @pytest.fixture
    def elsewhere(self, told: Record) -> Path:
        backups.keep_backups(told)
        elsewhere = told.path.parent / "elsewhere.txt"
        elsewhere.write_text("somebody's own file")
        return elsewhere

    @pytest.mark.parametrize("link", [Path.symlink_to, Path.hardlink_to])
    @pytest.mark.parametrize("act", [erase.erase_in_backups, lambda told: erase.erase_backups(told.path)])
    def test_a_link_among_the_backups_is_named_and_nothing_is_erased(
        self,
        told: Record,
        elsewhere: Path,
        link: Callable[[Path, Path], None],
        act: Callable[[Record], object],
    ) -> None:
        linked = files.backups_folder(told.path) / "record-2026-03-01.sqlite"
        link(linked, elsewhere)
        before = files.made_copies(told.path)
        with pytest.raises(CannotWrite, match=r"record-2026-03-01\.sqlite is a link, or has another name"):
            act(told)
        assert elsewhere.read_text() == "somebody's own file"
        assert files.made_copies(told.path) == before

    def test_a_record_with_another_name_is_not_erased_under_both(self, told: Record, elsewhere: Path) -> None:
        other = elsewhere.with_name("other-name.sqlite")
        other.hardlink_to(told.path)
        told.close()
        before = other.read_bytes()
        with pytest.raises(CannotWrite, match="has another name elsewhere; nothing of it was erased"):
            erase.erase_everything(told.path)
        assert (other.read_bytes(), told.path.exists()) == (before, True)

    def test_a_link_is_not_written_over_even_if_it_comes_at_the_last_moment(self, elsewhere: Path) -> None:
        link = elsewhere.with_name("link")
        link.symlink_to(elsewhere)
        with pytest.raises(OSError, match=r"symbolic|Too many"):
            system.overwrite(link)
        assert elsewhere.read_text() == "somebody's own file"


class TestBackups:
    def test_a_day_goes_from_each_backup_and_its_other_days_stay(self, told: Record) -> None:
        first = backups.keep_backups(told)
        assert first is not None
        old = first.rename(first.with_name("record-2026-03-01.sqlite"))
        told.keep([Change(YESTERDAY, "note", "tea")])
        new = backups.keep_backups(told)
        assert new is not None
        erase.erase_days(told, TODAY, TODAY)
        assert erase.erase_in_backups(told) == (2, 0)
        assert traces(told.path.parent) == []
        for backup, note in ((old, ""), (new, "tea")):
            assert integrity.copy_faults(backup) == []
            assert backup.stat().st_mode & 0o777 == 0o600
            with snapshots.opened(backup) as copy:
                assert list(copy.days()) == [date(2025, 1, 3), YESTERDAY]
                assert copy.day(YESTERDAY).note_text == note
                assert merge(told, copy, dry=True).entries == 0

    def test_what_was_erased_and_kept_anew_stays_in_a_backup(self, told: Record) -> None:
        erase.erase_days(told, TODAY, TODAY)
        told.keep([Change(TODAY, "note", "anew")])
        backup = backups.keep_backups(told)
        assert backup is not None
        erase.erase_in_backups(told)
        with snapshots.opened(backup) as copy:
            assert copy.day(TODAY).note_text == "anew"

    def test_a_copy_that_cannot_be_read_goes_as_a_whole(self, told: Record) -> None:
        backup = backups.keep_backups(told)
        assert backup is not None
        backup.write_bytes(backup.read_bytes()[:3000])
        assert erase.erase_in_backups(told) == (0, 1)
        assert files.made_copies(told.path) == []
