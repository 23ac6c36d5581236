"""The month with real keys: what is kept, and what the screen says. It is Tuesday 17 March 2026, 21:00."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest
from textual.events import MouseScrollDown, MouseScrollUp

from tests.keeping import keep, stands
from tests.screens.conftest import Opened
from tests.screens.looking import board, everything, screen_name, shown
from tracker import words
from tracker.diary.changes import shift_change
from tracker.diary.errors import UnwritableRecord
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.waiting import SquareKey
from tracker.record.store import Record
from tracker.screens.base import too_small

TODAY = date(2026, 3, 17)
YESTERDAY = TODAY - timedelta(days=1)


async def test_the_month_shows_both_grids_their_keys_and_the_day(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        seen = everything(pilot)
        for part in ("March 2026", "Mood", "Sleep, the sleep before", "very good", "8 h or more"):
            assert part in seen
        assert board(pilot, "words") == [
            f" {words.SLEEP_ASKED}",
            " Mon 16 March: mood waiting, sleep waiting",
            " 16 earlier squares wait (g goes there).",
        ]


async def test_a_day_is_kept_with_two_keys(begun: Record, opened: Opened) -> None:
    keep(begun, YESTERDAY, mood="3", sleep="5")
    async with opened(begun, "7", "4") as pilot:
        assert (stands(begun, TODAY, "sleep"), stands(begun, TODAY, "mood")) == ("sleep8-6", "mood5-4")
        assert words.NOTHING_WAITS in " ".join(map(str.strip, board(pilot, "words")))


async def test_the_key_of_the_square_stands_on_it(begun: Record, opened: Opened) -> None:
    async with opened(begun, "up", "5") as pilot:
        screen = pilot.app.screen
        rect = screen._drawing.squares[SquareKey(date(2026, 3, 9), "sleep")]  # type: ignore[attr-defined]
        rows = board(pilot, "grids")
        assert rows[rect.y + 1][rect.x - 1 : rect.x + 5] == "▐  5 ▌"


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (120, 40), (200, 60)])
async def test_nothing_sticks_out_at_any_size(begun: Record, opened: Opened, size: tuple[int, int]) -> None:
    async with opened(begun, size=size) as pilot:
        screen = pilot.app.screen
        assert sum(widget.size.height for widget in screen.children if widget.display) <= size[1]
        assert max(len(line) for line in everything(pilot).splitlines()) <= size[0]
        assert board(pilot, "keys")[0].startswith(" 0-9 keep  a anxious  x could not say")


async def test_a_window_too_small_for_the_grids_gets_one_plain_line(begun: Record, opened: Opened) -> None:
    async with opened(begun, size=(37, 15)) as pilot:
        assert everything(pilot).splitlines() == too_small(37, 15, ["? is where to turn", "q leaves"])
        await pilot.press("5")
        assert stands(begun, YESTERDAY, "sleep") == ""


async def test_a_small_window_is_left_with_q(begun: Record, opened: Opened) -> None:
    async with opened(begun, "s", size=(60, 13)) as pilot:
        await pilot.press("q")
        assert pilot.app._exit is True


async def test_a_form_in_a_small_window_takes_no_letters_unseen_and_goes_on_once_it_grows(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun, "n", *"fog") as pilot:
        await pilot.resize_terminal(60, 13)
        await pilot.pause(0.4)
        await pilot.press("q", "u")
        assert pilot.app._exit is False
        assert everything(pilot).endswith("\n".join(too_small(60, 13, ["? is where to turn"])))
        await pilot.resize_terminal(80, 24)
        await pilot.pause(0.4)
        await pilot.press("s", "enter")
        await pilot.pause()
    assert begun.day(YESTERDAY).note_text == "fogs"


async def test_the_foot_offers_the_digits_of_the_grid_in_focus(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        feet = []
        for keys in (["tab"], ["c", "enter"], ["escape", "h"], ["tab"]):
            await pilot.press(*keys)
            await pilot.pause()
            feet.append(next(part for part in board(pilot, "keys")[0].split("  ") if "keep" in part).strip())
        assert feet == ["1-5 keep", "1-5 keep", "1-5 keep", "0-9 keep"]


async def test_a_window_that_grows_shows_the_month(begun: Record, opened: Opened) -> None:
    async with opened(begun, size=(60, 15)) as pilot:
        await pilot.resize_terminal(120, 40)
        await pilot.pause(0.1)
        assert "March 2026" in everything(pilot)


async def test_a_digit_redraws_only_a_few_cells(begun: Record, opened: Opened) -> None:
    async with opened(begun, "up") as pilot:
        grids = pilot.app.screen.query_one("#grids")
        before = grids._canvas  # type: ignore[attr-defined]
        await pilot.press("6")
        changed = sum(rect.width for rect in grids._canvas.changes(before))  # type: ignore[attr-defined]
        assert 0 < changed <= 40


async def test_a_click_on_a_square_moves_there(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        rect = pilot.app.screen._drawing.squares[SquareKey(date(2026, 3, 4), "mood")]  # type: ignore[attr-defined]
        await pilot.click("#grids", offset=(rect.x + 1, rect.y))
        assert pilot.app.screen.editor.state.square == SquareKey(date(2026, 3, 4), "mood")  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", [(80, 24), (38, 14)])
@pytest.mark.parametrize(("keys", "before"), [((), date(2026, 3, 9)), (("y",), date(2026, 2, 16))])
async def test_the_wheel_walks_weeks_of_the_month_and_months_of_the_year_and_keeps_nothing(
    begun: Record, opened: Opened, size: tuple[int, int], keys: tuple[str, ...], before: date
) -> None:
    async with opened(begun, *keys, size=size) as pilot:
        cursors = []
        for turned in (MouseScrollUp, MouseScrollDown):
            pilot.app.post_message(turned(None, 5, 5, 0, 0, 0, False, False, False))
            await pilot.pause(0.1)
            cursors.append(pilot.app.editor.state.cursor)  # type: ignore[attr-defined]
        assert cursors == [before, YESTERDAY]
    assert begun.day(YESTERDAY).is_answered is False


async def test_a_click_on_a_level_of_the_key_sets_it(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        rect = pilot.app.screen._drawing.levels["mood", "mood5-2"]  # type: ignore[attr-defined]
        await pilot.click("#grids", offset=(rect.x + 1, rect.y))
        assert stands(begun, YESTERDAY, "mood") == "mood5-2"


async def test_a_click_on_a_key_at_the_foot_does_what_the_key_does(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        await pilot.click("#keys", offset=(board(pilot, "keys")[0].index("a anxious"), 0))
        assert begun.day(YESTERDAY).is_anxious is True


async def test_hidden_grids_show_no_level_and_no_words(begun: Record, opened: Opened) -> None:
    keep(begun, YESTERDAY, mood="4", sleep="5", note="rang the box at Wenfold")
    async with opened(begun, "h") as pilot:
        seen = everything(pilot)
        assert "Wenfold" not in seen
        assert "mood level" not in seen
        assert board(pilot, "words")[0] == " Both grids are hidden; h shows them."


async def test_the_row_of_keys_follows_what_is_being_done(begun: Record, opened: Opened) -> None:
    async with opened(begun, "1") as pilot:
        assert board(pilot, "keys") == [" 0-4 10 to 14 hours  Enter 1 hour  Esc leave it"]
        await pilot.press("escape", "s")
        assert board(pilot, "keys") == [" letter the shift  Backspace none  Esc leave it"]


async def test_a_day_to_come_offers_no_key_that_it_would_not_take(begun: Record, opened: Opened) -> None:
    async with opened(begun, "down") as pilot:
        assert board(pilot, "keys")[0].startswith(" Tab other grid  u undo  y year")


async def test_a_theme_put_on_by_name_is_kept(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        lamps = next(
            command
            for command in pilot.app.get_system_commands(pilot.app.screen)
            if command.title == "Theme: Cawbrook, lamps"
        )
        lamps.callback()
        await pilot.pause()
        assert pilot.app.palette.theme.id == "cawbrook-lamps"  # type: ignore[attr-defined]
        assert begun.choices().settings.theme == "cawbrook-lamps"


async def test_a_record_that_is_gone_is_said_and_the_screen_stays(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    def gone() -> bool:
        raise UnwritableRecord("The record cannot be opened or written; look at its folder and disk.")

    async with opened(begun) as pilot:
        monkeypatch.setattr(begun, "changed_elsewhere", gone)
        pilot.app.screen._refresh_record()  # type: ignore[attr-defined]
        await pilot.pause()
        assert "cannot be opened or written" in board(pilot, "words")[0]


async def test_invented_days_are_called_so(begun: Record, opened: Opened) -> None:
    async with opened(begun, invented=True) as pilot:
        for key in (
            "",
            "y",
            "escape",
            "question_mark",
            "escape",
            "f",
            "escape",
            "p",
            "escape",
            "f2",
            "escape",
        ):
            if key:
                await pilot.press(key)
                await pilot.pause(0.3)
            assert words.INVENTED_DAYS in everything(pilot).lower(), screen_name(pilot)


async def test_another_copys_changes_appear(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        with Record.open(begun.path, begun.clock) as other:
            keep(other, YESTERDAY, sleep="2")
        pilot.app.screen._refresh_record()  # type: ignore[attr-defined]
        await pilot.pause()
        assert "sleep 3-4 h" in board(pilot, "words")[1]


async def test_after_a_click_on_today_the_cursor_stays_there(begun: Record, opened: Opened) -> None:
    """A day that she chose herself is not left for yesterday's squares, which still wait."""
    async with opened(begun) as pilot:
        area = pilot.app.screen._drawing.squares[SquareKey(TODAY, "sleep")]  # type: ignore[attr-defined]
        await pilot.click("#grids", offset=(area.x + 1, area.y))
        await pilot.press("6")
        assert stands(begun, TODAY, "sleep") == "sleep8-5"
        assert pilot.app.editor.state.square == SquareKey(TODAY, "sleep")  # type: ignore[attr-defined]


async def test_a_new_day_is_noticed_while_a_grid_is_open(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever leaves it open over night must not rate yesterday for today."""
    monkeypatch.setattr("tracker.screens.grid_screen.REFRESH_SECONDS", 0.05)
    async with opened(begun) as pilot:
        assert re.search(r"\b17◄", everything(pilot))
        later = begun.clock.now() + timedelta(days=1)
        monkeypatch.setattr(begun, "clock", begun.clock._replace(now=lambda: later))
        await pilot.pause(0.3)
        assert re.search(r"\b18◄", everything(pilot))


async def test_q_leaves(begun: Record, opened: Opened) -> None:
    async with opened(begun, "Q") as pilot:
        assert pilot.app._exit is True
        assert pilot.app.return_code == 0


async def test_every_command_is_found_by_its_name(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        names = [command.title for command in pilot.app.get_system_commands(pilot.app.screen)]
        assert "Undo the last action, again and again" in names
        chosen = next(
            command
            for command in pilot.app.get_system_commands(pilot.app.screen)
            if command.title == "Answer: could not say"
        )
        await chosen.callback()
        assert stands(begun, YESTERDAY, "sleep") == "could not say"


async def test_a_letter_that_is_bound_in_a_dialogue_types_there(begun: Record, opened: Opened) -> None:
    async with opened(begun, "n", "q", "u", "i", "e", "t", "enter") as pilot:
        assert (begun.day(YESTERDAY).note_text, screen_name(pilot)) == ("quiet", "MonthScreen")


async def test_an_unbound_key_changes_nothing(begun: Record, opened: Opened) -> None:
    async with opened(begun) as pilot:
        before = shown(pilot)[:-1]
        await pilot.press("z", "ß", "f9", "ctrl+a")
        assert shown(pilot)[:-1] == before


@pytest.mark.parametrize("key", ["w", "f5", "f9", "insert", "ctrl+a", "ctrl+d", "ctrl+s", "alt+x", "escape"])
async def test_a_key_that_means_nothing_lets_the_last_sentence_go(
    begun: Record, opened: Opened, key: str
) -> None:
    async with opened(begun, "6", *[key] * 3) as pilot:
        assert (board(pilot, "words")[0].strip(), len(begun.history(YESTERDAY))) == (words.MOOD_ASKED, 1)


async def test_the_sums_of_a_month_that_is_done_stay_at_such_a_key(begun: Record, opened: Opened) -> None:
    async with opened(begun, "c", "enter", *"6" * 10, "w", "f5") as pilot:
        assert "March: 11 of 11" in board(pilot, "words")[0]


async def test_a_month_ahead_tells_its_nights_and_quick_returns(begun: Record, opened: Opened) -> None:
    kinds = {kind.code: kind for kind in DEFAULT_KINDS}
    first = date(2026, 4, 12)
    rota = [first + timedelta(days=at) for at in range(5)]
    begun.keep(
        [shift_change(day, kinds[code], begun.clock) for day, code in zip(rota, "nnole", strict=True)], "x"
    )
    async with opened(begun, "pagedown") as pilot:
        assert board(pilot, "words")[0] == " April: night shifts on 12-13; quick returns (under 11 h) on 16."
        await pilot.press("h")
        await pilot.press("right")
        assert "nights" not in everything(pilot)


@pytest.mark.parametrize("invented", [False, True])
async def test_a_long_day_takes_the_row_of_the_sentence_that_is_not_needed(
    begun: Record, opened: Opened, invented: bool
) -> None:
    note = "fog at Selderby Halt, both signals by hand, home on the last train"
    keep(begun, date(2026, 3, 7), anxious="no", note=note)
    async with opened(begun, "g", "home", *["right"] * 6, invented=invented) as pilot:
        assert (
            " ".join(line.strip() for line in board(pilot, "words"))
            .strip()
            .startswith(
                f"Sat 7 March: mood level 3 even, sleep 6-7 h (the sleep before), not anxious, note: {note}"
            )
        )


async def test_a_day_that_does_not_fit_is_said_in_fewer_words(begun: Record, opened: Opened) -> None:
    note = "fog all the way to Selderby Halt, single line working until noon, home late"
    keep(begun, date(2026, 3, 7), anxious="no", shift="late", note=note)
    async with opened(begun, "g", "home", *["right"] * 6, invented=True) as pilot:
        assert " ".join(line.strip() for line in board(pilot, "words")[:2]) == (
            f"Sat 7 March: mood 3 even, sleep 6-7 h, late shift, not anxious, note: {note}"
        )


async def test_while_catching_up_a_one_offers_no_second_digit(begun: Record, opened: Opened) -> None:
    async with opened(begun, "c", "enter", "1") as pilot:
        assert board(pilot, "keys") == [" Enter 1 hour  Esc leave it"]


async def test_help_says_what_a_one_does(begun: Record, opened: Opened) -> None:
    async with opened(begun, "question_mark", size=(120, 70)) as pilot:
        seen = everything(pilot)
        assert "0-4       Ten hours or more, after a 1 in sleep" in seen
        assert "Enter     After a 1 in sleep: one hour" in seen


async def test_what_waits_stays_while_the_day_is_said_in_fewer_words(begun: Record, opened: Opened) -> None:
    keep(begun, date(2026, 3, 9), mood="3", anxious="no", shift="late", note="fog at Selderby Halt")
    async with opened(begun, "up") as pilot:
        assert board(pilot, "words") == [
            f" {words.SLEEP_ASKED}",
            " Mon 9 March: mood 3 even, sleep waiting, late shift, not anxious, note: fog...",
            " 15 earlier squares wait (g goes there).",
        ]


async def test_what_was_done_is_said_in_full(begun: Record, opened: Opened) -> None:
    async with opened(begun, "up", *["left"] * 4, "3") as pilot:
        assert " ".join(line.strip() for line in board(pilot, "words")) == (
            "Kept for Thu 5 March 2026: sleep 3-4 h; remembered, 12 days later. "
            "The record now begins on 5 March 2026; u takes it back. "
            "Thu 5 March: mood waiting, sleep 3-4 h (the sleep before)"
        )
