"""A kind of shift as a line of text, `night, 20:00-08:30, work`: printed and read here alone."""

from __future__ import annotations

from datetime import time

from tracker.diary.errors import UnknownValue
from tracker.diary.rota import ShiftKind, Work

NONE = "none"
"""The hours of a kind that has none."""
WORK_IN_WORDS: dict[Work, str] = {"yes": "work", "on call": "work when called", "no": "no work"}
WORK_OF: dict[str, Work] = {word: work for work, word in WORK_IN_WORDS.items()} | {"on call": "on call"}


def kind_text(kind: ShiftKind) -> str:
    """`night, 20:00-08:30, work`."""
    return ", ".join([kind.label, hours_text(kind), WORK_IN_WORDS[kind.work]])


def hours_text(kind: ShiftKind) -> str:
    """The usual hours, `20:00-08:30`, or `none`."""
    return f"{kind.start:%H:%M}-{kind.end:%H:%M}" if kind.start and kind.end else NONE


def read_kind(kind: ShiftKind, text: str) -> ShiftKind:
    """A kind with the label, the hours and the work that a line gives; what it leaves out stays as it is.

    Raises UnknownValue for a line that is not of that form.
    """
    label, *rest = (part.strip() for part in text.split(","))
    kind = kind._replace(label=label)
    for part in rest:
        work = WORK_OF.get(part.casefold())
        kind = kind._replace(work=work) if work else with_hours(kind, part)
    return kind


def with_hours(kind: ShiftKind, text: str) -> ShiftKind:
    """A kind with other usual hours, `22:00-06:00`, or with `none`.

    Raises UnknownValue for anything else.
    """
    if text.strip().casefold() == NONE:
        return kind._replace(start=None, end=None)
    try:
        start, end = (time.fromisoformat(part.strip().rjust(5, "0")) for part in text.split("-"))
    except ValueError:
        raise UnknownValue(f"'{text}' is no span of hours; write it like 22:00-06:00, or none.") from None
    return kind._replace(start=start.replace(second=0), end=end.replace(second=0))
