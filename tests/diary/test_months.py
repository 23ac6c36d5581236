"""Every date stands in its place, in the month and in the year."""

import calendar
from datetime import date, timedelta

import pytest

from tracker.diary.months import (
    column,
    each_day,
    last_of_month,
    month_after,
    same_day,
    week_number,
    weekday_names,
    weeks,
)

FIRST, LAST = date(1900, 1, 1), date(2199, 12, 31)
DATES = [FIRST + timedelta(days=at) for at in range((LAST - FIRST).days + 1)]


@pytest.mark.parametrize("first_weekday", range(7))
def test_every_date_from_1900_to_2199_stands_where_it_is_said_to(first_weekday: int) -> None:
    placed: dict[date, tuple[int, int]] = {}
    for at in range(1900 * 12, 2200 * 12):
        for down, week in enumerate(weeks(at // 12, at % 12 + 1, first_weekday)):
            placed |= {day: (across, down) for across, day in enumerate(week) if day}
    assert list(placed) == DATES
    for day, place in placed.items():
        across = column(day, first_weekday)
        begins = column(day.replace(day=1), first_weekday)
        assert place == (across, (day.day - 1 + begins - across) // 7)


@pytest.mark.parametrize("first_weekday", range(7))
def test_a_month_has_the_weeks_of_the_standard_calendar(first_weekday: int) -> None:
    standard = calendar.Calendar(first_weekday)
    for at in range(1999 * 12, 2029 * 12):
        year, month = at // 12, at % 12 + 1
        expected = [[day or None for day in week] for week in standard.monthdayscalendar(year, month)]
        assert [[day and day.day for day in week] for week in weeks(year, month, first_weekday)] == expected


def test_columns_are_named_from_the_first_weekday_on() -> None:
    assert weekday_names(0) == ["Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"]
    assert weekday_names(6) == ["Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"]


def test_weeks_that_begin_on_monday_carry_the_number_of_each_of_their_days() -> None:
    for at in range(1990 * 12, 2040 * 12):
        for week in weeks(at // 12, at % 12 + 1):
            assert {day.isocalendar().week for day in week if day} == {week_number(week)}


def test_weeks_that_begin_on_sunday_carry_the_number_of_their_thursday() -> None:
    assert [week_number(week) for week in weeks(2027, 1, first_weekday=6)] == [53, 1, 2, 3, 4, 5]


def test_months_are_counted_over_the_turn_of_the_year() -> None:
    assert [month_after(2026, 11, months) for months in (1, 2, -11, 14)] == [
        (2026, 12),
        (2027, 1),
        (2025, 12),
        (2028, 1),
    ]


def test_the_same_day_of_a_shorter_month_is_its_last() -> None:
    assert same_day(date(2026, 1, 31), 1) == date(2026, 2, 28)
    assert same_day(date(2024, 3, 31), -1) == date(2024, 2, 29)
    assert same_day(date(2026, 12, 15), 1) == date(2027, 1, 15)


def test_days_follow_one_another_from_the_first_to_the_last() -> None:
    assert list(each_day(FIRST, LAST)) == DATES
    assert list(each_day(date(2026, 3, 2), date(2026, 3, 1))) == []


def test_a_month_ends_where_the_standard_calendar_ends_it() -> None:
    for at in range(1999 * 12, 2029 * 12):
        year, month = at // 12, at % 12 + 1
        assert last_of_month(date(year, month, 1)).day == calendar.monthrange(year, month)[1]
