"""Answers as a person types them."""

from datetime import UTC, date, datetime

import pytest

from tests.conftest import LONDON
from tracker.diary.answers import entry_in_words, read_hours
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Entry, Field, State
from tracker.diary.errors import UnknownValue


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("6.5", 6.5),
        ("6,5", 6.5),
        ("6:30", 6.5),
        (" 0 ", 0),
        ("7.", 7),
        (".5", 0.5),
        ("5+1.5", 6.5),
        ("4:45 + 1:15", 6),
        ("6h", 6),
        ("6,5 h", 6.5),
        ("5h + 1:30 H", 6.5),
        ("24", 24),
    ],
)
def test_hours_are_a_number_or_a_clock_and_naps_are_added(text: str, hours: float) -> None:
    assert read_hours(text) == hours


@pytest.mark.parametrize(
    "text",
    ["", "six", "-1", "25", "13+12", "6:60", "6:3", "5+", "nan", "inf", "1_0", "1e1", ".", "h", "6 hh"],
)
def test_anything_else_is_no_length_of_sleep(text: str) -> None:
    with pytest.raises(UnknownValue, match="is not a length of sleep"):
        read_hours(text)


@pytest.mark.parametrize(
    ("field", "value", "state", "turned_by", "said"),
    [
        ("mood", "mood5-4", "kept", "", "mood 4 good (typed, remembered)"),
        ("note", "fog at Wenfold", "kept", "", "note: fog at Wenfold (typed, remembered)"),
        ("note", "", "cleared", "", "note cleared (typed, remembered)"),
        (
            "mood",
            "",
            "could not say",
            "undo",
            "mood: could not say (typed, remembered, brought back by undo)",
        ),
        ("note", "", "cleared", "redo", "note cleared (by redo)"),
    ],
)
def test_an_entry_is_told_with_its_local_time_and_where_it_came_from(
    field: Field, value: str, state: State, turned_by: str, said: str
) -> None:
    at = datetime(2026, 6, 9, 21, 30, tzinfo=UTC)
    entry = Entry("1", date(2026, 6, 1), field, value, state, {}, "typed", "remembered", 1, at, 60, "b", None)
    clock = Clock(now=lambda: at, zone=LONDON)
    assert entry_in_words(entry, Choices(), clock, turned_by) == f"2026-06-09 22:30  {said}"
