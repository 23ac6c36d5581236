"""Rota files and patterns against outside values.

The file of four events was made for this project; its elapsed hours were computed with icalendar 7.3.2 and
zoneinfo. Start and end of an event without DTEND: RFC 5545, section 3.6.1. Repetitions: the examples of
RFC 5545, section 3.8.5.3, computed with python-dateutil 4.0.0; the two rows with WKST as printed there.
Counts of the eight-day pattern: one computation, by hand over the calendar of 2026.
"""

from collections import Counter
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import Clock, as_stamp
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.rota_plan import pattern_shifts
from tracker.record.rota_files import read_rota, shifts_of

FILE = Path(__file__).parent / "data" / "rota-clock-change.ics"
CLOCK = Clock(zone=ZoneInfo("Europe/London"))
KINDS = {kind.id: kind for kind in DEFAULT_KINDS}


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def test_overnight_shifts_across_a_clock_change() -> None:
    rota = read_rota(FILE.read_text(), FILE, date(2026, 1, 1), date(2026, 12, 31), CLOCK)
    assert rota.warnings == []
    assert [(event.day.isoformat(), event.name, event.hours) for event in rota.events] == [
        ("2026-03-02", LONG_NAME, 12.5),
        ("2026-03-18", LONG_NAME, 12.5),
        ("2026-03-28", "Night, Box 4", 11),
        ("2026-03-30", "Leave", 0),
        ("2026-10-24", "Night (UTC form)", 13),
    ]


LONG_NAME = (
    "Long day with a very long description that has to be folded "
    "because it is longer than seventy-five octets"
)


def test_their_moments_are_kept_in_utc() -> None:
    rota = read_rota(FILE.read_text(), FILE, date(2026, 1, 1), date(2026, 12, 31), CLOCK)
    kinds = {
        LONG_NAME: KINDS["long"],
        "Night, Box 4": KINDS["night"],
        "Night (UTC form)": KINDS["night"],
        "Leave": KINDS["leave"],
    }
    changes = shifts_of(rota.events, kinds, CLOCK).changes
    assert {str(day): (change.value, dict(change.detail)) for day, change in changes.items()} == {
        "2026-03-02": ("long", span("2026-03-02 07:30", "2026-03-02 20:00")),
        "2026-03-18": ("long", span("2026-03-18 07:30", "2026-03-18 20:00")),
        "2026-03-28": ("night", span("2026-03-28 20:30", "2026-03-29 07:30")),
        "2026-03-30": ("leave", {"by": "file"}),
        "2026-10-24": ("night", span("2026-10-24 19:30", "2026-10-25 08:30")),
    }


def span(start: str, end: str) -> dict[str, str]:
    return {"by": "file", "start": as_stamp(moment(start)), "end": as_stamp(moment(end))}


@pytest.mark.parametrize(
    ("rule", "start", "days"),
    [
        (
            "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",
            "19970805",
            ["1997-08-05", "1997-08-10", "1997-08-19", "1997-08-24"],
        ),
        (
            "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU",
            "19970805",
            ["1997-08-05", "1997-08-17", "1997-08-19", "1997-08-31"],
        ),
        ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "19970512", ["1997-05-12", "1998-05-11", "1999-05-17"]),
        (
            "FREQ=MONTHLY;BYMONTHDAY=-3;COUNT=6",
            "19970928",
            ["1997-09-28", "1997-10-29", "1997-11-28", "1997-12-29", "1998-01-29", "1998-02-26"],
        ),
        (
            "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
            "20070115",
            ["2007-01-15", "2007-01-30", "2007-02-15", "2007-03-15", "2007-03-30"],
        ),
        (
            "FREQ=DAILY;INTERVAL=10;COUNT=5",
            "19970902",
            ["1997-09-02", "1997-09-12", "1997-09-22", "1997-10-02", "1997-10-12"],
        ),
    ],
)
def test_repetitions_of_the_standard(rule: str, start: str, days: list[str]) -> None:
    text = (
        "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:a\r\nSUMMARY:Turn\r\n"
        f"DTSTART;TZID=America/New_York:{start}T090000\r\nDURATION:PT8H\r\nRRULE:{rule}\r\n"
        "END:VEVENT\r\nEND:VCALENDAR\r\n"
    )
    first = datetime.strptime(start, "%Y%m%d").replace(tzinfo=UTC).date()
    clock = Clock(zone=ZoneInfo("America/New_York"))
    rota = read_rota(text, "x.ics", first, first + timedelta(days=750), clock)
    assert [event.day.isoformat() for event in rota.events] == days


def test_an_eight_day_pattern_over_a_year() -> None:
    """Two earlies, two lates, two nights, two rest days, from 1 January 2026."""
    shifts = pattern_shifts("E E L L N N off off", date(2026, 1, 1), date(2026, 12, 31), DEFAULT_KINDS, CLOCK)
    assert Counter(change.value for change in shifts.values()) == {
        "early": 92,
        "late": 92,
        "night": 91,
        "off": 90,
    }
    ends = [shifts[day].value for day in (date(2026, 2, 28), date(2026, 3, 1), date(2026, 12, 31))]
    assert ends == ["late", "late", "night"]


def test_over_the_clock_change_a_night_of_a_pattern_is_an_hour_shorter() -> None:
    """Europe/London, 28 March 2026, 20:00 to 08:30: 11.5 hours pass (computed with zoneinfo and GNU date)."""
    (change,) = pattern_shifts("n", date(2026, 3, 28), date(2026, 3, 28), DEFAULT_KINDS, CLOCK).values()
    assert dict(change.detail) == {
        "by": "pattern",
        "start": "2026-03-28T20:00:00.000000Z",
        "end": "2026-03-29T07:30:00.000000Z",
    }
