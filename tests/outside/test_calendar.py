"""Dates against outside values.

Checked against: week dates and days of the year from GNU date 9.1 (data/iso-weeks.csv); the Gregorian
cycle of 400 years by R 4.2.2 (and, for the thirteenths, Brown, Amer. Math. Monthly 40, 1933, from memory);
rows of month grids by R 4.2.2.
"""

import csv
from collections import Counter
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from tracker.diary.months import days_of_year, length_of_month, week_number, weeks

ISO_WEEKS = Path(__file__).parent / "data" / "iso-weeks.csv"
CYCLE = range(2000, 2400)


def iso_rows() -> list[tuple[date, str, int]]:
    with ISO_WEEKS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return [(date.fromisoformat(row["date"]), row["iso_week_date"], int(row["day_of_year"])) for row in rows]


def test_week_numbers_are_those_of_gnu_date() -> None:
    for day, week_date, _ in iso_rows():
        week = next(week for week in weeks(day.year, day.month) if day in week)
        assert f"W{week_number(week):02}-{week.index(day) + 1}" == week_date[5:]


def test_days_of_the_year_are_those_of_gnu_date() -> None:
    for day, _, number in iso_rows():
        assert days_of_year(day.year)[number - 1] == day


def weeks_in_iso_year(year: int) -> int:
    """The number that the program gives the week of 28 December, always the last one (ISO 8601)."""
    return next(week_number(week) for week in weeks(year, 12) if date(year, 12, 28) in week)


def test_years_with_53_weeks_are_the_listed_ones() -> None:
    """ISO 8601, 1970 to 2060; computed with GNU date 9.1."""
    long_years = [year for year in range(1970, 2061) if weeks_in_iso_year(year) == 53]
    listed = "1970 1976 1981 1987 1992 1998 2004 2009 2015 2020 2026 2032 2037 2043 2048 2054 2060"
    assert long_years == [int(year) for year in listed.split()]


def test_400_years_hold_146_097_days_97_leap_years_and_71_long_ones() -> None:
    assert sum(len(days_of_year(year)) for year in CYCLE) == 146_097 == 7 * 20_871
    assert sum(length_of_month(year, 2) == 29 for year in CYCLE) == 97
    assert sum(weeks_in_iso_year(year) == 53 for year in CYCLE) == 71


def test_leap_years_follow_the_rule_of_1582() -> None:
    leap = [length_of_month(year, 2) == 29 for year in (1900, 2000, 2024, 2100, 2400)]
    assert leap == [False, True, True, False, True]


def test_the_thirteenth_falls_most_often_on_a_friday() -> None:
    """Brown 1933 (from memory): Monday to Sunday, of 4,800."""
    columns = Counter(
        week.index(date(year, month, 13))
        for year in CYCLE
        for month in range(1, 13)
        for week in weeks(year, month)
        if date(year, month, 13) in week
    )
    assert [columns[weekday] for weekday in range(7)] == [685, 685, 687, 684, 688, 684, 687]


# (year, month): rows with Monday first, rows with Sunday first; R 4.2.2
ROWS = {(2021, 2): (4, 5), (2026, 2): (5, 4), (2026, 3): (6, 5), (2026, 8): (6, 6), (2024, 2): (5, 5)}


@pytest.mark.parametrize(("month", "expected"), ROWS.items())
def test_a_month_takes_as_many_rows_as_it_should(month: tuple[int, int], expected: tuple[int, int]) -> None:
    assert (len(weeks(*month, 0)), len(weeks(*month, 6))) == expected


def test_rows_of_all_months_of_400_years_come_to_the_published_counts() -> None:
    """R 4.2.2, 2000 to 2399: 4, 5 and 6 rows."""
    for first_weekday, expected in ((0, [43, 3727, 1030]), (6, [44, 3729, 1027])):
        counted = Counter(len(weeks(year, month, first_weekday)) for year in CYCLE for month in range(1, 13))
        assert [counted[rows] for rows in (4, 5, 6)] == expected


def test_the_days_of_a_year_follow_one_another() -> None:
    days = days_of_year(2024)
    assert [days[0], days[-1]] == [date(2024, 1, 1), date(2024, 12, 31)]
    assert all(after - before == timedelta(days=1) for before, after in pairwise(days))
