"""One order for levels and buckets, also over several versions of a scale."""

from datetime import date

from tracker.analysis.common_classes import Order, order_of
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scale, Scales, mood_scale, sleep_scale

AS_OF = date(2026, 3, 1)
COARSE = sleep_scale([0, 4, 6, 8], date(2025, 1, 1))
ODD = sleep_scale([0, 2.5, 5.5, 7.5], date(2025, 1, 1))
LATER = sleep_scale([0, 4, 6, 8], date(2027, 1, 1))


def every(*scales: Scale) -> list[str]:
    return [level.id for scale in scales for level in scale.levels]


def sleep_order(*versions: Scale, used: list[str] | None = None) -> Order:
    return order_of("sleep", Scales((DEFAULT_MOOD, *versions)), used or every(*versions), AS_OF)


def test_one_version_is_its_own_order() -> None:
    found = sleep_order(DEFAULT_SLEEP)
    assert found.names == tuple(level.label for level in DEFAULT_SLEEP.levels)
    assert [found.place[level.id] for level in DEFAULT_SLEEP.levels] == [1, 2, 3, 4, 5, 6, 7, 8]


def test_two_versions_of_buckets_meet_in_the_bounds_that_both_have() -> None:
    found = sleep_order(DEFAULT_SLEEP, COARSE)
    assert found.names == ("none", "under 4 h", "4-6 h", "6-8 h", "8 h or more")
    assert [found.place[level.id] for level in DEFAULT_SLEEP.levels] == [1, 2, 2, 3, 3, 4, 4, 5]
    assert [found.place[level.id] for level in COARSE.levels] == [1, 2, 3, 4, 5]


def test_buckets_that_share_too_few_bounds_leave_the_newest_version_only() -> None:
    found = sleep_order(DEFAULT_SLEEP, ODD)
    assert set(found.place) == set(every(ODD))
    assert found.names == tuple(level.label for level in ODD.levels)


def test_a_version_that_was_never_used_changes_nothing() -> None:
    found = sleep_order(DEFAULT_SLEEP, COARSE, used=every(COARSE))
    assert found.names == tuple(level.label for level in COARSE.levels)


def test_a_version_still_to_come_is_not_the_newest() -> None:
    found = sleep_order(DEFAULT_SLEEP, LATER, used=every(DEFAULT_SLEEP))
    assert set(found.place) == set(every(DEFAULT_SLEEP))


def test_moods_are_compared_within_the_newest_version_only() -> None:
    seven = mood_scale(["a", "b", "c", "d", "e", "f", "g"], date(2025, 6, 1))
    found = order_of("mood", Scales((DEFAULT_MOOD, seven, DEFAULT_SLEEP)), every(DEFAULT_MOOD, seven), AS_OF)
    assert found.names == ("1", "2", "3", "4", "5", "6", "7")
    assert set(found.place) == set(every(seven))


def test_a_closed_span_of_old_paper_is_never_the_newest() -> None:
    paper = mood_scale(["low", "middle", "high"], date(2019, 1, 1), date(2019, 12, 31))
    found = order_of("mood", Scales((DEFAULT_MOOD, paper, DEFAULT_SLEEP)), every(DEFAULT_MOOD, paper), AS_OF)
    assert set(found.place) == set(every(DEFAULT_MOOD))
