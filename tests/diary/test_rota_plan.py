"""What a new rota does to the one that stands."""

from datetime import date, timedelta

import pytest

from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind, checked_kind, new_kind
from tracker.diary.rota_plan import RotaPlan, pattern_shifts, plan_rota

MON = date(2026, 3, 16)
TUE, WED, THU = (MON + timedelta(n) for n in (1, 2, 3))


def by(how: str, kind: str) -> Square:
    return Square(kind, detail={"by": how} if how else {})


def shift(day: date, kind: str) -> Change:
    return Change(day, "shift", kind, detail={"by": "file"})


def test_shifts_set_by_hand_stay_and_those_of_an_older_rota_change() -> None:
    standing = {
        MON: Day(MON, shift=by("", "late")),
        TUE: Day(TUE, shift=by("file", "late")),
        WED: Day(WED, shift=by("pattern", "off")),
    }
    shifts = {day: shift(day, "night") for day in (MON, TUE, THU)}
    plan = plan_rota(shifts, standing, MON, THU)
    assert plan.new == [shifts[THU]]
    assert plan.changed == [
        (by("file", "late"), shifts[TUE]),
        (by("pattern", "off"), Change(WED, "shift", state="cleared")),
    ]
    assert plan.by_hand == [(by("", "late"), shifts[MON])]
    assert plan.changes == [shifts[THU], shifts[TUE], Change(WED, "shift", state="cleared")]


def test_a_shift_on_which_she_noted_calls_was_touched_by_hand() -> None:
    on_call = Square("call", detail={"by": "file", "called": "night"})
    plan = plan_rota({MON: shift(MON, "late")}, {MON: Day(MON, shift=on_call)}, MON, MON)
    assert plan == RotaPlan([], [], [(on_call, shift(MON, "late"))], [], 0)


def test_the_same_rota_again_changes_nothing() -> None:
    plan = plan_rota({MON: shift(MON, "off")}, {MON: Day(MON, shift=by("file", "off"))}, MON, TUE)
    assert (plan.changes, plan.by_hand, plan.same) == ([], [], 1)


def test_a_shift_by_hand_that_the_rota_has_too_stands_and_is_counted() -> None:
    plan = plan_rota({MON: shift(MON, "late")}, {MON: Day(MON, shift=by("", "late"))}, MON, MON)
    assert plan == RotaPlan([], [], [], [], 1)


def test_a_pattern_repeats_and_a_dash_is_no_shift(clock: Clock) -> None:
    shifts = pattern_shifts("N, - off", MON, MON + timedelta(4), DEFAULT_KINDS, clock)
    assert {day.day: change.value for day, change in shifts.items()} == {
        16: "night",
        18: "off",
        19: "night",
    }


def test_an_unknown_word_of_a_pattern_is_refused(clock: Clock) -> None:
    with pytest.raises(UnknownValue, match="'z' is no kind of shift"):
        pattern_shifts("n z", MON, TUE, DEFAULT_KINDS, clock)


@pytest.mark.parametrize("pattern", ["", "- ."])
def test_a_pattern_without_a_shift_is_refused(pattern: str, clock: Clock) -> None:
    with pytest.raises(UnknownValue, match="has no shift in it"):
        pattern_shifts(pattern, MON, TUE, DEFAULT_KINDS, clock)


def test_a_new_kind_has_an_id_of_its_own_made_from_its_label() -> None:
    relief = new_kind("r", "Relief turn!", DEFAULT_KINDS)
    assert relief == ShiftKind("relief-turn", "r", "Relief turn!")
    assert new_kind("q", "Relief turn", [relief]).id == "relief-turn-2"


@pytest.mark.parametrize(
    ("kind", "reason"),
    [
        (ShiftKind("x", "n", "x"), "'n' is the code of night already; take another letter."),
        (ShiftKind("x", "x", "Night"), "There is a kind called 'night' already, with the code n."),
        (ShiftKind("x", "1", "x"), "The code of a kind is one letter from a to z, not '1'."),
        (ShiftKind("x", "x", " "), "The label of a kind has 1 to 20 characters, not 1."),
    ],
)
def test_a_kind_that_cannot_be_told_from_others_is_refused(kind: ShiftKind, reason: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        checked_kind(kind, DEFAULT_KINDS)
    assert str(refused.value) == reason


def test_letters_without_spaces_are_told_apart_for_her(clock: Clock) -> None:
    with pytest.raises(UnknownValue, match="put a space between the shifts: L L N N"):
        pattern_shifts("LLNN off", MON, THU, DEFAULT_KINDS, clock)
