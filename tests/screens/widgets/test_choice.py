"""A choice among options, turned through with keys and mouse."""

from __future__ import annotations

import pytest

from tests.screens.looking import everything
from tests.screens.widgets.conftest import Shown
from tracker.screens.widgets.choice import Choice

SHIFTS = (("", "none entered"), ("early", "early"), ("night", "night"))


@pytest.mark.parametrize(
    ("keys", "chosen"),
    [
        (["right"], "early"),
        (["right", "right"], "night"),
        (["right"] * 3, ""),
        (["left"], "night"),
        (["left", "right"], ""),
        (["up", "x", "enter", "space"], ""),
    ],
)
async def test_arrows_alone_turn_through_the_options_round_and_round(
    shown: Shown, keys: list[str], chosen: str
) -> None:
    async with shown(lambda: Choice(SHIFTS, ""), *keys) as (_, choice):
        assert choice.value == chosen


async def test_a_click_chooses_the_next(shown: Shown) -> None:
    async with shown(lambda: Choice(SHIFTS, "early")) as (pilot, choice):
        await pilot.click(Choice)
        assert choice.value == "night"


async def test_what_is_chosen_stands_between_brackets_only_with_the_focus(shown: Shown) -> None:
    async with shown(lambda: Choice(SHIFTS, "night")) as (pilot, _):
        with_focus = everything(pilot).strip()
        pilot.app.set_focus(None)
        await pilot.pause()
        assert (with_focus, everything(pilot).strip()) == ("< night >", "night")


async def test_words_longer_than_its_row_go_on_in_the_next(shown: Shown) -> None:
    options = [("", "copied from paper kept at the time")]
    async with shown(lambda: Choice(options, ""), width=20) as (pilot, _):
        rows = [row.strip() for row in everything(pilot).splitlines()]
        assert list(filter(None, rows)) == ["< copied from", "paper kept at", "the time >"]


async def test_a_value_that_is_no_option_is_shown_and_left_for_the_second(shown: Shown) -> None:
    async with shown(lambda: Choice(SHIFTS, "of an older set")) as (pilot, choice):
        assert everything(pilot).strip() == "< of an older set >"
        await pilot.press("right")
        assert choice.value == "early"


async def test_words_in_square_brackets_are_shown_as_they_are(shown: Shown) -> None:
    async with shown(lambda: Choice([("a", "[bold]a[/]")], "a")) as (pilot, _):
        assert everything(pilot).strip() == "< [bold]a[/] >"
