"""A file and an export of version 1, as they were written then, open in every later version.

The files were written by the first version of the program on an invented clock; they are never written anew.
"""

import json
import shutil
from datetime import date, time
from pathlib import Path

import pytest

from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.rota import ShiftKind
from tracker.record.integrity import look_over
from tracker.record.json_export import record_as_json, record_from_json
from tracker.record.merge import merge
from tracker.record.store import Record

FOLDER = Path(__file__).with_name("version_1")
EXPORT = FOLDER / "record.json"
MARCH_10 = date(2026, 3, 10)


@pytest.fixture
def old(tmp_path: Path) -> Path:
    return Path(shutil.copy(FOLDER / "record.sqlite", tmp_path / "record.sqlite"))


def test_the_file_opens_and_is_whole(old: Path, clock: Clock) -> None:
    report = look_over(old, clock)
    assert report.faults == []
    assert report.counts == {"days": 4, "batch": 17, "entry": 12, "choice": 12, "erased": 1, "draft": 0}


def test_its_days_stand_as_they_did(old: Path, clock: Clock) -> None:
    with Record.open(old, clock) as record:
        days = record.days()
        day = days[MARCH_10]
        assert list(days) == [date(2025, 1, 3), date(2026, 2, 20), date(2026, 3, 9), MARCH_10]
        assert [entry.value for entry in record.history(MARCH_10) if entry.field == "mood"] == [
            "mood5-4", "mood5-2", "mood5-4", "mood5-2",
        ]  # fmt: skip
    assert (day.mood and day.mood.value, day.hours, day.is_anxious) == ("mood5-2", 6.5, False)
    assert (day.shift_kind, day.note_text) == ("night", 'Fog at Cawbrook Junction: "late" tea, ☀ later')
    assert day.shift is not None
    assert day.shift.detail["start"] == "2026-03-10T20:00:00.000000Z"


def test_all_that_was_decided_holds(old: Path, clock: Clock) -> None:
    with Record.open(old, clock) as record:
        choices = record.choices()
    settings = choices.settings
    assert (settings.country, settings.latitude, settings.day_change_hour) == ("Scotland", 56, 5)
    assert choices.kinds[-1] == ShiftKind("relief", "r", "relief turn", time(13), time(21, 30))
    assert choices.breaks == (Break(date(2025, 6, 1), date(2025, 6, 30)),)
    assert choices.page_lines.wants == ("Sleep before early turns",)
    assert (choices.own_help, dict(choices.event_kinds)) == (("Wenfold crew room",), {"RLF": "relief"})
    assert [level.label for level in choices.scales.newest("mood").levels] == ["bad", "so-so", "fine"]


def test_it_is_exported_as_it_was_then(old: Path, clock: Clock) -> None:
    with Record.open(old, clock) as record:
        assert record_as_json(record) == EXPORT.read_text(encoding="utf-8")


def test_its_export_brings_the_same_record(tmp_path: Path, clock: Clock) -> None:
    text = EXPORT.read_text(encoding="utf-8")
    with Record.open(tmp_path / "new.sqlite", clock) as record:
        with record_from_json(text, EXPORT) as copy:
            merge(record, copy)
        assert record_as_json(record) == text


def test_it_is_kept_in_and_taken_back_as_ever(old: Path, clock: Clock) -> None:
    with Record.open(old, clock) as record:
        before = record.days()
        assert record.last_action() is not None
        record.choose({"setting.theme": "x"})
        record.undo()
        assert record.days() == before
        assert json.loads(record_as_json(record))["schema"] == 1
