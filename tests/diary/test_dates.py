"""Days as a person types and reads them. Today is Saturday 28 November 2026."""

import subprocess
import sys
import warnings
from contextlib import suppress
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.diary.dates import long_day, month_name, read_day, read_month, short_day
from tracker.diary.errors import TrackerError, UnknownValue, WrongDay

TODAY = date(2026, 11, 28)
YESTERDAY = date(2026, 11, 27)
EVERY_DAY = st.dates(date(1900, 1, 1), date(2199, 12, 31))

READ = {
    "today": TODAY,
    "Yesterday": YESTERDAY,
    "tomorrow": date(2026, 11, 29),
    "fri": YESTERDAY,
    "sat": TODAY,
    "wednesday": date(2026, 11, 25),
    "last friday": YESTERDAY,
    "last saturday": date(2026, 11, 21),
    "3 days ago": date(2026, 11, 25),
    "1 day ago": YESTERDAY,
    "2 weeks ago": date(2026, 11, 14),
    "-3": date(2026, 11, 25),
    "Fri 27 November": YESTERDAY,
    "Fri, 27 Nov 2026": YESTERDAY,
    "27 nov": YESTERDAY,
    "Nov 27": YESTERDAY,
    "November 27, 2026": YESTERDAY,
    "27th of November": YESTERDAY,
    "27-Nov-2026": YESTERDAY,
    "20261127": YESTERDAY,
    "2026-11-27": YESTERDAY,
    "27.11.2026": YESTERDAY,
    "27/11/2026": YESTERDAY,
    "11/27/2026": YESTERDAY,
    "2026-12-3": date(2026, 12, 3),
    "3.12.2026": date(2026, 12, 3),
    "3/3/2026": date(2026, 3, 3),
    "28 november": TODAY,
    "3 dec": date(2025, 12, 3),
    "29 feb": date(2024, 2, 29),
}


@pytest.mark.parametrize("text", READ)
def test_a_day_is_read_as_people_write_it(text: str) -> None:
    assert read_day(text, TODAY) == READ[text]


AHEAD = {
    "fri": date(2026, 12, 4),
    "sat": TODAY,
    "last friday": YESTERDAY,
    "3 dec": date(2026, 12, 3),
    "28 nov": TODAY,
    "27 nov": date(2027, 11, 27),
    "29 feb": date(2028, 2, 29),
    "27 nov 2026": YESTERDAY,
}


@pytest.mark.parametrize("text", AHEAD)
def test_looking_ahead_a_day_without_its_year_is_the_next_one(text: str) -> None:
    assert read_day(text, TODAY, ahead=True) == AHEAD[text]


LIKE = "give today, yesterday, mon to sun, 3 days ago, 17 March 2026 or 2026-03-17."
REFUSED = {
    "3/12/2026": "'3/12/2026' can be read two ways, as 3 December 2026 or 12 March 2026; "
    "write the month as a word.",
    "3-12-2026": "'3-12-2026' can be read two ways, as 3 December 2026 or 12 March 2026; "
    "write the month as a word.",
    "Thu 27 November": "'Thu 27 November' contradicts itself: 27 November 2026 is a Friday; "
    "leave the weekday out, or give the year.",
    "Thu 27 November 2026": "'Thu 27 November 2026' contradicts itself: 27 November 2026 is a Friday; "
    "leave the weekday out, or give the year.",
    "27 nov 26": "'27 nov 26' needs a year of four digits, like 27 November 2026.",
    "17.3.26": "'17.3.26' needs a year of four digits, like 17.3.2026.",
    "3.12.": "'3.12.' needs a year of four digits, like 17.3.2026.",
    "17/3": "'17/3' needs a year of four digits, like 17.3.2026.",
    "2026-02-30": "2026-02-30 is no date of the calendar.",
    "31.2.2026": "31.2.2026 is no date of the calendar.",
    "31/31/2026": "31/31/2026 is no date of the calendar.",
} | {
    text: f"'{text}' is no day; {LIKE}"
    for text in (
        "", "10", "dec", "nov 2026", "2026", "noon", "12:30", "27 nov 12:30", "27 hours", "27 est",
        "31 november", "29 feb 2027", "next friday", "sat 28 nov sun", "1 mai",
    )
}  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_day_or_more_than_one_is_refused_with_how_to_write_it(text: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        read_day(text, TODAY)
    assert str(refused.value) == REFUSED[text]


@pytest.mark.parametrize("text", ["0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"])
def test_a_date_that_nobody_can_mean_is_refused(text: str) -> None:
    with pytest.raises(WrongDay) as refused:
        read_day(text, TODAY)
    assert str(refused.value) == f"{text} is outside the years 1900 to 2199; look at the date."


@given(EVERY_DAY)
def test_every_form_that_is_printed_is_read_back(day: date) -> None:
    for printed in (day.isoformat(), long_day(day), f"{short_day(day)} {day.year}"):
        assert read_day(printed, TODAY) == day


@given(EVERY_DAY, st.integers(0, 364))
def test_a_day_printed_without_its_year_is_read_back_for_a_year(today: date, days: int) -> None:
    day = today - timedelta(days=days)
    if day >= date(1900, 1, 1):
        assert read_day(short_day(day), today) == day


@given(st.one_of(st.text(), st.text("0123456789 -./:,janfebmrpyulgsoctvdth", max_size=20)))
def test_any_other_text_is_refused_with_a_sentence_and_nothing_else(text: str) -> None:
    with warnings.catch_warnings(), suppress(TrackerError):
        warnings.simplefilter("error")
        read_day(text, TODAY)


def test_a_month_is_written_in_figures_or_by_its_name() -> None:
    for text in ("2026-03", "2026-3", "March 2026", "mar 2026", " march "):
        assert read_month(text, TODAY) == date(2026, 3, 1)
    assert read_month("december", TODAY) == date(2025, 12, 1)
    for wrong in ("2026-13", "2026", "fri", "today", "3 march"):
        with pytest.raises(UnknownValue) as refused:
            read_month(wrong, TODAY)
        assert str(refused.value) == f"'{wrong}' is no month; write it like March 2026 or 2026-03."


def test_days_are_read_in_words() -> None:
    assert (short_day(TODAY), long_day(TODAY), month_name(TODAY)) == (
        "Sat 28 November",
        "28 November 2026",
        "November 2026",
    )


def test_a_day_in_figures_is_read_without_loading_a_parser() -> None:
    code = (
        "import sys; from datetime import date; from tracker.diary.dates import read_day\n"
        "for text in ('today', 'mon', '2026-11-27', '3 days ago'): read_day(text, date(2026, 11, 28))\n"
        "print('dateutil' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
