"""Lines and notes to type in."""

from __future__ import annotations

import pytest
from textual import events
from textual.pilot import Pilot

from tests.screens.looking import everything
from tests.screens.widgets.conftest import Shown
from tracker.screens.base import settled
from tracker.screens.widgets.text_field import NoteField, TextField

Field = TextField | NoteField
BOTH = pytest.mark.parametrize("kind", [TextField, NoteField])


async def at_once(pilot: Pilot[None], *keys: str) -> None:
    """Keys in one burst, as a terminal on a slow line sends them."""
    for key in keys:
        character = " " if key == "space" else key if len(key) == 1 else None
        pilot.app.post_message(events.Key(key, character))
    await pilot.pause()


async def paste(pilot: Pilot[None], text: str) -> None:
    pilot.app.post_message(events.Paste(text))
    await pilot.pause()


@BOTH
async def test_the_first_letter_goes_behind_what_stands(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("late"), "r") as (_, field):
        assert field.value == "later"


@BOTH
@pytest.mark.parametrize(
    ("keys", "text"),
    [
        (["left", "left", "x"], "late traxin"),
        (["backspace", "home", "delete"], "ate trai"),
        (["ctrl+left", "ctrl+u"], "train"),
        (["ctrl+w"], "late "),
        (["home", "ctrl+k"], ""),
        (["shift+home", "x"], "x"),
        (["shift+left", "shift+left", "backspace"], "late tra"),
        (["ctrl+w", "ctrl+z"], "late train"),
        (["ctrl+w", "ctrl+z", "ctrl+y"], "late "),
    ],
)
async def test_it_is_edited_as_people_expect(
    shown: Shown, kind: type[Field], keys: list[str], text: str
) -> None:
    async with shown(lambda: kind("late train"), *keys) as (_, field):
        assert field.value == text


@BOTH
async def test_a_selection_is_cut_and_pasted_elsewhere(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("train late "), *["shift+left"] * 5, "ctrl+x", "home", "ctrl+v") as (
        _,
        field,
    ):
        assert field.value == "late train "


@BOTH
async def test_pasted_lines_are_joined(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("> ")) as (pilot, field):
        await paste(pilot, "late train\n\tat Selderby\x07 Halt\n")
        assert field.value == "> late train at Selderby Halt"


@BOTH
async def test_nothing_is_pasted_where_nothing_was_copied(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("as it was")) as (pilot, field):
        await paste(pilot, "")
        await paste(pilot, "\n")
        assert field.value == "as it was"


@BOTH
async def test_editing_keys_keep_their_place_in_a_burst(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("")) as (pilot, field):
        await at_once(pilot, *"lats", "backspace", "e", "home", "x", "delete", "end", "r")
        assert field.value == "xater"


@BOTH
async def test_it_can_be_waited_for_until_all_that_was_typed_stands(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("")) as (_, field):
        for letter in "late":
            field.post_message(events.Key(letter, letter))
        await settled(field)
        assert field.value == "late"


@BOTH
async def test_words_in_square_brackets_are_shown_as_they_are(shown: Shown, kind: type[Field]) -> None:
    async with shown(lambda: kind("[red]late[/]")) as (pilot, _):
        assert "[red]late[/]" in everything(pilot)


async def test_undo_takes_typed_words_back_one_by_one_and_redo_brings_them_again(shown: Shown) -> None:
    seen = []
    async with shown(lambda: TextField("a"), "space", *"late", "space", *"train") as (pilot, field):
        for key in ["ctrl+z"] * 3 + ["ctrl+y"] * 2:
            await pilot.press(key)
            seen.append(field.value)
    assert seen == ["a late", "a", "a", "a late", "a late train"]


async def test_what_is_typed_after_undo_leaves_nothing_to_bring_again(shown: Shown) -> None:
    async with shown(lambda: TextField("late"), "ctrl+u", "ctrl+z", "r", "ctrl+y") as (_, field):
        assert field.value == "later"


async def test_a_line_has_an_end_and_takes_of_a_longer_text_what_fits(shown: Shown) -> None:
    async with shown(lambda: TextField("ab", longest=5)) as (pilot, field):
        await paste(pilot, "cdefg")
        await pilot.press("x")
        assert field.value == "abcde"


async def test_a_joined_letter_is_walked_over_and_taken_away_whole(shown: Shown) -> None:
    async with shown(lambda: TextField("a\U0001f469\u200d\U0001f527e\u0301"), "left", "left") as (
        pilot,
        field,
    ):
        assert field.cursor_position == 1
        await pilot.press("right")
        assert field.cursor_position == 4
        await pilot.press("left", "delete", "end", "backspace")
        assert (field.value, field.cursor_position) == ("a", 1)
        await pilot.press("left", "backspace")
        assert (field.value, field.cursor_position) == ("a", 0)


async def test_a_selection_holds_joined_letters_whole(shown: Shown) -> None:
    async with shown(lambda: TextField("xe\u0301"), "shift+left", "b") as (_, field):
        assert field.value == "xb"


async def test_the_end_of_a_long_line_is_seen_where_it_is_typed_and_a_sign_where_it_is_cut(
    shown: Shown,
) -> None:
    async with shown(lambda: TextField("around the nights, and with them"), "!", width=20) as (pilot, _):
        assert everything(pilot).strip() == "<ts, and with them!"
        await pilot.press("home")
        assert everything(pilot).strip() == "around the nights, >"


async def test_a_note_is_wrapped_and_walked_row_by_row_to_its_edges(shown: Shown) -> None:
    async with shown(lambda: NoteField("late train at Selderby Halt"), width=13) as (pilot, field):
        assert everything(pilot).split("\n")[:3] == ["late train", "at Selderby", "Halt"]
        assert [field.walk(step) for step in (1, -1, -1, -1, 1)] == [False, True, True, False, True]
