"""Days as a person types and reads them. Today is Tuesday 17 March 2026."""

from datetime import date

import pytest

from tracker.diary.dates import day_for_text, long_day, month_for_text, month_name, short_day
from tracker.diary.errors import UnknownValue, WrongDay

TODAY = date(2026, 3, 17)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("today", TODAY),
        ("Yesterday", date(2026, 3, 16)),
        ("tomorrow", date(2026, 3, 18)),
        ("tue", TODAY),
        ("mon", date(2026, 3, 16)),
        ("wednesday", date(2026, 3, 11)),
        ("2026-02-28", date(2026, 2, 28)),
        ("28.2.2026", date(2026, 2, 28)),
    ],
)
def test_a_day_is_meant_by_a_word_or_a_date(text: str, day: date) -> None:
    assert day_for_text(text, TODAY) == day


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("2026-02-30", "2026-02-30 is no date of the calendar."),
        ("31.2.2026", "31.2.2026 is no date of the calendar."),
        ("17.3.26", "'17.3.26' needs a year of four digits, like 17.3.2026."),
        ("17.3.", "'17.3.' needs a year of four digits, like 17.3.2026."),
        ("17/3", "'17/3' is no day; give today, yesterday, tomorrow, mon to sun, or a date like 2026-03-17."),
        ("", "'' is no day; give today, yesterday, tomorrow, mon to sun, or a date like 2026-03-17."),
    ],
)
def test_what_is_no_day_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        day_for_text(text, TODAY)
    assert str(refused.value) == sentence


@pytest.mark.parametrize("text", ["0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"])
def test_a_date_that_nobody_can_mean_is_refused(text: str) -> None:
    with pytest.raises(WrongDay) as refused:
        day_for_text(text, TODAY)
    assert str(refused.value) == f"{text} is outside the years 1900 to 2199; look at the date."


def test_a_month_is_written_with_its_year() -> None:
    assert month_for_text("2026-03") == date(2026, 3, 1)
    for wrong in ("2026-13", "March", "2026-3"):
        with pytest.raises(UnknownValue, match="is no month; write it like 2026-03"):
            month_for_text(wrong)


def test_days_are_read_in_words() -> None:
    assert (short_day(TODAY), long_day(TODAY), month_name(TODAY)) == (
        "Tue 17 March",
        "17 March 2026",
        "March 2026",
    )
