"""Counts of low, anxious and short-slept days: which days are in which class, and which are in none."""

from datetime import date, timedelta

import pytest

from tracker.analysis.counts import Count, SideBySide, side_by_side
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_SCALES, Scales, mood_scale, sleep_scale

FIRST = date(2026, 3, 2)


def at(place: int) -> date:
    return FIRST + timedelta(days=place)


def day(
    place: int, mood: int = 0, sleep: int = -1, *, anxious: str = "", shift: str = "", **detail: float
) -> Day:
    return Day(
        at(place),
        mood=Square(f"mood5-{mood}") if mood else None,
        sleep=Square(f"sleep8-{sleep}", detail=detail) if sleep >= 0 else None,
        anxious=Square(anxious) if anxious else None,
        shift=Square(shift) if shift else None,
    )


def count(
    days: list[Day], limit: float = 6, nights: tuple[int, ...] = (), scales: Scales = DEFAULT_SCALES
) -> SideBySide:
    return side_by_side(days, scales, limit, {at(place) for place in nights})


def test_the_two_lowest_levels_are_low_and_a_bucket_up_to_the_limit_is_short() -> None:
    found = count([day(0, 1, 4), day(1, 2, 4), day(2, 3, 4), day(3, 2, 5), day(4, 3, 5)])
    assert found.comparison("low", "short sleep")[2:] == (Count(2, 3), Count(1, 2))
    assert [level.label for level in found.low_levels] == ["very low", "low"]


def test_of_three_levels_only_the_lowest_is_low() -> None:
    three = mood_scale(["bad", "so-so", "fine"], None)
    scales = Scales((*DEFAULT_SCALES.versions, three))
    days = [Day(at(place), Square(three.levels[place].id), Square("sleep8-4")) for place in range(3)]
    assert count(days, scales=scales).comparison("low", "short sleep").there == Count(1, 3)


def test_exact_hours_decide_before_the_bucket() -> None:
    found = count([day(0, 3, 6, hours=7.75), day(1, 1, 6, hours=7.25), day(2, 1, 6)], limit=7.5)
    assert found.comparison("low", "short sleep")[2:] == (Count(1, 1), Count(0, 1))


def test_a_bucket_across_the_limit_is_in_no_class_and_its_days_are_told() -> None:
    found = count([day(0, 1, 6), day(1, 1, 5), day(2, 1, 7)], limit=7.5)
    assert found.comparison("low", "short sleep")[2:] == (Count(1, 1), Count(1, 1))
    assert found.across == (at(0),)


def test_anxious_days_count_of_those_that_were_noted() -> None:
    found = count(
        [day(0, 3, 4, anxious="yes"), day(1, 3, 4, anxious="no"), day(2, 3, 4), day(3, 3, 6, anxious="no")]
    )
    assert found.comparison("anxious", "short sleep")[2:] == (Count(1, 2), Count(0, 1))


def test_the_sleep_after_a_day_is_that_of_the_next_date_and_no_other() -> None:
    found = count([day(0, 1), day(1, 4, 4), day(2, 1, 7), day(4, 4, 4)])
    assert found.comparison("short sleep", "low day")[2:] == (Count(1, 1), Count(0, 1))


def test_the_sleep_after_an_anxious_day_is_set_beside_that_after_a_day_noted_as_not() -> None:
    found = count([day(0, anxious="yes"), day(1, 3, 4, anxious="no"), day(2, 3, 7), day(3, 3, 4)])
    assert found.comparison("short sleep", "anxious day")[2:] == (Count(1, 1), Count(0, 1))


def test_a_day_is_after_a_night_only_where_the_day_before_has_a_shift() -> None:
    days = [day(0, 1, 4, shift="night"), day(1, 1, 4, shift="off"), day(2, 3, 7), day(3, 1, 4)]
    found = count(days, nights=(0,))
    assert found.comparison("low", "night shift")[2:] == (Count(1, 1), Count(0, 1))
    assert found.comparison("short sleep", "night shift")[2:] == (Count(1, 1), Count(0, 1))
    assert found.rota_unknown == (at(0), at(3))


def test_long_sleep_begins_at_the_first_bucket_two_hours_above_the_limit() -> None:
    found = count([day(0, 1, 4), day(1, 3, 5), day(2, 2, 6), day(3, 3, 7), day(4, 2, 7)])
    assert found.long_from == 8
    assert [(row.sleep, row.low) for row in found.after_sleep] == [
        ("short", Count(1, 1)),
        ("usual", Count(1, 2)),
        ("long", Count(1, 2)),
    ]


def test_where_no_bucket_begins_two_hours_above_the_limit_nothing_is_long() -> None:
    found = count([day(0, 1, 6), day(1, 3, 7)], limit=7)
    assert (found.long_from, [row.sleep for row in found.after_sleep]) == (None, ["short", "usual"])


def test_the_sleeps_after_days_stand_in_three_classes() -> None:
    found = count([day(0, 1, 4, anxious="yes"), day(1, 3, 4, anxious="no"), day(2, 3, 6), day(3, 3, 7)])
    assert [(row.day, dict(row.sleeps)) for row in found.sleep_after] == [
        ("low", {"short": 1, "usual": 0, "long": 0}),
        ("other", {"short": 0, "usual": 1, "long": 1}),
        ("anxious", {"short": 1, "usual": 0, "long": 0}),
        ("not anxious", {"short": 0, "usual": 1, "long": 0}),
    ]


def test_moods_on_older_levels_are_in_no_class_and_their_days_are_told() -> None:
    seven = mood_scale([f"word {place}" for place in range(7)], at(1))
    scales = Scales((*DEFAULT_SCALES.versions, seven))
    newer = Day(at(1), Square(seven.levels[1].id), Square("sleep8-4"))
    found = count([day(0, 1, 4), newer], scales=scales)
    assert found.comparison("low", "short sleep").there == Count(1, 1)
    assert found.other_levels == (at(0),)


def test_sleeps_on_older_buckets_count_by_their_hours() -> None:
    wider = sleep_scale([0, 5, 7, 9], at(1))
    scales = Scales((*DEFAULT_SCALES.versions, wider))
    days = [day(0, 1, 4), *(Day(at(p), Square("mood5-1"), Square(wider.levels[p].id)) for p in (1, 2, 3))]
    found = count(days, scales=scales)
    assert found.comparison("low", "short sleep")[2:] == (Count(2, 2), Count(1, 1))
    assert (found.across, found.long_from) == ((at(2),), 9)


def test_what_was_remembered_too_late_is_passed_over() -> None:
    late = Square("mood5-1", basis="remembered", late_days=15)
    found = count([day(0, 0, 4)._replace(mood=late), day(1, 3, 4)])
    assert found.comparison("low", "short sleep").there == Count(0, 1)
    assert found.other_levels == ()


def test_under_ten_days_are_few() -> None:
    assert [Count(1, of).is_few for of in (9, 10)] == [True, False]
    found = count([day(place, 1, 4) for place in range(10)] + [day(place, 3, 6) for place in range(10, 19)])
    assert [row.is_few for row in found.comparisons[:1]] == [True]


def many(sleep: int, shift: str, before: str, low: int, of: int, start: int) -> list[Day]:
    """Pairs of days, each second with a sleep and a mood, the first `low` of them low."""
    return [
        kept
        for number in range(of)
        for kept in (
            day(start + 2 * number, shift=before),
            day(start + 2 * number + 1, 1 if number < low else 3, sleep, shift=shift),
        )
    ]


def test_expected_low_days_follow_the_shifts_of_the_days() -> None:
    # of 10 late days after off with usual sleep 5 are low, of 20 nights after nights 4: 12 * 0.5 + 8 * 0.2
    days = many(6, "late", "off", 5, 10, 0) + many(6, "night", "night", 4, 20, 100)
    short = many(4, "late", "off", 3, 12, 200) + many(4, "night", "night", 2, 8, 300)
    rows = count(days + short).after_sleep
    assert rows[0].expected == pytest.approx(12 * 0.5 + 8 * 0.2)
    assert rows[0].low == Count(5, 20)


def test_expected_days_fall_back_on_the_day_and_then_on_all() -> None:
    # 4 short sleeps meet pairs of shifts that no other day has: 2 count by the kind of the day, 2 by all days
    days = many(6, "late", "off", 5, 10, 0) + many(6, "night", "night", 4, 20, 100)
    short = many(4, "late", "off", 3, 16, 200)
    rare = many(4, "late", "early", 0, 2, 300) + many(4, "early", "early", 0, 2, 400)
    assert count(days + short + rare).after_sleep[0].expected == pytest.approx(18 * 0.5 + 2 * 9 / 30)


@pytest.mark.parametrize(("matched", "without"), [(15, 5), (19, 0)])
def test_expected_days_need_twenty_days_of_which_four_fifths_match(matched: int, without: int) -> None:
    days = many(6, "late", "off", 5, 10, 0)
    short = many(4, "late", "off", 3, matched, 200) + many(4, "early", "early", 0, without, 300)
    assert count(days + short).after_sleep[0].expected is None


def test_where_no_shift_is_entered_nothing_is_expected() -> None:
    days = [day(place, 1 + place % 3, 4 if place % 2 else 6) for place in range(100)]
    assert count(days).after_sleep[0].expected is None


def test_no_days_make_no_counts() -> None:
    found = count([])
    assert {one.there for one in found.comparisons} == {Count(0, 0)}
    with pytest.raises(KeyError):
        found.comparison("low", "anxious day")
