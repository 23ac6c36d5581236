"""Forms without a screen: questions, and the choices and changes that answers mean."""

from __future__ import annotations

from datetime import date, time

import pytest

from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.errors import TrackerError
from tracker.editing.catch_up import OldColour
from tracker.record.choice_rows import break_value, choices_from, kind_value
from tracker.screens.catch_up_screen import read_colours
from tracker.screens.day_screen import HoursAndBucket
from tracker.screens.form_screen import answers_of
from tracker.screens.levels_screen import more_questions, more_values
from tracker.screens.page_parts import Parts

TODAY = date(2026, 3, 17)


def answered(choices: Choices, **new: str) -> Choices:
    """The choices after some answers; `kind_night` stands for the question `kind night`."""
    answers = answers_of(more_questions(choices))
    answers |= {name.replace("_", " "): answer for name, answer in new.items()}
    return choices_from(more_values(choices, answers, TODAY, lambda _: False))


class TestHoursAndBucket:
    """The bucket of a sleep and its exact hours; the day stands at 5-6 h, 5.5 hours."""

    @staticmethod
    def sleep() -> HoursAndBucket:
        scales = Choices().scales
        return HoursAndBucket("sleep8-4", "5.5", scales.on("sleep", TODAY), scales)

    @pytest.mark.parametrize("bucket", ["sleep8-3", "", "?"])
    def test_another_bucket_takes_the_hours_out_and_says_so(self, bucket: str) -> None:
        said = "The exact hours, 5.5, are taken out: they belong to another bucket."
        assert self.sleep().agreed(bucket, "5.5") == (bucket, "", said)

    def test_back_at_their_bucket_the_hours_are_back(self) -> None:
        sleep = self.sleep()
        sleep.agreed("sleep8-3", "5.5")
        assert sleep.agreed("sleep8-4", "") == ("sleep8-4", "5.5", "")

    @pytest.mark.parametrize(
        ("hours", "bucket"), [("7:15", "sleep8-6"), ("4+1.5", "sleep8-4"), ("0", "sleep8-0")]
    )
    def test_typed_hours_show_the_bucket_they_choose(self, hours: str, bucket: str) -> None:
        assert self.sleep().agreed("sleep8-4", hours) == (bucket, hours, "")

    @pytest.mark.parametrize("hours", ["", "5:", "99"])
    def test_hours_that_are_none_leave_the_bucket_that_stood(self, hours: str) -> None:
        sleep = self.sleep()
        bucket, _, _ = sleep.agreed("sleep8-4", "7")
        assert (bucket, sleep.agreed(bucket, hours)) == ("sleep8-6", ("sleep8-4", hours, ""))

    def test_where_nothing_changed_both_stay(self) -> None:
        assert self.sleep().agreed("sleep8-4", "5.5") == ("sleep8-4", "5.5", "")


class TestMoreSettings:
    def test_nothing_changed_means_nothing_to_keep(self) -> None:
        answers = answers_of(more_questions(Choices()))
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
        answers = answers_of(more_questions(once))
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
            ("breaks", "soon on", "'soon' is no day"),
            ("breaks", "1 april to 14 april on", "'1 april to 14 april on' is no break"),
            ("breaks", "2026-04-14 to 2026-04-01", "before it begins"),
            ("breaks", "2026-04-01 on; 2026-05-01 on", "overlaps"),
            ("breaks", "2026-04-01 on; 2026-04-01 to 2026-04-14", "overlaps"),
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
            answers_of(more_questions(choices)) | {"breaks": ""},
            TODAY,
            lambda _: False,
        )
        assert values == dict.fromkeys(name for span in choices.breaks for name in break_value(span))

    @pytest.mark.parametrize(
        ("text", "span"),
        [
            ("yesterday to fri 20 march 2026", Break(date(2026, 3, 16), date(2026, 3, 20))),
            ("from 1 January 2026 to 14 January 2026", Break(date(2026, 1, 1), date(2026, 1, 14))),
            ("1 february on", Break(date(2026, 2, 1))),
        ],
    )
    def test_the_days_of_a_break_are_read_as_everywhere(self, text: str, span: Break) -> None:
        assert answered(Choices(), breaks=text).breaks == (span,)

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
