"""Answers as a person types them."""

import pytest

from tracker.diary.answers import read_hours
from tracker.diary.errors import UnknownValue


@pytest.mark.parametrize(
    ("text", "hours"),
    [("6.5", 6.5), ("6,5", 6.5), ("6:30", 6.5), (" 0 ", 0), ("5+1.5", 6.5), ("4:45 + 1:15", 6), ("24", 24)],
)
def test_hours_are_a_number_or_a_clock_and_naps_are_added(text: str, hours: float) -> None:
    assert read_hours(text) == hours


@pytest.mark.parametrize("text", ["", "six", "-1", "25", "13+12", "6:60", "6:3", "5+", "nan", "inf"])
def test_anything_else_is_no_length_of_sleep(text: str) -> None:
    with pytest.raises(UnknownValue, match="is not a length of sleep"):
        read_hours(text)
