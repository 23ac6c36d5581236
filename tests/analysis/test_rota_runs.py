"""Nights in a row, the days after them, quick returns."""

from datetime import date, timedelta

import numpy as np
import pytest

from tracker.analysis.rota_runs import DAYS_SINCE, after_run, days_since_night, place_in_run, return_of

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


SIGNS = {"": ".", DAYS_SINCE[0]: "2", DAYS_SINCE[1]: "3", DAYS_SINCE[2]: "+"}


@pytest.mark.parametrize(
    ("shifts", "expected"),
    [
        ("ooNooooo", "....23++"),  # before the first night nothing, the day after one belongs to the night
        ("NNooNooo", "...2..23"),
        ("No ooNoo", ".......2"),  # a day that is not entered may have been a night
    ],
)
def test_days_are_numbered_from_the_last_night(shifts: str, expected: str) -> None:
    kinds = np.array([sign.strip() for sign in shifts])
    found = days_since_night(kinds, kinds == "N")
    assert "".join(SIGNS[label] for label in found.tolist()) == expected
