"""What is typed into a note or a form and not kept waits in the record. It is Tuesday 17 March 2026."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date

import pytest
from textual.pilot import Pilot

from tests.keeping import keep
from tests.screens.conftest import Opened
from tests.screens.looking import board, everything, screen_name
from tests.screens.test_form_screens import at_once, form
from tracker import words
from tracker.diary.dates import short_day
from tracker.diary.errors import UnwritableRecord
from tracker.editing.editor import Editor
from tracker.editing.open_record import OpenRecord
from tracker.record.erase import erase_days
from tracker.record.store import Record
from tracker.screens import form_screen
from tracker.screens.app import TrackerApp

YESTERDAY = date(2026, 3, 16)
NOTE = "note.2026-03-16"
HERE = words.stands_again([], "Ctrl+T")
NOT_SUSPENDED = words.not_suspended("q")
LONGER = 3 * form_screen.WRITE_AFTER


def waiting(record: Record) -> dict[str, str]:
    """What waits in the file, as another program finds it."""
    with closing(sqlite3.connect(record.path)) as db:
        return dict(db.execute("select place, text from draft"))


def foot(pilot: Pilot[None]) -> str:
    return board(pilot, "keys")[0]


@contextmanager
def traced(record: Record) -> Iterator[list[str]]:
    """The statements that are run meanwhile, by their first three words."""
    seen: list[str] = []
    record.db.trace(lambda statement: seen.append(" ".join(statement.split()[:3])))
    try:
        yield seen
    finally:
        record.db.trace(None)


class TestWriting:
    async def test_it_is_in_the_record_within_a_second_of_typing(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog") as pilot:
            assert form_screen.WRITE_AFTER < 1
            await pilot.pause(LONGER)
            assert (waiting(begun), begun.day(YESTERDAY).note) == ({NOTE: "fog"}, None)
            await pilot.press("s")
            await pilot.pause(LONGER)
            assert waiting(begun) == {NOTE: "fogs"}

    @pytest.mark.parametrize("key", ["escape", "ctrl+c", "ctrl+q"])
    async def test_it_is_there_however_she_leaves(self, begun: Record, opened: Opened, key: str) -> None:
        async with opened(begun, "n", *"fog") as pilot:
            await pilot.press(key)
            await pilot.pause()
        assert waiting(begun) == {NOTE: "fog"}

    @pytest.mark.parametrize(("invented", "said"), [(False, [words.TYPED_WAITS]), (True, [])])
    async def test_at_the_end_it_is_said_to_wait_but_among_invented_days(
        self, begun: Record, opened: Opened, invented: bool, said: list[str]
    ) -> None:
        async with opened(begun, "n", *"fog", "ctrl+q", invented=invented) as pilot:
            assert pilot.app._exit_renderables == said

    @pytest.mark.parametrize("key", ["escape", "ctrl+c", "ctrl+q", "ctrl+z"])
    async def test_no_key_overtakes_what_was_typed_before_it(
        self, begun: Record, opened: Opened, key: str
    ) -> None:
        async with opened(begun, "n") as pilot:
            await at_once(pilot, *"fog", key)
        assert waiting(begun) == {NOTE: "fog"}

    async def test_under_help_as_well(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog", "f1", "q"):
            pass
        assert waiting(begun) == {NOTE: "fog"}

    async def test_typed_back_to_what_stood_there_is_none(self, begun: Record, opened: Opened) -> None:
        keep(begun, YESTERDAY, note="fog")
        async with opened(begun, "n", "s", "escape", "n", "backspace", "escape") as pilot:
            assert (waiting(begun), everything(pilot).count("waits where")) == ({}, 0)

    async def test_of_a_form_only_what_is_typed_waits(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "3", "down", "down", *"6.5", "escape"):
            assert waiting(begun) == {"hours.2026-03-16": "6.5"}

    async def test_what_enter_would_keep_nowhere_does_not_wait(self, begun: Record, opened: Opened) -> None:
        async with opened(
            begun, "p", "w", "A", *["up"] * 2, "A", "escape", "escape", "slash", *"fog", "escape"
        ):
            assert waiting(begun) == {}


class TestTwoWindows:
    """Nothing that was typed in one is lost by the other, in a form that stood open before."""

    async def test_what_waits_already_stays_and_the_other_is_told(
        self, begun: Record, opened: Opened
    ) -> None:
        with Record.open(begun.path, begun.clock) as other:
            async with opened(begun, "n") as pilot:
                OpenRecord(other).keep_drafts({NOTE: "a long note"}, {})
                await pilot.press(*"fog")
                await pilot.pause(LONGER)
                assert form(pilot).error == words.TYPED_ELSEWHERE
                await pilot.press("escape")
                await pilot.pause()
                assert form(pilot).error == words.goes_if_left(words.TYPED_ELSEWHERE)
                assert waiting(begun) == {NOTE: "a long note"}
                await pilot.press("enter")
                await pilot.pause()
                assert (waiting(begun), begun.day(YESTERDAY).note_text) == ({NOTE: "a long note"}, "fog")

    async def test_kept_in_one_it_takes_nothing_that_was_typed_on_in_the_other(
        self, begun: Record, opened: Opened
    ) -> None:
        with Record.open(begun.path, begun.clock) as other:
            async with opened(begun, "n", *"fog", "escape", "n") as pilot:
                OpenRecord(other).keep_drafts({NOTE: "fog over Cawbrook"}, {NOTE: "fog"})
                await pilot.press("enter")
                await pilot.pause()
        assert (waiting(begun), begun.day(YESTERDAY).note_text) == ({NOTE: "fog over Cawbrook"}, "fog")


@pytest.mark.parametrize(
    ("keys", "place"),
    [
        (("comma", *["down"] * 8, "7"), "settings.latitude"),
        (("f3", "x"), "levels.mood"),
        (("p", "l", "x"), "page.want1"),
        (("f", "t", "n", "x"), "trial.tried"),
        (("c", "up", "x"), "catch up.colours sleep"),
    ],
)
async def test_every_form_that_keeps_something_has_places_of_its_own(
    begun: Record, opened: Opened, keys: tuple[str, ...], place: str
) -> None:
    async with opened(begun, *keys, "escape"):
        assert [*waiting(begun)] == [place]


class TestOffering:
    async def test_it_stands_where_it_was_typed_with_a_sentence(self, begun: Record, opened: Opened) -> None:
        keep(begun, YESTERDAY, note="tea")
        async with opened(begun, "n", *" fog", "escape", "n") as pilot:
            assert form(pilot).answers == {"note": "tea fog"}
            assert " ".join(HERE.split()) in " ".join(everything(pilot).split())
            assert foot(pilot).startswith(" Enter keep  Esc leave it  Ctrl+T throw away")

    async def test_nowhere_else(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog", "escape") as pilot:
            await pilot.press("left", "n")
            await pilot.pause()
            assert (form(pilot).answers, "did not keep" in everything(pilot)) == ({"note": ""}, False)
            await pilot.press("escape", "y")
            await pilot.pause()
            assert "fog" not in everything(pilot)

    async def test_the_note_of_a_day_is_one_in_both_of_its_forms(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog", "escape", "enter") as pilot:
            assert form(pilot).answers["note"] == "fog"
            assert words.stands_again(["Note"], "Ctrl+T") in " ".join(everything(pilot).split())

    async def test_in_another_program_too(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog", "escape"):
            pass
        with Record.open(begun.path, begun.clock) as again:
            async with opened(again, "n") as pilot:
                assert form(pilot).answers == {"note": "fog"}

    async def test_another_program_names_its_day_when_it_opens(self, begun: Record, opened: Opened) -> None:
        said = words.typed_waits_at(short_day(YESTERDAY))
        async with opened(begun, "n", *"fog", "escape") as pilot:
            assert said not in " ".join(everything(pilot).split())
        with Record.open(begun.path, begun.clock) as again:
            async with opened(again) as pilot:
                assert said in " ".join(everything(pilot).split())
                await pilot.press("n", "ctrl+t", "escape")
            async with opened(again) as pilot:
                assert said not in " ".join(everything(pilot).split())

    async def test_hours_choose_their_bucket_again(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "down", "down", *"6.5", "escape", "enter") as pilot:
            assert form(pilot).answers["sleep"] == "sleep8-5"
            await pilot.press("enter")
            await pilot.pause()
        assert (begun.day(YESTERDAY).hours, waiting(begun)) == (6.5, {})

    async def test_one_that_was_erased_with_its_day_is_not_offered(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n", *"fog", "escape") as pilot:
            erase_days(begun, YESTERDAY, YESTERDAY)
            await pilot.press("n")
            await pilot.pause()
            assert form(pilot).answers == {"note": ""}


class TestGoing:
    async def test_kept_it_goes_in_the_same_transaction_with_one_statement(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n", *"fog", "escape", "n") as pilot:
            with traced(begun) as seen:
                await pilot.press("enter")
                await pilot.pause()
            assert seen == [
                "begin immediate", "insert into batch", "insert into entry", "delete from draft", "commit",
            ]  # fmt: skip
        assert (begun.day(YESTERDAY).note_text, waiting(begun)) == ("fog", {})

    async def test_a_note_that_never_waited_needs_no_statement_more(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n", *"fog") as pilot:
            with traced(begun) as seen:
                await pilot.press("enter")
                await pilot.pause()
            assert seen[:4] == ["begin immediate", "insert into batch", "insert into entry", "commit"]
            assert "delete from draft" not in seen

    async def test_kept_it_does_not_come_back_with_undo(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"fog", "escape", "n", "enter", "u", "n") as pilot:
            assert (form(pilot).answers, waiting(begun)) == ({"note": ""}, {})

    async def test_what_cannot_be_kept_goes_on_waiting(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "down", "down", *"99", "escape", "enter", "enter") as pilot:
            assert screen_name(pilot) == "DayScreen"
            assert (waiting(begun), begun.day(YESTERDAY).sleep) == ({"hours.2026-03-16": "99"}, None)

    async def test_a_form_that_asks_once_more_lets_it_wait_until_it_is_answered(
        self, begun: Record, opened: Opened
    ) -> None:
        keys = ("f3", "ctrl+u", *"low, even, good", "escape", "f3", "enter")
        async with opened(begun, *keys) as pilot:
            assert waiting(begun) == {"levels.mood": "low, even, good"}
            await pilot.press("enter")
            await pilot.pause()
            assert (screen_name(pilot), waiting(begun)) == ("MonthScreen", {})

    async def test_where_the_disk_fails_at_the_end_neither_is_done(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def full(self: OpenRecord, places: object) -> None:
            raise UnwritableRecord("The disk is full; nothing was kept.")

        async with opened(begun, "n", *"fog", "escape", "n") as pilot:
            monkeypatch.setattr(OpenRecord, "forget_drafts", full)
            await pilot.press("enter")
            await pilot.pause()
            assert "The disk is full; nothing was kept." in everything(pilot)
            assert (form(pilot).answers, form(pilot).kept.days.on(YESTERDAY).note) == ({"note": "fog"}, None)
        assert (begun.day(YESTERDAY).note, waiting(begun)) == (None, {NOTE: "fog"})

    async def test_thrown_away_what_was_kept_stands_again(self, begun: Record, opened: Opened) -> None:
        keep(begun, YESTERDAY, note="tea")
        async with opened(begun, "n", *" fog", "escape", "n", "ctrl+t") as pilot:
            await pilot.pause(0.1)
            assert (form(pilot).answers, waiting(begun)) == ({"note": "tea"}, {})
            assert words.THROWN_AWAY in everything(pilot)
            assert "Ctrl+T" not in foot(pilot)

    async def test_what_was_only_just_typed_is_thrown_away_as_well(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n", *"fog", "ctrl+t") as pilot:
            await pilot.pause(LONGER)
            assert (form(pilot).answers, waiting(begun)) == ({"note": ""}, {})


class TestNowhereToWait:
    """A record that takes nothing: it is said, and nothing goes from the field before that."""

    @pytest.fixture
    def looking(self, begun: Record, monkeypatch: pytest.MonkeyPatch) -> Record:
        monkeypatch.setattr(begun, "read_only", True)
        return begun

    async def test_it_is_said_while_she_types(self, looking: Record, opened: Opened) -> None:
        async with opened(looking, "n", *"fog") as pilot:
            await pilot.pause(LONGER)
            said = " ".join(everything(pilot).split())
            assert "Nothing is kept: no room on the disk, or no leave to write." in said
            assert form(pilot).answers == {"note": "fog"}

    @pytest.mark.parametrize("key", ["escape", "ctrl+c", "ctrl+q"])
    async def test_she_is_told_once_before_it_is_lost(
        self, looking: Record, opened: Opened, key: str
    ) -> None:
        async with opened(looking, "n", *"fog", key) as pilot:
            said = " ".join(everything(pilot).split())
            assert "What you typed cannot wait; the same key again leaves without it." in said
            assert (form(pilot).answers, pilot.app._exit) == ({"note": "fog"}, False)
            await pilot.press(key)
            await pilot.pause()
            assert screen_name(pilot) == "MonthScreen" or pilot.app._exit

    async def test_what_was_typed_since_is_told_of_again(self, looking: Record, opened: Opened) -> None:
        async with opened(looking, "n", *"fog", "escape", "s", "escape") as pilot:
            assert form(pilot).answers == {"note": "fogs"}

    async def test_no_record_is_begun_for_it_and_that_is_said(
        self, record: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        async with opened(record) as pilot:
            await pilot.app.open("note")  # type: ignore[attr-defined]
            await pilot.press(*"fog", "escape")
            await pilot.pause()
            assert words.NO_RECORD_FOR_DRAFTS in " ".join(everything(pilot).split())
        assert (record.is_empty(), waiting(record)) == (True, {})

    async def test_once_another_program_has_gone_it_is_written(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(form_screen, "TRY_AGAIN", 0.2)
        begun.db.execute("pragma busy_timeout = 20")
        async with opened(begun, "n", *"fog") as pilot:
            with closing(sqlite3.connect(begun.path)) as other:
                other.execute("begin immediate")
                await pilot.pause(LONGER)
                assert waiting(begun) == {}
            await pilot.pause(LONGER)
            assert waiting(begun) == {NOTE: "fog"}

    async def test_one_that_cannot_be_read_is_named_and_the_form_opens(
        self, begun: Record, opened: Opened
    ) -> None:
        begun.db.execute("insert into draft values (?, cast(x'ff41' as text))", (NOTE,))
        async with opened(begun, "n") as pilot:
            assert "run tracker check" in " ".join(everything(pilot).split())
            assert form(pilot).answers == {"note": ""}


async def test_a_program_that_is_told_to_end_before_it_stands_ends_then(begun: Record) -> None:
    app = TrackerApp(Editor(begun))
    app.leave_from_outside()
    async with app.run_test() as pilot:
        await pilot.pause()
        assert pilot.app._exit


async def test_ctrl_c_copies_what_is_selected_and_leaves_nothing(begun: Record, opened: Opened) -> None:
    async with opened(begun, "n", *"fog", *["shift+left"] * 2, "ctrl+c") as pilot:
        assert (pilot.app.clipboard, pilot.app._exit) == ("og", False)
        await pilot.press("right", "ctrl+c")
        await pilot.pause()
        assert pilot.app._exit


async def test_without_a_shell_ctrl_z_says_so_and_nothing_stops(begun: Record, opened: Opened) -> None:
    async with opened(begun, "6", "ctrl+z") as pilot:
        assert NOT_SUSPENDED in foot(pilot)
        await pilot.press("n", *"fog", "ctrl+z")
        await pilot.pause()
        assert (NOT_SUSPENDED in foot(pilot), waiting(begun)) == (True, {NOTE: "fog"})


async def test_where_no_program_can_be_suspended_ctrl_z_undoes_in_a_field(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.system.CAN_SUSPEND", False)
    async with opened(begun, "f3", "x", "ctrl+z") as pilot:
        assert (form(pilot).typed, NOT_SUSPENDED in foot(pilot)) == ({}, False)
        await pilot.press("escape", "ctrl+z")
        await pilot.pause()
        assert NOT_SUSPENDED in foot(pilot)
