"""Rota files: what is taken, passed over and warned of."""

from __future__ import annotations

from datetime import date
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import Clock
from tracker.diary.errors import BrokenFile
from tracker.diary.rota import DEFAULT_KINDS
from tracker.record.rota_files import Event, RotaFile, read_rota, shifts_of

CLOCK = Clock(zone=ZoneInfo("Europe/London"))
KINDS = {kind.label: kind for kind in DEFAULT_KINDS}
FIRST, LAST = date(2026, 3, 1), date(2026, 3, 31)


def calendar(*events: str) -> str:
    body = "".join(f"BEGIN:VEVENT\n{event}\nEND:VEVENT\n" for event in events)
    return f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//Harrowmere//Rota//EN\n{body}END:VCALENDAR\n"


def read(*events: str) -> RotaFile:
    return read_rota(calendar(*events), "rota.ics", FIRST, LAST, CLOCK)


def days(rota: RotaFile) -> list[str]:
    return [f"{event.day} {event.name}" for event in rota.events]


def test_times_without_a_zone_are_hers() -> None:
    (event,) = read("UID:a\nSUMMARY:early\nDTSTART:20260330T070000\nDTEND:20260330T150000").events
    assert event.start is not None
    assert event.start.isoformat() == "2026-03-30T06:00:00+00:00"
    assert event.hours == 8


def test_a_shift_belongs_to_the_date_on_which_it_starts_where_she_is() -> None:
    rota = read("UID:a\nSUMMARY:night\nDTSTART:20260330T233000Z\nDTEND:20260331T070000Z")
    assert days(rota) == ["2026-03-31 night"]


def test_an_event_of_whole_days_is_one_shift_a_day() -> None:
    rota = read("UID:a\nSUMMARY:leave\nDTSTART;VALUE=DATE:20260302\nDTEND;VALUE=DATE:20260305")
    assert days(rota) == ["2026-03-02 leave", "2026-03-03 leave", "2026-03-04 leave"]


@pytest.mark.parametrize(
    ("event", "reason"),
    [
        (
            "DTSTART:20260302T070000\nDTEND:20260302T150000\nRRULE:FREQ=SECONDLY",
            "it repeats within the hour",
        ),
        (
            "DTSTART:20260302T070000\nDTEND:20260302T150000\nRRULE:FREQ=MINUTELY",
            "it repeats within the hour",
        ),
        ("DTSTART:99991231T230000\nDURATION:PT12H", "date value out of range"),
        (
            "DTSTART;VALUE=DATE:20260302\nDTEND;VALUE=DATE:99991231",
            "9999-12-31 is outside the years 1900 to 2199; look at the date",
        ),
    ],
)
def test_an_event_that_no_rota_holds_spoils_none_of_the_others(event: str, reason: str) -> None:
    rota = read(f"UID:odd\nSUMMARY:late\n{event}", "UID:a\nSUMMARY:leave\nDTSTART;VALUE=DATE:20260303")
    assert days(rota) == ["2026-03-03 leave"]
    assert rota.warnings == [f"The event odd is passed over: {reason}."]


def test_cancelled_events_are_dropped() -> None:
    rota = read("UID:a\nSUMMARY:early\nSTATUS:CANCELLED\nDTSTART:20260302T070000\nDTEND:20260302T150000")
    assert (rota.events, rota.warnings) == ([], [])


def test_a_moved_instance_stands_on_its_new_date() -> None:
    rota = read(
        "UID:a\nSUMMARY:late\nDTSTART:20260302T130000\nDTEND:20260302T213000\nRRULE:FREQ=DAILY;COUNT=3",
        "UID:a\nSUMMARY:late\nRECURRENCE-ID:20260303T130000\nDTSTART:20260310T130000\nDTEND:20260310T213000",
    )
    assert days(rota) == ["2026-03-02 late", "2026-03-04 late", "2026-03-10 late"]


def test_a_rule_without_end_stays_within_the_days_asked_for() -> None:
    rota = read("UID:a\nSUMMARY:early\nDTSTART:20260101T070000\nDURATION:PT8H\nRRULE:FREQ=DAILY")
    assert len(rota.events) == 31
    assert (rota.events[0].day, rota.events[-1].day) == (FIRST, LAST)


def test_an_unknown_time_zone_is_warned_of_once_and_taken_as_hers() -> None:
    rota = read(
        "UID:a\nSUMMARY:early\nDTSTART;TZID=Harrowmere/Box:20260302T070000\nDTEND;TZID=Harrowmere/Box:20260302T150000",
        "UID:b\nSUMMARY:early\nDTSTART;TZID=Harrowmere/Box:20260303T070000\nDTEND;TZID=Harrowmere/Box:20260303T150000",
    )
    assert rota.warnings == ["The time zone Harrowmere/Box is not known; its times are taken as yours."]
    assert [event.hours for event in rota.events] == [8, 8]


@pytest.mark.parametrize(
    ("event", "reason"),
    [
        ("UID:a\nDTSTART:2026\nSUMMARY:x", "its DTSTART cannot be read"),
        ("UID:a\nSUMMARY:x", "No DTSTART given"),
        ("UID:a\nSUMMARY:x\nDTSTART:20260302T070000\nDTEND:20260302T060000", "it ends before it starts"),
        ("UID:a\nSUMMARY:x\nDTSTART:20260302T070000\nRRULE:FREQ=SOMETIMES", "its RRULE cannot be read"),
    ],
)
def test_an_event_that_cannot_be_read_is_passed_over_with_its_name(event: str, reason: str) -> None:
    good = "UID:b\nSUMMARY:early\nDTSTART:20260305T070000\nDTEND:20260305T150000"
    rota = read(event, good)
    assert days(rota) == ["2026-03-05 early"]
    assert rota.warnings == [f"The event a is passed over: {reason}."]


@pytest.mark.parametrize("text", ["hello", "", "BEGIN:VCARD\nEND:VCARD\n", "BEGIN:VCALENDAR\nBEGIN:VEVENT\n"])
def test_what_is_no_calendar_is_refused(text: str) -> None:
    with pytest.raises(BrokenFile, match=r"no (whole )?calendar"):
        read_rota(text, "rota.ics", FIRST, LAST, CLOCK)


def test_a_calendar_without_events_has_no_shifts() -> None:
    assert read().events == []


def test_names_are_counted_the_commonest_first() -> None:
    rota = RotaFile([Event("b", FIRST), Event("a", FIRST), Event("a", LAST)])
    assert rota.names() == {"a": 2, "b": 1}


class TestShifts:
    def test_of_two_on_a_date_the_longer_stands_and_it_is_said(self) -> None:
        rota = read(
            "UID:a\nSUMMARY:early\nDTSTART:20260302T070000\nDTEND:20260302T110000",
            "UID:b\nSUMMARY:long day\nDTSTART:20260302T120000\nDTEND:20260302T220000",
            "UID:c\nSUMMARY:off\nDTSTART;VALUE=DATE:20260302",
        )
        shifts = shifts_of(
            rota.events, {"early": KINDS["early"], "long day": KINDS["long day"], "off": KINDS["off"]}, CLOCK
        )
        assert [change.value for change in shifts.changes.values()] == ["long"]
        assert shifts.doubles == [
            "Two shifts on 2026-03-02: early (4 h) stands, off does not.",
            "Two shifts on 2026-03-02: long day (10 h) stands, early (4 h) does not.",
        ]

    def test_events_of_no_kind_are_left_out(self) -> None:
        rota = read("UID:a\nSUMMARY:Choir\nDTSTART:20260302T190000\nDTEND:20260302T210000")
        assert shifts_of(rota.events, {"Choir": None}, CLOCK).changes == {}

    def test_a_whole_day_of_work_takes_the_usual_hours_of_its_kind(self) -> None:
        rota = read("UID:a\nSUMMARY:night\nDTSTART;VALUE=DATE:20260302")
        (change,) = shifts_of(rota.events, {"night": KINDS["night"]}, CLOCK).changes.values()
        assert dict(change.detail) == {
            "by": "file",
            "start": "2026-03-02T20:00:00.000000Z",
            "end": "2026-03-03T08:30:00.000000Z",
        }
