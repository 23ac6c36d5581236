"""Which moods are low and which sleeps short."""

from datetime import date

import pytest

from tracker.diary.days import NO_DETAIL, Day, Square
from tracker.diary.low_and_short import is_low, is_short, low_levels, short_levels
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SCALES, DEFAULT_SLEEP, Scales, mood_scale, sleep_scale

D = date(2026, 3, 17)
UNSAID = Square("", "could not say")


def slept(level: str, hours: float | None = None) -> Day:
    return Day(D, sleep=Square(level, detail=NO_DETAIL if hours is None else {"hours": hours}))


def test_the_two_lowest_moods_are_low() -> None:
    found = [is_low(Day(D, mood=Square(level.id)), DEFAULT_SCALES) for level in DEFAULT_MOOD.levels]
    assert found == [True, True, False, False, False]


def test_of_three_moods_the_lowest_alone_is_low_and_of_four_two_are() -> None:
    assert [len(low_levels(mood_scale("abcdefg"[:levels], None))) for levels in (3, 4, 7)] == [1, 2, 2]


def test_a_mood_that_is_not_kept_is_neither() -> None:
    assert [is_low(day, DEFAULT_SCALES) for day in (Day(D), Day(D, mood=UNSAID))] == [None, None]


@pytest.mark.parametrize(("limit", "marks"), [(6, "02345"), (3, "02"), (8, "0234567"), (1, "0")])
def test_buckets_that_end_at_the_limit_or_before_are_short(limit: int, marks: str) -> None:
    assert "".join(level.mark for level in short_levels(DEFAULT_SLEEP, limit)) == marks
    found = [is_short(slept(level.id), DEFAULT_SCALES, limit) for level in DEFAULT_SLEEP.levels]
    assert found.count(True) == len(marks)


def test_exact_hours_decide_where_they_are_kept() -> None:
    assert is_short(slept("sleep8-5", 6), DEFAULT_SCALES, 6.5)
    assert is_short(slept("sleep8-5", 6.5), DEFAULT_SCALES, 6.5) is False


def test_a_bucket_across_the_limit_is_neither() -> None:
    coarse = sleep_scale([0, 4, 7, 9], None)
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, coarse))
    found = [is_short(slept(level.id), scales, 6) for level in coarse.levels]
    assert found == [True, True, None, False, False]


def test_a_sleep_that_is_not_kept_is_neither() -> None:
    days = (Day(D), Day(D, sleep=UNSAID))
    assert [is_short(day, DEFAULT_SCALES, 6) for day in days] == [None, None]
