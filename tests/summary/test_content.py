"""Which days a page is about, and what stands on it in her own words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, keep, mark, page
from tracker.diary.breaks import Break
from tracker.diary.days import Day
from tracker.diary.errors import TrackerError
from tracker.summary.content import page_of
from tracker.summary.page_data import PageOptions, chosen_period, usual_period

ANXIOUS_ONCE = {TODAY: Day(TODAY, anxious=mark("yes"))}


def test_the_period_is_the_14_weeks_that_end_today() -> None:
    assert usual_period(keep(mood=200 * "3"), TODAY) == (date(2025, 12, 10), TODAY)


def test_the_period_ends_yesterday_while_todays_mood_waits() -> None:
    days = keep(mood=200 * "3" + ".", sleep=201 * "7")
    assert usual_period(days, TODAY)[1] == date(2026, 3, 16)


def test_a_young_record_begins_with_its_first_day() -> None:
    assert usual_period(keep(mood="333"), TODAY) == (date(2026, 3, 15), TODAY)


@pytest.mark.parametrize("days", [keep(sleep="7"), keep(mood="?"), ANXIOUS_ONCE])
def test_one_kept_day_makes_a_page(days: dict[date, Day]) -> None:
    assert usual_period(days, TODAY) == (TODAY, TODAY)
    assert page_of(days, CHOICES, PageOptions(), TODAY, CLOCK).figures.heads == ("the last day",)


def test_a_page_of_anxious_marks_alone_says_that_nothing_else_is_kept() -> None:
    made = page_of(ANXIOUS_ONCE, CHOICES, PageOptions(), TODAY, CLOCK)
    assert {row.label: row.cells for row in made.figures.rows}["marked anxious"] == ("(1 of 1)",)
    assert made.tested.statements == (
        "Too early to test whether mood and sleep go together: neither is kept yet. The counts stand.",
    )


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


def test_only_the_notes_that_were_picked_stand_on_it() -> None:
    days = {
        TODAY - timedelta(days=n): Day(TODAY - timedelta(days=n), note=mark(f"note {n}\nof mine"))
        for n in (1, 2)
    }
    assert page(days).notes == ()
    picked = PageOptions(note_days=(TODAY - timedelta(days=2), TODAY))
    assert page(days, options=picked).notes == ("15 Mar: note 2 of mine",)


# --- how complete it is


def test_completeness_tells_what_was_kept_and_where_the_gaps_fall() -> None:
    days = keep(mood="3..3?33", sleep="77.7777", shifts="nooooon")
    assert page(days).complete == (
        "Of 7 days mood is kept on 4 (2 of 3 at or after nights, 2 of 4 others), sleep on 6.",
        "1 answer 'could not say'.",
        "No entry over 2 days late.",
        "No missing day has been filled in by guess.",
    )


def test_late_entries_and_those_from_paper_are_counted() -> None:
    days = keep(mood="3333")
    for back, basis, late in ((3, "remembered", 9), (2, "paper", 200)):
        at = TODAY - timedelta(days=back)
        square = days[at].mood
        assert square is not None
        days[at] = days[at]._replace(mood=square._replace(basis=basis, late_days=late))  # type: ignore[arg-type]
    told = page(days).complete
    assert "1 entry over 2 days late." in told
    assert "1 entry copied from paper kept at the time." in told


@pytest.mark.parametrize(
    ("mood", "kept", "away"),
    [
        ("3..333", "Of 4 days mood is kept on 4, sleep on 4.", 2),
        ("3.3333", "Of 5 days mood is kept on 5, sleep on 4.", 1),
    ],
)
def test_a_marked_break_is_not_possible_and_not_missing_but_for_what_is_kept_in_it(
    mood: str, kept: str, away: int
) -> None:
    span = Break(TODAY - timedelta(days=4), TODAY - timedelta(days=3))
    told = page(keep(mood=mood, sleep="7..777"), CHOICES._replace(breaks=(span,))).complete
    assert told[0] == kept
    assert f"{away} day{'s' if away > 1 else ''} of a marked break not counted." in told


def test_of_nights_nothing_is_said_where_no_shifts_are_on_the_page() -> None:
    days = keep(mood=14 * ".3", shifts=28 * "n")
    assert "night" in " ".join(page(days).complete) + page(days).reading
    without = page(days, options=PageOptions(shifts=False))
    assert "at or after nights" not in " ".join(without.complete)
    assert "a night where it begins" not in without.reading
