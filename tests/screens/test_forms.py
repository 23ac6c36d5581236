"""Forms without a screen: questions, and the choices and changes that answers mean."""

from __future__ import annotations

from datetime import date, time

import pytest

from tests.grids.sheets import palette
from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.errors import TrackerError
from tracker.editing.catch_up import OldColour
from tracker.grids.canvas import Canvas
from tracker.record.choice_rows import break_value, choices_from, kind_value
from tracker.screens.catch_up_screen import read_colours
from tracker.screens.day_form import HoursAndBucket, day_questions
from tracker.screens.form import Form, Question
from tracker.screens.levels_form import more_questions, more_values
from tracker.screens.page_parts import Parts
from tracker.screens.typed import Typed

TODAY = date(2026, 3, 17)


def answered(choices: Choices, **new: str) -> Choices:
    """The choices after some answers; `kind_night` stands for the question `kind night`."""
    answers = {question.name: question.answer for question in more_questions(choices)}
    answers |= {name.replace("_", " "): answer for name, answer in new.items()}
    return choices_from(more_values(choices, answers, TODAY, lambda _: False))


class TestTyped:
    def test_letters_go_in_where_the_cursor_stands(self) -> None:
        line = Typed("slep")
        for key in ("left", "left"):
            line.press(key)
        line.type("e")
        assert (line.text, line.at) == ("sleep", 3)

    def test_editing_keys(self) -> None:
        line = Typed("nights")
        for key in ("backspace", "home", "delete", "end", "backspace"):
            assert line.press(key)
        assert line.text == "igh"
        assert line.press("f5") is False

    def test_a_line_has_an_end(self) -> None:
        line = Typed("", longest=3)
        line.type("abcd\n")
        assert line.text == "abc"

    def test_a_joined_letter_is_walked_over_and_taken_away_whole(self) -> None:
        line = Typed("a\U0001f469\u200d\U0001f527e\u0301")
        line.press("left")
        line.press("left")
        assert line.at == 1
        line.press("delete")
        line.press("end")
        line.press("backspace")
        assert (line.text, line.at) == ("a", 1)
        line.press("left")
        line.press("backspace")
        assert (line.text, line.at) == ("a", 0)

    def test_wide_letters_never_push_the_cursor_out_of_its_room(self) -> None:
        canvas = Canvas(12, 1)
        Typed("\u65e5" * 20).draw(canvas, 1, 0, 9, palette())
        assert canvas.lines() == [" <" + "\u65e5" * 2]
        assert canvas.style_at(6, 0).reverse

    def test_signs_at_its_ends_say_that_there_is_more(self) -> None:
        line, canvas = Typed("around nights, and with them"), Canvas(14, 1)
        shown = []
        for key in ("end", "home", *["right"] * 11):
            line.press(key)
            canvas = Canvas(14, 1)
            line.draw(canvas, 0, 0, 13, palette())
            shown.append(canvas.lines()[0])
        assert shown[:2] == ["<with them", "around nigh>"]
        assert shown[-1] == "<ound night>"

    def test_a_line_that_is_not_typed_in_shows_its_beginning(self) -> None:
        form, canvas = (
            Form([Question("a", "A", "1"), Question("b", "B", "around the nights")]),
            Canvas(20, 4),
        )
        form.draw(canvas, 0, 4, palette())
        assert canvas.lines()[1].strip() == "B    around..."


class TestForm:
    def test_choices_turn_round(self) -> None:
        question = Question("x", "X", "b", [("a", "A"), ("b", "B")])
        question.turn(1)
        assert question.answer == "a"
        question.turn(-1)
        assert question.answer == "b"

    def test_rows_that_do_not_fit_are_told_by_their_number(self) -> None:
        form = Form([Question(name, name.upper(), "") for name in "abcd"])
        shown = []
        for key in ("down", "up"):
            form.press(key)
            canvas = Canvas(20, 4)
            form.draw(canvas, 0, 3, palette())
            shown.append(canvas.lines()[2].strip())
        form.press("up")
        last = Canvas(20, 4)
        form.draw(last, 0, 3, palette())
        assert (shown, last.lines()[1:3]) == (["2 more", "2 more"], [" \u25ba D", ""])

    def test_walking_goes_round(self) -> None:
        form = Form([Question("a", "A", "1"), Question("b", "B", "2")])
        assert [form.press(key) for key in ("up", "tab")] == [True, True]
        assert form.at == 0


class TestHoursAndBucket:
    """The bucket of a sleep and its exact hours; the day stands at 5-6 h, 5.5 hours."""

    @staticmethod
    def form() -> tuple[Form, HoursAndBucket]:
        scales = Choices().scales
        stood = Day(TODAY, sleep=Square("sleep8-4", detail={"hours": 5.5}))
        form = Form(day_questions(stood, Choices()))
        return form, HoursAndBucket(form, scales.on("sleep", TODAY), scales)

    @pytest.mark.parametrize("bucket", ["sleep8-3", "", "?"])
    def test_another_bucket_takes_the_hours_out_and_says_so(self, bucket: str) -> None:
        form, sleep = self.form()
        form.question("sleep").put(bucket)
        assert sleep.follow() == "The exact hours, 5.5, are taken out: they belong to another bucket."
        assert (form.answers()["sleep"], form.answers()["hours"]) == (bucket, "")

    def test_back_at_their_bucket_the_hours_are_back(self) -> None:
        form, sleep = self.form()
        for bucket in ("sleep8-3", "sleep8-4"):
            form.question("sleep").put(bucket)
            said = sleep.follow()
        assert (form.answers()["hours"], said) == ("5.5", "")

    @pytest.mark.parametrize(
        ("hours", "bucket"), [("7:15", "sleep8-6"), ("4+1.5", "sleep8-4"), ("0", "sleep8-0")]
    )
    def test_typed_hours_show_the_bucket_they_choose(self, hours: str, bucket: str) -> None:
        form, sleep = self.form()
        form.question("hours").put(hours)
        assert (sleep.follow(), form.answers()["sleep"]) == ("", bucket)

    @pytest.mark.parametrize("hours", ["", "5:", "99"])
    def test_hours_that_are_none_leave_the_bucket_that_stood(self, hours: str) -> None:
        form, sleep = self.form()
        for text in ("7", hours):
            form.question("hours").put(text)
            sleep.follow()
        assert form.answers()["sleep"] == "sleep8-4"


class TestMoreSettings:
    def test_nothing_changed_means_nothing_to_keep(self) -> None:
        answers = {question.name: question.answer for question in more_questions(Choices())}
        assert more_values(Choices(), answers, TODAY, lambda _: False) == {}

    def test_as_many_words_rename_the_levels(self) -> None:
        scales = answered(Choices(), mood="bleak, low, even, bright, glad").scales
        newest = scales.newest("mood")
        assert (newest.id, newest.levels[0].label, newest.levels[4].label) == ("mood5", "bleak", "glad")

    def test_another_number_of_words_is_a_new_version_from_today(self) -> None:
        scales = answered(Choices(), mood="low, even, good").scales
        assert (scales.newest("mood").from_day, len(scales.newest("mood").levels)) == (TODAY, 3)
        assert len(scales.on("mood", date(2026, 3, 16)).levels) == 5

    def test_buckets_may_be_others_from_today(self) -> None:
        scale = answered(Choices(), sleep="0 4 6 8").scales.newest("sleep")
        assert [level.label for level in scale.levels] == [
            "none",
            "under 4 h",
            "4-6 h",
            "6-8 h",
            "8 h or more",
        ]

    def test_levels_in_use_do_not_change_twice_a_day(self) -> None:
        once = answered(Choices(), mood="low, even, good")
        answers = {question.name: question.answer for question in more_questions(once)}
        with pytest.raises(
            TrackerError, match="change on 17 March 2026 already, and squares were kept with them"
        ):
            more_values(once, answers | {"mood": "low, even, good, glad"}, TODAY, lambda _: True)

    def test_a_shift_takes_its_label_and_hours(self) -> None:
        kind = answered(Choices(), kind_night="night turn, 22:00-06:00, work").kinds_by_id["night"]
        assert (kind.label, kind.start, kind.end, kind.work) == ("night turn", time(22), time(6), "yes")

    def test_another_shift_is_added(self) -> None:
        kind = answered(Choices(), new_kind="r relief turn, 06:00-14:00").kinds_by_id["relief-turn"]
        assert (kind.code, kind.start, kind.end) == ("r", time(6), time(14))

    @pytest.mark.parametrize(
        ("name", "text", "said"),
        [
            ("mood", "good, bad", "mood takes 3 to 7 levels; these are 2"),
            ("sleep", "4 6 8", "the first must begin at 0 hours"),
            ("sleep", "0 four", "'0 four' are no hours"),
            ("kind_night", "night, 25:00-08:00, work", "is no span of hours"),
            ("kind_night", "night, late, work", "is no span of hours"),
            ("new_kind", "n relief turn", "'n' is the code of night already"),
            ("breaks", "soon", "'soon' is no break"),
            ("breaks", "2026-04-14 to 2026-04-01", "before it begins"),
            ("breaks", "2026-04-01 on; 2026-05-01 on", "overlaps"),
        ],
    )
    def test_what_cannot_be_is_said_in_a_sentence(self, name: str, text: str, said: str) -> None:
        with pytest.raises(TrackerError, match=said):
            answered(Choices(), **{name: text})

    def test_breaks_are_put_in_and_taken_away(self) -> None:
        choices = answered(Choices(), breaks="2026-04-01 to 2026-04-14; 2026-05-01 on")
        assert choices.breaks == (Break(date(2026, 4, 1), date(2026, 4, 14)), Break(date(2026, 5, 1)))
        values = more_values(
            choices,
            {question.name: question.answer for question in more_questions(choices)} | {"breaks": ""},
            TODAY,
            lambda _: False,
        )
        assert values == dict.fromkeys(name for span in choices.breaks for name in break_value(span))

    def test_own_lines_come_in_their_order(self) -> None:
        assert answered(Choices(), own_1="my sister", own_3="the practice").own_help == (
            "my sister",
            "the practice",
        )

    def test_a_changed_kind_keeps_its_id(self) -> None:
        changed = answered(Choices(), kind_early="early turn, 06:00-14:00, work").kinds_by_id["early"]
        assert list(kind_value(changed)) == ["kind.early"]


class TestColours:
    def test_one_key_stands_for_a_level_and_the_mark(self) -> None:
        assert read_colours("w=2a z=5 o=x", Choices().scales.newest("mood")) == {
            "w": OldColour("mood5-2", anxious=True),
            "z": OldColour("mood5-5"),
            "o": OldColour(None),
        }

    @pytest.mark.parametrize("text", ["w", "w=", "ww=2", "a=2", "x=2", "w=9", "2=2"])
    def test_anything_else_is_named(self, text: str) -> None:
        with pytest.raises(TrackerError, match=f"'{text}'"):
            read_colours(text, Choices().scales.newest("mood"))


class TestPageParts:
    def test_without_anything_the_usual_weeks(self) -> None:
        first, last = date(2025, 1, 1), date(2026, 3, 16)
        days = {day: Day(day, mood=Square("mood5-3")) for day in (first, last)}
        assert Parts().wishes(days, TODAY).period == (date(2025, 12, 9), last)

    def test_a_period_that_ends_before_it_begins_is_refused(self) -> None:
        with pytest.raises(TrackerError, match="after it ends"):
            Parts("2026-03-10", "2026-03-01").wishes({}, TODAY)

    def test_a_day_to_come_is_refused(self) -> None:
        with pytest.raises(TrackerError, match="is still to come"):
            Parts("2026-03-10", "2026-03-20").wishes({}, TODAY)
