"""Two copies that went their own ways come to the same record, in whatever order they are merged."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.conftest import LONDON
from tests.record.sample import copy_of
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.errors import NothingToUndo
from tracker.diary.settings import Settings
from tracker.record import erase
from tracker.record.json_export import record_as_json
from tracker.record.merge import merge
from tracker.record.row_checks import all_faults
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
Act = Callable[[Record], object]


def _keep(day: int, value: str) -> Act:
    return lambda record: record.keep([Change(TODAY - timedelta(day), "mood", value)], "mood")


def _erase(day: int) -> Act:
    return lambda record: erase.erase_days(record, TODAY - timedelta(day), TODAY - timedelta(day))


def _theme(name: str) -> Act:
    return lambda record: record.keep_settings(Settings(theme=name))


def _undo(record: Record) -> None:
    try:
        record.undo()
    except NothingToUndo:
        return


DAYS = st.integers(0, 3)
KEEP = st.builds(_keep, DAYS, st.sampled_from(["mood5-1", "mood5-3", "mood5-5"]))
ACTS = st.one_of(
    KEEP, KEEP, st.builds(_theme, st.sampled_from("ab")), st.just(_undo), st.builds(_erase, DAYS)
)


class Ticking:
    """A clock that moves on by a second each time it is looked at."""

    def __init__(self) -> None:
        self._at = datetime(2026, 3, 17, 5, tzinfo=UTC)

    def __call__(self) -> datetime:
        self._at += timedelta(seconds=1)
        return self._at


def opened(folder: str, name: str, ticking: Ticking) -> Record:
    return Record.open(Path(folder) / f"{name}.sqlite", Clock(now=ticking, zone=LONDON))


@given(st.lists(ACTS, max_size=5), st.lists(ACTS, max_size=5), st.lists(ACTS, max_size=5))
@settings(max_examples=40, deadline=None)
def test_both_sides_agree_and_merging_again_changes_nothing(
    before: list[Act], here: list[Act], there: list[Act]
) -> None:
    ticking = Ticking()
    with (
        tempfile.TemporaryDirectory() as folder,
        opened(folder, "one", ticking) as one,
        opened(folder, "other", ticking) as other,
    ):
        _do(one, before)
        merge(other, one, another=True)
        _do(one, here)
        _do(other, there)
        with copy_of(one) as mine, copy_of(other) as theirs:
            merge(one, theirs, another=True)
            merge(other, mine, another=True)
            once = record_as_json(one)
            merge(one, theirs, another=True)
            merge(one, mine, another=True)
            assert record_as_json(one) == once
        assert record_as_json(one) == record_as_json(other)
        assert one.days() == other.days()
        assert all_faults(one.db) == []


@given(st.lists(ACTS, max_size=4), st.lists(ACTS, max_size=4), st.lists(ACTS, max_size=4))
@settings(max_examples=25, deadline=None)
def test_three_copies_agree_in_any_order(first: list[Act], second: list[Act], third: list[Act]) -> None:
    ticking = Ticking()
    with tempfile.TemporaryDirectory() as folder:
        copies = [opened(folder, str(number), ticking) for number in range(3)]
        for copy, acts in zip(copies, (first, second, third), strict=True):
            _do(copy, acts)
        before = [copy_of(copy) for copy in copies]
        for copy, order in zip(copies, ((1, 2), (2, 0), (0, 1)), strict=True):
            for number in order:
                merge(copy, before[number], another=True)
        texts = {record_as_json(copy) for copy in copies}
        for copy in (*copies, *before):
            copy.close()
        assert len(texts) == 1


def _do(record: Record, acts: list[Act]) -> None:
    for act in acts:
        act(record)
