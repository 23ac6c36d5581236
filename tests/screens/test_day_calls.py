"""Being called, in the form of a day. It is Tuesday 17 March 2026; the day is Monday the 16th."""

from __future__ import annotations

from datetime import date

import pytest
from textual.pilot import Pilot

from tests.keeping import keep
from tests.screens.conftest import Opened
from tests.screens.looking import everything
from tracker.diary.calls import called_text
from tracker.diary.rota import night_dates
from tracker.record.choice_rows import kind_value
from tracker.record.store import Record

YESTERDAY = date(2026, 3, 16)
TO_CALLED = ["up", "up", "up"]
"""The keys from the first row round over the change and the note."""
TO_SHIFT = 4 * ["up"]
SAID = "Kept for Mon 16 March 2026: shift on call (called for 3.5 hours, 01:00-04:30)."


@pytest.fixture
def on_call(record: Record) -> Record:
    """A record of an on-call shift, of a day whose squares wait."""
    keep(record, YESTERDAY, shift="call")
    keep(record, date(2026, 3, 15), mood="3", sleep="6")
    return record


def calls(record: Record) -> str:
    return called_text(record.day(YESTERDAY).shift, record.clock)


def message(pilot: Pilot[None]) -> str:
    return pilot.app.editor.state.message  # type: ignore[attr-defined, no-any-return]


async def test_it_is_asked_of_an_on_call_shift_alone(on_call: Record, opened: Opened) -> None:
    async with opened(on_call, "enter") as pilot:
        assert "Called" in everything(pilot)
        for key in (*TO_SHIFT, "left"):
            await pilot.press(key)
        await pilot.pause()
        assert "Called" not in everything(pilot)
        await pilot.press("right")
        await pilot.pause()
        assert "Called" in everything(pilot)


async def test_what_she_says_is_kept_in_the_words_of_the_command_and_makes_a_night(
    on_call: Record, opened: Opened
) -> None:
    async with opened(on_call, "enter", *TO_CALLED, *"01:00-04:30", "enter") as pilot:
        assert message(pilot) == SAID
        assert calls(on_call) == "01:00-04:30"
        days, kinds = on_call.days().values(), on_call.choices().kinds_by_id
        assert night_dates(days, kinds, on_call.clock) == {YESTERDAY}


async def test_the_form_shows_what_stands_history_tells_it_and_undo_takes_it_back(
    on_call: Record, opened: Opened
) -> None:
    typed = "22:00-23:30, 3:30-5:30"
    async with opened(on_call, "enter", *TO_CALLED, *typed, "enter", "enter") as pilot:
        assert "22:00-23:30, 03:30-05:30" in everything(pilot)
        told = "shift on call (called for 3.5 hours, 22:00-23:30, 03:30-05:30) (typed, at the time)"
        assert told in " ".join(everything(pilot).split())
        await pilot.press("escape", "u")
        await pilot.pause()
        assert message(pilot) == "Taken back: Mon 16 March, shift on call (called for 3.5 hours)."
    assert calls(on_call) == ""


async def test_a_shift_and_its_calls_come_in_together(record: Record, opened: Opened) -> None:
    keep(record, date(2026, 3, 15), mood="3", sleep="6")
    to_on_call = 6 * ["right"]
    async with opened(record, "enter", "up", *TO_CALLED[1:], *to_on_call, "down", *"night", "enter") as pilot:
        assert message(pilot) == "Kept for Mon 16 March 2026: shift on call (called at night)."
    assert calls(record) == "night"


async def test_other_times_say_which_stood_before(on_call: Record, opened: Opened) -> None:
    again = ["enter", *TO_CALLED, "ctrl+u", *"02:00-05:30", "enter"]
    async with opened(on_call, "enter", *TO_CALLED, *"01:00-04:30", "enter", *again) as pilot:
        assert message(pilot) == (
            "Kept for Mon 16 March 2026: shift on call (called for 3.5 hours, 02:00-05:30). "
            "Before: shift on call (called for 3.5 hours, 01:00-04:30)."
        )


async def test_emptied_it_is_kept_as_not_called(on_call: Record, opened: Opened) -> None:
    async with opened(
        on_call, "enter", *TO_CALLED, *"night", "enter", "enter", *TO_CALLED, "ctrl+u", "enter"
    ) as pilot:
        assert message(pilot) == (
            "Kept for Mon 16 March 2026: shift on call. Before: shift on call (called at night)."
        )
    assert calls(on_call) == ""


async def test_another_shift_drops_what_was_typed(on_call: Record, opened: Opened) -> None:
    async with opened(on_call, "enter", *TO_CALLED, *"night", "up", "left", "enter") as pilot:
        assert message(pilot) == "Kept for Mon 16 March 2026: shift night. Before: shift on call."
    assert calls(on_call) == ""


async def test_times_that_are_none_keep_nothing_and_the_form_stays(on_call: Record, opened: Opened) -> None:
    async with opened(on_call, "enter", "2", *TO_CALLED, *"4 hours", "enter") as pilot:
        assert "'4 hours' is no time of being called" in everything(pilot)
    assert (calls(on_call), on_call.day(YESTERDAY).mood) == ("", None)


async def test_calls_of_a_kind_that_is_work_by_now_can_be_taken_away(on_call: Record, opened: Opened) -> None:
    async with opened(on_call, "enter", *TO_CALLED, *"night", "enter"):
        pass
    resident = on_call.choices().kinds_by_id["call"]._replace(work="yes")
    on_call.choose(kind_value(resident))
    async with opened(on_call, "enter", *TO_CALLED, "ctrl+u", "enter"):
        assert calls(on_call) == ""
