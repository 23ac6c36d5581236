"""Where the record begins, after each key that may move it. Today is Tuesday 17 March 2026."""

from datetime import date, timedelta

from tests.keeping import keep
from tracker.diary.days import Change
from tracker.editing.open_record import OpenRecord
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
FIRST, SECOND = TODAY - timedelta(9), TODAY - timedelta(2)


def opened(record: Record) -> OpenRecord:
    keep(record, FIRST, mood="3")
    keep(record, SECOND, mood="3", sleep="5")
    return OpenRecord(record)


def change(kept: OpenRecord, *changes: Change) -> date | None:
    kept.save(changes)
    assert kept.first_day == kept.record.first_day()
    return kept.first_day


def test_a_record_may_begin_today(record: Record) -> None:
    assert change(OpenRecord(record), Change(TODAY, "mood", "mood5-3")) == TODAY


def test_clearing_the_first_day_lets_the_record_begin_later(record: Record) -> None:
    kept = opened(record)
    assert change(kept, Change(FIRST, "mood", state="cleared")) == SECOND


def test_a_first_day_that_still_has_one_answer_stays_first(record: Record) -> None:
    kept = opened(record)
    change(kept, Change(FIRST, "mood", state="cleared"))
    assert change(kept, Change(SECOND, "mood", state="cleared")) == SECOND
    assert change(kept, Change(SECOND, "sleep", state="could not say")) is None


def test_an_earlier_day_moves_it_and_a_note_or_a_late_memory_does_not(record: Record) -> None:
    kept = opened(record)
    earlier = FIRST - timedelta(1)
    assert change(kept, Change(earlier, "note", "tea")) == FIRST
    assert change(kept, Change(earlier, "sleep", "sleep8-4")) == earlier
    long_ago = FIRST - timedelta(30)
    assert change(kept, Change(long_ago, "mood", "mood5-3")) == earlier
