"""Shifts and what follows from them: nights, quick returns, runs."""

from datetime import date, time, timedelta

import pytest

from tracker.diary.changes import shift_change
from tracker.diary.clock import Clock, hours_between
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.rota import (
    DEFAULT_KINDS,
    ShiftKind,
    kind_for_text,
    night_dates,
    rota_of,
    runs,
)

KINDS = {kind.id: kind for kind in DEFAULT_KINDS}
MON = date(2026, 3, 16)


def rota(codes: str, clock: Clock, first: date = MON) -> list[Day]:
    """Days of one letter each, `.` for a day without a shift."""
    return [
        _day(shift_change(first + timedelta(n), kind_for_text(code, DEFAULT_KINDS), clock))
        for n, code in enumerate(codes)
        if code != "."
    ]


def _day(change: Change) -> Day:
    return Day(change.day, shift=Square(change.value, detail=change.detail))


def test_a_shift_that_ends_before_it_starts_ends_on_the_next_date(clock: Clock) -> None:
    start, end = KINDS["night"].moments(MON, clock) or (None, None)
    assert start is not None
    assert end is not None
    assert (start.date(), end.date(), hours_between(start, end)) == (MON, MON + timedelta(1), 12.5)


def test_nights_are_derived_from_the_hours_not_from_the_name(clock: Clock) -> None:
    twilight = ShiftKind("twilight", "t", "twilight", time(16), time(0, 30))
    overnight = ShiftKind("watch", "w", "watch", time(19), time(7))
    kinds = {**KINDS, "twilight": twilight, "watch": overnight}
    days = [
        _day(shift_change(MON, twilight, clock)),
        _day(shift_change(MON + timedelta(1), overnight, clock)),
    ]
    assert night_dates(days, kinds, clock) == {MON + timedelta(1)}


def test_hours_of_work_are_added_up_over_one_night_only(clock: Clock) -> None:
    two_evenings = ShiftKind("long-stay", "w", "long stay", time(22), time(1))
    days = [_day(shift_change(MON + timedelta(n), two_evenings, clock)) for n in range(2)]
    assert night_dates(days, {"long-stay": two_evenings}, clock) == set()


def test_a_night_without_moments_is_taken_by_its_kind(clock: Clock) -> None:
    assert night_dates([Day(MON, shift=Square("night"))], KINDS, clock) == {MON}


def test_a_late_before_an_early_is_a_quick_return(clock: Clock) -> None:
    assert rota_of(rota("leod", clock), KINDS, clock).quick == {MON + timedelta(1)}


def test_eleven_hours_between_shifts_are_no_quick_return(clock: Clock) -> None:
    late = ShiftKind("late", "l", "late", time(12), time(20))
    kinds = {**KINDS, "late": late}
    days = [_day(shift_change(MON, late, clock)), *rota("e", clock, MON + timedelta(1))]
    assert rota_of(days, kinds, clock).quick == set()


def test_runs_join_dates_that_follow_one_another() -> None:
    days = [MON + timedelta(n) for n in (5, 0, 1, 2, 6, 9)]
    assert runs(days) == [
        (MON, MON + timedelta(2)),
        (MON + timedelta(5), MON + timedelta(6)),
        (MON + timedelta(9), MON + timedelta(9)),
    ]


@pytest.mark.parametrize("text", ["n", "N", "night", " Night "])
def test_a_kind_is_meant_by_its_code_or_its_label(text: str) -> None:
    assert kind_for_text(text, DEFAULT_KINDS).id == "night"


def test_an_unknown_kind_is_refused_with_those_there_are() -> None:
    with pytest.raises(UnknownValue) as refused:
        kind_for_text("z", DEFAULT_KINDS[:2])
    assert str(refused.value) == "'z' is no kind of shift; there are: s standard day, e early."


def test_the_rota_of_some_days_is_what_each_part_of_it_says(clock: Clock) -> None:
    days = rota("leodnnoc", clock)
    found = rota_of(days, KINDS, clock)
    assert found.nights == night_dates(days, KINDS, clock)
    assert found.quick == {MON + timedelta(1)}
    assert found.quick < found.working
    assert found.working == {day.date for day in days if KINDS[day.shift_kind].work == "yes"}
