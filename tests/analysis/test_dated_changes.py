"""The days before and after a date of her own: which days, when not, and beside which other cuts."""

from datetime import date, timedelta
from typing import Any

import pytest

from tracker.analysis.counts import Classes, Count
from tracker.analysis.dated_changes import BeforeAfter, before_and_after
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import DEFAULT_SCALES

FIRST = date(2025, 1, 1)


def at(place: int) -> date:
    return FIRST + timedelta(days=place)


def record(moods: str) -> list[Day]:
    return [
        Day(at(n), None if sign == "." else Square(f"mood5-{sign}"), Square("sleep8-6"), Square("no"))
        for n, sign in enumerate(moods)
    ]


def around(moods: str, *places: int, breaks: tuple[Break, ...] = (), **more: Any) -> list[BeforeAfter]:
    days = record(moods)
    changes = [DatedChange(at(place), f"change {place}") for place in places]
    classes = Classes(days, DEFAULT_SCALES, 6)
    return list(before_and_after(days, classes, breaks, changes, at(len(moods) - 1), **more))


def test_low_days_are_counted_in_as_many_days_before_and_from_the_day_on() -> None:
    found = around("3" * 30 + "1" * 30 + "3" * 40, 60)[0]
    assert found.window == 40
    assert [(cut.outcome, cut.before, cut.after) for cut in found.cuts] == [
        ("low", Count(30, 40), Count(0, 40)),
        ("anxious", Count(0, 40), Count(0, 40)),
        ("short sleep", Count(0, 40), Count(0, 40)),
    ]


@pytest.mark.parametrize(
    ("length", "places", "windows"),
    [
        (400, (200,), [90]),  # never more than 90
        (400, (50,), [50]),  # no day before the record
        (400, (360,), [40]),  # none after today
        (400, (100, 150), [50, 50]),  # none beyond another change
        (400, (100, 127), [0, 0]),  # under 28 days nothing is counted
        (400, (0, 400), []),  # the ends of the record are no change
    ],
)
def test_the_window_is_free_of_other_changes_and_of_the_ends(
    length: int, places: tuple[int, ...], windows: list[int]
) -> None:
    assert [found.window for found in around("3" * length, *places)] == windows


def test_a_side_that_is_kept_on_under_half_of_its_days_is_not_counted() -> None:
    half, less = ("3" * kept + "." * (100 - kept) + "3" * 100 for kept in (55, 54))
    assert [[cut.outcome for cut in around(moods, 100)[0].cuts] for moods in (half, less)] == [
        ["low", "anxious", "short sleep"],
        ["anxious", "short sleep"],
    ]


@pytest.mark.parametrize(("length", "cuts"), [(22, 3), (23, 0)])
def test_a_side_with_a_break_over_a_quarter_of_it_is_not_counted(length: int, cuts: int) -> None:
    breaks = (Break(at(60), at(60 + length - 1)),)
    assert len(around("3" * 200, 100, breaks=breaks)[0].cuts) == cuts


def test_sides_kept_unlike_are_said_to_be() -> None:
    alike, unlike = "3" * 200, "3" * 100 + "33." * 34
    assert [around(moods, 100)[0].cuts[0].uneven for moods in (alike, unlike)] == [False, True]


def test_all_other_cuts_of_the_record_are_counted_out_by_hand() -> None:
    """Every seventh day from the change, a window away at least, both sides within the record."""
    moods = ("1331133313" * 50)[:490]
    found = around(moods, 245)[0]
    low = [sign == "1" for sign in moods]
    places = [c for c in range(245 % 7, 491, 7) if abs(c - 245) >= 90 and 90 <= c <= 400]
    size = {c: abs(sum(low[c : c + 90]) - sum(low[c - 90 : c])) for c in [*places, 245]}
    assert found.cuts[0].places == len(places) >= 20
    assert found.cuts[0].as_large == sum(size[c] >= size[245] for c in places)


def test_nights_are_counted_on_both_sides_of_the_day() -> None:
    nights = {at(place) for place in (59, 60, 99, 100, 101, 139, 140)}
    assert around("3" * 200, 60, 100, nights=nights)[1].nights == (2, 3)


def test_under_twenty_other_places_none_are_counted() -> None:
    cut = around("13" * 150, 150)[0].cuts[0]
    assert (cut.as_large, cut.places < 20) == (None, True)


def test_an_empty_record_has_no_changes() -> None:
    assert before_and_after([], Classes([], DEFAULT_SCALES, 6), (), [DatedChange(FIRST, "x")], FIRST) == ()
