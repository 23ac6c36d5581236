"""What keys do at the grids, without a screen. It is Tuesday 17 March 2026, nine in the evening."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.keeping import keep, stands
from tests.keys import press
from tests.waiting import older
from tracker import words
from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.days import Basis, Change
from tracker.diary.scales import GRIDS, Grid
from tracker.diary.settings import Settings
from tracker.diary.waiting import SquareKey
from tracker.editing.catch_up import CatchUpOptions, OldColour
from tracker.editing.editor import Editor
from tracker.record.choice_rows import break_value
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
YESTERDAY = TODAY - timedelta(days=1)


def march(day: int) -> date:
    return date(2026, 3, day)


class TestOpening:
    def test_an_empty_record_asks_for_the_sleep_of_today(self, record: Record) -> None:
        editor = Editor(record)
        assert (editor.state.square, editor.state.asked()) == (SquareKey(TODAY, "sleep"), words.SLEEP_ASKED)

    def test_the_earliest_square_of_yesterday_and_today_is_asked_first(self, begun: Record) -> None:
        assert Editor(begun).state.square == SquareKey(YESTERDAY, "sleep")

    def test_where_nothing_waits_the_cursor_stands_on_today(self, begun: Record) -> None:
        keep(begun, YESTERDAY, mood="3", sleep="5")
        keep(begun, TODAY, mood="3", sleep="5")
        editor = Editor(begun)
        assert (editor.state.cursor, editor.state.message, editor.state.asked()) == (
            TODAY,
            words.NOTHING_WAITS,
            "",
        )

    def test_a_record_that_can_only_be_looked_at_says_so_at_every_key(self, begun: Record) -> None:
        begun.read_only = True
        editor = Editor(begun)
        assert editor.state.message == words.only_looking(begun.path)
        press(editor, "right", "4")
        assert editor.state.message == words.only_looking(begun.path)
        assert stands(begun, TODAY, "mood") == ""

    def test_after_a_night_the_line_says_which_day_is_rated(self, begun: Record) -> None:
        keep(begun, YESTERDAY, sleep="5", shift="night")
        assert Editor(begun).state.asked() == f"Monday, the day of your night shift. {words.MOOD_ASKED}"

    def test_after_a_night_the_line_says_whose_sleep_is_asked(self, begun: Record) -> None:
        keep(begun, YESTERDAY, mood="3", sleep="5", shift="night")
        assert Editor(begun).state.asked() == "After a night: the sleep that ends today belongs to today."

    def test_after_an_earlier_night_no_other_day_is_called_today(self, begun: Record) -> None:
        keep(begun, march(15), mood="3", sleep="5", shift="night")
        assert Editor(begun).state.square == SquareKey(YESTERDAY, "sleep")
        assert Editor(begun).state.asked() == (
            "After a night: the sleep that ended on Mon 16 March belongs to that day."
        )

    def test_before_noon_the_mood_of_today_is_for_the_days_end(self, begun: Record) -> None:
        begun.clock = Clock(now=lambda: datetime(2026, 3, 17, 8, 0, tzinfo=UTC), zone=begun.clock.zone)
        keep(begun, YESTERDAY, mood="3", sleep="5")
        keep(begun, TODAY, sleep="5")
        assert Editor(begun).state.asked() == f"{words.MOOD_ASKED} ({words.MOOD_AT_THE_END})"


class TestDigits:
    def test_four_digits_fill_yesterday_and_today_in_order_of_time(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "4", "7", "5")
        found = [(stands(begun, day, "sleep"), stands(begun, day, "mood")) for day in (YESTERDAY, TODAY)]
        assert found == [("sleep8-5", "mood5-4"), ("sleep8-6", "mood5-5")]
        assert (
            editor.state.message
            == f"Kept for Tue 17 March 2026: mood 5 very good, not anxious. {words.NOTHING_WAITS}"
        )

    def test_a_digit_is_kept_before_press_returns(self, begun: Record) -> None:
        press(Editor(begun), "6")
        with Record.open(begun.path, begun.clock) as other:
            assert stands(other, YESTERDAY, "sleep") == "sleep8-5"

    def test_moved_by_hand_a_digit_leaves_the_cursor(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "up", "3")
        assert (editor.state.cursor, stands(begun, march(9), "sleep")) == (march(9), "sleep8-2")

    def test_setting_a_kept_square_anew_leaves_the_cursor(self, begun: Record) -> None:
        keep(begun, YESTERDAY, sleep="5")
        editor = Editor(begun)
        press(editor, "tab", "7")
        assert (editor.state.square, stands(begun, YESTERDAY, "sleep")) == (
            SquareKey(YESTERDAY, "sleep"),
            "sleep8-6",
        )

    @pytest.mark.parametrize(
        ("keys", "kept"),
        [
            (("1",), ""),
            (("1", "0"), "sleep8-7"),
            (("1", "4"), "sleep8-7"),
            (("1", "5"), ""),
            (("1", "7"), ""),
            (("1", "enter"), "sleep8-1"),
            (("1", "escape"), ""),
            (("2",), "sleep8-1"),
            (("0",), "sleep8-0"),
            (("9",), "sleep8-7"),
        ],
    )
    def test_a_one_waits_for_what_follows(self, begun: Record, keys: tuple[str, ...], kept: str) -> None:
        press(Editor(begun), *keys)
        assert stands(begun, YESTERDAY, "sleep") == kept

    def test_a_one_says_what_may_follow(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "1")
        assert editor.state.message == "1 waits: 0 to 4 = 10 to 14 hours, Enter = under 3 h, Esc = neither."

    def test_two_digits_that_are_no_night_are_refused_with_the_key_for_a_longer_one(
        self, begun: Record
    ) -> None:
        editor = Editor(begun)
        press(editor, "1", "7")
        assert (
            editor.state.message
            == "17 hours look like a slip; nothing was kept. If you slept so long, press 8."
        )
        press(editor, "8")
        assert stands(begun, YESTERDAY, "sleep") == "sleep8-7"

    def test_another_key_after_a_one_keeps_nothing_and_does_its_own(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "1", "left")
        assert (editor.state.cursor, stands(begun, YESTERDAY, "sleep")) == (march(15), "")

    def test_a_digit_without_a_level_says_why(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "tab", "8")
        assert editor.state.message == words.no_level("8", "mood", "1", "5")
        press(editor, "shift+tab", "8")
        assert editor.state.message.startswith("A letter sets the shift")

    def test_a_day_to_come_says_why_nothing_is_kept(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "t", "right", "5")
        assert editor.state.message == words.still_to_come("Wed 18 March")
        assert stands(begun, march(18), "sleep") == ""

    def test_an_early_start_may_begin_the_coming_day(self, begun: Record) -> None:
        begun.clock = Clock(now=lambda: datetime(2026, 3, 18, 3, 30, tzinfo=UTC), zone=begun.clock.zone)
        editor = Editor(begun)
        press(editor, "t", "right")
        assert editor.state.message == "Wed 18 March may be begun already."
        press(editor, "5")
        assert stands(begun, march(18), "sleep") == "sleep8-4"

    @pytest.mark.parametrize("answer", [True, False])
    def test_a_mood_notes_not_anxious_as_the_setting_says(self, begun: Record, answer: bool) -> None:
        begun.keep_settings(Settings(not_anxious=answer))
        press(Editor(begun), "6", "4")
        assert begun.day(YESTERDAY).is_anxious is (False if answer else None)


class TestTheFirstDay:
    """The verdict days are counted from it."""

    def test_an_answer_before_it_says_that_the_record_now_begins_there(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "up", *["left"] * 4, "3")
        assert editor.state.message == (
            "Kept for Thu 5 March 2026: sleep 3-4 h; remembered, 12 days later. "
            "The record now begins on 5 March 2026; u takes it back."
        )
        press(editor, "u")
        assert begun.first_day() == march(7)

    def test_hidden_grids_say_so_too(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "h", "up", *["left"] * 4, "3")
        assert editor.state.message == "Kept. The record now begins on 5 March 2026; u takes it back."

    def test_an_answer_after_it_says_nothing_of_it(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "up", "3")
        assert editor.state.message == "Kept for Mon 9 March 2026: sleep 3-4 h; remembered, 8 days later."

    def test_the_first_answer_of_all_says_nothing_of_it(self, record: Record) -> None:
        editor = Editor(record)
        press(editor, "6")
        assert "begins" not in editor.state.message


class TestMarks:
    def test_the_first_press_says_anxious_whatever_stood(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "4", "6", "3", "a")
        assert begun.day(TODAY).is_anxious is True

    def test_pressed_again_it_goes_round(self, begun: Record) -> None:
        editor = Editor(begun)
        seen = []
        for _ in range(4):
            press(editor, "a")
            seen.append(begun.day(YESTERDAY).is_anxious)
        assert seen == [True, False, None, True]

    def test_right_after_a_mood_it_marks_the_day_just_left(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "2", "a")
        assert (begun.day(YESTERDAY).is_anxious, editor.state.cursor) == (True, TODAY)
        assert editor.state.message == "Kept for Mon 16 March 2026: anxious. Before: not anxious."

    @pytest.mark.parametrize("between", ["h", "tab", "left"])
    def test_later_it_marks_the_day_under_the_cursor(self, begun: Record, between: str) -> None:
        editor = Editor(begun)
        press(editor, "6", "2", between, "a")
        assert begun.day(editor.state.cursor).is_anxious is True

    def test_after_a_click_it_marks_the_day_that_was_clicked(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "2")
        editor.perform("go_to", march(9), "mood")
        press(editor, "a")
        assert (begun.day(march(9)).is_anxious, begun.day(YESTERDAY).is_anxious) == (True, False)

    def test_could_not_say_is_an_answer(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "x")
        assert stands(begun, YESTERDAY, "sleep") == "could not say"
        assert editor.state.square == SquareKey(YESTERDAY, "mood")

    def test_a_level_that_is_clicked_answers_what_waited_for_a_second_key(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "1")
        editor.perform("keep_level", "sleep", "sleep8-5")
        press(editor, "4")
        assert [stands(begun, YESTERDAY, grid) for grid in GRIDS] == ["mood5-4", "sleep8-5"]

    def test_after_a_click_elsewhere_the_anxious_key_marks_the_day_clicked(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "a")
        editor.perform("go_to", march(9), "mood")
        press(editor, "a")
        assert [begun.day(day).is_anxious for day in (YESTERDAY, march(9))] == [True, True]

    def test_backspace_clears(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", march(7), "sleep")
        press(editor, "backspace")
        assert (begun.day(march(7)).sleep, editor.state.message) == (None, "Cleared: sleep of Sat 7 March.")
        press(editor, "backspace")
        assert editor.state.message == "There is no sleep to clear on Sat 7 March."

    def test_capitals_do_the_same(self, begun: Record) -> None:
        press(Editor(begun), "A", "X")
        assert begun.day(YESTERDAY).is_anxious is True
        assert stands(begun, YESTERDAY, "sleep") == "could not say"

    def test_an_unbound_key_changes_nothing_and_ends_the_last_sentence(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "anxious", "a")
        before = editor.state.square
        press(editor, "z")
        assert (editor.state.square, editor.state.message) == (before, "")


class TestShifts:
    def test_s_and_a_letter_set_the_shift(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "s", "N")
        assert (stands(begun, YESTERDAY, "shift"), editor.state.message) == (
            "night",
            "Kept for Mon 16 March 2026: shift night.",
        )

    def test_a_letter_that_is_no_kind_says_which_there_are(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "s", "q")
        assert (
            editor.state.message
            == "q is no letter of a shift; they are s, e, l, d, n, c, o, v and k. Esc leaves."
        )
        press(editor, "l")
        assert stands(begun, YESTERDAY, "shift") == "late"

    def test_the_third_stop_takes_letters(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "tab", "tab", "l")
        assert (editor.state.focus, stands(begun, YESTERDAY, "shift")) == ("shift", "late")

    def test_a_rota_may_lie_ahead(self, begun: Record) -> None:
        press(Editor(begun), "pagedown", "s", "e")
        assert stands(begun, date(2026, 4, 16), "shift") == "early"


class TestWalking:
    @pytest.mark.parametrize(
        ("key", "day"),
        [
            ("left", march(15)),
            ("right", TODAY),
            ("up", march(9)),
            ("down", march(23)),
            ("pageup", date(2026, 2, 16)),
            ("pagedown", date(2026, 4, 16)),
            ("left_square_bracket", date(2026, 2, 16)),
            ("right_square_bracket", date(2026, 4, 16)),
            ("home", march(1)),
            ("end", march(31)),
            ("t", TODAY),
        ],
    )
    def test_keys_walk(self, begun: Record, key: str, day: date) -> None:
        editor = Editor(begun)
        press(editor, key)
        assert editor.state.cursor == day

    def test_g_and_two_digits_keep_an_earlier_day_its_sleep_first(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "g")
        assert editor.state.square == SquareKey(march(15), "sleep")
        press(editor, "7")
        assert editor.state.square == SquareKey(march(15), "mood")
        press(editor, "4")
        assert editor.state.square == SquareKey(march(15), "mood")
        press(editor, "g", "x", "2", "g")
        assert editor.state.square == SquareKey(march(13), "sleep")
        assert [stands(begun, march(day), grid) for day in (15, 14) for grid in ("sleep", "mood")] == [
            "sleep8-6", "mood5-4", "could not say", "mood5-2",
        ]  # fmt: skip

    def test_g_again_goes_on_to_the_day_before(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "g", "g")
        assert editor.state.square == SquareKey(march(14), "sleep")

    def test_g_passes_by_a_sleep_that_was_left_open_for_the_mood(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "g", "tab", "4", "g")
        assert editor.state.square == SquareKey(march(14), "sleep")

    def test_g_stands_at_the_mood_where_that_alone_waits_and_a_digit_stays_there(self, begun: Record) -> None:
        keep(begun, march(15), sleep="5")
        editor = Editor(begun)
        press(editor, "g", "3", "2")
        assert editor.state.square == SquareKey(march(15), "mood")
        assert stands(begun, march(15), "mood") == "mood5-2"

    def test_a_second_digit_mends_a_sleep_beside_a_mood_that_stands(self, begun: Record) -> None:
        keep(begun, march(15), mood="3")
        editor = Editor(begun)
        press(editor, "g", "7", "6")
        assert editor.state.square == SquareKey(march(15), "sleep")
        assert stands(begun, march(15), "sleep") == "sleep8-5"

    def test_what_waits_is_counted_anew_with_every_key(self, begun: Record) -> None:
        editor = Editor(begun)
        counted = []
        for key in ("3", "g", "3", "x", "backspace", "u", "r", "b", "u"):
            press(editor, key)
            counted.append((editor.kept.waiting_before(), len(older(editor.kept.waiting))))
        assert counted == [(n, n) for n in (16, 16, 15, 14, 15, 14, 15, 14, 15)]

    def test_g_says_when_nothing_earlier_waits(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", march(7))
        press(editor, "g")
        assert editor.state.message == "What waits lies after this day; t, then g goes there."
        press(editor, "t", "6", "4", "6", "4", "t", "g")
        assert editor.state.square == SquareKey(march(15), "sleep")

    def test_g_says_so_too_when_none_waits_at_all(self, begun: Record) -> None:
        for day in range(7, 16):
            keep(begun, march(day), sleep="5", mood="3")
        editor = Editor(begun)
        editor.perform("go_to", march(15))
        press(editor, "g")
        assert editor.state.message == "No earlier square waits."

    @pytest.mark.parametrize("first", ["mood", "sleep"])
    def test_tab_goes_to_the_other_grid_the_shifts_and_back(self, begun: Record, first: Grid) -> None:
        editor = Editor(begun)
        editor.perform("go_to", TODAY, first)
        stops = []
        for _ in range(3):
            press(editor, "tab")
            stops.append(editor.state.focus)
        assert stops == ["sleep" if first == "mood" else "mood", "shift", first]

    @pytest.mark.parametrize("there", [("tab", "tab"), ("tab", "tab", "n", "left", "a"), ("shift+tab",)])
    def test_escape_leaves_the_shifts_for_the_grid_she_came_from(
        self, begun: Record, there: tuple[str, ...]
    ) -> None:
        editor = Editor(begun)
        came_from = editor.state.focus
        press(editor, *there)
        assert editor.state.focus == "shift"
        press(editor, "escape")
        assert (editor.state.focus, editor.state.message) == (came_from, "")

    def test_tab_after_another_key_is_the_other_grid_again(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "tab", "left", "tab")
        assert editor.state.focus == "sleep"


class TestTakingBack:
    def test_undo_again_and_again_walks_back(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "4", "7", "u", "u")
        assert editor.state.square == SquareKey(YESTERDAY, "mood")
        assert (stands(begun, YESTERDAY, "sleep"), stands(begun, YESTERDAY, "mood")) == ("sleep8-5", "")
        assert editor.state.message == "Taken back: Mon 16 March, mood 4 good, not anxious."

    def test_after_a_restart_undo_names_the_day_and_stands_there(self, begun: Record) -> None:
        keep(begun, march(9), sleep="5")
        keep(begun, march(3), mood="4")
        begun.keep([Change(march(5), "mood", "mood5-2")])
        editor = Editor(begun)
        assert editor.state.cursor == YESTERDAY
        press(editor, "u")
        assert (editor.state.square, editor.state.message) == (
            SquareKey(march(5), "mood"),
            "Taken back: Thu 5 March, mood 2 low.",
        )

    def test_redo_names_the_day_and_stands_there(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "u", "t", "r")
        assert (editor.state.square, editor.state.message) == (
            SquareKey(YESTERDAY, "sleep"),
            "Brought back: Mon 16 March, sleep 6-7 h.",
        )

    def test_taking_back_many_days_leaves_the_cursor(self, begun: Record) -> None:
        begun.keep([Change(march(day), "sleep", "sleep8-5") for day in (1, 2, 3)])
        editor = Editor(begun)
        press(editor, "u")
        assert (editor.state.cursor, editor.state.message) == (
            YESTERDAY,
            "Taken back: 3 squares, Sun 1 March to Tue 3 March.",
        )

    def test_settings_are_said_to_be_kept_and_those_that_stood_so_are_not(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.keep_settings(editor.kept.settings._replace(day_change_hour=5))
        assert editor.state.message == "Kept; it holds from now on."
        editor.keep_settings(editor.kept.settings)
        assert editor.state.message == ""

    def test_taking_back_a_choice_names_it(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.keep_settings(editor.kept.settings._replace(theme="cawbrook-lamps"))
        press(editor, "u")
        assert editor.state.message == "Taken back: setting theme; it is wenfold-dusk again."
        press(editor, "r")
        assert editor.state.message == "Brought back: setting theme; it is cawbrook-lamps again."

    def test_taking_back_several_settings_says_what_each_is_again(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.keep_settings(editor.kept.settings._replace(day_change_hour=12, latitude=-41, fills=False))
        press(editor, "u")
        assert editor.state.message == (
            "Taken back: setting day change hour, setting fills and setting latitude; "
            "again day change hour 4, fills yes and latitude none."
        )

    def test_redo_brings_back(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "6", "u", "r")
        assert stands(begun, YESTERDAY, "sleep") == "sleep8-5"

    def test_nothing_to_undo_is_said(self, record: Record) -> None:
        editor = Editor(record)
        press(editor, "u")
        assert editor.state.message == "There is nothing to undo."


class TestBreaks:
    def test_b_begins_a_break_in_which_nothing_waits(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "b")
        assert begun.choices().breaks == (Break(YESTERDAY),)
        assert not editor.kept.waiting.waits(SquareKey(TODAY, "mood"))

    def test_b_on_a_later_day_ends_it(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "b", "right", "b")
        assert begun.choices().breaks == (Break(YESTERDAY, YESTERDAY),)

    def test_b_on_its_first_day_takes_it_away(self, begun: Record) -> None:
        press(Editor(begun), "b", "b")
        assert begun.choices().breaks == ()

    def test_squares_that_stand_in_it_are_counted_as_it_begins(self, begun: Record) -> None:
        keep(begun, march(12), mood="3")
        editor = Editor(begun)
        editor.perform("go_to", march(11))
        press(editor, "b")
        assert editor.state.message == (
            "A break from Wed 11 March: nothing waits in it. It covers 1 day with squares; these stay. "
            "Keep a square, or press b, to end it."
        )

    def test_undo_says_whether_the_break_or_its_end_is_taken_back(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "b", "right", "b", "u")
        assert editor.state.message == "Taken back: end of the break from Mon 16 March."
        assert begun.choices().breaks == (Break(YESTERDAY),)
        press(editor, "u")
        assert editor.state.message == "Taken back: break from Mon 16 March."
        assert begun.choices().breaks == ()
        press(editor, "left", "b", "b", "u")
        assert editor.state.message == "Taken back: taking away the break from Mon 16 March."
        assert len(begun.choices().breaks) == 1


class TestCatchingUp:
    def test_each_digit_runs_on_to_the_next_empty_day(self, begun: Record) -> None:
        keep(begun, march(9), sleep="3")
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "6", "7")
        assert [stands(begun, march(day), "sleep") for day in (8, 9, 10)] == [
            "sleep8-5",
            "sleep8-3",
            "sleep8-6",
        ]
        assert editor.state.cursor == march(11)

    def test_space_leaves_a_day_waiting(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "space")
        assert (editor.state.cursor, stands(begun, march(8), "sleep")) == (march(9), "")

    def test_the_anxious_key_marks_the_day_just_left(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "tab")
        editor.catch_up(CatchUpOptions())
        press(editor, "3", "a", "4")
        assert [begun.day(march(day)).is_anxious for day in (8, 9)] == [True, None]

    def test_a_months_end_stops_and_shows_the_sums(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", date(2026, 1, 5), "mood")
        editor.catch_up(CatchUpOptions("paper"))
        press(editor, *"5" * 4, *"4" * 9, *"3" * 12, *"2" * 4, "x", "1")
        assert (
            editor.state.message
            == "January: 31 of 31 days; digit 5: 4 days, 4: 9, 3: 12, 2: 4, 1: 1, ?: 1. Enter: next month."
        )
        assert begun.day(date(2026, 1, 31)).mood.basis == "paper"  # type: ignore[union-attr]
        press(editor, "enter")
        assert editor.state.cursor == date(2026, 2, 1)

    def test_a_month_that_is_done_takes_no_more_digits(self, begun: Record) -> None:
        editor = Editor(begun)
        for day in range(8, 18):
            keep(begun, march(day), sleep="4")
        editor.kept.reload()
        editor.catch_up(CatchUpOptions())
        sums = "March: 11 of 11 days; digit 6: 1 day, 5: 10."
        ends = "The next month is still to come. Esc ends catching up."
        assert editor.state.message == f"{sums} {ends}"
        press(editor, "6")
        assert editor.state.message == f"Nothing was kept: the month is full. {sums} {ends}"
        assert stands(begun, editor.state.cursor, "sleep") == "sleep8-4"

    @pytest.mark.parametrize(("today", "entered"), [(march(31), 3), (date(2026, 4, 1), 4)])
    def test_the_next_month_is_entered_only_once_it_has_begun(
        self, begun: Record, today: date, entered: int
    ) -> None:
        evening = datetime(today.year, today.month, today.day, 20, 0, tzinfo=UTC)
        begun.clock = Clock(now=lambda: evening, zone=begun.clock.zone)
        for day in range(8, 32):
            keep(begun, march(day), sleep="4")
        editor = Editor(begun)
        editor.perform("go_to", march(20), "sleep")
        editor.catch_up(CatchUpOptions())
        press(editor, "enter")
        assert editor.state.cursor.month == entered

    def test_paper_is_put_in_before_the_record_began_too(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions("paper"))
        assert editor.state.cursor == march(1)

    def test_remembered_days_are_kept_as_such(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "6")
        assert begun.day(march(8)).sleep.basis == "remembered"  # type: ignore[union-attr]

    @pytest.mark.parametrize(
        ("stood", "options", "basis", "said"),
        [
            ("remembered", CatchUpOptions("paper"), "paper", "from paper"),
            ("paper", CatchUpOptions(), "remembered", "remembered, 8 days later"),
            ("paper", CatchUpOptions("paper"), "paper", "still from paper"),
        ],
    )
    def test_the_same_answer_again_rests_on_what_she_says_of_these_days(
        self, begun: Record, stood: Basis, options: CatchUpOptions, basis: Basis, said: str
    ) -> None:
        begun.keep([Change(march(9), "sleep", "sleep8-5")], basis=stood)
        editor = Editor(begun)
        editor.go_to(march(9), "sleep")
        editor.catch_up(options)
        editor.go_to(march(9))
        press(editor, "6")
        assert editor.state.message == f"Kept for Mon 9 March 2026: sleep 6-7 h; {said}."
        assert begun.day(march(9)).sleep.basis == basis  # type: ignore[union-attr]

    def test_a_one_by_mistake_holds_every_answer_so_that_no_later_day_stands_one_off(
        self, begun: Record
    ) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions(colours={"w": OldColour("sleep8-2")}))
        press(editor, "6", "1", "7", "0", "x", "space", "w", "a")
        assert (
            editor.state.message == "Nothing was kept, for a 1 is waiting: Enter = under 3 h, Esc = neither."
        )
        assert [stands(begun, march(day), "sleep") for day in (8, 9, 10)] == ["sleep8-5", "", ""]
        press(editor, "escape", "7")
        assert (stands(begun, march(9), "sleep"), editor.state.cursor) == ("sleep8-6", march(10))

    def test_a_one_that_is_meant_is_kept_with_enter_and_runs_on(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "1")
        assert (
            editor.state.message == "1 waits: Enter = under 3 h, Esc = neither. For 10 hours or more press 8."
        )
        press(editor, "enter", "7")
        assert [stands(begun, march(day), "sleep") for day in (8, 9)] == ["sleep8-1", "sleep8-6"]

    def test_a_night_under_the_day_it_began_is_kept_a_day_later(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", date(2026, 1, 20), "sleep")
        editor.catch_up(CatchUpOptions("paper", days_later=1))
        assert editor.state.cursor == date(2026, 1, 2)
        press(editor, *"6" * 31)
        assert stands(begun, date(2026, 2, 1), "sleep") == "sleep8-5"
        assert stands(begun, date(2026, 1, 1), "sleep") == ""
        assert editor.state.message == "January: 31 of 31 days; digit 6: 31 days. Enter: next month."

    def test_whether_an_unmarked_day_was_not_anxious_is_her_answer(self, begun: Record) -> None:
        for how, expected in ((CatchUpOptions(), None), (CatchUpOptions(not_anxious=True), False)):
            editor = Editor(begun)
            editor.state.focus = "mood"
            editor.catch_up(how)
            day = editor.state.cursor
            press(editor, "3")
            assert begun.day(day).is_anxious is expected

    def test_in_a_break_nothing_is_said_to_be_kept(self, begun: Record) -> None:
        press(Editor(begun), "left", "b")
        assert Editor(begun).state.message == "Nothing of yesterday and today waits."

    def test_one_key_writes_what_an_old_colour_meant(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.state.focus = "mood"
        colours = {"w": OldColour("mood5-2", anxious=True), "z": OldColour(None)}
        editor.catch_up(CatchUpOptions("paper", colours=colours))
        press(editor, "w", "z")
        assert (stands(begun, march(1), "mood"), begun.day(march(1)).is_anxious) == ("mood5-2", True)
        assert stands(begun, march(2), "mood") == "could not say"

    def test_the_colours_of_one_grid_mean_nothing_in_the_other(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.state.focus = "mood"
        editor.catch_up(CatchUpOptions("paper", colours={"w": OldColour("mood5-2")}))
        press(editor, "tab", "w")
        assert begun.day(march(1)).sleep is None
        assert editor.allowed("colour", "w")
        assert (
            editor.state.message == "Nothing was kept: w is a colour of the other grid; here a digit answers."
        )

    def test_a_month_of_both_grids_stops_after_each_and_goes_on_with_the_first(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", date(2026, 1, 20), "mood")
        editor.catch_up(CatchUpOptions("paper", days_later=1, both=True))
        press(editor, *"3" * 31)
        assert editor.state.message == "January: 31 of 31 days; digit 3: 31 days. Enter: its sleep."
        press(editor, "a", "enter", *"6" * 31)
        assert editor.state.message == "January: 31 of 31 days; digit 6: 31 days. Enter: next month."
        assert begun.day(date(2026, 1, 31)).is_anxious
        assert stands(begun, date(2026, 2, 1), "sleep") == "sleep8-5"
        press(editor, "enter")
        assert editor.state.square == SquareKey(date(2026, 2, 1), "mood")

    def test_the_sums_of_the_moods_count_the_anxious_marks(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", date(2026, 1, 5), "mood")
        editor.catch_up(CatchUpOptions("paper"))
        press(editor, *"3" * 30, "a", "3")
        assert editor.state.message == "January: 31 of 31 days; digit 3: 31 days, a: 1. Enter: next month."

    def test_a_letter_in_the_shifts_goes_on_to_the_next_day(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", march(10), "shift")
        press(editor, *"nno")
        assert [stands(begun, march(day), "shift") for day in (10, 11, 12)] == ["night", "night", "off"]
        assert editor.state.square.day == march(13)

    def test_the_letter_after_s_stays_on_its_day(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.perform("go_to", march(10), "mood")
        press(editor, "s", "n")
        assert editor.state.cursor == march(10)

    def test_the_other_grid_begins_at_its_own_first_empty_day(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "6", "6", "6", "tab")
        assert editor.state.square == SquareKey(march(8), "mood")

    def test_today_is_caught_up_as_well(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, *"6" * 10)
        assert (editor.month_is_full, stands(begun, march(17), "sleep")) == (True, "sleep8-5")

    def test_days_of_a_break_are_passed_over(self, begun: Record) -> None:
        begun.choose(break_value(Break(march(9), march(11))), "break")
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "6")
        assert editor.state.cursor == march(12)

    def test_escape_ends_it(self, begun: Record) -> None:
        editor = Editor(begun)
        editor.catch_up(CatchUpOptions())
        press(editor, "escape")
        assert editor.catching_up is None


class TestOthers:
    def test_what_another_copy_keeps_is_taken_up(self, begun: Record) -> None:
        editor = Editor(begun)
        assert editor.refresh() is False
        with Record.open(begun.path, begun.clock) as other:
            keep(other, TODAY, mood="1")
        assert editor.refresh() is True
        assert editor.state.grid_data.level(SquareKey(TODAY, "mood")).rank == 1  # type: ignore[union-attr]

    def test_a_record_that_cannot_be_written_says_so_and_changes_nothing(
        self, begun: Record, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from tracker.diary.errors import HeldRecord

        def held(*_: object, **__: object) -> None:
            raise HeldRecord("The record is held by another program; nothing was kept.")

        editor = Editor(begun)
        monkeypatch.setattr(begun, "keep", held)
        press(editor, "6")
        assert editor.state.message == "The record is held by another program; nothing was kept."
        assert editor.state.square == SquareKey(YESTERDAY, "sleep")
        assert editor.state.day.sleep is None

    def test_hidden_grids_never_say_what_was_kept(self, begun: Record) -> None:
        editor = Editor(begun)
        press(editor, "h")
        said = []
        for key in ("6", "4", "a", "u", "r", "backspace"):
            press(editor, key)
            said.append(editor.state.message)
        press(editor, "s", "n")
        assert [*said, editor.state.message] == [
            "Kept.", "Kept.", "Kept.", "Taken back.", "Brought back.",
            "Cleared.", "Kept.",
        ]  # fmt: skip


def test_opening_makes_nothing_but_the_record(begun: Record, tmp_path: Path) -> None:
    Editor(begun)
    assert sorted(path.name.split("-")[0] for path in tmp_path.iterdir()) == ["record.sqlite"] * 3
