"""What a day rests on, in its form and by a key. It is Tuesday 17 March 2026; the day is Saturday the 7th."""

from __future__ import annotations

from datetime import date

import pytest
from textual.pilot import Pilot

from tests.keys import press
from tests.screens.conftest import Opened
from tests.screens.looking import everything
from tracker.diary.days import Basis, Change
from tracker.editing.editor import Editor
from tracker.record.store import Record

DAY, YESTERDAY, TODAY = date(2026, 3, 7), date(2026, 3, 16), date(2026, 3, 17)
TO_DAY = [*10 * ["left"], "enter"]
"""The keys from today to the form of the day."""
TO_BASIS = [*3 * ["up"], "up"]
"""From the first row round over the change, the note and the shift."""


@pytest.fixture
def copied(record: Record) -> Record:
    """A record of three days copied from paper, of which nothing waits yesterday and today."""
    for day in (DAY, YESTERDAY, TODAY):
        mood, sleep = Change(day, "mood", "mood5-3"), Change(day, "sleep", "sleep8-5")
        record.keep([mood, sleep], basis="paper")
    return record


def bases(record: Record, day: date = DAY) -> list[Basis]:
    stood = record.day(day)
    return [square.basis for square in (stood.mood, stood.sleep) if square]


def message(pilot: Pilot[None]) -> str:
    return pilot.app.editor.state.message  # type: ignore[attr-defined, no-any-return]


async def test_the_form_shows_what_the_day_rests_on(copied: Record, opened: Opened) -> None:
    async with opened(copied, *TO_DAY) as pilot:
        assert "Counts as copied from paper" in " ".join(everything(pilot).split())


async def test_answers_that_rest_on_different_things_are_told_one_by_one(
    copied: Record, opened: Opened
) -> None:
    copied.keep([Change(DAY, "mood", "mood5-3")], basis="remembered", rebase=True)
    async with opened(copied, *TO_DAY) as pilot:
        assert "mood remembered, sleep copied from paper" in everything(pilot)


async def test_it_is_put_right_as_one_action_that_history_tells_and_undo_takes_back(
    copied: Record, opened: Opened
) -> None:
    async with opened(copied, *TO_DAY, *TO_BASIS, "left", "enter") as pilot:
        assert message(pilot) == "2 squares of Sat 7 March 2026 count as remembered now. u takes it back."
        assert bases(copied) == ["remembered", "remembered"]
        await pilot.press("enter")
        await pilot.pause()
        assert "mood 3 even (typed, remembered)" in everything(pilot)
        await pilot.press("escape", "u")
        await pilot.pause()
    assert bases(copied) == ["paper", "paper"]


async def test_with_another_answer_it_is_still_one_action(copied: Record, opened: Opened) -> None:
    async with opened(copied, *TO_DAY, "2", *TO_BASIS, "left", "enter", "u"):
        assert bases(copied) == ["paper", "paper"]
        copied.redo()
        assert bases(copied) == ["remembered", "remembered"]


async def test_with_a_change_of_her_own_it_is_still_one_action(copied: Record, opened: Opened) -> None:
    async with opened(copied, *TO_DAY, *TO_BASIS, "left", *3 * ["down"], *"new job", "enter") as pilot:
        assert bases(copied) == ["remembered", "remembered"]
        assert [change.words for change in copied.choices().dated_changes] == ["new job"]
        assert message(pilot).endswith("Noted: 7 March 2026: new job.")
        await pilot.press("u")
    assert (bases(copied), copied.choices().dated_changes) == (["paper", "paper"], ())


async def test_where_nothing_stands_in_the_grids_it_is_not_offered(copied: Record, opened: Opened) -> None:
    copied.keep([Change(date(2026, 3, 8), "anxious", "yes")])
    async with opened(copied, *9 * ["left"], "enter") as pilot:
        assert "Anxious" in everything(pilot)
        assert "Counts as" not in everything(pilot)


ASKED = "The new answer is"


@pytest.mark.parametrize(
    ("keys", "is_asked"),
    [
        ([], False),
        (["2"], True),
        (["2", "3"], False),
        (["down", "4"], True),
        (["down", "down", *"6.2"], True),
        (3 * ["down"] + ["right"], False),
        (["2", "up", "up", "up", "up", "left"], False),
    ],
    ids=["nothing", "a mood", "a mood and back", "a sleep", "hours", "the mark", "what it all rests on"],
)
async def test_a_late_change_of_an_answer_asks_what_it_is(
    copied: Record, opened: Opened, keys: list[str], is_asked: bool
) -> None:
    async with opened(copied, *TO_DAY, *keys) as pilot:
        assert (ASKED in everything(pilot)) is is_asked


async def test_a_change_within_two_days_is_not_asked(copied: Record, opened: Opened) -> None:
    async with opened(copied, "enter", "2") as pilot:
        assert "Counts as" in everything(pilot)
        assert ASKED not in everything(pilot)


TO_ASKED = [*TO_BASIS, "up"]


@pytest.mark.parametrize(
    ("keys", "basis", "said"),
    [
        ([], "paper", "still from paper"),
        ([*TO_ASKED, "left"], "paper", "still from paper"),
        ([*TO_ASKED, "right"], "remembered", "remembered, 10 days later"),
    ],
    ids=["a slip is proposed", "from paper", "remembered"],
)
async def test_the_changed_answer_alone_rests_on_what_she_says(
    copied: Record, opened: Opened, keys: list[str], basis: Basis, said: str
) -> None:
    async with opened(copied, *TO_DAY, "2", *keys, "enter") as pilot:
        assert message(pilot) == f"Kept for Sat 7 March 2026: mood 2 low; {said}. Before: mood 3 even."
    assert bases(copied) == [basis, "paper"]


async def test_what_was_said_of_a_change_goes_with_it(copied: Record, opened: Opened) -> None:
    back = 4 * ["down"]
    async with opened(copied, *TO_DAY, "2", *TO_ASKED, "right", *back, "down", "3", "2", "enter"):
        assert bases(copied) == ["paper", "paper"]


def test_by_a_key_in_the_month_the_basis_stays_and_is_said(copied: Record) -> None:
    editor = Editor(copied)
    editor.go_to(DAY, "mood")
    press(editor, "2")
    assert editor.state.message == (
        "Kept for Sat 7 March 2026: mood 2 low (still from paper), not anxious (remembered, 10 days later). "
        "Before: mood 3 even."
    )
    assert bases(copied) == ["paper", "paper"]


def test_a_key_that_says_what_stood_before_is_written_in_four_statements(copied: Record) -> None:
    editor = Editor(copied)
    editor.go_to(TODAY, "mood")
    seen: list[str] = []
    copied.db.trace(seen.append)
    press(editor, "2")
    copied.db.trace(None)
    assert [" ".join(statement.split()[:2]) for statement in seen if not statement.startswith("--")] == [
        "begin immediate", "insert into", "insert into", "commit",
    ]  # fmt: skip
