"""One table of bindings: keys, foot, help and the list of commands all follow it."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import ClassVar

import pytest
from textual import events
from textual.actions import parse
from textual.binding import Binding, BindingType
from textual.pilot import Pilot
from textual.screen import Screen

from tests.screens.conftest import Opened
from tests.screens.looking import board, everything, screen_name
from tracker.diary.rota import ShiftKind
from tracker.editing.modes import ONLY_IN
from tracker.editing.state import EditorState
from tracker.record.choice_rows import kind_value
from tracker.record.store import Record
from tracker.screens import bindings
from tracker.screens.app import SCREENS, TrackerApp
from tracker.screens.bindings import action_of, named_keys, sign
from tracker.screens.findings_screen import FindingsScreen
from tracker.screens.help_screen import HelpScreen
from tracker.screens.month_screen import MonthScreen
from tracker.screens.summary_screen import PageScreen
from tracker.screens.trial_screen import TrialScreen
from tracker.screens.year_screen import YearScreen

README = Path(__file__).parents[2] / "README.md"
OTHERWISE = ("edit('to_shifts')",)
"""What another key does pressed twice."""
EVERY_TABLE = {name: table for name, table in vars(bindings).items() if isinstance(table, list)}


class OtherMonth(MonthScreen, inherit_bindings=False):
    """The month with one line of its table changed: j goes to today, t does nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        bindings.key("j", "edit('to_today')", "now", "Go to the day that is going on")
        if row is bindings.TODAY
        else row
        for row in bindings.MONTH
    ]


def state(pilot: Pilot[None]) -> EditorState:
    found: EditorState = pilot.app.editor.state  # type: ignore[attr-defined]
    return found


async def test_key_foot_help_and_commands_follow_one_changed_binding(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.screens.app.MonthScreen", OtherMonth)
    async with opened(begun, "up", size=(200, 60)) as pilot:
        assert ("j now" in board(pilot, "keys")[0], "t today" in board(pilot, "keys")[0]) == (True, False)
        commands = pilot.app.get_system_commands(pilot.app.screen)
        assert [c.help for c in commands if c.title == "Go to the day that is going on"] == ["j"]
        await pilot.press("t")
        assert (state(pilot).cursor, board(pilot, "keys")) == (
            date(2026, 3, 9),
            [" t means nothing here; ? lists keys."],
        )
        await pilot.press("J")
        assert state(pilot).cursor == date(2026, 3, 17)
        await pilot.press("question_mark")
        await pilot.pause()
        assert "j         Go to the day that is going on" in everything(pilot)


@pytest.mark.parametrize(
    "table", [*bindings.TABLES.values(), bindings.HELP_PAGE], ids=[*bindings.TABLES, "in help"]
)
def test_every_binding_has_an_action_a_name_and_a_line_in_the_readme(table: list[BindingType]) -> None:
    keys = Binding.make_bindings(table)
    text = README.read_text()
    for named in named_keys(binding for binding in keys if action_of(binding) not in ONLY_IN):
        assert not named.text or named.name
        assert not named.name or f"`{named.sign}`" in text, named


@pytest.mark.parametrize(
    "screen", [MonthScreen, YearScreen, FindingsScreen, PageScreen, TrialScreen, HelpScreen]
)
def test_every_key_of_a_screen_does_something_there(screen: type[Screen[None]]) -> None:
    for binding in Binding.make_bindings(screen.BINDINGS):
        namespace, action, _ = parse(binding.action)
        assert hasattr(TrackerApp if namespace == "app" else screen, f"action_{action}"), binding


def test_every_screen_that_a_key_opens_is_there() -> None:
    for table in bindings.TABLES.values():
        shown = [b.action for b in Binding.make_bindings(table) if b.action.startswith("show(")]
        assert {action.removeprefix("show('").removesuffix("')") for action in shown} <= {*SCREENS}


@pytest.mark.parametrize("key", ["ö", "Ö"])
async def test_a_shift_may_have_a_letter_of_another_alphabet(begun: Record, opened: Opened, key: str) -> None:
    begun.choose(kind_value(ShiftKind("opening", "ö", "opening")))
    async with opened(begun, "s", key):
        assert begun.day(date(2026, 3, 16)).shift_kind == "opening"


@pytest.mark.parametrize(
    ("key", "digit"), [("ampersand", "1"), ("é", "2"), ("quotation_mark", "3"), ("apostrophe", "4")]
)
async def test_a_french_keyboard_needs_no_shift_for_digits(
    begun: Record, opened: Opened, key: str, digit: str
) -> None:
    async with opened(begun, "tab", key):
        mood = begun.day(date(2026, 3, 16)).mood
    assert getattr(mood, "value", "") == f"mood5-{digit}"


async def test_a_french_keyboard_needs_no_shift_for_hours(begun: Record, opened: Opened) -> None:
    async with opened(begun, "ampersand", "é", "left_parenthesis", "minus") as pilot:
        kept = [begun.day(date(2026, 3, day)) for day in (16, 17)]
        assert [(day.sleep.value, day.mood.value) for day in kept if day.sleep and day.mood] == [
            ("sleep8-7", "mood5-5")
        ]
        assert state(pilot).message == "Kept for Tue 17 March 2026: sleep 6-7 h."


async def test_a_letter_of_the_french_row_may_stand_for_a_shift(begun: Record, opened: Opened) -> None:
    begun.choose(kind_value(ShiftKind("relief", "é", "relief")))
    async with opened(begun, "s", "é"):
        day = begun.day(date(2026, 3, 16))
    assert (day.shift_kind, day.sleep) == ("relief", None)


@pytest.mark.parametrize("table", EVERY_TABLE.values(), ids=EVERY_TABLE)
def test_what_an_f_key_does_another_key_does_too(table: list[BindingType]) -> None:
    keys = [*Binding.make_bindings(table)]
    does = {action: {b.key for b in keys if b.action == action} for action in {b.action for b in keys}}
    only = [action for action, keys in does.items() if all(re.fullmatch(r"f\d+", key) for key in keys)]
    assert only == []


@pytest.mark.parametrize("table", [bindings.MONTH, bindings.YEAR, bindings.FINDINGS, bindings.PAGE])
def test_one_hand_is_enough(table: list[BindingType]) -> None:
    """Everything has a key that needs no other one held, on the keyboards of Britain and America."""
    with_shift = '~!@#$%^&*()_+{}|:"<>?'
    rows = [*Binding.make_bindings(table)]
    alone = {row.action for row in rows if "+" not in row.key and sign(row.key) not in with_shift}
    assert {row.action for row in rows} - alone == {"app.command_palette", *OTHERWISE} & {
        r.action for r in rows
    }


async def test_back_in_the_month_nothing_is_said_that_was_done_in_the_year(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "y", "6") as pilot:
        assert state(pilot).message.startswith("Kept for ")
        await pilot.press("escape")
        assert state(pilot).message == ""


async def test_while_catching_up_the_answers_come_first_in_the_year_too(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "y", "c", "enter") as pilot:
        assert board(pilot, "keys")[0].startswith(
            " Space leave waiting  Esc end  0-9 keep  a anxious  x could not say"
        )


async def test_letters_typed_ahead_land_in_the_note_that_the_first_of_them_opens(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun) as pilot:
        for letter in "nfog":
            pilot.app.post_message(events.Key(letter, letter))
        await pilot.pause(0.3)
        assert screen_name(pilot) == "NoteScreen"
        await pilot.press("enter")
        await pilot.pause()
    assert begun.day(date(2026, 3, 16)).note_text == "fog"


async def test_a_screen_has_its_focus_before_the_next_key_is_answered(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        await pilot.app.run_action("show('note')", pilot.app.screen)
        assert (screen_name(pilot), pilot.app.focused is None) == ("NoteScreen", False)


async def test_digits_typed_ahead_are_kept_in_order(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        for digit in "6475":
            pilot.app.post_message(events.Key(digit, digit))
        await pilot.pause(0.2)
    kept = [begun.day(date(2026, 3, day)) for day in (16, 17)]
    assert [(day.sleep.value, day.mood.value) for day in kept if day.sleep and day.mood] == [
        ("sleep8-5", "mood5-4"),
        ("sleep8-6", "mood5-5"),
    ]


@pytest.mark.parametrize("keys", [["6"], ["6", "a"], ["up", "left", "4"], ["6", "x"]])
async def test_a_key_needs_four_statements(begun: Record, opened: Opened, keys: list[str]) -> None:
    async with opened(begun, *keys[:-1]) as pilot:
        await pilot.pause(0.1)
        seen: list[str] = []
        begun.db.trace(seen.append)
        await pilot.press(keys[-1])
        await pilot.pause()
        begun.db.trace(None)
        assert [" ".join(statement.split()[:3]) for statement in seen] == [
            "begin immediate", "insert into batch", "insert into entry", "commit",
        ]  # fmt: skip


async def test_what_waits_is_counted_on_without_asking_the_record(begun: Record, opened: Opened) -> None:
    async with opened(begun, "up", "6", "tab", "3", "left", "x") as pilot:
        counted = pilot.app.editor.kept.waiting_before()  # type: ignore[attr-defined]
        pilot.app.editor.kept.reload()  # type: ignore[attr-defined]
        assert counted == pilot.app.editor.kept.waiting_before() == 13  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", [(38, 14), (80, 24)])
async def test_what_a_verdict_means_and_help_are_named_at_the_foot_of_the_findings_at_any_size(
    begun: Record, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(begun, "f", size=size) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.pause(0.1)
        assert board(pilot, "keys")[0].startswith(" up down scroll  Enter meaning  ? help")
