"""Kinds of shift as rows: those kept before there was on call, and those kept since."""

from __future__ import annotations

from typing import Any

import pytest

from tracker.diary.rota import DEFAULT_KINDS, ShiftKind, Work
from tracker.record.choice_rows import choices_from, kind_value


def read(**row: Any) -> Work:
    value = {"code": "x", "label": "x", "start": None, "end": None, **row}
    return choices_from({f"kind.{row['id']}": value}).kinds_by_id[row["id"]].work


@pytest.mark.parametrize(
    ("row", "work"),
    [
        ({"id": "box", "works": True}, "yes"),
        ({"id": "box", "works": False}, "no"),
        ({"id": "call", "works": True}, "on call"),
        ({"id": "call", "works": False}, "no"),
        ({"id": "call", "work": "yes"}, "yes"),
    ],
)
def test_a_kind_kept_before_reads_as_what_it_was(row: dict[str, Any], work: Work) -> None:
    assert read(**row) == work


@pytest.mark.parametrize("kind", [*DEFAULT_KINDS, ShiftKind("box", "b", "box", work="on call")])
def test_a_kind_comes_back_as_it_was_kept(kind: ShiftKind) -> None:
    assert choices_from(kind_value(kind)).kinds_by_id[kind.id] == kind


def test_of_the_default_kinds_on_call_is_on_call_and_off_leave_and_sick_are_no_work() -> None:
    assert {kind.id: kind.work for kind in DEFAULT_KINDS if kind.work != "yes"} == {
        "call": "on call", "off": "no", "leave": "no", "sick": "no",
    }  # fmt: skip
