"""The screen of a trial: told beside the screen, planned with eyes open, left with two presses."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from textual.pilot import Pilot

from tests.diary.test_trial import trial
from tests.screens.conftest import Opened
from tests.screens.looking import everything, screen_name
from tracker import words
from tracker.record.store import Record
from tracker.record.trial_rows import trial_value

TODAY = date(2026, 3, 17)
DAY = timedelta(days=1)


async def looked(pilot: Pilot[None]) -> str:
    """What stands once the worker has told."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    return everything(pilot)


@pytest.fixture
def running(begun: Record) -> Record:
    """A record with a trial on its second day."""
    begun.choose(trial_value(trial(first=TODAY - DAY)))
    return begun


async def test_it_is_reached_from_the_findings_and_bears_the_caution(begun: Record, opened: Opened) -> None:
    async with opened(begun, "f", "t") as pilot:
        text = await looked(pilot)
    assert "No trial was planned; n begins one." in text
    assert words.CAUTION in text


async def test_it_tells_the_present_block_and_nothing_by_arm(running: Record, opened: Opened) -> None:
    async with opened(running, "f", "t") as pilot:
        text = await looked(pilot)
    (plan,) = running.choices().trials
    block = plan.block_of(TODAY)
    assert block is not None
    assert f'Today: "{plan.words_for(block.arm)}"' in text
    assert "days kept" not in text


async def test_the_month_says_which_block_the_day_is_in(running: Record, opened: Opened) -> None:
    (plan,) = running.choices().trials
    block = plan.block_of(TODAY)
    assert block is not None
    async with opened(running, "t", size=(120, 40)) as pilot:
        assert f"trial: {plan.words_for(block.arm)}" in everything(pilot)


async def test_today_is_marked_and_unmarked_as_not_done(running: Record, opened: Opened) -> None:
    async with opened(running, "f", "t") as pilot:
        await looked(pilot)
        await pilot.press("m")
        assert "Today is marked as not done as planned." in await looked(pilot)
        assert running.choices().trials[0].missed == {TODAY}
        await pilot.press("m")
        await looked(pilot)
    assert running.choices().trials[0].missed == frozenset()


async def test_it_is_left_by_two_presses_alone(running: Record, opened: Opened) -> None:
    async with opened(running, "f", "t") as pilot:
        await looked(pilot)
        await pilot.press("x")
        assert "x once more leaves the trial for good" in await looked(pilot)
        assert running.choices().trials[0].stopped is None
        await pilot.press("x")
        await looked(pilot)
    assert running.choices().trials[0].stopped == TODAY


async def test_a_plan_is_told_first_and_drawn_by_the_second_enter(begun: Record, opened: Opened) -> None:
    async with opened(begun, "f", "t", "n", size=(120, 40)) as pilot:
        await pilot.press(*"plugs")
        await pilot.press("up", "right", "enter")
        text = await looked(pilot)
        assert "16 pairs of blocks of 4 days" in text.replace("\n", " ")
        assert begun.choices().trials == ()
        await pilot.press("enter")
        await looked(pilot)
        assert screen_name(pilot) == "TrialScreen"
    assert [one.tried for one in begun.choices().trials] == ["plugs"]


async def test_nothing_is_drawn_before_she_says_it_is_nothing_of_these(begun: Record, opened: Opened) -> None:
    async with opened(begun, "f", "t", "n", size=(120, 40)) as pilot:
        assert words.TRIAL_NEVER[:60] in everything(pilot)
        await pilot.press(*"plugs", "enter")
        assert "Not drawn: first say" in await looked(pilot)
        await pilot.press("enter")
        await looked(pilot)
    assert begun.choices().trials == ()


async def test_another_answer_is_told_anew_before_it_is_drawn(begun: Record, opened: Opened) -> None:
    async with opened(begun, "f", "t", "n", size=(120, 40)) as pilot:
        await pilot.press(*"plugs", "up", "right", "enter")
        await looked(pilot)
        await pilot.press("down", "x", "enter")
        await looked(pilot)
    assert begun.choices().trials == ()
