"""Runs of low days, steps between days and months, and days that wait, on days drawn as signs."""

from datetime import date, timedelta

import pytest

from tracker.analysis.counts import Classes, Count
from tracker.analysis.day_to_day import DayToDay, InStep, Waited, day_to_day
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_SCALES

FIRST = date(2026, 3, 1)


def drawn(moods: str, sleeps: str = "") -> DayToDay:
    """Days by their signs: a digit is a level, `.` waits, `?` could not say."""
    days = [
        Day(FIRST + timedelta(days=n), _square("mood5", mood), _square("sleep8", sleep))
        for n, (mood, sleep) in enumerate(zip(moods, sleeps or "6" * len(moods), strict=True))
    ]
    waiting = {
        "mood": {day.date for day in days if day.mood is None},
        "sleep": {day.date for day in days if day.sleep is None},
    }
    return day_to_day(days, Classes(days, DEFAULT_SCALES, 6), waiting)


def _square(scale: str, sign: str) -> Square | None:
    if sign == ".":
        return None
    return Square("", "could not say") if sign == "?" else Square(f"{scale}-{sign}")


@pytest.mark.parametrize(
    ("moods", "runs"),
    [
        ("3112213", [(1, 5, 5, False)]),
        ("311311", []),  # two in a row are no run
        ("11.1133", [(0, 4, 4, False)]),  # one day not kept inside does not end it
        ("11?1133", [(0, 4, 4, False)]),
        ("111..1113", [(0, 2, 3, True), (5, 7, 3, True)]),  # two do, and leave both ends open
        ("3..1113.3", [(3, 5, 3, True)]),
        ("3.111.33", [(2, 4, 3, False)]),  # one day not kept beside an end leaves it closed
        ("111", [(0, 2, 3, False)]),  # the record's own ends are no gap
    ],
)
def test_runs_of_low_days(moods: str, runs: list[tuple[int, int, int, bool]]) -> None:
    places = [((run.first - FIRST).days, (run.last - FIRST).days) for run in drawn(moods).runs]
    found = [(*place, run.kept, run.is_open) for place, run in zip(places, drawn(moods).runs, strict=True)]
    assert found == runs


def test_a_run_is_as_long_as_from_its_first_day_to_its_last() -> None:
    run = drawn("11.1133").runs[0]
    assert (run.days, run.kept) == (5, 4)


def test_days_far_from_the_day_before_count_of_those_with_both() -> None:
    assert drawn("135.531").far == Count(4, 4)
    assert drawn("1234.4").far == Count(0, 3)


def test_months_in_step_by_hand() -> None:
    """Shares of low days and short sleeps: both rise, low days fall and short sleeps rise, both rise."""
    months = [(31, 5, 5), (30, 10, 10), (31, 5, 12), (30, 5, 12)]
    moods = "".join("1" * low + "3" * (days - low) for days, low, _ in months)
    sleeps = "".join("4" * short + "6" * (days - short) for days, _, short in months)
    assert drawn(moods, sleeps).months == InStep(same=2, opposite=1)


def test_a_month_of_under_fifteen_days_is_set_beside_none() -> None:
    moods = "1" * 10 + "3" * 21 + "1" * 14 + "." * 16 + "3" * 31
    sleeps = "4" * 31 + "6" * 14 + "." * 16 + "4" * 31
    assert drawn(moods, sleeps).months == InStep(0, 0)


@pytest.mark.parametrize(("steps", "common"), [((14, 8), (6, 17)), ((10, 9), None), ((10, 10), (5, 15))])
def test_from_twenty_steps_on_it_is_said_what_is_common(
    steps: tuple[int, int], common: tuple[int, int] | None
) -> None:
    assert InStep(*steps).common == common


def test_waiting_squares_count_by_the_day_before() -> None:
    found = drawn("1.13.2?3", "444.6666")
    assert found.waited == (
        Waited("mood", Count(1, 2), Count(1, 1)),
        Waited("sleep", Count(1, 3), Count(0, 3)),
    )
