"""Fewer colours, no colours, odd fonts, a program that fails: the screens in other terminals."""

from __future__ import annotations

from datetime import date

import pytest
from rich.color import ColorType
from textual.strip import Strip

from tests.keeping import keep, stands
from tests.screens.conftest import Opened
from tests.screens.looking import board, everything, shown
from tracker.editing.editor import Editor
from tracker.record.files import backups_folder
from tracker.record.store import Record
from tracker.screens.app import TrackerApp, run_app
from tracker.screens.findings_view import FindingsView
from tracker.screens.widgets.canvas_view import CanvasView

YESTERDAY = date(2026, 3, 16)


def strips(shown: CanvasView) -> list[Strip]:
    return [shown.render_line(y) for y in range(shown.size.height)]


@pytest.mark.parametrize("colours", ["truecolor", "256", "standard", None])
async def test_every_piece_of_text_has_a_style(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, colours: str | None
) -> None:
    """One segment without a style would end Textual where colour is off."""
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", colours)
    if colours is None:
        monkeypatch.setenv("NO_COLOR", "1")
    async with opened(begun, "y") as pilot:
        for shown in pilot.app.screen.query(CanvasView):
            assert all(segment.style is not None for strip in strips(shown) for segment in strip)


@pytest.mark.parametrize(("colours", "kinds"), [("truecolor", {ColorType.TRUECOLOR}), ("standard", set())])
async def test_text_round_the_squares_is_the_terminals_own_in_sixteen_colours(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, colours: str, kinds: set[ColorType]
) -> None:
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", colours)
    async with opened(begun) as pilot:
        words = strips(pilot.app.screen.query_one("#words", CanvasView))
        found = {
            segment.style.bgcolor.type
            for strip in words
            for segment in strip
            if segment.style and segment.style.bgcolor
        }
        assert found == kinds


async def test_without_colour_the_cursor_is_still_seen(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(begun) as pilot:
        assert [line.count("▐") for line in board(pilot, "grids") if "▐" in line] == [1, 1]
        await pilot.press("y", "v")
        await pilot.pause(0.1)
        grids = strips(pilot.app.screen.query_one("#grids", CanvasView))
        reversed_text = [s.text for strip in grids for s in strip if s.style and s.style.reverse]
        assert reversed_text == ["16", "· "]
        assert not any(s.style and s.style.color for strip in grids for s in strip)


@pytest.mark.parametrize(("colours", "no_colour"), [("standard", False), ("truecolor", True)])
async def test_with_few_colours_the_chosen_statement_is_still_seen(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, colours: str, no_colour: bool
) -> None:
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", colours)
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    async with opened(begun, "f") as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.pause(0.1)
        await pilot.press("end")
        await pilot.pause()
        chosen = pilot.app.screen.query_one(FindingsView).entry.statements[0].text
        assert [line.split("►")[1] for line in shown(pilot) if "►" in line] == [chosen[:76].rstrip()]


@pytest.mark.parametrize(("variables", "mouse"), [({}, True), ({"STY": "1.pts-0.host"}, False)])
def test_gnu_screen_reports_no_mouse_and_so_hands_on_esc_at_once(
    begun: Record, monkeypatch: pytest.MonkeyPatch, variables: dict[str, str], mouse: bool
) -> None:
    """Seen in GNU screen 4.9: Esc and the key after it came as one."""
    ran: list[bool] = []
    monkeypatch.delenv("STY", raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(TrackerApp, "run", lambda _, mouse: ran.append(mouse))
    run_app(begun)
    assert ran == [mouse]


async def test_ascii_marks_need_no_other_signs(begun: Record, opened: Opened) -> None:
    begun.keep_settings(begun.choices().settings.with_value("marks", "ascii"))
    async with opened(begun, "y") as pilot:
        assert everything(pilot).isascii()
        for keys in (["escape", "f2"], ["escape", "question_mark"]):
            await pilot.press(*keys)
            await pilot.pause(0.1)
            assert everything(pilot).isascii()


async def test_a_failure_ends_in_one_sentence_without_what_was_written(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    keep(begun, YESTERDAY, note="the signal box at Cawbrook Junction")

    def fail(self: Editor) -> None:
        note = self.state.day.note_text
        raise ZeroDivisionError(note)

    monkeypatch.setattr(Editor, "to_waiting", fail)
    codes: list[int | None] = []

    async def fail_in_the_app() -> None:
        async with opened(begun, "6") as pilot:
            await pilot.press("g")
            codes.append(pilot.app.return_code)

    with pytest.raises(ZeroDivisionError):
        await fail_in_the_app()
    assert codes == [1]
    shown = capsys.readouterr()
    said = " ".join((shown.out + shown.err).split())
    assert "The program made a mistake (ZeroDivisionError at editor.py line" in said
    assert "Cawbrook" not in said
    assert "Traceback" not in said
    assert stands(begun, YESTERDAY, "sleep") == "sleep8-5"


def backups(record: Record) -> list[str]:
    return sorted(path.name for path in backups_folder(record.path).glob("*.sqlite"))


async def test_a_backup_is_made_once_the_app_has_opened(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.screens.app.BACKUP_AFTER", 0.01)
    async with opened(begun) as pilot:
        await pilot.pause(0.1)
        await pilot.app.workers.wait_for_complete()
        assert backups(begun) == ["record-2026-03-17.sqlite"]


async def test_no_record_is_begun_for_a_backup_of_one_that_was_moved_meanwhile(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.screens.app.BACKUP_AFTER", 0.3)
    async with opened(begun) as pilot:
        moved = begun.path.rename(begun.path.with_name("moved.sqlite"))
        await pilot.pause(0.5)
        await pilot.app.workers.wait_for_complete()
        assert not begun.path.exists()
        moved.rename(begun.path)


async def test_invented_days_are_not_backed_up(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.screens.app.BACKUP_AFTER", 0.01)
    async with opened(begun, invented=True) as pilot:
        await pilot.pause(0.1)
        await pilot.app.workers.wait_for_complete()
        assert backups(begun) == []


async def test_a_backup_that_fails_is_one_sentence_and_ends_nothing(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.screens.app.BACKUP_AFTER", 0.01)
    backups_folder(begun.path).write_text("in the way")
    async with opened(begun) as pilot:
        await pilot.pause(0.2)
        assert "There is no backup of today: " in board(pilot, "words")[0]
        await pilot.press("6")
    assert stands(begun, YESTERDAY, "sleep") == "sleep8-5"
