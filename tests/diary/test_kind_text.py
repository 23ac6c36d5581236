"""A kind of shift as a line of text."""

from datetime import time

import pytest

from tracker.diary.errors import UnknownValue
from tracker.diary.kind_text import kind_text, read_kind, with_hours
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind

NIGHT, CALL, OFF = (DEFAULT_KINDS[at] for at in (4, 5, 6))


def test_a_kind_is_printed_with_its_hours_and_whether_it_is_work() -> None:
    assert [kind_text(kind) for kind in (NIGHT, CALL, OFF)] == [
        "night, 20:00-08:30, work",
        "on call, 09:00-09:00, work when called",
        "off, none, no work",
    ]


@pytest.mark.parametrize("kind", DEFAULT_KINDS)
def test_what_is_printed_is_read_back(kind: ShiftKind) -> None:
    assert read_kind(NIGHT._replace(id=kind.id, code=kind.code), kind_text(kind)) == kind


def test_what_a_line_leaves_out_stays_as_it_is() -> None:
    assert read_kind(NIGHT, "signal night") == NIGHT._replace(label="signal night")
    assert read_kind(NIGHT, "night, no work") == NIGHT._replace(work="no")
    assert read_kind(CALL, "on call, 9:00-17:00, on call") == CALL._replace(end=time(17))


@pytest.mark.parametrize("text", ["late", "22-6", "25:00-08:00", "22:00", "22:00-06:00-07:00", ""])
def test_what_are_no_hours_is_refused_with_how_to_write_them(text: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        with_hours(NIGHT, text)
    assert str(refused.value) == f"'{text}' is no span of hours; write it like 22:00-06:00, or none."
