"""From 38 columns and 14 rows up everything can be done; under that a sentence names what is left."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from tests.keeping import keep
from tests.screens.conftest import Opened
from tests.screens.looking import board, everything, screen_name, shown
from tests.screens.test_form_screens import FORMS, every_form, form
from tracker import words
from tracker.record.store import Record
from tracker.screens.base import too_small
from tracker.screens.form_screen import Label
from tracker.screens.widgets.text_field import TextField

YESTERDAY = date(2026, 3, 16)
every_size = pytest.mark.parametrize("size", [(38, 14), (60, 20), (100, 14)])


def read(pilot: Pilot[None], id: str = "") -> str:
    """What stands on the screen, or on a part of it, as one line."""
    rows = board(pilot, id) if id else shown(pilot)
    return " ".join(" ".join(rows).split())


async def read_whole(pilot: Pilot[None], id: str) -> str:
    """What stands on a part of the screen, scrolled to its end."""
    found = [read(pilot, id)]
    while len(found) < 2 or found[-1] != found[-2]:
        await pilot.press("pagedown")
        await pilot.pause()
        found.append(read(pilot, id))
    return " ".join(found)


@every_form
@every_size
async def test_the_question_in_focus_its_answer_and_the_keys_that_end_a_form_are_seen(
    begun: Record, opened: Opened, keys: tuple[str, ...], size: tuple[int, int]
) -> None:
    async with opened(begun, *keys, size=size) as pilot:
        for label in [label for label in form(pilot).query(Label) if label.display]:
            assert f"► {label.question.label}" in read(pilot)
            view = form(pilot).query_one("#form").region
            assert view.contains_region(label.answer.region)
            assert {"Enter", "Esc"} <= {*shown(pilot)[-1].split()}
            assert words.NO_SCREENING in read(pilot)
            await pilot.press("tab")
            await pilot.pause()


@every_form
async def test_what_a_question_means_can_be_read_to_its_end(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, keys: tuple[str, ...]
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(Path.home() / ".config"))
    async with opened(begun, *keys, size=(38, 14)) as pilot:
        for label in [label for label in form(pilot).query(Label) if label.display]:
            assert label.question.help[-25:] in await read_whole(pilot, "said")
            await pilot.press("tab")
            await pilot.pause()


async def test_reading_on_in_what_a_question_means_leaves_the_question_in_view(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "f3", "pagedown", size=(38, 14)) as pilot:
        assert "they were given." in read(pilot, "said")
        assert "► Levels of mood" in read(pilot)


@every_size
async def test_why_a_form_cannot_be_kept_is_seen_with_the_question(
    begun: Record, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(begun, "enter", "down", "down", *"99", "enter", size=size) as pilot:
        said = read(pilot, "said")
        assert said == "'99' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5."
        assert "► Hours slept" in read(pilot)


async def test_a_typed_answer_that_is_longer_than_its_row_has_a_sign_where_it_goes_on(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "f3", size=(38, 14)) as pilot:
        field = pilot.app.screen.query(TextField).first()
        rows = []
        for keys in (["left"], ["home"], ["end", "down"]):
            await pilot.press(*keys)
            await pilot.pause()
            rows.append(field.render_line(0).text.rstrip())
    assert rows == [
        "<ow, even, good, very good",
        "very low, low, even, good,>",
        "very low, low, even, good,>",
    ]


async def test_the_levels_of_a_choice_stand_side_by_side_where_its_words_have_room(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "enter", "down", "5", size=(38, 14)) as pilot:
        assert "  8 7 6▐5▌4 3 2 0 ?   5-6 h" in everything(pilot)
        row = next(y for y, line in enumerate(shown(pilot)) if "5-6 h" in line)
        await pilot.click(offset=(shown(pilot)[row].index(" 3 ") + 1, row))
        await pilot.pause()
        assert form(pilot).answers["sleep"] == "sleep8-2"


async def test_a_chosen_option_that_is_longer_than_its_row_takes_more(begun: Record, opened: Opened) -> None:
    async with opened(begun, "c", "right", size=(38, 14)) as pilot:
        assert "< copied from paper kept at the time >" in read(pilot)
        await pilot.press("right")
        await pilot.pause()
        assert "< remembered > I copy" in read(pilot)


async def test_what_waits_is_counted_in_few_words(begun: Record, opened: Opened) -> None:
    keep(begun, date(2026, 3, 9), mood="3", sleep="7", anxious="no")
    async with opened(begun, "up", size=(38, 14)) as pilot:
        await pilot.pause(0.1)
        assert board(pilot, "words")[-1] == " 14 earlier wait (g goes there)."


async def test_the_first_run_can_be_read_and_begun(record: Record, opened: Opened) -> None:
    async with opened(record, size=(38, 14)) as pilot:
        assert "► Country" in read(pilot)
        assert "Enter begin Esc leave ? help" in read(pilot)
        await pilot.press("pageup", "pageup")
        await pilot.pause()
        assert "Each day has two squares" in read(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert screen_name(pilot) == "MonthScreen"


async def test_days_are_found_and_gone_to(begun: Record, opened: Opened) -> None:
    keep(begun, date(2026, 3, 9), note="fog on the line as far as Selderby Halt, single line working")
    async with opened(begun, "slash", *"fog", size=(38, 14)) as pilot:
        assert "9 Mar 2026 fog on the line as far as Selderby Halt, single line working" in read(pilot)
        assert "Enter go there Esc back F1 help" in read(pilot)
        await pilot.press("enter")
        assert pilot.app.editor.state.cursor == date(2026, 3, 9)  # type: ignore[attr-defined]


async def test_a_long_list_of_days_keeps_the_chosen_one_in_view_and_loses_no_row(
    begun: Record, opened: Opened
) -> None:
    for number in range(1, 15):
        keep(begun, date(2026, 3, number), note=f"fog {number:02} {'x' * 17}")  # a cell too long for its row
    async with opened(begun, "slash", *"fog", *["down"] * 9, size=(38, 14)) as pilot:
        assert f"5 Mar 2026 fog 05 {'x' * 17}" in read(pilot)
        assert pilot.app.screen.query_one(OptionList).highlighted == 9


async def test_help_is_read_to_its_end(begun: Record, opened: Opened) -> None:
    async with opened(begun, "question_mark", size=(38, 14)) as pilot:
        assert words.UNSAFE_HEAD in read(pilot)
        assert words.NO_SCREENING in read(pilot)
        assert words.CAUTION_HELP[-40:] in await read_whole(pilot, "text")


@pytest.mark.parametrize("keys", [(), ("y",), *FORMS.values(), ("slash",)])
async def test_under_that_a_sentence_names_the_ways_that_are_left_and_where_to_turn_opens(
    begun: Record, opened: Opened, keys: tuple[str, ...]
) -> None:
    async with opened(begun, *keys, size=(38, 14)) as pilot:
        name = screen_name(pilot)
        await pilot.resize_terminal(37, 13)
        await pilot.pause()
        assert "38 by 14: ? is where to turn;" in read(pilot)
        assert "tracker put asks in plain lines; nothing is lost." in read(pilot)
        await pilot.press("question_mark")
        await pilot.pause()
        assert (screen_name(pilot), words.UNSAFE_HEAD in read(pilot)) == ("HelpScreen", True)
        await pilot.press("escape")
        await pilot.pause()
        await pilot.resize_terminal(38, 14)
        await pilot.pause()
        assert (screen_name(pilot), "Too little room" in read(pilot)) == (name, False)


async def test_what_is_typed_outlasts_every_size_and_letters_go_on_behind_it(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "enter", "up", "up", *"fog") as pilot:
        for size in ((38, 14), (20, 6), (60, 20), (38, 13), (200, 60), (38, 14)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        await pilot.press("f1", "escape", "s")
        await pilot.pause()
        assert "► Note fogs" in read(pilot)
        await pilot.press("enter")
        await pilot.pause()
    assert begun.day(YESTERDAY).note_text == "fogs"


def test_the_sentence_is_cut_with_dots_where_even_it_has_no_room() -> None:
    ways = ["? is where to turn", "q leaves"]
    assert too_small(37, 13, ways) == [
        "Too little room, 37 by 13, not 38 by",
        "14: ? is where to turn; q leaves;",
        "tracker put asks in plain lines;",
        "nothing is lost.",
    ]
    assert too_small(20, 3, ways) == ["Too little room, 20", "by 3, not 38 by 14:", "? is where to tu..."]
