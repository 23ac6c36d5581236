"""Nights in a row, the days after them, quick returns; and that a difference among nights is found."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from tests.simulated import Case, simulate
from tracker.analysis.groups import group_tests
from tracker.analysis.rota_runs import after_run, place_in_run, return_of

DAYS = [date(2026, 3, 1) + timedelta(days=i) for i in range(8)]
NIGHTS = {DAYS[1], DAYS[2], DAYS[3], DAYS[4]}


def test_nights_are_numbered_within_their_run() -> None:
    expected = ["", "first night", "second night", *["third night or later"] * 2, "", "", ""]
    assert place_in_run(DAYS, NIGHTS).tolist() == expected


def test_the_two_days_after_the_last_night_are_after_nights() -> None:
    expected = [*[""] * 5, "first day after nights", "second day after nights", ""]
    assert after_run(DAYS, NIGHTS).tolist() == expected


def test_working_days_are_quick_returns_or_not_and_days_off_are_neither() -> None:
    expected = ["other working days", "quick return", *[""] * 6]
    assert return_of(DAYS, {DAYS[0], DAYS[1]}, {DAYS[1]}).tolist() == expected


def test_groups_among_nights_are_set_apart_from_each_other_and_not_from_other_days() -> None:
    """Nights lower than all other days, but alike among themselves, differ in nothing from each other."""
    rng = np.random.default_rng(3)
    series = simulate(Case(0, 0), 1100, rng)
    nights = {day for day, kind in zip(series.dates, series.shift, strict=True) if kind == "night"}
    labels = place_in_run(series.dates, nights)
    alike = replace(series, mood=np.where(labels != "", np.maximum(series.mood - 1, 1), series.mood))
    later = replace(series, mood=np.where(labels == "third night or later", 1.0, series.mood))
    verdicts = [
        {(t.outcome, t.by): t.verdict for t in group_tests(one, level=0.01, runs={"night of a run": labels})}
        for one in (alike, later)
    ]
    assert [found["mood", "night of a run"] for found in verdicts] == ["not shown", "shown"]
