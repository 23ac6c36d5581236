"""Counts in columns: out of what was possible, in brackets where they rest on little, never refused."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, keep, page
from tracker.diary.breaks import Break
from tracker.diary.calls import called_answer
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale, sleep_scale
from tracker.diary.settings import Settings
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import Page

CHANGED_ON = TODAY - timedelta(days=20)
SEVEN = mood_scale(["rock bottom", "worst", "low", "even", "good", "glad", "superb"], CHANGED_ON)
FIVE_THEN_SEVEN = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, SEVEN))


def figures(sheet: Page) -> dict[str, tuple[str, ...]]:
    return {row.label: row.cells for row in sheet.figures.rows}


# --- columns


def test_two_weeks_stand_beside_the_twelve_before() -> None:
    days = keep(
        mood=42 * "12" + "11122333344555",
        sleep=84 * "5" + "55555666667777",
        anxious=84 * "n" + "yyy" + 11 * "n",
    )
    sheet = page(days)
    assert sheet.figures.heads == ("last 14 days", "12 weeks before")
    assert figures(sheet) == {
        "mood kept": ("14 of 14", "84 of 84"),
        "low or very low (1, 2)": ("5 of 14", "84 of 84"),
        "good or very good (4, 5)": ("5 of 14", "0 of 84"),
        "marked anxious": ("3 of 14", "0 of 84"),
        "sleep kept": ("14 of 14", "84 of 84"),
        "slept under 6 h": ("5 of 14", "84 of 84"),
        "at least half the sleeps": ("6 h or more", "5 h or more"),
    }


@pytest.mark.parametrize(
    ("length", "heads"),
    [
        (1, ("the last day",)),
        (27, ("all 27 days",)),
        (28, ("last 14 days", "14 days before")),
        (98, ("last 14 days", "12 weeks before")),
    ],
)
def test_a_short_period_has_one_column(length: int, heads: tuple[str, ...]) -> None:
    assert page(keep(mood=length * "3")).figures.heads == heads


@pytest.mark.parametrize(
    ("kept", "heads"),
    [
        (49, ("last 14 days", "12 weeks before", "same weeks, 2024/25")),
        (48, ("last 14 days", "12 weeks before")),
    ],
)
def test_the_same_weeks_a_year_before_stand_beside_them_if_half_is_kept(
    kept: int, heads: tuple[str, ...]
) -> None:
    a_year_before = keep(last=TODAY - timedelta(days=365), sleep=kept * "5")
    sheet = page(a_year_before | keep(mood=98 * "3", sleep=98 * "7"))
    assert sheet.figures.heads == heads


def test_the_29th_of_february_stands_beside_the_28th() -> None:
    days = keep(last=date(2024, 2, 29), mood=500 * "3")
    options = PageOptions((date(2023, 11, 24), date(2024, 2, 29)))
    assert figures(page(days, options=options, today=date(2024, 2, 29)))["mood kept"][2] == "97 of 97"


# --- brackets


@pytest.mark.parametrize(
    ("mood", "cell"),
    [
        (13 * "." + "1", "(1 of 1)"),
        (8 * "." + 6 * "1", "(6 of 6)"),
        (7 * "." + 7 * "1", "7 of 7"),
        (14 * ".", "none kept"),
    ],
)
def test_a_count_rests_on_seven_days_and_half_of_them_or_stands_in_brackets(mood: str, cell: str) -> None:
    days = keep(mood=mood, sleep=14 * "7")
    assert figures(page(days))["low or very low (1, 2)"] == (cell,)


@pytest.mark.parametrize(("kept", "cell"), [(6, "(6 of 6)"), (7, "7 of 7")])
def test_under_seven_days_a_count_stands_in_brackets_however_short_the_period(kept: int, cell: str) -> None:
    counts = figures(page(keep(mood=kept * "1", sleep=kept * "5")))
    assert counts["low or very low (1, 2)"] == (cell,)


def test_a_count_of_many_days_under_half_stands_in_brackets_and_says_why() -> None:
    sheet = page(keep(mood=98 * "3", sleep=44 * "." + 40 * "5" + 14 * "7"))
    assert figures(sheet)["slept under 6 h"] == ("0 of 14", "(40 of 40)")
    assert "( ) fewer than 7 days, or under half of them, kept." in sheet.remarks


def test_anxious_days_are_out_of_those_noted() -> None:
    assert figures(page(keep(mood=14 * "3", anxious=7 * "yn")))["marked anxious"] == ("7 of 14",)
    assert figures(page(keep(mood=14 * "3", anxious="yn")))["marked anxious"] == ("(1 of 2)",)
    assert figures(page(keep(mood=14 * "3")))["marked anxious"] == ("not noted",)


def test_could_not_say_is_no_level() -> None:
    assert figures(page(keep(mood=7 * "?1")))["low or very low (1, 2)"] == ("7 of 7",)


def test_sixty_very_low_days_are_counted() -> None:
    counts = figures(page(keep(mood=60 * "1")))
    assert counts["low or very low (1, 2)"] == ("14 of 14", "46 of 46")


# --- sleep


def test_exact_hours_decide_before_the_bucket() -> None:
    days = keep(mood=14 * "3", sleep=14 * "6")
    days[TODAY] = days[TODAY]._replace(sleep=Square("sleep8-5", detail={"hours": 5.75}))
    assert figures(page(days))["slept under 6 h"] == ("1 of 14",)


def test_a_bucket_across_the_limit_is_in_neither_count() -> None:
    scales = Scales((DEFAULT_MOOD, sleep_scale([0, 4, 7], None)))
    sheet = page(keep(sleep=7 * "04", mood=14 * "3", scales=scales), CHOICES._replace(scales=scales))
    assert figures(sheet)["slept under 6 h"] == ("7 of 7",)
    assert "7 sleeps noted in hours across 6 h, in neither count." in sheet.remarks


def test_short_is_what_she_says() -> None:
    choices = CHOICES._replace(settings=Settings(short_sleep=4))
    assert "slept under 4 h" in figures(page(keep(sleep="7"), choices))


@pytest.mark.parametrize(
    ("sleep", "told"),
    [
        (7 * "58", "8 h or more"),
        (6 * "8" + 8 * "5", "5 h or more"),
        (14 * "0", "under 3 h"),
        (7 * "0" + 7 * "2", "under 3 h"),
        ("8", "(8 h or more)"),
    ],
)
def test_half_of_the_sleeps_reach_the_largest_bound_that_half_of_them_reach(sleep: str, told: str) -> None:
    assert figures(page(keep(sleep=sleep.rjust(14, "."), mood=14 * "3")))["at least half the sleeps"] == (
        told,
    )


def test_over_two_versions_the_bounds_are_those_that_both_have() -> None:
    other = sleep_scale([0, 4, 6, 8], TODAY - timedelta(days=6))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, other))
    sheet = page(keep(sleep=7 * "7" + 7 * "6", scales=scales), CHOICES._replace(scales=scales))
    assert figures(sheet)["at least half the sleeps"] == ("6 h or more",)


# --- shifts


def test_nights_and_quick_returns_are_counted_kept_or_not_but_for_todays_night() -> None:
    counts = figures(page(keep(mood="3" + 12 * "." + "3", shifts="nnoooooleoooon")))
    assert counts["night shifts on the rota"] == ("2",)
    assert counts["under 11 h between shifts"] == ("1",)


def test_where_no_shift_is_entered_nobody_knows_how_many_nights_there_were() -> None:
    counts = figures(page(keep(mood=28 * "3", shifts=14 * "." + 14 * "o")))
    assert counts["night shifts on the rota"] == ("0", "-")


def test_on_call_shifts_are_counted_and_those_called_at_night() -> None:
    days = keep(mood=14 * "3", shifts=14 * "c")
    called = TODAY - timedelta(days=3)
    change = called_answer(days[called], "01:00-04:30", CHOICES, CLOCK)
    days[called] = days[called]._replace(shift=Square(change.value, detail=change.detail))
    counts = figures(page(days))
    assert counts["on call, called at night"] == ("13, 1",)
    assert counts["night shifts on the rota"] == ("1",)


# --- levels that changed


def changed() -> tuple[dict[date, Day], Choices]:
    """Forty weeks of five levels, then three of seven, a low one every day."""
    return keep(mood=280 * "2" + 21 * "2", scales=FIVE_THEN_SEVEN), CHOICES._replace(scales=FIVE_THEN_SEVEN)


def test_no_row_mixes_versions_of_the_levels() -> None:
    counts = figures(page(*changed()))
    assert {label: cells for label, cells in counts.items() if "est two" in label} == {
        "lowest two of 5: 1, 2": ("-", "77 of 77"),
        "lowest two of 7: 1, 2": ("14 of 14", "7 of 7"),
        "highest two of 5: 4, 5": ("-", "0 of 77"),
        "highest two of 7: 6, 7": ("0 of 14", "0 of 7"),
    }


def test_a_page_under_two_versions_says_that_they_are_not_to_be_compared() -> None:
    told = (
        "My mood levels are others since 25 February: 5 before, 7 since. "
        "Each is counted by itself; do not compare them."
    )
    assert told in page(*changed()).remarks
    assert not any("levels are others" in one for one in page(keep(mood=98 * "2")).remarks)


def test_three_levels_have_one_low_and_one_high() -> None:
    scales = Scales((mood_scale(["down", "so so", "up"], None), DEFAULT_SLEEP))
    counts = figures(page(keep(mood=4 * "123" + "13", scales=scales), CHOICES._replace(scales=scales)))
    assert (counts["down (1)"], counts["up (3)"]) == (("5 of 14",), ("5 of 14",))


# --- the year


def test_the_year_counts_twelve_months_with_the_years_above() -> None:
    year = page(keep(mood=400 * "2", sleep=400 * "5", anxious=400 * "y", shifts=400 * "n")).year
    assert year is not None
    assert year.heads[:2] == ("2025\nApr", "May")
    assert year.heads[9:] == ("2026\nJan", "Feb", "Mar")
    assert {row.label: row.cells[-2:] for row in year.rows} == {
        "mood kept": ("28", "17"),
        "low or very low": ("28", "17"),
        "anxious": ("28", "17"),
        "sleep kept": ("28", "17"),
        "under 6 h": ("28", "17"),
        "night shifts": ("28", "16"),
    }


@pytest.mark.parametrize(("length", "is_drawn"), [(98 + 40, False), (98 + 63, True)])
def test_the_year_needs_two_well_kept_months_before_the_period(length: int, is_drawn: bool) -> None:
    assert (page(keep(mood=length * "3")).year is not None) is is_drawn


def test_the_year_begins_with_the_first_kept_month_and_a_thin_one_stands_in_brackets() -> None:
    year = page(keep(mood=175 * "3")).year
    assert year is not None
    assert year.heads[0] == "2025\nSep"
    assert year.rows[0].cells == ("(7)", "31", "30", "31", "31", "28", "17")


def test_a_month_in_which_nothing_of_a_grid_is_kept_has_a_dot_and_no_nought() -> None:
    year = page(keep(sleep=170 * "5" + 10 * "5", mood=179 * "." + "3")).year
    assert year is not None
    assert {row.label: row.cells[-2:] for row in year.rows} == {
        "mood kept": (".", "(1)"),
        "low or very low": (".", "(0)"),
        "anxious": (".", "."),
        "sleep kept": ("28", "17"),
        "under 6 h": ("28", "17"),
    }


def test_the_year_keeps_versions_apart() -> None:
    year = page(*changed()).year
    assert year is not None
    assert {row.label: row.cells[-3:] for row in year.rows if "two" in row.label} == {
        "lowest two of 5: 1, 2": ("31", "24", "-"),
        "lowest two of 7: 1, 2": ("-", "(4)", "17"),
    }


# --- remarks


def test_days_since_the_last_kept_one_are_said() -> None:
    days = keep(mood=30 * "3" + 6 * ".", sleep=30 * "3" + 6 * ".")
    assert page(days).remarks[0] == "Last day kept: 11 March; 5 days blank since."


def test_columns_that_were_kept_very_differently_are_said_to_be_so() -> None:
    told = "The columns differ much in days kept; blank days may have been unlike the others."
    for blank, is_said in ((2, False), (3, True)):
        days = keep(mood=84 * "3" + blank * "." + (14 - blank) * "3", sleep=98 * "7")
        assert (told in page(days).remarks) is is_said
        assert (
            told in page(keep(mood=98 * "3", sleep=84 * "7" + blank * "." + (14 - blank) * "7")).remarks
        ) is is_said


@pytest.mark.parametrize(("entered", "is_said"), [(77, True), (79, False)])
def test_a_rota_that_is_entered_in_part_is_said_to_be_so(entered: int, is_said: bool) -> None:
    told = page(keep(mood=98 * "3", shifts=entered * "o")).remarks
    assert (f"Shifts are entered on {entered} of 98 days." in told) is is_said


def test_the_next_three_runs_of_nights_are_said_up_to_four_weeks_ahead() -> None:
    ahead = keep(last=TODAY + timedelta(days=40), shifts="nn..nnn..n..nn".ljust(40, "."))
    days = keep(mood=14 * "3", shifts=14 * "o") | ahead
    assert page(days).remarks == ("Next nights on the rota: 18 to 19 March, 22 to 24 March and 27 March.",)


def test_a_break_has_no_blank_days() -> None:
    span = Break(TODAY - timedelta(days=4), TODAY)
    days = keep(mood=30 * "3" + 5 * ".", sleep=30 * "3" + 5 * ".")
    assert not any("blank since" in one for one in page(days, CHOICES._replace(breaks=(span,))).remarks)


@pytest.mark.parametrize(("days_on", "told"), [(28, ("Next nights on the rota: 14 April.",)), (29, ())])
def test_nights_over_four_weeks_ahead_are_not_said(days_on: int, told: tuple[str, ...]) -> None:
    ahead = keep(last=TODAY + timedelta(days=days_on), shifts="n")
    assert page(keep(mood=14 * "3", shifts=14 * "o") | ahead).remarks == told
