"""What a square rests on: at the time, remembered or from paper, and how that is put right.

The first day is Thursday 5 February 2026, when a few days were typed; today is Tuesday 17 March.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from tests.conftest import LONDON, NOW
from tests.record.sample import copy_of
from tracker.diary.breaks import Break
from tracker.diary.changes import rests_on
from tracker.diary.clock import Clock
from tracker.diary.days import Basis, Change, Field, Square
from tracker.record import erase
from tracker.record.choice_rows import break_value
from tracker.record.merge import merge
from tracker.record.row_checks import all_faults
from tracker.record.store import Record

THEN, TODAY = date(2026, 2, 5), date(2026, 3, 17)
MOOD, OTHER, SLEEP = "mood5-4", "mood5-2", "sleep8-5"
TYPED = datetime(2026, 2, 5, 20, 0, tzinfo=UTC)
At = Callable[[datetime], None]


@pytest.fixture
def moved(tmp_path: Path) -> Iterator[tuple[Record, At]]:
    """A record of 5 February, kept that evening, and what moves its clock."""
    now = [TYPED]
    with Record.open(tmp_path / "record.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
        record.keep([Change(THEN, "mood", MOOD), Change(THEN, "sleep", SLEEP, detail={"hours": 6.5})])
        yield record, lambda moment: now.__setitem__(0, moment)


@pytest.fixture
def record(moved: tuple[Record, At]) -> Record:
    """The same on 17 March, forty days later."""
    opened, at = moved
    at(NOW)
    return opened


def mood(record: Record) -> Square:
    square = record.day(THEN).mood
    assert square is not None
    return square


RULE: dict[str, tuple[Change, Square | None, Basis | None, tuple[Basis, bool]]] = {
    "a first answer late is remembered": (Change(THEN, "mood", MOOD), None, None, ("remembered", False)),
    "a first answer in time is so": (Change(TODAY, "mood", MOOD), None, None, ("at the time", False)),
    "a slip put right keeps basis and moment": (
        Change(THEN, "mood", OTHER), Square(MOOD, basis="paper"), None, ("paper", True),
    ),
    "another answer in time is one of its own": (
        Change(TODAY, "mood", OTHER), Square(MOOD), None, ("at the time", False),
    ),
    "another answer in time to one from paper stays from paper": (
        Change(TODAY, "mood", OTHER), Square(MOOD, basis="paper"), None, ("paper", False),
    ),
    "the same answer on another basis keeps its moment": (
        Change(THEN, "mood", MOOD), Square(MOOD), "paper", ("paper", True),
    ),
    "another answer that is said to be remembered is of now": (
        Change(THEN, "mood", OTHER), Square(MOOD), "remembered", ("remembered", False),
    ),
    "what is cleared rests on nothing": (
        Change(THEN, "mood", state="cleared"), Square(MOOD, basis="paper"), None, ("remembered", False),
    ),
    "a note has no basis to keep": (
        Change(THEN, "note", "tea"), Square("coffee", basis="paper"), None, ("remembered", False),
    ),
}  # fmt: skip


@pytest.mark.parametrize("clause", RULE)
def test_what_an_answer_rests_on(clause: str) -> None:
    change, stood, basis, weight = RULE[clause]
    assert rests_on(change, stood, basis, TODAY) == weight


def test_a_slip_put_right_after_weeks_keeps_its_weight_and_names_the_first_entry(record: Record) -> None:
    record.keep([Change(THEN, "mood", OTHER)])
    record.keep([Change(THEN, "mood", "mood5-3")])
    square = mood(record)
    assert (square.value, square.basis, square.kept_at, square.is_left_out) == (
        "mood5-3", "at the time", TYPED, False,
    )  # fmt: skip
    first, _, once, twice = record.history(THEN)
    assert (once.restores, twice.restores) == (first.id, first.id)
    assert twice.recorded_at == NOW


def test_days_are_put_right_as_one_action_which_undo_takes_back(record: Record) -> None:
    batch = record.rebase(THEN, TODAY, "paper")
    assert batch is not None
    assert (batch.what, batch.changes) == ("Thu 5 February, 2 squares from paper", 2)
    assert (mood(record).value, mood(record).basis, mood(record).kept_at) == (MOOD, "paper", TYPED)
    assert record.rebase(THEN, TODAY, "paper") is None
    record.undo()
    assert (mood(record).basis, mood(record).kept_at) == ("at the time", TYPED)
    assert all_faults(record.db) == []


def test_what_is_put_right_keeps_the_detail_of_its_answer(record: Record) -> None:
    record.rebase(THEN, THEN, "paper")
    assert record.day(THEN).hours == 6.5


def test_the_days_that_stand_after_it_are_those_that_are_read(record: Record) -> None:
    batch = record.rebase(THEN, THEN, "remembered")
    assert batch is not None
    assert batch.days == record.days()


@pytest.mark.parametrize(
    ("said", "left_out"), [("paper", False), ("remembered", True), ("at the time", False)]
)
def test_a_wrong_basis_of_late_days_is_put_right_with_the_days_they_came_late(
    moved: tuple[Record, At], said: Basis, left_out: bool
) -> None:
    record, at = moved
    at(NOW)
    day = date(2026, 2, 1)
    record.keep([Change(day, "mood", MOOD)], basis="at the time")
    at(NOW.replace(month=5))
    record.rebase(day, day, said)
    square = record.day(day).mood
    assert square is not None
    late = 44 if said == "remembered" else 0
    assert (square.basis, square.late_days, square.is_left_out) == (said, late, left_out)


def test_an_answer_that_stands_is_kept_on_another_basis_only_where_that_is_asked(
    record: Record,
) -> None:
    same = [Change(THEN, "mood", MOOD)]
    assert record.keep(same, basis="paper") is None
    assert record.keep(same, basis="paper", rebase=True, over=False) is not None
    assert mood(record).basis == "paper"


def test_another_basis_ends_no_break_that_goes_on(record: Record) -> None:
    record.choose(break_value(Break(date(2026, 2, 1))))
    record.rebase(THEN, THEN, "paper")
    assert record.choices().breaks == (Break(date(2026, 2, 1)),)


def test_notes_and_shifts_rest_on_nothing_that_could_be_put_right(record: Record) -> None:
    fields: tuple[Field, ...] = ("note", "shift")
    record.keep([Change(THEN, field, value) for field, value in zip(fields, ("tea", "off"), strict=True)])
    record.rebase(THEN, THEN, "paper")
    assert {entry.field for entry in record.history(THEN) if entry.basis == "paper"} == {"mood", "sleep"}


def test_the_first_day_moves_with_what_its_only_squares_rest_on(record: Record) -> None:
    assert record.first_day() == THEN
    record.keep([Change(date(2026, 1, 20), "mood", MOOD)])
    assert record.first_day() == THEN
    record.rebase(date(2026, 1, 20), date(2026, 1, 20), "paper")
    assert record.first_day() == date(2026, 1, 20)


def test_a_copy_takes_over_what_was_put_right(record: Record, tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
        merge(other, record)
        record.rebase(THEN, THEN, "paper")
        result = merge(other, record)
        assert (result.entries, result.conflicts) == (2, [])
        assert other.days() == record.days()


def test_what_was_put_right_elsewhere_goes_with_the_day_that_was_erased_here(
    record: Record, tmp_path: Path, clock: Clock
) -> None:
    with Record.open(tmp_path / "copy" / "other.sqlite", clock) as other:
        merge(other, record)
        other.rebase(THEN, THEN, "paper")
        other.keep([Change(THEN, "mood", OTHER)])
        copy = copy_of(other)
    erase.erase_days(record, THEN, THEN)
    with copy:
        merge(record, copy)
    assert record.history(THEN) == []


@pytest.mark.parametrize("column", ["day", "field"])
def test_a_check_finds_an_entry_that_keeps_the_moment_of_another_square(record: Record, column: str) -> None:
    record.rebase(THEN, THEN, "paper")
    wrong = {"day": "2026-02-06", "field": "anxious"}[column]
    value = "yes" if column == "field" else MOOD
    record.db.execute(
        f"update entry set {column} = ?, value = ? where restores is null and field = 'mood'", (wrong, value)
    )
    sentences = [fault.sentence for fault in all_faults(record.db)]
    assert "it has the moment of an entry that is not there, or of another square." in sentences
