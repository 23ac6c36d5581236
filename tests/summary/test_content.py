"""What the page says: counts out of what was possible, her words untouched, nothing filled in."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, keep, mark, page, with_late
from tracker.analysis.findings import find
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.errors import TrackerError
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale, sleep_scale
from tracker.diary.settings import Settings
from tracker.summary.content import page_of
from tracker.summary.page_data import PageOptions, chosen_period, usual_period
from tracker.summary.page_model import Page

NIGHTS = 2 * "nnnoooo"


def figures(sheet: Page) -> dict[str, tuple[str, ...]]:
    return {row.label: row.cells for row in sheet.figures.rows}


# --- the period


def test_the_period_is_the_14_weeks_that_end_today() -> None:
    assert usual_period(keep(mood=200 * "3"), TODAY) == (date(2025, 12, 10), TODAY)


def test_the_period_ends_yesterday_while_todays_mood_waits() -> None:
    days = keep(mood=200 * "3" + ".", sleep=201 * "7")
    assert usual_period(days, TODAY)[1] == date(2026, 3, 16)


def test_a_young_record_begins_with_its_first_day() -> None:
    assert usual_period(keep(mood="333"), TODAY) == (date(2026, 3, 15), TODAY)


def test_a_record_that_began_this_morning_has_one_day() -> None:
    assert usual_period(keep(sleep="7"), TODAY) == (TODAY, TODAY)


# --- in figures


def test_figures_count_two_weeks_beside_the_twelve_before() -> None:
    days = keep(
        mood=42 * "12" + "11122333344555",
        sleep=84 * "5" + "55555666667777",
        anxious=84 * "n" + "yyy" + 11 * "n",
    )
    sheet = page(days)
    assert sheet.figures.heads == ("last 14 days", "the 12 weeks before")
    assert figures(sheet) == {
        "mood kept": ("14 of 14", "84 of 84"),
        "low or very low (levels 1, 2)": ("5 of 14", "84 of 84"),
        "good or very good (levels 4, 5)": ("5 of 14", "0 of 84"),
        "marked anxious": ("3 of 14", "0 of 84"),
        "slept under 6 hours": ("5 of 14", "84 of 84"),
    }


def test_nights_and_quick_returns_are_counted_where_there_is_a_rota() -> None:
    counts = figures(page(keep(mood=14 * "3", shifts="nnnoooollelloo")))
    assert counts["night shifts worked"] == ("3",)
    assert counts["less than 11 hours between shifts"] == ("1",)


def test_the_night_of_today_is_not_worked_yet() -> None:
    counts = figures(page(keep(mood=14 * "3", shifts="oooooooooonnnn")))
    assert counts["night shifts worked"] == ("3",)


def test_a_column_with_under_half_kept_says_too_little() -> None:
    counts = figures(page(keep(mood=42 * "3" + 42 * "." + 8 * "." + 6 * "3", sleep=98 * "7")))
    assert counts["mood kept"] == ("6 of 14", "42 of 84")
    assert counts["low or very low (levels 1, 2)"] == ("too little kept", "0 of 42")
    assert counts["slept under 6 hours"] == ("0 of 14", "0 of 84")


def test_could_not_say_is_no_level() -> None:
    assert figures(page(keep(mood=7 * "?1")))["low or very low (levels 1, 2)"] == ("7 of 7",)


def test_anxious_days_are_out_of_those_noted() -> None:
    assert figures(page(keep(mood=14 * "3", anxious="yn")))["marked anxious"] == ("1 of 2 noted",)
    assert figures(page(keep(mood=14 * "3", anxious=14 * "y")))["marked anxious"] == ("14 of 14",)
    assert figures(page(keep(mood=14 * "3")))["marked anxious"] == ("not noted",)


def test_exact_hours_decide_before_the_bucket() -> None:
    days = keep(mood=14 * "3", sleep=14 * "6")
    days[TODAY] = days[TODAY]._replace(sleep=Square("sleep8-5", detail={"hours": 5.75}))
    assert figures(page(days))["slept under 6 hours"] == ("1 of 14",)


@pytest.mark.parametrize(("wanted", "label"), [(4, "slept under 4 hours"), (2, "slept under 3 hours")])
def test_short_is_what_she_says_or_the_nearest_bound_of_the_buckets(wanted: int, label: str) -> None:
    choices = CHOICES._replace(settings=Settings(short_sleep=wanted))
    assert label in figures(page(keep(mood="3", sleep="7"), choices))


def test_three_levels_have_one_low_and_one_high() -> None:
    scales = Scales((mood_scale(["down", "so so", "up"], None), DEFAULT_SLEEP))
    counts = figures(page(keep(mood=4 * "123" + "13", scales=scales), CHOICES._replace(scales=scales)))
    assert counts["down (level 1)"] == ("5 of 14",)
    assert counts["up (level 3)"] == ("5 of 14",)


def test_levels_changed_on_the_way_are_counted_each_on_its_own_scale() -> None:
    newer = mood_scale(["down", "so so", "up"], TODAY - timedelta(days=6))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, newer))
    counts = figures(page(keep(mood=7 * "2" + 7 * "1", scales=scales), CHOICES._replace(scales=scales)))
    assert counts["one of the lowest levels"] == ("14 of 14",)


def test_buckets_without_a_shared_bound_are_not_counted_as_short() -> None:
    other = sleep_scale([0, 2.5, 4.5, 6.5, 9.5], TODAY - timedelta(days=6))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, other))
    sheet = page(keep(mood=14 * "3", sleep=7 * "7" + 7 * "4", scales=scales), CHOICES._replace(scales=scales))
    assert not any("slept" in label for label in figures(sheet))


# --- how complete


def test_completeness_tells_what_was_kept_and_where_the_gaps_fall() -> None:
    days = keep(mood="3..3?33", sleep="77.7777", shifts="nooooon")
    assert page(days).complete == (
        "Of 7 days: mood kept on 4, sleep on 6.",
        "1 answer 'could not say'.",
        "No entry made over 2 days late.",
        "Of the 2 days without mood, 1 was a night shift or the day after one.",
        "No missing day has been filled in by guess.",
    )


def test_late_entries_and_those_from_paper_are_counted() -> None:
    days = with_late(keep(mood="3333"), TODAY - timedelta(3), "mood", "remembered", 9)
    days = with_late(days, TODAY - timedelta(2), "mood", "paper", 200)
    told = page(days).complete
    assert "1 entry made over 2 days late." in told
    assert "1 entry copied from paper kept at the time." in told


def test_a_marked_break_is_not_possible_and_not_missing() -> None:
    away = Break(TODAY - timedelta(days=4), TODAY - timedelta(days=3))
    sheet = page(keep(mood="3..333", sleep="7..777"), CHOICES._replace(breaks=(away,)))
    assert "Of 4 days: mood kept on 4, sleep on 4." in sheet.complete
    assert "2 days of a marked break not counted." in sheet.complete


def test_what_is_kept_in_a_marked_break_counts_as_it_does_in_the_findings() -> None:
    away = Break(TODAY - timedelta(days=4), TODAY - timedelta(days=3))
    days = keep(mood="3.3333", sleep="7..777")
    choices = CHOICES._replace(breaks=(away,))
    sheet = page(days, choices)
    assert "Of 5 days: mood kept on 5, sleep on 4." in sheet.complete
    assert "1 day of a marked break not counted." in sheet.complete
    assert find(days.values(), choices, as_of=TODAY, clock=CLOCK).kept.mood == 5


# --- seven days a row


def test_the_last_row_ends_with_the_period_and_there_are_14_at_most() -> None:
    rows = page(keep(mood=300 * "3")).weeks.rows
    assert len(rows) == 14
    assert rows[-1].days[-1] is not None
    assert rows[-1].days[-1].day == TODAY


def test_days_before_the_first_stay_empty() -> None:
    (row,) = page(keep(mood="345")).weeks.rows
    assert [day.mood.sign if day else None for day in row.days] == [None] * 4 + ["3", "4", "5"]


def test_every_state_has_its_sign() -> None:
    choices = CHOICES._replace(breaks=(Break(TODAY - timedelta(days=1), TODAY - timedelta(days=1)),))
    (row,) = page(keep(mood="4?..1", anxious="y"), choices).weeks.rows
    assert [day.mood.sign for day in row.days if day] == ["4", "?", ".", "-", "1"]
    assert [day.anxious for day in row.days if day] == [True, False, False, False, False]
    signs = page(keep(mood="4?..1", anxious="y"), choices).weeks.signs
    assert signs == ("a anxious", ". nothing kept", "? could not say", "- a break")


def test_the_heads_tell_the_scales() -> None:
    weeks = page(keep(mood="3", sleep="7")).weeks
    assert weeks.mood_head == "mood, 1 very low to 5 very good"
    assert weeks.sleep_head == "hours I think I slept (5: from 5 to under 6; 2: under 3; 8: 8 or more)"


def test_shift_kinds_of_her_own_are_named_only_when_she_asks() -> None:
    own = ShiftKind("box7", "b", "Cawbrook box")
    choices = CHOICES._replace(kinds=(*CHOICES.kinds, own))
    days = {TODAY: Day(TODAY, mood=keep(mood="3")[TODAY].mood, shift=mark("box7"))}
    assert page(days, choices).weeks.signs[-1] == "x other shift"
    assert page(days, choices, PageOptions(shifts=True)).weeks.signs[-1] == "b Cawbrook box"


def test_without_shifts_nothing_of_the_rota_is_left() -> None:
    sheet = page(keep(mood=14 * ".3", shifts=14 * "n" + 14 * "o"), wishes=PageOptions(shifts=False))
    assert not sheet.weeks.with_shifts
    told = " ".join([*figures(sheet), *sheet.complete, *sheet.weeks.signs, *sheet.after_nights])
    assert "night" not in told
    assert "shift" not in told


# --- the year


def test_the_year_counts_twelve_months() -> None:
    year = page(keep(mood=400 * "2", sleep=400 * "5")).year
    assert year is not None
    assert year.heads == ("Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan", "Feb", "Mar")
    assert [row.cells[-2:] for row in year.rows] == [("28", "17"), ("28", "17"), ("28", "17")]


def test_a_month_in_which_nothing_of_a_grid_is_kept_has_a_dot_and_no_nought() -> None:
    year = page(keep(sleep=40 * "5", last=TODAY - timedelta(days=1))).year
    assert year is not None
    assert {row.label: row.cells[-2:] for row in year.rows} == {
        "mood kept": (".", "."),
        "low or very low (levels 1, 2)": (".", "."),
        "slept under 6 h": ("24", "16"),
    }


def test_a_thin_month_stands_in_brackets_and_one_before_the_first_day_empty() -> None:
    year = page(keep(mood=24 * "3")).year
    assert year is not None
    assert year.rows[0].cells[-3:] == (".", "(7)", "17")


def test_one_month_makes_no_year() -> None:
    assert page(keep(mood=17 * "3")).year is None


# --- the rest


def test_sleep_after_nights_is_compared_when_both_have_ten_days() -> None:
    days = keep(mood=28 * "3", sleep=2 * "7555777" + 2 * "7555777", shifts=4 * "nnnoooo")
    assert page(days).after_nights == (
        "Slept under 6 hours: 12 of 12 days after a night shift, 0 of 16 other days.",
    )
    assert page(keep(mood=14 * "3", sleep=14 * "7", shifts=NIGHTS)).after_nights == ()


def test_only_the_notes_that_were_picked_stand_on_it() -> None:
    days = {
        TODAY - timedelta(days=n): Day(TODAY - timedelta(days=n), note=mark(f"note {n}\nof mine"))
        for n in (1, 2)
    }
    assert page(days).notes == ()
    picked = PageOptions(note_days=(TODAY - timedelta(days=2), TODAY))
    assert page(days, wishes=picked).notes == ("15 Mar: note 2 of mine",)


def test_a_period_of_her_own_sets_every_count() -> None:
    sheet = page(keep(mood=60 * "3"), wishes=PageOptions((date(2026, 2, 1), date(2026, 2, 28))))
    assert sheet.period == "1 February 2026 to 28 February 2026"
    assert sheet.figures.heads == ("last 14 days", "the 14 days before")
    assert len(sheet.weeks.rows) == 4


def test_reading_names_the_levels_of_the_period() -> None:
    assert page(keep(mood="3")).reading[0] == "My levels: 1 very low, 2 low, 3 even, 4 good, 5 very good."


@pytest.mark.parametrize(
    ("versions", "told"),
    [
        (2, "My levels: 1 a0, 2 b0, 3 c0; later 1 a1, 2 b1, 3 c1."),
        (4, "My levels, changed 3 times, at last: 1 a3, 2 b3, 3 c3."),
    ],
)
def test_reading_names_two_versions_of_the_levels_at_most(versions: int, told: str) -> None:
    first = TODAY - timedelta(days=versions - 1)
    moods = [
        mood_scale([f"{letter}{n}" for letter in "abc"], first + timedelta(days=n)) for n in range(versions)
    ]
    scales = Scales((*moods, DEFAULT_SLEEP))
    choices = CHOICES._replace(scales=scales)
    assert page(keep(mood=versions * "2", scales=scales), choices).reading[0] == told


def test_a_very_long_label_is_cut_where_it_stands_among_others() -> None:
    scales = Scales((mood_scale(["low", "even", 50 * "h"], None), DEFAULT_SLEEP))
    sheet = page(keep(mood="3", scales=scales), CHOICES._replace(scales=scales))
    assert sheet.reading[0] == f"My levels: 1 low, 2 even, 3 {27 * 'h'}...."


@pytest.mark.parametrize(
    ("first", "last", "period"),
    [
        (None, None, (date(2025, 12, 10), TODAY)),
        (date(2026, 3, 1), None, (date(2026, 3, 1), TODAY)),
        (None, date(2026, 3, 1), (date(2025, 11, 24), date(2026, 3, 1))),
    ],
)
def test_what_is_not_chosen_of_a_period_is_as_usual(
    first: date | None, last: date | None, period: tuple[date, date]
) -> None:
    assert chosen_period(keep(mood=200 * "3"), first, last, TODAY) == period


@pytest.mark.parametrize(
    ("days", "first", "last", "sentence"),
    [
        (keep(mood="3"), TODAY, TODAY - timedelta(1), "The page would begin on 2026-03-17, after it ends"),
        (keep(mood="3"), None, TODAY + timedelta(1), "2026-03-18 is still to come"),
        (keep(mood="3"), None, date(2020, 2, 1), "Nothing is kept from 2020-02-01 to 2020-02-01"),
        (keep(mood="3", last=TODAY + timedelta(1)), None, None, "Nothing is kept yet"),
        (keep(shifts=30 * "n"), None, None, "Nothing is kept yet"),
    ],
)
def test_a_period_that_cannot_be_is_refused(
    days: dict[date, Day], first: date | None, last: date | None, sentence: str
) -> None:
    with pytest.raises(TrackerError, match=sentence):
        chosen_period(days, first, last, TODAY)


@pytest.mark.parametrize(
    ("wishes", "as_of"),
    [(PageOptions(), TODAY), (PageOptions((date(2026, 1, 1), date(2026, 2, 1))), date(2026, 2, 1))],
)
def test_findings_speak_as_of_the_end_of_the_period(wishes: PageOptions, as_of: date) -> None:
    """Fewer than 120 days: no verdict day has passed, and the page says until when it looked."""
    made = page_of(keep(mood=30 * "345"), CHOICES, wishes, TODAY, CLOCK)
    assert made.said.as_of == as_of
