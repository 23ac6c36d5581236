"""The whole record as JSON: lossless, stable, strictly read."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.record.sample import TODAY, copy_of, fill
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import BrokenFile
from tracker.record.json_export import record_as_json, record_from_json
from tracker.record.merge import merge
from tracker.record.store import Record

Rewrite = Callable[[dict[str, Any]], object]
NAME = Path("record.json")


def bring_in(record: Record, text: str) -> None:
    with record_from_json(text, NAME) as copy:
        merge(record, copy)


@pytest.fixture
def exported(record: Record) -> str:
    fill(record)
    return record_as_json(record)


def test_export_import_export_gives_the_same_bytes(exported: str, tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "other.sqlite", clock) as other:
        bring_in(other, exported)
        assert record_as_json(other) == exported


def test_the_same_record_gives_the_same_bytes_after_reopening(record: Record, clock: Clock) -> None:
    fill(record)
    with Record.open(record.path, clock) as again:
        assert record_as_json(again) == record_as_json(record)


def test_days_choices_and_history_come_through_whole(record: Record, tmp_path: Path, clock: Clock) -> None:
    fill(record)
    with Record.open(tmp_path / "other.sqlite", clock) as other:
        bring_in(other, record_as_json(record))
        assert other.days() == record.days()
        assert other.choices() == record.choices()
        assert other.history(TODAY) == record.history(TODAY)
        assert other.undo().what == record.undo().what


def test_it_is_plain_json_with_a_row_a_line(exported: str) -> None:
    data = json.loads(exported)
    assert (data["program"], data["schema"]) == ("tracker-days", 1)
    assert sorted(data) == ["batch", "choice", "entry", "erased", "program", "schema"]
    rows = sum(len(data[table]) for table in ("batch", "choice", "entry", "erased"))
    assert sum(line.startswith('{"') for line in exported.splitlines()[1:]) == rows
    assert {"hours": 6.5} in [entry["detail"] for entry in data["entry"]]


def test_an_empty_record_is_an_export_too(record: Record) -> None:
    with record_from_json(record_as_json(record), NAME) as again:
        assert record_as_json(again) == record_as_json(record)


BROKEN: dict[str, tuple[Rewrite, str]] = {
    "another program": (
        lambda data: data.update(program="other"),
        "this is no export of this program.",
    ),
    "a newer schema": (
        lambda data: data.update(schema=2),
        "schema: it is 2, but this program reads 1.",
    ),
    "a part too few": (lambda data: data.pop("erased"), "erased: this part is missing."),
    "a part too many": (lambda data: data.update(more=[]), "more: there is no such part."),
    "a column too few": (
        lambda data: data["batch"][0].pop("what"),
        "batch 1: a row must have exactly the columns id, turn, what, undoes, recorded_at, digest.",
    ),
    "a wrong kind of value": (
        lambda data: data["entry"][0].update(turn="1", day="2026-02-30"),
        "entry 1: turn, day cannot be right.",
    ),
    "an altered value": (
        lambda data: data["entry"][0].update(value="mood5-5"),
        "entry 1: the mood of 2026-03-16 was altered; its digest is another.",
    ),
    "a row without its action": (
        lambda data: data["batch"].remove(
            next(batch for batch in data["batch"] if batch["id"] == data["entry"][0]["batch"])
        ),
        "entry 1: it belongs to an action that is not there.",
    ),
    "the same row twice": (
        lambda data: data["entry"].append(data["entry"][0]),
        "entry: two rows have the same id.",
    ),
}


@pytest.mark.parametrize("case", BROKEN)
def test_a_broken_export_is_refused_with_the_place(exported: str, case: str) -> None:
    rewrite, sentence = BROKEN[case]
    data = json.loads(exported)
    rewrite(data)
    with pytest.raises(BrokenFile) as broken:
        record_from_json(json.dumps(data), NAME)
    assert str(broken.value.faults[0]) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "line 1: this is no JSON (Expecting value)."),
        ('{\n"a": }', "line 2: this is no JSON (Expecting value)."),
        ('{"a": NaN}', "this is no JSON of ours (NaN is no number)."),
        ('{"a": -Infinity}', "this is no JSON of ours (-Infinity is no number)."),
        ('{"a": 1, "a": 2}', "this is no JSON of ours (the name 'a' stands twice)."),
        ("[" * 100_000, "this is no JSON of ours (maximum recursion depth exceeded"),
        ("[]", "this is no export of this program."),
    ],
)
def test_what_the_rfc_forbids_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BrokenFile) as broken:
        record_from_json(text, NAME)
    assert str(broken.value.faults[0]).startswith(sentence)


def test_a_broken_import_keeps_nothing(exported: str, tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "other.sqlite", clock) as other:
        with pytest.raises(BrokenFile):
            bring_in(other, exported.replace("mood5-4", "mood5-3"))
        assert other.is_empty()


class TestJoining:
    """Two copies that parted after the same days."""

    @pytest.fixture
    def pair(self, record: Record, tmp_path: Path, clock: Clock) -> tuple[Record, Record]:
        fill(record)
        other = Record.open(tmp_path / "other.sqlite", clock)
        merge(other, record)
        return record, other

    def test_both_sides_come_to_the_same_record(self, pair: tuple[Record, Record]) -> None:
        one, other = pair
        one.keep([Change(TODAY, "mood", "mood5-1")], "one")
        other.keep([Change(TODAY, "mood", "mood5-5"), Change(TODAY, "note", "tea")], "other")
        other.choose({"setting.theme": "x"}, "theme")
        with copy_of(one) as mine:
            merge(one, other)
            merge(other, mine)
        assert record_as_json(one) == record_as_json(other)
        other.close()

    def test_merging_again_changes_nothing(self, pair: tuple[Record, Record]) -> None:
        one, other = pair
        other.keep([Change(TODAY, "mood", "mood5-5")], "other")
        merge(one, other)
        once = record_as_json(one)
        assert merge(one, other).entries == 0
        assert record_as_json(one) == once
        other.close()

    def test_a_square_kept_differently_is_listed_and_the_newer_shows(
        self, pair: tuple[Record, Record]
    ) -> None:
        one, other = pair
        one.keep([Change(TODAY, "mood", "mood5-1")], "one")
        other.keep([Change(TODAY, "sleep", "sleep8-2")], "first")
        other.keep([Change(TODAY, "mood", "mood5-5")], "second")
        (conflict,) = merge(one, other).conflicts
        assert (conflict.mine, conflict.theirs) == (
            Change(TODAY, "mood", "mood5-1"),
            Change(TODAY, "mood", "mood5-5"),
        )
        assert conflict.shows == conflict.theirs
        mood = one.day(TODAY).mood
        assert mood is not None
        assert mood.value == "mood5-5"
        other.close()

    def test_a_dry_run_says_the_same_and_keeps_nothing(self, pair: tuple[Record, Record]) -> None:
        one, other = pair
        other.keep([Change(TODAY, "mood", "mood5-5")], "other")
        before = record_as_json(one)
        assert merge(one, other, dry=True).entries == 1
        assert record_as_json(one) == before
        assert merge(one, other).entries == 1
        other.close()

    def test_days_in_between_stay_as_they_are(self, pair: tuple[Record, Record]) -> None:
        one, other = pair
        days = one.days()
        other.keep([Change(date(2026, 3, 1), "mood", "mood5-2")], "other")
        merge(one, other)
        assert {day: what for day, what in one.days().items() if day in days} == days
        assert one.day(TODAY - timedelta(16)).mood is not None
        other.close()
