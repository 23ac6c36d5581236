"""Shift kinds and weekdays: known truth, limits, and the rate of false claims."""

from dataclasses import replace

import numpy as np
import pytest

from tests.simulated import NO_LINK, Case, after_nights, simulate
from tracker.analysis.groups import GroupTest, too_regular
from tracker.analysis.groups import group_tests as group_tests_at
from tracker.analysis.series import OUTCOMES, Series
from tracker.analysis.verdict_days import group_level

NAN = float("nan")
LEVEL = 0.05
"""At which the method itself is tried; the program judges at stricter levels."""


def group_tests(series: Series, *outcomes: tuple[str, ...], weekdays: bool = True) -> tuple[GroupTest, ...]:
    return group_tests_at(series, *outcomes, level=LEVEL, weekdays=weekdays)


def record(case: Case, days: int, seed: int) -> Series:
    return simulate(case, days, np.random.default_rng(seed))


def verdicts(tests: tuple[GroupTest, ...]) -> dict[tuple[str, str], str | None]:
    return {(test.outcome, test.by): test.verdict for test in tests}


def test_a_rota_that_moves_mood_and_sleep_is_shown_and_the_weekday_is_not() -> None:
    assert verdicts(group_tests(record(NO_LINK["rota"], 365, 1), ("mood", "sleep"))) == {
        ("mood", "kinds of shift"): "shown",
        ("sleep", "kinds of shift"): "shown",
        ("mood", "weekday"): "not shown",
        ("sleep", "weekday"): "not shown",
    }


def test_a_weekly_cycle_is_shown_and_the_rota_is_not() -> None:
    found = verdicts(group_tests(record(NO_LINK["weekly cycle"], 365, 2), ("mood",)))
    assert found == {("mood", "kinds of shift"): "not shown", ("mood", "weekday"): "shown"}


def test_where_day_and_day_before_act_both_are_named() -> None:
    mood, sleep, *_ = group_tests(record(NO_LINK["rota"], 1095, 1), ("mood", "sleep"))
    assert (mood.named, sleep.named) == (("day", "day before"), ("day", "day before"))


def test_where_the_day_alone_acts_the_day_before_passes_and_is_not_named() -> None:
    """Runs of one shift make the day before part the days too."""
    sleep = group_tests(record(Case(kinds=1), 1095, 3), ("sleep",))[0]
    assert max(sleep.p_of.values()) <= LEVEL
    assert sleep.named == ("day",)


def test_what_is_not_shown_is_not_told_apart() -> None:
    found = group_tests(record(Case(), 365, 3), ("mood",))[0]
    assert (found.verdict, found.p_beyond, found.named) == ("not shown", {}, ())


def test_blank_days_are_in_no_group() -> None:
    """Blanks on low days make no difference between kinds of shift."""
    series = record(Case(0, 0), 1095, 20)
    blank = replace(series, shift=np.where(series.mood <= 2, "", series.shift))
    found = group_tests(blank, ("mood",))[0]
    assert found.verdict == "not shown"
    assert found.days == int(np.count_nonzero(series.mood > 2))


def test_days_after_nights_are_compared_only_where_kinds_of_shift_are_shown() -> None:
    nothing, moved = record(Case(), 1095, 21), record(Case(kinds=1), 1095, 21)
    second = after_nights(moved) == "second day after a night"
    tired = replace(moved, mood=np.where(second, np.maximum(moved.mood - 1, 1), moved.mood))
    pages = [
        {
            (test.outcome, test.by): test.verdict
            for test in group_tests_at(one, level=LEVEL, after_nights=after_nights(one))
            if test.by == "days after nights"
        }
        for one in (nothing, moved, tired)
    ]
    assert pages == [
        {},
        {("mood", "days after nights"): "not shown", ("sleep", "days after nights"): "not shown"},
        {("mood", "days after nights"): "shown", ("sleep", "days after nights"): "not shown"},
    ]


def test_what_days_off_do_is_not_claimed_of_the_days_after_nights() -> None:
    """Two days off follow every run of nights: the second day after one is a day off, later days are not."""
    rng = np.random.default_rng(26)
    blocks = (["night"] * 3 + ["off"] * 2, ["early"] * 4 + ["off"], ["late"] * 3 + ["early"] * 2)
    shift = np.array([day for _ in range(300) for day in blocks[rng.integers(3)]])[:1095]
    lifted = rng.normal(3, 0.8, 1095) + 1.5 * (shift == "off")
    series = replace(record(Case(), 1095, 26), shift=shift, mood=np.clip(np.round(lifted), 1, 5))
    kinds, after = group_tests_at(
        series, ("mood",), level=LEVEL, weekdays=False, after_nights=after_nights(series)
    )
    assert (kinds.verdict, kinds.named, after.verdict) == ("shown", ("day",), "not shown")


def test_a_day_is_named_up_to_a_p_of_one_in_a_hundred() -> None:
    found = GroupTest("mood", "kinds of shift", 1, 0.0, 0.0, "shown")
    assert replace(found, p_beyond={"day": 0.01, "day before": 0.011}).named == ("day",)


def test_holm_covers_the_tests_of_the_page() -> None:
    series = record(Case(weekly=0.4), 365, 3)
    of_all = min(test.p for test in group_tests(series))
    of_each = min(test.p for outcome in OUTCOMES for test in group_tests(series, (outcome,)))
    assert of_all == pytest.approx(9 / 3 * of_each)
    assert of_all < 1


@pytest.mark.parametrize(
    ("days", "shift", "weekday"),
    [(119, "too little kept", "not shown"), (55, "too little kept", "too little kept")],
)
def test_short_records_are_not_tested(days: int, shift: str, weekday: str) -> None:
    found = verdicts(group_tests(record(Case(0, 0), days, 4), ("mood",)))
    assert found[("mood", "kinds of shift")] == shift
    assert found[("mood", "weekday")] == weekday


def test_without_a_rota_there_is_nothing_to_compare() -> None:
    series = replace(record(Case(), 365, 5), shift=np.full(365, ""))
    assert verdicts(group_tests(series, ("mood",), weekdays=False)) == {
        ("mood", "kinds of shift"): "too little kept"
    }


def test_a_rota_of_exact_eight_day_turns_is_too_regular_for_a_verdict() -> None:
    series = record(Case(), 365, 6)
    turning = np.resize(np.array(["early"] * 2 + ["late"] * 2 + ["night"] * 2 + ["off"] * 2), 365)
    found = group_tests(replace(series, shift=turning), ("mood",))
    assert [(test.verdict, test.too_regular, bool(np.isnan(test.p))) for test in found] == [
        (None, True, True),
        ("not shown", False, False),
    ]


def test_an_irregular_rota_is_not_too_regular() -> None:
    assert not too_regular(record(Case(), 365, 7).shift)


def test_the_same_record_gives_the_same_page() -> None:
    series = record(NO_LINK["mixture"], 200, 8)
    page = ("mood", "sleep")
    assert group_tests(series, page) == group_tests(series, page)


@pytest.mark.parametrize(("days", "made"), [(365, 7), (730, 7), (1095, 9)])
def test_no_more_tests_are_made_than_could_be_shown(days: int, made: int) -> None:
    """Moved by eight days or more, n labels cannot give a p-value below 1/(n - 14)."""
    found = group_tests_at(record(Case(), days, 11), level=group_level(days))
    kinds = [p for test in found for p in test.p_of.values()]
    weekly = [test.p for test in found if test.by == "weekday" and not np.isnan(test.p)]
    assert len(kinds) + len(weekly) == made
    assert set(found[2].p_of) == ({"day"} if made == 7 else {"day", "day before"})


def test_a_larger_record_shows_smaller_differences() -> None:
    year, three = (group_tests(record(Case(), days, 12), ("mood",))[0] for days in (365, 1095))
    assert 0 < three.smallest < year.smallest < 0.2


def test_one_level_only_is_too_little() -> None:
    series = replace(record(Case(), 365, 9), mood=np.full(365, 3.0), anxious=np.full(365, NAN))
    found = verdicts(group_tests(series, ("mood", "anxious")))
    assert set(found.values()) == {"too little kept"}


def test_days_without_a_difference_seldom_claim_one() -> None:
    """200 pages of six tests at 5 % together: at most 5 % plus three standard errors (19)."""
    rng = np.random.default_rng(10)
    pages = [group_tests(simulate(Case(0.6, 0.85), 180, rng), ("mood", "sleep")) for _ in range(200)]
    assert sum(min(test.p for test in page) <= LEVEL for page in pages) <= 19


@pytest.mark.parametrize(
    ("length", "level"),
    [(120, 0), (180, 0), (365, 0.02), (730, 0.01), (1094, 0.01), (1095, 0.0085), (3650, 0.0085)],
)
def test_groups_are_judged_from_the_first_year_on_and_then_more_strictly(length: int, level: float) -> None:
    assert group_level(length) == level


def test_before_the_first_year_no_group_is_tested() -> None:
    found = group_tests_at(record(NO_LINK["rota"], 180, 1), level=group_level(180))
    assert [(test.verdict, bool(np.isnan(test.p))) for test in found] == [("too little kept", True)] * 6


def test_a_rota_that_moves_mood_is_shown_at_the_level_of_the_first_year() -> None:
    found = group_tests_at(record(NO_LINK["rota"], 365, 1), ("mood",), level=group_level(365))
    assert found[0].verdict == "shown"
