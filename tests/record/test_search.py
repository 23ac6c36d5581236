"""The last days of a kind, before a day."""

from __future__ import annotations

from datetime import date

from tests.keeping import keep
from tracker.diary.days import Change
from tracker.diary.scales import mood_scale
from tracker.record.choice_rows import new_scale_values
from tracker.record.search import SHOWN_OF_A_KIND, last_of_kinds
from tracker.record.store import Record


def march(day: int) -> date:
    return date(2026, 3, day)


def found(record: Record, before: date) -> list[tuple[int, str]]:
    return [(one.day.day, one.line) for one in last_of_kinds(record, before)]


def test_the_last_anxious_days_and_those_of_the_lowest_levels_before_a_day(record: Record) -> None:
    keep(record, march(2), mood="2", sleep="3", anxious="yes")
    keep(record, march(3), mood="4", sleep="5", anxious="no")
    keep(record, march(4), mood="2", sleep="6")
    keep(record, march(5), mood="1", sleep="0", anxious="yes")
    assert found(record, march(5)) == [(2, "anxious"), (4, "mood low"), (2, "mood low"), (2, "sleep 4-5 h")]
    assert found(record, march(2)) == []


def test_only_the_last_few_of_each_are_named(record: Record) -> None:
    for day in range(1, 10):
        keep(record, march(day), anxious="yes")
    assert found(record, march(17)) == [(day, "anxious") for day in range(9, 9 - SHOWN_OF_A_KIND, -1)]


def test_what_was_taken_back_is_not_found(record: Record) -> None:
    keep(record, march(2), mood="2")
    keep(record, march(3), mood="1")
    record.undo()
    assert found(record, march(17)) == [(2, "mood low")]


def test_the_lowest_levels_of_all_versions_stand_beside_each_other(record: Record) -> None:
    keep(record, march(2), mood="1")
    scale = mood_scale(["bleak", "even", "glad"], march(10))
    record.choose(new_scale_values(scale, record.choices().scales, record.was_kept))
    record.keep([Change(march(11), "mood", scale.levels[0].id)])
    assert found(record, march(17)) == [(11, "mood bleak"), (2, "mood very low")]
