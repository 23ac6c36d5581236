"""A key that means nothing answers the same way on every screen, and keeps nothing."""

from __future__ import annotations

from typing import cast

import pytest
from textual.pilot import Pilot

from tests.screens.conftest import Opened
from tests.screens.looking import board
from tracker.record.store import Record

TYPING = {
    "a note": ["n"], "search": ["slash"], "levels": ["l"], "lines": ["p", "l"], "a period": ["f", "left"],
    "a trial planned": ["f", "t", "n"], "parts": ["p", "o"],
}  # fmt: skip
"""Where letters go into a field."""
OTHERS = {
    "the month": [], "on a day to come": ["down"], "hidden": ["h"], "after a 1": ["1"], "shift letter": ["s"],
    "in the shifts": ["tab", "tab"], "catching up": ["c", "enter"], "month full": ["c", "enter", *"6" * 10],
    "the year": ["y"], "findings": ["f"], "a trial": ["f", "t"], "the page": ["p"],
    "help": ["question_mark"], "help of a form": ["n", "f1"], "the day": ["enter"], "catch up": ["c"],
    "settings": ["comma"],
}  # fmt: skip
EVERYWHERE = TYPING | OTHERS
KEYS = {"f9": "F9", "insert": "Insert", "alt+x": "Alt+X", "ctrl+b": "Ctrl+B"}
"""Keys that mean nothing anywhere, and how they are written."""
ALONE = ["left_shift", "right_control", "iso_level3_shift", "caps_lock", "num_lock", "raise_volume"]
"""What some keyboards report of themselves, with no key pressed to do anything."""


async def pressed(pilot: Pilot[None], key: str) -> str:
    """What the line of keys shows after a key."""
    await pilot.press(key)
    await pilot.pause()
    return board(pilot, "keys")[0]


def batches(record: Record) -> int:
    """How many actions were kept."""
    return cast(int, record.db.value("select count(*) from batch"))


@pytest.mark.parametrize("place", EVERYWHERE)
async def test_it_is_said_in_the_line_of_keys(begun: Record, opened: Opened, place: str) -> None:
    help_key = "F1" if place in TYPING else "?"
    async with opened(begun, *EVERYWHERE[place], size=(100, 30)) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.pause(0.1)
        before = batches(begun)
        answers = [await pressed(pilot, key) for key in KEYS]
        assert answers == [f" {sign} means nothing here; {help_key} lists keys." for sign in KEYS.values()]
        assert batches(begun) == before


async def test_it_is_said_on_the_first_screen_of_all(record: Record, opened: Opened) -> None:
    async with opened(record) as pilot:
        assert await pressed(pilot, "f9") == " F9 means nothing here; ? lists keys."


async def test_it_has_room_in_the_smallest_window(begun: Record, opened: Opened) -> None:
    async with opened(begun, size=(38, 14)) as pilot:
        assert await pressed(pilot, "z") == " z means nothing here; ? lists keys."


@pytest.mark.parametrize("place", [place for place in OTHERS if place != "shift letter"])
@pytest.mark.parametrize("letter", ["z", "Z", "ß"])
async def test_so_it_is_of_a_letter(begun: Record, opened: Opened, place: str, letter: str) -> None:
    async with opened(begun, *OTHERS[place]) as pilot:
        assert await pressed(pilot, letter) == f" {letter} means nothing here; ? lists keys."


@pytest.mark.parametrize("place", ["the month", "findings", "the page", "help", "settings"])
async def test_the_next_key_that_means_something_brings_the_keys_back(
    begun: Record, opened: Opened, place: str
) -> None:
    async with opened(begun, *OTHERS[place]) as pilot:
        await pilot.app.workers.wait_for_complete()
        keys = await pressed(pilot, "down")
        assert (await pressed(pilot, "f9"), await pressed(pilot, "down")) == (
            " F9 means nothing here; ? lists keys.",
            keys,
        )


async def test_no_key_of_a_field_is_said_to_mean_nothing(begun: Record, opened: Opened) -> None:
    async with opened(begun, "n") as pilot:
        for key in ("x", "z", "space", "left", "ctrl+left", "home", "ctrl+a", "backspace", "delete", "up"):
            assert (await pressed(pilot, key)).startswith(" Enter keep  Esc leave it  ")


@pytest.mark.parametrize("key", ["tab", "shift+tab", "ctrl+c"])
async def test_no_key_of_textual_is_said_to_mean_nothing(begun: Record, opened: Opened, key: str) -> None:
    async with opened(begun, "question_mark") as pilot:
        assert "means nothing" not in await pressed(pilot, key)


@pytest.mark.parametrize("key", ALONE)
async def test_shift_alone_is_no_key(begun: Record, opened: Opened, key: str) -> None:
    async with opened(begun, "1") as pilot:
        before = board(pilot, "keys")
        await pilot.press(key)
        assert board(pilot, "keys") == before
        await pilot.press("2")
        await pilot.pause()
        assert "Kept for Mon 16 March 2026: sleep 8 h or more." in pilot.app.editor.state.message  # type: ignore[attr-defined]
