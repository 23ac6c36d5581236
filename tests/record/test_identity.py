"""What makes two files copies of one record."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.record.sample import TODAY, copy_of, fill
from tests.record.test_version_1 import EXPORT
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import DamagedRecord, ForeignRecord
from tracker.record import erase
from tracker.record.json_export import record_as_json, record_from_json
from tracker.record.merge import merge
from tracker.record.store import Record

MOOD = Change(TODAY, "mood", "mood5-4")


def identities(record: Record) -> list[str]:
    rows = record.db.rows("select value from choice where name = 'record.id' order by value")
    return [row["value"] for row in rows]


@pytest.fixture
def other(tmp_path: Path, clock: Clock) -> Iterator[Record]:
    with Record.open(tmp_path / "other.sqlite", clock) as other:
        yield other


def test_the_first_action_names_the_record_and_opening_never_does(record: Record, clock: Clock) -> None:
    assert identities(record) == []
    record.keep([MOOD])
    (name,) = identities(record)
    record.keep([MOOD._replace(value="mood5-1")])
    with Record.open(record.path, clock) as again:
        again.keep([MOOD])
        assert identities(again) == [name]


def test_no_undo_and_no_erasing_touches_it_and_it_keeps_nothing_of_the_first_action(
    record: Record,
) -> None:
    record.keep([MOOD])
    before = identities(record)
    assert record.undo().what == "Tue 17 March, mood 4 good"
    erase.erase_days(record, TODAY, TODAY)
    assert identities(record) == before
    assert record.db.rows("select what from batch where what like '%mood%'") == []
    assert record.last_action() is None


def test_an_export_carries_it_and_one_without_it_comes_in_as_ever(
    record: Record, other: Record, clock: Clock
) -> None:
    fill(record)
    with record_from_json(record_as_json(record), record.path) as copy:
        assert identities(copy) == identities(record)
    with record_from_json(EXPORT.read_text(encoding="utf-8"), EXPORT) as old:
        merge(other, old)
    assert identities(other) == []
    other.keep([MOOD])
    assert len(identities(other)) == 1


def test_another_record_is_merged_only_when_told_so_and_both_are_one_from_then_on(
    record: Record, other: Record
) -> None:
    record.keep([MOOD])
    other.keep([MOOD._replace(value="mood5-1")])
    with pytest.raises(ForeignRecord, match="is of another record: it has no action in common with this one"):
        merge(record, other)
    merge(record, other, another=True)
    assert len(identities(record)) == 2
    other.keep([Change(TODAY, "note", "tea")])
    merge(record, other)
    merge(other, record)
    assert record_as_json(record) == record_as_json(other)


def test_an_empty_record_joins_any_and_any_joins_an_empty_one(record: Record, other: Record) -> None:
    fill(record)
    assert merge(record, other).brings_something is False
    merge(other, record)
    assert record_as_json(record) == record_as_json(other)


def test_one_action_in_common_is_enough(record: Record, other: Record) -> None:
    """Copies that parted before records had names share the actions of before."""
    fill(record)
    merge(other, record)
    for each in (record, other):
        each.db.execute("delete from choice where name = 'record.id'")
        each.db.execute("delete from batch where what = 'identity'")
        each.invalidate()
        each.keep([MOOD])
    with copy_of(other) as copy:
        assert merge(record, copy).names == 1


def test_a_row_that_was_altered_here_is_not_taken_for_the_right_one(record: Record, other: Record) -> None:
    fill(record)
    merge(other, record)
    other.keep([MOOD])
    record.db.execute("update entry set value = 'mood5-5' where value = 'mood5-2'")
    before = record_as_json(record)
    with pytest.raises(DamagedRecord, match="is not the same in both copies, so one was altered"):
        merge(record, other)
    assert record_as_json(record) == before
