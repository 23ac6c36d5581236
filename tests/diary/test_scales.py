"""Levels, buckets, and which version of them holds on which day."""

from datetime import date

import pytest

from tracker.diary.errors import DamagedRecord, UnknownValue, WrongScale
from tracker.diary.scales import (
    DEFAULT_MOOD,
    DEFAULT_SLEEP,
    Scales,
    mood_scale,
    read_bounds,
    renamed,
    sleep_scale,
    taken_back,
)


@pytest.mark.parametrize(
    ("hours", "label"),
    [
        (0, "none"),
        (0.25, "under 3 h"),
        (2.99, "under 3 h"),
        (3, "3-4 h"),
        (5.999, "5-6 h"),
        (6, "6-7 h"),
        (8, "8 h or more"),
        (24, "8 h or more"),
    ],
)
def test_a_bucket_takes_its_lower_bound_and_leaves_out_its_upper(hours: float, label: str) -> None:
    assert DEFAULT_SLEEP.level_for_hours(hours).label == label


@pytest.mark.parametrize("hours", [-0.1, 24.1, float("nan"), float("inf")])
def test_hours_that_are_no_sleep_are_refused(hours: float) -> None:
    with pytest.raises(UnknownValue, match="is not a length of sleep; give 0 to 24"):
        DEFAULT_SLEEP.level_for_hours(hours)


def test_every_digit_but_one_sets_a_bucket() -> None:
    """1 begins a number of ten or more, so it stands for none by itself."""
    labels = {key: level.label for key in "0123456789" if (level := DEFAULT_SLEEP.level_for_key(key))}
    assert labels == {
        "0": "none",
        "2": "under 3 h",
        "3": "3-4 h",
        "4": "4-5 h",
        "5": "5-6 h",
        "6": "6-7 h",
        "7": "7-8 h",
        "8": "8 h or more",
        "9": "8 h or more",
    }


@pytest.mark.parametrize("text", ["4", "good", " Good "])
def test_a_mood_is_meant_by_its_number_or_its_label(text: str) -> None:
    assert DEFAULT_MOOD.level_for_text(text).id == "mood5-4"


def test_an_unknown_level_is_refused_with_those_there_are() -> None:
    with pytest.raises(UnknownValue) as refused:
        DEFAULT_MOOD.level_for_text("splendid")
    assert str(refused.value) == (
        "'splendid' is no level of mood; there are: 1 very low, 2 low, 3 even, 4 good, 5 very good."
    )


@pytest.mark.parametrize(
    ("labels", "reason"),
    [
        (["low", "high"], "mood takes 3 to 7 levels; these are 2."),
        (["a", "b", "c", "d", "e", "f", "g", "h"], "mood takes 3 to 7 levels; these are 8."),
        (["low", "even", "Low"], "Two levels of mood are called 'low'."),
        (["low", "", "high"], "A level of mood has no name."),
        (["low", "3", "high"], "'3' reads as a number; give the level of mood a word."),
        (["low", "-1", "high"], "'-1' reads as a number; give the level of mood a word."),
        (["low", "1,5", "high"], "'1,5' reads as a number; give the level of mood a word."),
        (["low", "1e3", "high"], "'1e3' reads as a number; give the level of mood a word."),
        (["low", "\u00bd", "high"], "'\u00bd' reads as a number; give the level of mood a word."),
        (
            ["low", 81 * "m", "high"],
            "The word for a level has at most 80 letters; 'mmmmmmmmmmmm...' has 81.",
        ),
        (["low", "?", "high"], "'?' means 'could not say'; give the level of mood a word."),
    ],
)
def test_mood_levels_that_cannot_be_told_apart_are_refused(labels: list[str], reason: str) -> None:
    with pytest.raises(WrongScale) as refused:
        mood_scale(labels, None)
    assert str(refused.value) == reason


@pytest.mark.parametrize(
    ("bounds", "reason"),
    [
        ([1, 4, 6, 8], "The buckets leave a gap: the first must begin at 0 hours."),
        ([0, 4, 4, 8], "The buckets overlap at 4 hours: each bound must be larger than the last."),
        ([0, 6], "sleep takes 4 to 10 levels; these are 3."),
        (list(range(10)), "sleep takes 4 to 10 levels; these are 11."),
        ([0, 4.1, 6, 8], "The buckets begin at full hours, halves or quarters, like 4 or 4.5."),
        ([0, 4, float("nan"), 8], "The buckets begin at full hours, halves or quarters, like 4 or 4.5."),
        ([0, 4, 6, float("inf")], "The buckets begin at full hours, halves or quarters, like 4 or 4.5."),
        ([0, 5, 7, 25], "A bucket from 25 hours is longer than a day."),
    ],
)
def test_buckets_that_leave_a_gap_or_overlap_are_refused(bounds: list[float], reason: str) -> None:
    with pytest.raises(WrongScale) as refused:
        sleep_scale(bounds, None)
    assert str(refused.value) == reason


@pytest.mark.parametrize("bounds", [[0, 5, 7], [0, 4.5, 6, 7.5, 9], list(range(9))])
def test_every_length_of_sleep_lies_in_exactly_one_bucket(bounds: list[float]) -> None:
    scale = sleep_scale(bounds, None)
    for quarter in range(24 * 4 + 1):
        fitting = [level for level in scale.levels if level.holds(quarter / 4)]
        assert fitting == [scale.level_for_hours(quarter / 4)]


def test_every_bucket_of_a_made_scale_has_a_digit_of_its_own() -> None:
    for bounds in ([0, 5, 7], [0, 0.5, 1, 2, 8], [0, 4.5, 4.75, 9], list(range(9))):
        keys = [key for level in sleep_scale(bounds, None).levels for key in level.keys]
        assert len(set(keys)) == len(keys)
        assert all(len(key) == 1 for key in keys)


def test_a_version_holds_from_its_day_on_and_the_older_before() -> None:
    newer = mood_scale(["bad", "so-so", "fine"], date(2026, 1, 1))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, newer))
    assert scales.on("mood", date(2025, 12, 31)) == DEFAULT_MOOD
    assert scales.on("mood", date(2026, 1, 1)) == newer
    assert scales.newest("mood") == newer
    assert scales.placed("mood5-1").scale == DEFAULT_MOOD


def test_a_closed_past_span_has_levels_of_its_own() -> None:
    paper = sleep_scale([0, 4, 6, 8], date(2024, 1, 1), date(2024, 12, 31))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, paper))
    assert scales.on("sleep", date(2024, 6, 1)) == paper
    assert scales.on("sleep", date(2025, 1, 1)) == DEFAULT_SLEEP
    assert scales.newest("sleep") == DEFAULT_SLEEP


def test_a_closed_span_and_an_open_version_of_the_same_day_are_two_versions() -> None:
    labels, first = ["bad", "so-so", "fine"], date(2024, 1, 1)
    assert mood_scale(labels, first).id != mood_scale(labels, first, date(2024, 12, 31)).id


def test_closed_spans_overlap_where_they_share_a_day() -> None:
    year = sleep_scale([0, 4, 6], date(2024, 1, 1), date(2024, 12, 31))
    assert year.overlaps(sleep_scale([0, 5, 7], date(2024, 12, 31), date(2025, 1, 31)))
    assert not year.overlaps(sleep_scale([0, 5, 7], date(2025, 1, 1), date(2025, 1, 31)))
    assert not year.overlaps(sleep_scale([0, 5, 7], date(2024, 6, 1)))


def test_a_version_that_was_taken_back_holds_for_no_day_and_keeps_its_levels() -> None:
    gone = taken_back(mood_scale(["bad", "so-so", "fine"], date(2026, 1, 1)))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, gone))
    assert scales.on("mood", date(2026, 3, 1)) == scales.newest("mood") == DEFAULT_MOOD
    assert scales.level(gone.levels[2].id).label == "fine"


def test_a_rename_keeps_the_version_and_the_ids() -> None:
    bright = renamed(DEFAULT_MOOD, {4: "bright", 5: "very bright"})
    assert [level.id for level in bright.levels] == [level.id for level in DEFAULT_MOOD.levels]
    assert [level.label for level in bright.levels] == ["very low", "low", "even", "bright", "very bright"]
    assert bright.id == "mood5"


def test_a_level_that_no_version_has_is_named() -> None:
    with pytest.raises(DamagedRecord, match="the level 'mood9-1', which no scale of it has"):
        Scales((DEFAULT_MOOD, DEFAULT_SLEEP)).level("mood9-1")


@pytest.mark.parametrize("text", ["0 4 6.5 8", "0, 4, 6.5, 8", "0,4,6.5,8"])
def test_bounds_are_parted_by_spaces_or_commas(text: str) -> None:
    assert read_bounds(text) == [0, 4, 6.5, 8]


def test_bounds_that_are_no_numbers_are_refused() -> None:
    with pytest.raises(WrongScale, match="'0 four' are no hours; write them like 0 4 6 8"):
        read_bounds("0 four")
