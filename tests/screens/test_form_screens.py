"""What all forms share: keys in bursts, walking, clicking, scrolling, other windows and other colours."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from tests.keeping import keep, stands
from tests.screens.conftest import Opened
from tests.screens.looking import everything, screen_name, strips
from tracker import words
from tracker.record.store import Record
from tracker.screens.form_screen import FormScreen, Label

YESTERDAY = date(2026, 3, 16)
FORMS = {
    "day": ("enter",),
    "note": ("n",),
    "settings": ("comma",),
    "levels": ("f3",),
    "catching up": ("c",),
    "rota": ("f4",),
    "period": ("f", "left"),
    "lines": ("p", "l"),
    "parts": ("p", "o"),
    "write": ("p", "w"),
}
"""Every form, and the keys that lead to it."""
every_form = pytest.mark.parametrize("keys", FORMS.values(), ids=FORMS)


def form(pilot: Pilot[None]) -> FormScreen:
    """The form on top."""
    assert isinstance(pilot.app.screen, FormScreen)
    return pilot.app.screen


async def at_once(pilot: Pilot[None], *keys: str) -> None:
    """Keys in one burst, as a terminal on a slow line sends them."""
    for key in keys:
        pilot.app.post_message(events.Key(key, key if len(key) == 1 else None))
    for _ in range(5):
        await pilot.pause()


class TestBursts:
    """No key of a form overtakes what was typed before it."""

    async def test_enter_keeps_all_that_was_typed(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n") as pilot:
            await at_once(pilot, *"fogs", "backspace", "enter")
            assert screen_name(pilot) == "MonthScreen"
        assert begun.day(YESTERDAY).note_text == "fog"

    async def test_letters_stay_in_the_row_in_which_they_were_typed(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter") as pilot:
            await at_once(pilot, "down", "down", *"6.5", "down", "right", "down", "down", *"fog", "enter")
        day = begun.day(YESTERDAY)
        assert (day.hours, day.is_anxious, day.note_text) == (6.5, True, "fog")

    async def test_of_hours_and_bucket_the_later_counts(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter") as pilot:
            await at_once(pilot, "down", "down", *"6.5", "up", "left", "enter")
        assert (stands(begun, YESTERDAY, "sleep"), begun.day(YESTERDAY).hours) == ("sleep8-6", None)

    async def test_escape_after_letters_says_that_nothing_was_changed(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n") as pilot:
            await at_once(pilot, *"fog", "escape")
            assert words.NOTHING_CHANGED in everything(pilot)

    async def test_search_goes_to_what_was_typed_last(self, begun: Record, opened: Opened) -> None:
        keep(begun, date(2026, 3, 9), note="fog")
        keep(begun, date(2026, 3, 11), note="frost")
        async with opened(begun, "slash") as pilot:
            await at_once(pilot, *"fog", "enter")
            assert pilot.app.editor.state.cursor == date(2026, 3, 9)  # type: ignore[attr-defined]


class TestWalking:
    async def test_goes_round_from_the_last_row_to_the_first(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "up", "down") as pilot:
            assert "► Mood" in everything(pilot)

    async def test_goes_through_the_rows_of_a_long_note_first(self, begun: Record, opened: Opened) -> None:
        keep(begun, YESTERDAY, note="word " * 30)
        async with opened(begun, "enter", "up", "up") as pilot:
            for where in ("Note", "Note", "Note", "Shift"):
                assert f"► {where}" in everything(pilot)
                await pilot.press("up")
                await pilot.pause()

    async def test_a_click_on_a_label_goes_to_its_answer(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter") as pilot:
            await pilot.click(offset=(5, 4))
            await pilot.press(*"6.5")
            await pilot.pause()
            assert "► Hours slept" in everything(pilot)
            assert form(pilot).answers["hours"] == "6.5"

    async def test_a_click_on_an_option_chooses_it(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter") as pilot:
            rows = everything(pilot).splitlines()
            for row, text in ((2, " 2 "), (5, "yes"), (6, " N ")):
                await pilot.click(offset=(rows[row].index(text) + 1, row))
            answers = form(pilot).answers
            assert (answers["mood"], answers["anxious"], answers["shift"]) == ("mood5-2", "yes", "night")


class TestDay:
    """Levels on their fills, her own change, and the history beside them where there is room."""

    async def test_digits_choose_the_level(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "2", "7", "down", "5", "1", "enter"):
            assert (stands(begun, YESTERDAY, "mood"), stands(begun, YESTERDAY, "sleep")) == (
                "mood5-2",
                "sleep8-4",
            )

    async def test_the_chosen_level_stands_between_bars_with_its_word_behind(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", "2") as pilot:
            rows = everything(pilot).splitlines()
            assert rows[2] == " \u25ba Mood           5   4   3 \u2590 2 \u258c 1   ?    low"
            assert rows[3] == "   Sleep          8   7   6   5   4   3   2   0   ?    nothing kept"
            assert rows[5] == "   Anxious      \u2590 not noted \u258c yes   no"

    async def test_each_level_has_its_fill(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter") as pilot:
            fills = {
                piece.text.strip(): piece.style.bgcolor.name
                for piece in strips(pilot)[2]
                if piece.style and piece.style.bgcolor and piece.text.strip().isdigit()
            }
        assert fills == {"5": "#fce086", "4": "#faab8b", "3": "#e67b91", "2": "#c1549d", "1": "#89409f"}

    async def test_a_change_of_her_own_is_noted_told_and_taken_away(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", "up", *"new job", "enter") as pilot:
            assert "Noted: 16 March 2026: new job." in everything(pilot)
            assert [change.words for change in begun.choices().dated_changes] == ["new job"]
            await pilot.press("enter", "up")
            await pilot.pause()
            assert "change: new job" in everything(pilot)
            await pilot.press("ctrl+u", "enter")
            await pilot.pause()
            assert "The change of 16 March 2026 is taken away." in everything(pilot)
        assert begun.choices().dated_changes == ()

    async def test_answers_and_a_change_of_her_own_are_one_action(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", "2", "up", *"new job", "enter", "u") as pilot:
            assert "Taken back: Mon 16 March, mood 2 low, change of Mon 16 March." in everything(pilot)
        assert (begun.day(YESTERDAY).mood, begun.choices().dated_changes) == (None, ())

    async def test_a_change_that_is_too_long_keeps_nothing_of_the_form(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", "2", "up", *"x" * 41, "enter") as pilot:
            assert "A change has at most 40 letters; this one has 41." in everything(pilot)
        assert begun.day(YESTERDAY).mood is None

    async def test_in_a_tall_window_the_history_stands_below_the_form(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", size=(100, 30)) as pilot:
            assert "History, the newest first" in everything(pilot)
            assert "nothing was ever kept" in everything(pilot)

    async def test_in_a_wide_window_the_history_and_the_days_around_stand_beside_the_form(
        self, begun: Record, opened: Opened
    ) -> None:
        keep(begun, date(2026, 3, 15), mood="2")
        async with opened(begun, "enter", size=(120, 40)) as pilot:
            rows = [row[72:].strip() for row in everything(pilot).splitlines()]
            assert rows[2:4] == ["History, the newest first", "nothing was ever kept"]
            assert rows[5] == "The days around it"
            assert "Sun 15 March: mood 2 low" in rows[8]


@every_form
@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60)])
async def test_every_row_can_be_walked_to_and_the_caution_stays(
    begun: Record,
    opened: Opened,
    monkeypatch: pytest.MonkeyPatch,
    keys: tuple[str, ...],
    size: tuple[int, int],
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(Path.home() / ".config"))
    async with opened(begun, *keys[:1], size=size) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.press(*keys[1:])
        await pilot.pause()
        for label in (label for label in form(pilot).query(Label) if label.display):
            shown = everything(pilot)
            assert f"► {label.question.label}" in shown
            assert words.CAUTION in shown
            assert label.question.help in " ".join(shown.split())
            await pilot.press("tab")
            await pilot.pause()


@pytest.mark.parametrize("keys", [("comma",), ("f3",), ("enter",)])
async def test_in_a_tall_window_what_is_said_stands_near_its_question(
    begun: Record, opened: Opened, keys: tuple[str, ...]
) -> None:
    async with opened(begun, *keys, size=(200, 60)) as pilot:
        asked, said = (pilot.app.screen.query_one(id).region for id in ("#questions", "#said"))
        assert 0 <= said.y - asked.bottom <= 8
        assert 0 < asked.x < 60


@every_form
async def test_what_is_typed_outlasts_a_window_that_is_too_small(
    begun: Record, opened: Opened, keys: tuple[str, ...]
) -> None:
    async with opened(begun, *keys[:1]) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.press(*keys[1:], "right", "x")
        answers = form(pilot).answers
        await pilot.resize_terminal(30, 8)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert form(pilot).answers == answers
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(pilot.app.screen, FormScreen)


@pytest.mark.parametrize("colours", ["256", "standard", None])
async def test_the_row_in_focus_and_its_cursor_are_seen_without_colours(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, colours: str | None
) -> None:
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", colours)
    if colours is None:
        monkeypatch.setenv("NO_COLOR", "1")
    async with opened(begun, "enter", "down", "down", *"6.5") as pilot:
        rows = strips(pilot)
        row = next(strip for strip in rows if "Hours slept" in strip.text)
        reverse = [segment.text for segment in row if segment.style and segment.style.reverse]
        assert row.text.startswith(" ► Hours slept")
        assert reverse == [" "] or colours is not None
        assert all(segment.style is not None for strip in rows for segment in strip)


@pytest.mark.parametrize("colours", ["standard", None])
async def test_the_chosen_day_of_a_search_is_seen_without_colours(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, colours: str | None
) -> None:
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", colours)
    if colours is None:
        monkeypatch.setenv("NO_COLOR", "1")
    for number in (9, 11):
        keep(begun, date(2026, 3, number), note="fog")
    async with opened(begun, "slash", *"fog", "down") as pilot:
        underlined = [
            segment.text
            for strip in strips(pilot)
            for segment in strip
            if segment.style and segment.style.underline
        ]
        assert "".join(underlined).rstrip().endswith(" Mon 9 March 2026        fog")


async def test_a_note_is_written_over_the_month_that_it_belongs_to(begun: Record, opened: Opened) -> None:
    async with opened(begun, "n", *"fog") as pilot:
        rows = everything(pilot).splitlines()
        assert rows[0].startswith(" March 2026")
        assert [row.strip() for row in rows if "fog" in row] == ["\u25ba Mon 16 March    fog"]


async def test_what_is_listed_can_be_chosen_with_the_mouse(begun: Record, opened: Opened) -> None:
    for number in (9, 11):
        keep(begun, date(2026, 3, number), note="fog")
    async with opened(begun, "slash", *"fog") as pilot:
        await pilot.click(offset=(5, 5))
        await pilot.pause()
        cursor = pilot.app.editor.state.cursor  # type: ignore[attr-defined]
        assert (screen_name(pilot), cursor) == ("MonthScreen", date(2026, 3, 9))


async def test_what_is_told_can_be_selected_and_copied(begun: Record, opened: Opened) -> None:
    keep(begun, YESTERDAY, note="fog at Selderby Halt")
    async with opened(begun, "enter") as pilot:
        row = next(y for y, line in enumerate(everything(pilot).splitlines()) if "note: fog" in line)
        await pilot.mouse_down(offset=(1, row))
        await pilot.hover(offset=(70, row))
        await pilot.mouse_up(offset=(70, row))
        pilot.app.action_copy_text() if hasattr(
            pilot.app, "action_copy_text"
        ) else pilot.app.screen.action_copy_text()
        assert "note: fog at Selderby Halt" in pilot.app.clipboard
