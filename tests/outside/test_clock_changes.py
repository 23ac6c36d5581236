"""Clock changes against the calendar of the time zones.

Days of 23 and 25 hours: computed with GNU date 9.1 and equal in Python's zoneinfo. Sleeps over the change:
worked by hand. The date that never was: Samoa crossed the date line and had no 30 December 2011
(tz database, file australasia).
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import DAY_CHANGE_HOUR, Clock, hours_between
from tracker.diary.days import Day, Square
from tracker.diary.waiting import SquareKey, Waiting

UNEQUAL_DAYS_OF_2026 = {
    "Europe/London": {date(2026, 3, 29): 23, date(2026, 10, 25): 25},
    "America/New_York": {date(2026, 3, 8): 23, date(2026, 11, 1): 25},
    "Australia/Lord_Howe": {date(2026, 4, 5): 24.5, date(2026, 10, 4): 23.5},
    "Asia/Kolkata": {},
}


def length_of(day: date, clock: Clock, change_hour: int = DAY_CHANGE_HOUR) -> float:
    """Hours from the beginning of a day to that of the next."""
    begin, end = (clock.moment(day + timedelta(n), time(change_hour)) for n in (0, 1))
    return hours_between(begin, end)


@pytest.mark.parametrize("zone", UNEQUAL_DAYS_OF_2026)
def test_only_the_days_of_the_change_are_not_24_hours_long(zone: str) -> None:
    clock = Clock(zone=ZoneInfo(zone))
    lengths = {day: length_of(day, clock, 0) for day in (date(2026, 1, 1) + timedelta(n) for n in range(365))}
    assert {day: hours for day, hours in lengths.items() if hours != 24} == UNEQUAL_DAYS_OF_2026[zone]


def test_counted_from_four_in_the_morning_it_is_the_saturday_that_is_short_or_long() -> None:
    clock = Clock(zone=ZoneInfo("Europe/London"))
    assert length_of(date(2025, 3, 29), clock) == 23
    assert length_of(date(2025, 10, 25), clock) == 25
    new_york = Clock(zone=ZoneInfo("America/New_York"))
    assert length_of(date(2025, 3, 8), new_york) == 23
    assert length_of(date(2025, 11, 1), new_york) == 25


@pytest.mark.parametrize(
    ("start", "end", "hours"),
    [
        ("2026-03-28 23:00", "2026-03-29 07:00", 7),
        ("2026-10-24 23:00", "2026-10-25 07:00", 9),
        ("2026-03-28 20:00", "2026-03-29 08:30", 11.5),
        ("2026-10-24 20:00", "2026-10-25 08:30", 13.5),
    ],
)
def test_hours_over_a_clock_change_are_those_that_passed(start: str, end: str, hours: float) -> None:
    london = ZoneInfo("Europe/London")
    moments = [datetime.fromisoformat(text).replace(tzinfo=london) for text in (start, end)]
    assert hours_between(*moments) == hours


@pytest.mark.parametrize("zone", ["America/Havana", "Asia/Beirut"])
def test_a_midnight_that_does_not_exist_leaves_every_day_its_place(zone: str) -> None:
    clock = Clock(zone=ZoneInfo(zone))
    moments = [clock.moment(date(2026, 1, 1) + timedelta(n), time(0)) for n in range(366)]
    assert moments == sorted(set(moments))
    assert all(
        clock.day_of(moment + timedelta(hours=12), 0) == date(2026, 1, 1) + timedelta(n)
        for n, moment in enumerate(moments)
    )


def test_a_date_that_never_was_has_a_square_that_waits() -> None:
    apia = Clock(zone=ZoneInfo("Pacific/Apia"))
    never = date(2011, 12, 30)
    assert length_of(never, apia, 0) == 0
    kept = {day: Day(day, mood=Square("mood5-3")) for day in (date(2011, 12, 29), date(2011, 12, 31))}
    waiting = Waiting(kept, date(2011, 12, 29), date(2011, 12, 31))
    assert waiting.waits(SquareKey(never, "mood"))


def test_the_hour_that_comes_twice_is_two_moments() -> None:
    """Europe/London 01:30 on 25 October 2026 is 00:30Z and 01:30Z."""
    london = ZoneInfo("Europe/London")
    first = datetime(2026, 10, 25, 1, 30, tzinfo=london)
    assert first.astimezone(UTC).hour == 0
    assert first.replace(fold=1).astimezone(UTC).hour == 1
    assert hours_between(first, first.replace(fold=1)) == 1
