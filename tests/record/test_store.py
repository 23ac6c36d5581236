"""Keeping, reading, taking back. Today is Tuesday 17 March 2026, nine in the evening."""

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON
from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import NothingToUndo, UnknownValue, WrongDay
from tracker.diary.settings import Settings
from tracker.record.choice_rows import break_value
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
NOW = datetime(2026, 3, 17, 21, tzinfo=UTC)


def mood(rank: int, day: date = TODAY) -> Change:
    return Change(day, "mood", f"mood5-{rank}")


def sleep(rank: int, day: date = TODAY) -> Change:
    return Change(day, "sleep", f"sleep8-{rank}")


def stands(record: Record) -> str:
    """The mood that stands today, by its id."""
    square = record.day(TODAY).mood
    return square.value if square else ""


class TestKeeping:
    def test_what_was_kept_stands_with_all_that_belongs_to_it(self, record: Record) -> None:
        record.keep([Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.5})], "sleep", source="command")
        square = Square("sleep8-5", "kept", "at the time", "command", NOW, 0, {"hours": 6.5})
        assert record.day(TODAY) == Day(TODAY, sleep=square)
        assert record.day(TODAY).hours == 6.5

    def test_several_squares_are_one_action(self, record: Record) -> None:
        batch = record.keep([mood(4), sleep(5)], "day")
        assert batch is not None
        assert (batch.turn, batch.changes, batch.what) == (1, 2, "day")
        assert {entry.batch for entry in record.history(TODAY)} == {batch.id}

    def test_what_stands_already_writes_nothing(self, record: Record) -> None:
        record.keep([mood(4)], "mood")
        assert record.keep([mood(4)], "mood") is None
        assert len(record.history(TODAY)) == 1

    def test_the_newest_counts_and_the_older_stays_in_the_history(self, record: Record) -> None:
        record.keep([mood(4)], "mood")
        record.keep([mood(2)], "mood")
        assert record.day(TODAY).mood == Square("mood5-2", kept_at=NOW)
        assert [entry.value for entry in record.history(TODAY)] == ["mood5-4", "mood5-2"]

    def test_after_a_clock_was_set_back_the_last_answer_counts_and_undo_brings_the_one_before(
        self, record: Record
    ) -> None:
        record.keep([mood(4)], "mood")
        record.clock = Clock(now=lambda: NOW - timedelta(hours=5), zone=LONDON)
        record.keep([mood(2)], "mood")
        assert stands(record) == "mood5-2"
        record.undo()
        assert stands(record) == "mood5-4"

    def test_a_cleared_square_waits_again(self, record: Record) -> None:
        record.keep([mood(4)], "mood")
        record.keep([Change(TODAY, "mood", state="cleared")], "cleared")
        assert record.days() == {}

    def test_could_not_say_is_an_answer_and_no_value(self, record: Record) -> None:
        record.keep([Change(TODAY, "mood", state="could not say")], "mood")
        square = record.day(TODAY).mood
        assert square is not None
        assert (square.is_kept, square.value) == (False, "")

    def test_one_wrong_change_keeps_none_of_them(self, record: Record) -> None:
        with pytest.raises(UnknownValue):
            record.keep([mood(4), Change(TODAY, "mood", "mood9-1")], "day")
        assert record.is_empty()

    def test_a_day_to_come_is_refused(self, record: Record) -> None:
        with pytest.raises(WrongDay):
            record.keep([mood(4, TODAY + timedelta(1))], "mood")

    def test_days_come_in_order_of_time_and_only_those_asked_for(self, record: Record) -> None:
        days = [TODAY - timedelta(n) for n in (0, 3, 1, 2)]
        record.keep([mood(3, day) for day in days], "four days")
        assert list(record.days(days[1], days[2])) == [days[1], days[3], days[2]]

    def test_answers_are_moods_and_sleeps_that_stand(self, record: Record) -> None:
        days = [TODAY - timedelta(n) for n in (2, 1, 0)]
        record.keep([mood(3, days[0]), sleep(3, days[1]), mood(3, days[1]), mood(3)], "moods and a sleep")
        record.keep([Change(days[1], "mood", state="could not say"), mood(2, days[0])], "other answers")
        record.keep([Change(days[1], "sleep", state="cleared"), Change(days[1], "anxious", "yes")], "cleared")
        assert (record.unanswered(days[0], days[1]), record.unanswered(days[1], days[2])) == (2, 2)

    def test_without_leave_to_change_a_kept_square_it_is_left(self, record: Record) -> None:
        record.keep([mood(4)], "mood")
        record.keep([mood(1), sleep(5)], "import", over=False)
        assert [entry.value for entry in record.history(TODAY)] == ["mood5-4", "sleep8-5"]

    def test_of_several_changes_of_one_square_the_last_counts(self, record: Record) -> None:
        batch = record.keep([mood(4), sleep(5), mood(2)], "day")
        assert batch is not None
        assert batch.changes == 2
        assert record.day(TODAY).mood == Square("mood5-2", kept_at=NOW)

    def test_changes_pass_by_whoever_watches(self, record: Record) -> None:
        seen: list[Change] = []

        def watched(changes: Sequence[Change]) -> Iterator[Change]:
            for change in changes:
                seen.append(change)
                yield change

        record.keep([mood(4), sleep(5)], "day", watched=watched)
        assert seen == [mood(4), sleep(5)]


class TestBasis:
    @pytest.mark.parametrize(
        ("days_ago", "basis", "left_out"),
        [
            (2, "at the time", False),
            (3, "remembered", False),
            (14, "remembered", False),
            (15, "remembered", True),
        ],
    )
    def test_how_late_an_entry_came(self, record: Record, days_ago: int, basis: str, left_out: bool) -> None:
        day = TODAY - timedelta(days_ago)
        record.keep([mood(3, day)], "mood")
        square = record.day(day).mood
        assert square is not None
        late = days_ago if basis == "remembered" else 0
        assert (square.basis, square.late_days, square.is_left_out) == (basis, late, left_out)

    def test_a_copy_from_paper_is_never_too_late(self, record: Record) -> None:
        day = TODAY - timedelta(400)
        record.keep([mood(3, day)], "paper year", basis="paper")
        square = record.day(day).mood
        assert square is not None
        assert (square.basis, square.late_days, square.is_left_out) == ("paper", 0, False)

    def test_an_undo_gives_back_the_basis_and_the_moment_of_what_it_brings_back(self, tmp_path: Path) -> None:
        now = [NOW - timedelta(days=20)]
        with Record.open(tmp_path / "r.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
            day = date(2026, 2, 25)
            record.keep([mood(4, day)], "first")
            before = record.day(day).mood
            now[0] = NOW
            record.keep([mood(2, day)], "second", basis="remembered")
            late = record.day(day).mood
            assert late is not None
            assert (late.basis, late.late_days) == ("remembered", 20)
            record.undo()
            assert record.day(day).mood == before
            record.redo()
            assert record.day(day).mood == late
            record.undo()
            assert record.day(day).mood == before

    def test_what_an_undo_restores_names_the_entry_it_came_from(self, record: Record) -> None:
        record.keep([mood(4)], "first")
        record.keep([mood(2)], "second")
        record.undo()
        first, _, restored = record.history(TODAY)
        assert restored.restores == first.id

    def test_what_was_brought_back_once_and_again_still_has_its_first_moment(self, tmp_path: Path) -> None:
        now = [NOW - timedelta(days=20)]
        with Record.open(tmp_path / "r.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
            day = date(2026, 2, 25)
            record.keep([mood(4, day)], "at the time")
            first = record.day(day).mood
            now[0] = NOW
            for rank in (1, 2):
                record.keep([mood(rank, day)], "late")
                record.undo()
            assert record.day(day).mood == first

    def test_pressed_at_half_past_two_at_night_an_entry_is_not_late(self, tmp_path: Path) -> None:
        night = Clock(now=lambda: datetime(2026, 3, 20, 2, 30, tzinfo=UTC), zone=LONDON)
        with Record.open(tmp_path / "r.sqlite", night) as record:
            record.keep([mood(4, TODAY)], "mood")
            square = record.day(TODAY).mood
            assert square is not None
            assert square.basis == "at the time"


class TestUndo:
    def test_an_undo_takes_the_whole_action_back(self, record: Record) -> None:
        record.keep([mood(4), sleep(5)], "day")
        record.undo()
        assert record.days() == {}

    def test_undo_and_redo_walk_back_and_forth(self, record: Record) -> None:
        states = [record.days()]
        for rank in (1, 2, 3):
            record.keep([mood(rank)], f"mood {rank}")
            states.append(record.days())
        for expected in (2, 1, 0):
            record.undo()
            assert record.days() == states[expected]
        for expected in (1, 2, 3):
            record.redo()
            assert record.days() == states[expected]

    def test_undo_names_what_it_took_back(self, record: Record) -> None:
        record.keep([mood(4), sleep(5)], "Tue 17 March")
        assert record.undo().what == "Tue 17 March"

    def test_undo_goes_on_after_the_record_was_closed(self, tmp_path: Path, clock: Clock) -> None:
        path = tmp_path / "r.sqlite"
        for rank in (1, 2):
            with Record.open(path, clock) as record:
                record.keep([mood(rank)], "mood")
        with Record.open(path, clock) as record:
            record.undo()
        with Record.open(path, clock) as record:
            assert record.day(TODAY).mood == Square("mood5-1", kept_at=NOW)
            record.redo()
            assert record.day(TODAY).mood == Square("mood5-2", kept_at=NOW)

    def test_nothing_is_left_to_undo_or_to_bring_back(self, record: Record) -> None:
        with pytest.raises(NothingToUndo, match="There is nothing to undo"):
            record.undo()
        with pytest.raises(NothingToUndo, match="There is nothing to bring back"):
            record.redo()

    def test_what_was_kept_since_ends_the_way_forward(self, record: Record) -> None:
        record.keep([mood(4)], "mood")
        record.undo()
        record.keep([mood(2)], "mood")
        with pytest.raises(NothingToUndo):
            record.redo()

    def test_an_undo_brings_back_a_choice(self, record: Record) -> None:
        record.keep_settings(Settings(theme="a"))
        record.keep_settings(Settings(theme="b"))
        record.undo()
        assert record.choices().settings.theme == "a"
        record.undo()
        assert record.choices().settings == Settings()

    def test_an_undo_takes_back_only_its_action_when_another_came_between(self, record: Record) -> None:
        record.keep([mood(1)], "mood")
        record.keep([sleep(5)], "sleep")
        record.undo()
        record.keep([sleep(6)], "sleep")
        record.undo()
        record.undo()
        assert record.days() == {}


class TestFirstDay:
    def test_an_empty_record_has_none(self, record: Record) -> None:
        assert record.first_day() is None

    def test_it_is_the_earliest_day_that_findings_use(self, record: Record) -> None:
        first, last = TODAY - timedelta(9), TODAY - timedelta(1)
        record.keep([mood(3, first), sleep(4, last)], "two days")
        assert record.first_day() == first

    def test_a_rota_ahead_notes_and_left_out_days_do_not_move_it(self, record: Record) -> None:
        record.keep([mood(3)], "mood")
        record.keep([mood(3, TODAY - timedelta(30))], "long ago")
        record.keep([Change(TODAY + timedelta(30), "shift", "off")], "rota")
        record.keep([Change(TODAY - timedelta(50), "note", "x")], "note")
        record.keep([Change(TODAY - timedelta(1), "mood", state="could not say")], "mood")
        assert record.first_day() == TODAY

    def test_a_cleared_day_is_no_edge(self, record: Record) -> None:
        early = TODAY - timedelta(2)
        record.keep([mood(3, early), mood(3)], "moods")
        record.keep([Change(early, "mood", state="cleared")], "cleared")
        assert record.first_day() == TODAY


class TestBreaks:
    def start(self, record: Record, days_ago: int) -> date:
        first = TODAY - timedelta(days_ago)
        record.choose(break_value(Break(first)), "break")
        return first

    def test_keeping_a_square_ends_a_break_on_the_day_before(self, record: Record) -> None:
        first = self.start(record, 10)
        record.keep([mood(4, TODAY - timedelta(1))], "mood")
        assert record.choices().breaks == (Break(first, TODAY - timedelta(2)),)

    def test_of_several_squares_kept_at_once_the_earliest_ends_it(self, record: Record) -> None:
        first = self.start(record, 10)
        record.keep([mood(4), mood(3, TODAY - timedelta(4)), mood(2, TODAY - timedelta(1))], "moods")
        assert record.choices().breaks == (Break(first, TODAY - timedelta(5)),)

    def test_undo_takes_the_square_and_the_end_back_together(self, record: Record) -> None:
        first = self.start(record, 10)
        record.keep([mood(4)], "mood")
        record.undo()
        assert record.choices().breaks == (Break(first),)

    def test_a_break_that_began_today_is_gone_when_today_is_kept(self, record: Record) -> None:
        self.start(record, 0)
        record.keep([sleep(4)], "sleep")
        assert record.choices().breaks == ()

    def test_a_note_or_a_shift_leaves_a_break_as_it_is(self, record: Record) -> None:
        first = self.start(record, 10)
        record.keep([Change(TODAY, "note", "x"), Change(TODAY, "shift", "off")], "note")
        assert record.choices().breaks == (Break(first),)

    def test_a_past_break_with_an_end_stays(self, record: Record) -> None:
        span = Break(TODAY - timedelta(9), TODAY - timedelta(5))
        record.choose(break_value(span), "break")
        record.keep([mood(4, TODAY - timedelta(7))], "mood")
        assert record.choices().breaks == (span,)


class TestChoices:
    def test_settings_stand_after_reopening(self, tmp_path: Path, clock: Clock) -> None:
        path = tmp_path / "r.sqlite"
        chosen = Settings(country="Scotland", day_change_hour=12, latitude=56, not_anxious=False)
        with Record.open(path, clock) as record:
            record.keep_settings(chosen)
        with Record.open(path, clock) as record:
            assert record.choices().settings == chosen

    def test_settings_that_stand_already_write_nothing(self, record: Record) -> None:
        assert record.keep_settings(Settings()) is None
        assert record.is_empty()

    def test_a_choice_taken_back_leaves_the_default(self, record: Record) -> None:
        record.choose({"setting.theme": "x"}, "theme")
        record.choose({"setting.theme": None}, "theme")
        assert record.choices().settings.theme == Settings().theme

    def test_the_day_change_hour_moves_today(self, tmp_path: Path) -> None:
        morning = Clock(now=lambda: datetime(2026, 3, 17, 9, tzinfo=UTC), zone=LONDON)
        with Record.open(tmp_path / "r.sqlite", morning) as record:
            assert record.today() == TODAY
            record.keep_settings(Settings(day_change_hour=12))
            assert record.today() == TODAY - timedelta(1)


def test_another_program_that_writes_is_noticed_once(tmp_path: Path, clock: Clock) -> None:
    path = tmp_path / "r.sqlite"
    with Record.open(path, clock) as one, Record.open(path, clock) as other:
        one.changed_elsewhere()
        one.keep([mood(1)], "mood")
        assert not one.changed_elsewhere()
        other.keep_settings(Settings(theme="x"))
        assert one.changed_elsewhere()
        assert one.choices().settings.theme == "x"
        assert not one.changed_elsewhere()


def test_days_long_remembered_are_passed_over_quickly_and_an_undone_one_is_not(tmp_path: Path) -> None:
    """An entry remembered in time counts although the undo that brought it back came late."""
    now = [NOW - timedelta(days=60)]
    with Record.open(tmp_path / "r.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
        early = TODAY - timedelta(70)
        record.keep([mood(4, early)], "ten days after")
        now[0] = NOW
        record.keep([mood(3, TODAY - timedelta(90))], "remembered")
        record.keep([mood(2, early)], "changed late")
        record.undo()
        assert record.first_day() == early


def test_a_choice_that_is_no_text_is_refused(record: Record) -> None:
    with pytest.raises(UnknownValue, match="holds bytes that are no text"):
        record.choose({"setting.theme": "a\udcff"}, "theme")
