"""A pattern of shifts laid down in the app. It is Tuesday 17 March 2026."""

from __future__ import annotations

from datetime import date, time

import pytest
from click.testing import CliRunner

from tests.screens.conftest import Opened
from tests.screens.looking import everything
from tracker.commands.command_line import tracker
from tracker.diary.clock import from_stamp
from tracker.diary.days import Change
from tracker.record.choice_rows import kind_value
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
WEEK = [*"l n - o", "down", "down", *"23 march 2026"]
"""Four shifts over the seven days from today on."""


@pytest.fixture
def with_shifts(begun: Record) -> Record:
    """The record with a rota of a file, leave in it, and a shift set by hand."""
    by_file = {18: "late", 20: "leave"}
    begun.keep(
        [Change(date(2026, 3, day), "shift", kind, detail={"by": "file"}) for day, kind in by_file.items()]
    )
    begun.keep([Change(date(2026, 3, 19), "shift", "early")])
    return begun


def shifts(record: Record) -> dict[int, str]:
    return {day.day: what.shift_kind for day, what in record.days().items() if what.shift}


async def test_from_the_shifts_it_says_first_what_would_change_and_over_which_shifts(
    with_shifts: Record, opened: Opened
) -> None:
    before = shifts(with_shifts)
    async with opened(with_shifts, "t", "tab", "tab", "f4", *WEEK, "enter") as pilot:
        told = everything(pilot)
        assert "Enter once more keeps these shifts." in told
        assert (
            "4 new, 1 changed, 0 as they stand, 1 set by hand that stays, 1 of leave that stay; "
            "2026-03-17 to 2026-03-23." in " ".join(told.split())
        )
        assert "  late 2, night 2, off 1" in told
        assert "2026-03-18: late becomes night" in told
        assert "2026-03-19: early stays; the rota has off" in told
        assert "2026-03-20: leave stays; the rota has off" in told
    assert shifts(with_shifts) == before


async def test_enter_once_more_keeps_it_as_one_action_with_undo(with_shifts: Record, opened: Opened) -> None:
    before = shifts(with_shifts)
    async with opened(with_shifts, "t", "f4", *WEEK, "enter", "enter") as pilot:
        assert "Kept 5 shifts. u takes them back." in everything(pilot)
        laid = {17: "late", 18: "night", 19: "early", 20: "leave", 21: "late", 22: "night", 23: "off"}
        assert shifts(with_shifts) == laid
        await pilot.press("u")
        await pilot.pause()
        assert "Taken back: rota of l n - o, Tue 17 March to Mon 23 March." in everything(pilot)
    assert shifts(with_shifts) == before


async def test_what_is_kept_is_what_the_command_keeps(
    with_shifts: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(with_shifts, "t", "f4", *WEEK, "enter", "enter"):
        laid = {day: what.shift for day, what in with_shifts.days().items()}
        with_shifts.undo()
    monkeypatch.setattr(
        "tracker.diary.clock.Clock.__new__.__defaults__", (with_shifts.clock.now, with_shifts.clock.zone)
    )
    line = ["--record", str(with_shifts.path), "rota", "--pattern", "l n - o", "--from", "today"]
    CliRunner().invoke(tracker, [*line, "--to", "23 march 2026", "--days-off"], catch_exceptions=False)
    with_shifts.changed_elsewhere()
    by_command = {day: what.shift for day, what in with_shifts.days().items()}
    assert {day: shift and shift[:4] for day, shift in by_command.items()} == {
        day: shift and shift[:4] for day, shift in laid.items()
    }


async def test_over_leave_only_where_she_says_so(with_shifts: Record, opened: Opened) -> None:
    over = ["down", "down", "right"]
    async with opened(with_shifts, "t", "f4", *WEEK, *over, "enter") as pilot:
        assert "2026-03-20: leave becomes off" in everything(pilot)
        await pilot.press("enter")
    assert (shifts(with_shifts)[20], shifts(with_shifts)[19]) == ("off", "early")


async def test_days_without_a_shift_stay_blank_where_she_says_so(begun: Record, opened: Opened) -> None:
    async with opened(begun, "t", "f4", *WEEK, "down", "right", "enter", "enter"):
        assert shifts(begun) == {17: "late", 18: "night", 20: "off", 21: "late", 22: "night"}


async def test_another_answer_must_be_told_again_before_it_is_kept(begun: Record, opened: Opened) -> None:
    async with opened(begun, "t", "f4", *WEEK, "enter", "up", "up", *" n", "enter") as pilot:
        assert "Enter once more keeps these shifts." in everything(pilot)
        assert shifts(begun) == {}


async def test_shifts_that_came_in_elsewhere_meanwhile_are_told_first(begun: Record, opened: Opened) -> None:
    async with opened(begun, "t", "f4", *WEEK, "enter") as pilot:
        with Record.open(begun.path, begun.clock) as other:
            other.keep([Change(TODAY, "shift", "early")])
        await pilot.press("enter")
        await pilot.pause()
        assert "2026-03-17: early stays; the rota has late" in everything(pilot)
        assert shifts(begun) == {17: "early"}


async def test_hours_that_were_changed_elsewhere_meanwhile_are_those_that_are_laid(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "t", "f4", *WEEK, "enter") as pilot:
        with Record.open(begun.path, begun.clock) as other:
            late = other.choices().kinds_by_id["late"]
            other.choose(kind_value(late._replace(start=time(14))))
        await pilot.press("enter")
        assert shifts(begun) == {}
        await pilot.press("enter")
    shift = begun.day(TODAY).shift
    assert shift is not None
    assert begun.clock.local(from_stamp(shift.detail["start"])).time() == time(14)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (["enter"], "The pattern has no shift in it."),
        ([*"l z", "enter"], "'z' is no kind of shift"),
        ([*"lln", "enter"], "put a space between the shifts: l l n."),
        ([*"l", "down", "ctrl+u", "enter"], "Say from which day on the pattern holds."),
        ([*"l", "down", "down", *"soon", "enter"], "'soon' is no day"),
        ([*"l", "down", "down", *"2030-01-01", "enter"], "is over three years ahead"),
        (["down", "ctrl+u"], "A date without a year is the next one"),
        (
            [*"l", "down", "down", *"2026-03-01", "enter"],
            "There is no day from 17 March 2026 to 1 March 2026.",
        ),
    ],
)
async def test_what_cannot_be_is_said_and_nothing_is_kept(
    begun: Record, opened: Opened, keys: list[str], said: str
) -> None:
    async with opened(begun, "t", "f4", *keys) as pilot:
        assert said in " ".join(everything(pilot).split())
        await pilot.press("enter")
    assert shifts(begun) == {}


async def test_what_stands_so_already_keeps_nothing(begun: Record, opened: Opened) -> None:
    async with opened(begun, "t", "f4", *WEEK, "enter", "enter", "f4", *WEEK, "enter") as pilot:
        assert "There is nothing to change." in everything(pilot)


async def test_it_stands_among_the_commands_by_name(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        commands = {c.title: c.help for c in pilot.app.get_system_commands(pilot.app.screen)}
    assert commands["Lay down a rota: a pattern of shifts that repeats"] == "d"
