"""What a key writes, in how many statements, and what happens where another program wrote before it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON
from tests.record.sample import TODAY, YESTERDAY, copy_of, fill
from tracker.diary.clock import Clock
from tracker.diary.days import NO_HOURS, Change, Day
from tracker.diary.errors import UnknownValue
from tracker.diary.settings import Settings
from tracker.record import erase, snapshots
from tracker.record.merge import merge
from tracker.record.store import Record

MOOD = Change(TODAY, "mood", "mood5-4")


@pytest.fixture
def window(record: Record) -> Iterator[Record]:
    """The same record in another program."""
    fill(record)
    with Record.open(record.path, record.clock) as other:
        yield other


def test_it_is_written_in_four_statements_transaction_included(record: Record) -> None:
    fill(record)
    day = record.day(TODAY)
    seen: list[str] = []
    record.db.trace(seen.append)
    record.keep([MOOD, Change(TODAY, "anxious", "no")], standing=lambda _: day)
    assert [" ".join(statement.split()[:3]) for statement in seen] == [
        "begin immediate", "insert into batch", "insert into entry", "commit",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "changes",
    [
        [MOOD, Change(TODAY, "anxious", "no")],
        [Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.25})],
        [Change(TODAY, "sleep", "sleep8-5", detail=NO_HOURS)],
        [Change(TODAY, "mood", state="could not say"), Change(YESTERDAY, "mood", state="cleared")],
        [Change(TODAY - timedelta(n), "mood", "mood5-1") for n in range(20)],
        [Change(TODAY, "note", "tea"), Change(TODAY, "shift", "off")],
    ],
)
def test_the_days_it_gives_back_are_those_that_would_be_read(record: Record, changes: list[Change]) -> None:
    fill(record)
    batch = record.keep(changes)
    assert batch is not None
    assert set(batch.days) == {day for day, _ in batch.squares}
    read = record.days()
    assert {day: what for day, what in batch.days.items() if what != Day(day)} == {
        day: read[day] for day in batch.days if day in read
    }


def _merge_a_copy(window: Record) -> None:
    with copy_of(window) as copy:
        copy.keep([Change(TODAY, "note", "from the laptop")])
        merge(window, copy)


def _restore_a_copy(window: Record) -> None:
    with copy_of(window) as copy:
        copy.undo()
        copy.keep([Change(YESTERDAY, "note", "of the copy")])
        snapshots.put_back(window, copy)


OTHERS: dict[str, Callable[[Record], object]] = {
    "key": lambda window: window.keep([Change(TODAY, "note", "from the other window")]),
    "setting": lambda window: window.keep_settings(Settings(theme="x")),
    "undo": lambda window: window.undo(),
    "erase": lambda window: erase.erase_days(window, YESTERDAY, YESTERDAY),
    "merge": _merge_a_copy,
    "restore": _restore_a_copy,
}


@pytest.mark.parametrize("act", OTHERS)
def test_it_comes_after_whatever_another_program_wrote(record: Record, window: Record, act: str) -> None:
    record.days()
    before = record.generation
    OTHERS[act](window)
    batch = record.keep([Change(TODAY, "mood", "mood5-1")])
    assert batch is not None
    every = "select turn from batch union all select turn from erased"
    turns = record.db.value(f"select max(turn) from ({every})")
    assert (batch.turn, record.generation > before) == (turns, True)
    assert record.day(TODAY).mood == batch.days[TODAY].mood
    if act == "setting":
        assert record.choices().settings.theme == "x"


def test_what_another_program_kept_meanwhile_is_not_taken_for_what_stood_before(
    record: Record, window: Record
) -> None:
    """She sees no mood and presses 3; the other window has just kept 3: nothing is written twice."""
    stale = record.day(YESTERDAY)
    window.keep([Change(YESTERDAY, "mood", "mood5-1")])
    assert record.keep([Change(YESTERDAY, "mood", "mood5-1")], standing=lambda _: stale) is None
    assert [entry.value for entry in record.history(YESTERDAY)].count("mood5-1") == 1


def test_levels_that_another_program_took_away_meanwhile_are_refused(record: Record, window: Record) -> None:
    day = TODAY - timedelta(3)
    record.choose({"kind.relief2": {"id": "relief2", "code": "z", "label": "second relief",
                                    "start": None, "end": None, "works": True}}, "kind")  # fmt: skip
    assert "relief2" in record.choices().kinds_by_id
    window.choose({"kind.relief2": None}, "kind")
    with pytest.raises(UnknownValue):
        record.keep([Change(day, "shift", "relief2")], checked=True)
    assert record.day(day).shift is None


def test_after_the_clock_was_set_back_the_last_answer_is_still_the_one_that_stands(tmp_path: Path) -> None:
    """Place in the order of actions counts before the time that a clock told."""
    now = [datetime(2026, 3, 17, 21, tzinfo=UTC)]
    with Record.open(tmp_path / "r.sqlite", Clock(now=lambda: now[0], zone=LONDON)) as record:
        record.keep([MOOD])
        now[0] -= timedelta(hours=5)
        record.keep([MOOD._replace(value="mood5-1")])
        mood = record.day(TODAY).mood
        assert mood is not None
        assert mood.value == "mood5-1"
        record.keep_settings(Settings(theme="a"))
        now[0] -= timedelta(hours=5)
        record.keep_settings(Settings(theme="b"))
        record.invalidate()
        assert record.choices().settings.theme == "b"


def test_a_first_day_kept_so_late_that_only_her_own_reckoning_lets_it_count_is_found(
    tmp_path: Path,
) -> None:
    """Fourteen days by the days she lives; fifteen and more by the clock in UTC, which narrows the search."""
    day = date(2026, 3, 2)
    auckland = Clock(now=lambda: datetime(2026, 3, 17, 12, 30, tzinfo=UTC), zone=LONDON)
    with Record.open(tmp_path / "r.sqlite", auckland) as record:
        record.keep_settings(Settings(day_change_hour=12))
        late = Clock(now=lambda: datetime(2026, 3, 17, 11, 30, tzinfo=UTC), zone=LONDON)
        record.clock = late
        record.keep([Change(day, "mood", "mood5-3")])
        mood = record.day(day).mood
        assert mood is not None
        assert (mood.basis, mood.late_days, mood.is_left_out) == ("remembered", 14, False)
        assert record.first_day() == day


def test_notes_are_found_in_either_case_as_they_stand_the_newest_first(record: Record) -> None:
    for day, note in (
        (YESTERDAY, "Rain at WENFOLD"),
        (TODAY, "wenfold again"),
        (date(2026, 3, 1), "Wenfold"),
    ):
        record.keep([Change(day, "note", note)])
    record.keep([Change(date(2026, 3, 1), "note", "sun")])
    record.keep([Change(YESTERDAY, "mood", "mood5-3")])
    assert record.notes_with(" Wenfold ") == [(TODAY, "wenfold again"), (YESTERDAY, "Rain at WENFOLD")]
    record.keep([Change(TODAY, "note", state="cleared")])
    assert [day for day, _ in record.notes_with("wenfold")] == [YESTERDAY]
