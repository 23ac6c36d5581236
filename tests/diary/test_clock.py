"""Which day a moment belongs to, and how many hours lie between two."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import Clock, as_stamp, from_stamp, hours_between


def clock_at(text: str, zone: str = "Europe/London") -> Clock:
    local = datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))
    return Clock(now=lambda: local.astimezone(UTC), zone=ZoneInfo(zone))


@pytest.mark.parametrize(
    ("moment", "day"),
    [
        ("2026-03-17 02:30", date(2026, 3, 16)),
        ("2026-03-17 03:59", date(2026, 3, 16)),
        ("2026-03-17 04:00", date(2026, 3, 17)),
        ("2026-03-17 23:59", date(2026, 3, 17)),
    ],
)
def test_a_day_begins_at_four_in_the_morning(moment: str, day: date) -> None:
    assert clock_at(moment).today() == day


def test_the_hour_at_which_a_day_begins_can_be_noon_or_midnight() -> None:
    morning = clock_at("2026-03-17 11:00")
    assert morning.today(change_hour=12) == date(2026, 3, 16)
    assert clock_at("2026-03-17 00:00").today(change_hour=0) == date(2026, 3, 17)


@pytest.mark.parametrize(
    ("moment", "last"),
    [
        ("2026-03-17 00:59", date(2026, 3, 16)),
        ("2026-03-17 01:00", date(2026, 3, 17)),
        ("2026-03-17 21:00", date(2026, 3, 17)),
    ],
)
def test_the_coming_day_may_be_begun_three_hours_early(moment: str, last: date) -> None:
    assert clock_at(moment).last_open_day() == last


def test_the_offset_of_an_entry_is_that_of_her_wall_clock() -> None:
    winter, summer = clock_at("2026-01-10 12:00"), clock_at("2026-07-10 12:00")
    assert (winter.offset_minutes(winter.now()), summer.offset_minutes(summer.now())) == (0, 60)


def test_without_a_zone_the_clock_of_the_computer_is_followed() -> None:
    there = Clock().moment(date(2026, 3, 17), time(9))
    assert there.tzinfo is UTC
    assert there.astimezone().hour == 9


def test_stamps_sort_in_the_order_of_time_and_come_back() -> None:
    moments = [datetime(2026, 3, 17, 1, 2, 3, micro, tzinfo=UTC) for micro in (0, 5, 400000)]
    assert sorted(map(as_stamp, moments)) == [as_stamp(moment) for moment in moments]
    assert [from_stamp(as_stamp(moment)) for moment in moments] == moments


def test_a_stamp_is_written_in_utc_whatever_the_zone() -> None:
    moment = datetime(2026, 7, 17, 9, tzinfo=ZoneInfo("Europe/London"))
    assert as_stamp(moment) == "2026-07-17T08:00:00.000000Z"


def test_hours_of_one_zone_are_counted_in_utc_not_on_the_wall() -> None:
    london = ZoneInfo("Europe/London")
    start = datetime(2026, 3, 28, 23, tzinfo=london)
    end = datetime(2026, 3, 29, 7, tzinfo=london)
    assert end - start == timedelta(hours=8)
    assert hours_between(start, end) == 7


@pytest.mark.parametrize("text", ["2026-03-17T01:02:03.000000", "yesterday", "2026-13-01T00:00:00.000000Z"])
def test_what_names_no_moment_in_utc_is_no_stamp(text: str) -> None:
    with pytest.raises(ValueError, match=r"moment|isoformat|month"):
        from_stamp(text)
