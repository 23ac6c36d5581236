"""On call is no work by itself: only what she says she was called for counts."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from tracker.diary.calls import called_answer, called_in_words, called_text
from tracker.diary.changes import changes_something, shift_change
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind, night_dates, rota_of

MON = date(2026, 3, 16)
CHOICES = Choices()
KINDS = CHOICES.kinds_by_id
LATE_CALL = ShiftKind("late-call", "x", "late call", time(17), time(8), "on call")


def on_shift(kind: ShiftKind, clock: Clock, day: date = MON) -> Day:
    return as_day(shift_change(day, kind, clock))


def as_day(change: Change) -> Day:
    return Day(change.day, shift=Square(change.value, detail=change.detail))


def called(text: str, clock: Clock, day: date = MON) -> Day:
    """A default on-call shift from 09:00 to 09:00 with calls."""
    return as_day(called_answer(on_shift(KINDS["call"], clock, day), text, CHOICES, clock))


@pytest.mark.parametrize("text", ["", "no", "02:00-04:30", "06:00-08:59", "22:00-23:30, 03:30-05:45"])
def test_on_call_is_no_night_unless_she_was_called_for_three_hours_of_it(text: str, clock: Clock) -> None:
    assert night_dates([called(text, clock)], KINDS, clock) == set()


@pytest.mark.parametrize(
    "text", ["night", "01:00-04:30", "23:00-02:00", "22:00-00:30, 04:30-07:00", "1:00-2:30 03:30-05:00"]
)
def test_called_for_three_hours_or_more_added_up_it_is_a_night(text: str, clock: Clock) -> None:
    assert night_dates([called(text, clock)], KINDS, clock) == {MON}


def test_a_quick_return_is_counted_from_the_end_of_the_last_call(clock: Clock) -> None:
    next_day = on_shift(KINDS["long"], clock, MON + timedelta(1))
    assert rota_of([called("", clock), next_day], KINDS, clock).quick == set()
    assert rota_of([called("10:00-20:00", clock), next_day], KINDS, clock).quick == set()
    assert rota_of([called("01:00-04:30", clock), next_day], KINDS, clock).quick == {MON + timedelta(1)}


@pytest.mark.parametrize("text", ["01:00-02:00, 02:00-04:30", "02:00-04:30, 01:00-03:00"])
def test_calls_that_meet_or_overlap_are_one(text: str, clock: Clock) -> None:
    assert called_text(called(text, clock).shift, clock) == "01:00-04:30"


def test_two_calls_of_one_shift_are_no_quick_return(clock: Clock) -> None:
    assert rota_of([called("22:00-23:00, 01:00-02:00", clock)], KINDS, clock) == (set(), {MON}, set())


def test_hours_of_one_shift_in_two_nights_are_not_added_up(clock: Clock) -> None:
    around_the_clock = ShiftKind("call", "c", "on call", time(4), time(4), "on call")
    day = on_shift(around_the_clock, clock)
    kinds = {**KINDS, "call": around_the_clock}
    change = called_answer(day, "04:00-05:45, 23:00-01:00", CHOICES, clock)
    assert night_dates([as_day(change)], kinds, clock) == set()


def test_resident_duty_is_worked_from_its_start_to_its_end(clock: Clock) -> None:
    resident = {**KINDS, "call": KINDS["call"]._replace(work="yes")}
    assert night_dates([on_shift(KINDS["call"], clock)], resident, clock) == {MON}


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("01:00-04:30", "01:00-04:30"),
        ("1:00 - 4:30", "01:00-04:30"),
        ("03:00-04:00; 01:00-02:00", "01:00-02:00, 03:00-04:00"),
        ("01:00-03:00, 02:00-04:00", "01:00-04:00"),
        ("Night", "night"),
        ("no", ""),
        ("", ""),
    ],
)
def test_what_she_says_is_read_and_said_again(text: str, read: str, clock: Clock) -> None:
    assert called_text(called(text, clock).shift, clock) == read


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("01:00-04:30", "called for 3.5 hours"),
        ("01:00-02:00", "called for 1 hour"),
        ("23:00-23:40, 01:00-04:30", "called for 4.2 hours"),
        ("23-23:40, 1-4.30", "called for 4.2 hours"),
        ("0100 - 430", "called for 3.5 hours"),
        ("night", "called at night"),
        ("no", ""),
    ],
)
def test_a_call_is_named_in_words(text: str, said: str, clock: Clock) -> None:
    shift = called(text, clock).shift
    assert shift is not None
    assert called_in_words(shift.detail) == said


def test_the_clock_that_is_put_back_makes_a_call_an_hour_longer(clock: Clock) -> None:
    shift = called("00:30-03:00", clock, date(2026, 10, 24)).shift
    assert shift is not None
    assert called_in_words(shift.detail) == "called for 3.5 hours"


def test_the_other_details_of_the_shift_stay(clock: Clock) -> None:
    day = on_shift(KINDS["call"], clock)
    assert day.shift is not None
    by_file = day._replace(shift=day.shift._replace(detail={**day.shift.detail, "by": "file"}))
    assert by_file.shift is not None
    change = called_answer(by_file, "night", CHOICES, clock)
    assert (change.value, dict(change.detail)) == ("call", {**by_file.shift.detail, "called": "night"})


@pytest.mark.parametrize(
    ("day", "text", "sentence"),
    [
        ("night", "night", "Only an on-call shift takes calls; 16 March 2026 has night."),
        ("", "night", "Only an on-call shift takes calls; 16 March 2026 has no shift."),
        ("call", "4 hours", "'4 hours' is no time of being called; write it like 01:00-04:30, or night."),
        ("call", "25:0-26", "'25:0-26' is no time of being called; write it like 01:00-04:30, or night."),
        ("late-call", "10:00-11:00", "10:00 does not lie in the on-call shift, 17:00-08:00."),
    ],
)
def test_calls_that_cannot_be_are_refused(day: str, text: str, sentence: str, clock: Clock) -> None:
    choices = CHOICES._replace(kinds=(*DEFAULT_KINDS, LATE_CALL))
    stands = on_shift(choices.kinds_by_id[day], clock) if day else Day(MON)
    with pytest.raises(UnknownValue) as refused:
        called_answer(stands, text, choices, clock)
    assert str(refused.value) == sentence


def test_an_on_call_shift_without_hours_begins_with_its_day(clock: Clock) -> None:
    untimed = Day(MON, shift=Square("call"))
    assert night_dates([as_day(called_answer(untimed, "01:00-04:30", CHOICES, clock))], KINDS, clock) == {MON}


def test_the_same_shift_again_leaves_its_calls_and_another_drops_them(clock: Clock) -> None:
    stands = called("01:00-04:30", clock)
    assert not changes_something(shift_change(MON, KINDS["call"], clock), stands)
    assert changes_something(called_answer(stands, "no", CHOICES, clock), stands)
    moved = shift_change(MON, KINDS["call"]._replace(end=time(17)), clock)
    assert changes_something(moved, stands)
    assert "called" not in moved.detail
