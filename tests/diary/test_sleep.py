"""A sleep belongs to the day for which she got up from it. The week of 16 to 20 March 2026 is Mon to Fri."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import Clock
from tracker.diary.sleep import Span, hours_by_day

LONDON = ZoneInfo("Europe/London")
MON, TUE, WED, THU, FRI = (date(2026, 3, day) for day in range(16, 21))


def span(start: str, end: str) -> Span:
    """`17 15:00`: a day of March 2026 and a time."""
    asleep, awake = (
        datetime.strptime(f"2026-03-{text}", "%Y-%m-%d %H:%M").replace(tzinfo=LONDON) for text in (start, end)
    )
    return asleep, awake


CASES = {
    "a plain night": ([span("16 23:00", "17 07:00")], {TUE: 8}),
    "a nap, a night shift, a sleep after it": (
        [span("16 23:00", "17 07:00"), span("17 15:00", "17 17:00"), span("18 09:30", "18 15:00")],
        {TUE: 8, WED: 7.5},
    ),
    "two pieces between nights": (
        [
            span("17 09:30", "17 15:00"),
            span("18 09:00", "18 12:30"),
            span("18 17:00", "18 19:00"),
            span("19 10:00", "19 14:00"),
        ],
        {TUE: 5.5, WED: 3.5, THU: 6},
    ),
    "the last night, and the night after": (
        [span("19 10:00", "19 13:00"), span("19 22:30", "20 07:30")],
        {THU: 3, FRI: 9},
    ),
    "awake from Tuesday to Wednesday": (
        [span("16 23:00", "17 07:00"), span("18 10:00", "18 16:00")],
        {TUE: 8, WED: 6},
    ),
    "on call, slept in two pieces": ([span("17 02:00", "17 03:00"), span("17 05:00", "17 07:00")], {TUE: 3}),
}


@pytest.mark.parametrize("case", CASES)
def test_a_rota_week_gives_each_day_its_sleep(case: str) -> None:
    spans, hours = CASES[case]
    assert hours_by_day(spans, Clock(zone=LONDON), change_hour=0) == hours


def test_each_sleep_counts_once_in_whatever_order_it_comes() -> None:
    spans = CASES["two pieces between nights"][0]
    turned = hours_by_day(reversed(spans), Clock(zone=LONDON), change_hour=0)
    assert turned == hours_by_day(spans, Clock(zone=LONDON), change_hour=0)
    assert sum(turned.values()) == 15


def test_no_sleep_gives_no_day() -> None:
    assert hours_by_day([], Clock(zone=LONDON)) == {}
