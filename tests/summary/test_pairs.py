"""Side by side: what is compared, between which days, and what has too few of them."""

from __future__ import annotations

from datetime import timedelta

from tests.summary.sheets import CHOICES, keep, page
from tests.summary.test_figures import FIVE_THEN_SEVEN
from tracker.diary.days import Square
from tracker.diary.scales import DEFAULT_SLEEP, Scales, mood_scale
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import Page

WEEKS = 14
SHIFTS = WEEKS * "nnooooo"
FULL = keep(mood=WEEKS * "1122334", sleep=WEEKS * "5567788", shifts=SHIFTS, anxious=WEEKS * "yynnnnn")
EVEN = keep(mood=WEEKS * "3333333", sleep=WEEKS * "5567788", shifts=SHIFTS)
NONE = "Fewer than 10 days on one side of every comparison: none is made."


def counts(sheet: Page) -> dict[str, tuple[str, str]]:
    return {
        f"{pair.outcome} {pair.sides[0].label}, {pair.sides[1].label}": (
            pair.sides[0].count,
            pair.sides[1].count,
        )
        for pair in sheet.pairs
    }


def test_all_six_comparisons_of_fourteen_weeks() -> None:
    assert counts(page(FULL)) == {
        "low or very low after a sleep under 6 h, after 6 h or more": ("28 of 28", "28 of 70"),
        "low or very low after a night shift, other days": ("28 of 28", "27 of 69"),
        "marked anxious after a sleep under 6 h, after 6 h or more": ("28 of 28", "0 of 70"),
        "slept under 6 h after a night shift, other days": ("14 of 28", "13 of 69"),
        "slept under 6 h after low or very low days, after other days": ("14 of 56", "13 of 41"),
        "slept under 6 h after anxious days, after other days": ("14 of 28", "13 of 69"),
    }
    assert page(FULL).left_out == ""


def test_the_shift_of_the_day_before_the_period_counts_but_nothing_else_of_it() -> None:
    days = dict(FULL)
    eve = min(days) - timedelta(days=1)
    before = days[min(days)]._replace(date=eve, shift=Square("off"))
    told = counts(page({eve: before, **days}))
    assert told["low or very low after a night shift, other days"] == ("28 of 28", "28 of 70")
    assert told["slept under 6 h after low or very low days, after other days"] == ("14 of 56", "13 of 41")


def test_a_comparison_needs_ten_days_on_each_side_and_is_named_where_it_lacks_them() -> None:
    days = keep(mood=9 * "1" + 30 * "3", sleep=10 * "5" + 29 * "7", anxious=39 * "n", shifts=39 * "o")
    sheet = page(days)
    assert [pair.outcome for pair in sheet.pairs] == ["low or very low", "marked anxious"]
    assert sheet.left_out == (
        "Fewer than 10 days on one side, so left out: low after nights, sleep after nights, "
        "sleep after low days, sleep after anxious days."
    )


def test_where_none_can_be_made_one_sentence_says_so() -> None:
    sheet = page(keep(mood=20 * "1", sleep=20 * "5"))
    assert (sheet.pairs, sheet.left_out) == ((), NONE)


def test_without_shifts_nights_are_neither_compared_nor_left_out() -> None:
    sheet = page(EVEN, options=PageOptions(shifts=False))
    assert "night" not in " ".join([*counts(sheet), sheet.left_out])


def test_after_a_change_of_levels_low_days_are_those_of_the_newest_alone() -> None:
    days = keep(mood=77 * "1" + 11 * "2" + 10 * "7", sleep=88 * "5" + 10 * "7", scales=FIVE_THEN_SEVEN)
    choices = CHOICES._replace(scales=FIVE_THEN_SEVEN)
    told = counts(page(days, choices))
    assert told["worst or rock bottom after a sleep under 6 h, after 6 h or more"] == ("11 of 11", "0 of 10")


def test_of_three_levels_the_lowest_alone_is_low_and_has_a_plain_name() -> None:
    scales = Scales((mood_scale(["down", "so so", "up"], None), DEFAULT_SLEEP))
    sheet = page(keep(mood=20 * "12", sleep=20 * "57", scales=scales), CHOICES._replace(scales=scales))
    assert (sheet.pairs[0].outcome, sheet.pairs[0].plain) == ("down", "level 1")
