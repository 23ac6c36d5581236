"""What an on-call shift was worked for: the times for which she was called, as she says them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from typing import Any

from tracker.diary.choices import Choices
from tracker.diary.clock import Clock, as_stamp, from_stamp, hours_between
from tracker.diary.dates import long_day
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.rota import CALLED, CALLED_AT_NIGHT

NOT_CALLED = ("", "no", "none")
AT = r"(\d\d?)(?:[:.]?(\d\d))?"
SPAN = rf"{AT}\s*-\s*{AT}"
Span = tuple[datetime, datetime]


def shift_with_calls(
    day: Day, shift: Change | None, called: str | None, choices: Choices, clock: Clock
) -> Change:
    """A shift of a day with what she was called for, as `called_answer` reads it.

    Parameters
    ----------
    shift
        Another one than stands; None: the one that stands.
    called
        None where nothing is said of calls; then there must be a shift, and another one drops them.

    Raises what `called_answer` does.
    """
    if shift and called is None:
        return shift
    as_it_will_be = (
        day.after("shift", Square(shift.value, shift.state, detail=shift.detail)) if shift else day
    )
    return called_answer(as_it_will_be, called or "", choices, clock)


def called_answer(day: Day, text: str, choices: Choices, clock: Clock) -> Change:
    """The shift of a day with what she was called for; an empty text takes that away again.

    Parameters
    ----------
    text
        `01:00-04:30`, several of them, or `night` where she knows no times; `no` for not called.

    Raises
    ------
    UnknownValue
        If the shift of the day is not on call, or the text names no times in it.
    """
    shift, kind = day.shift, choices.kinds_by_id.get(day.shift_kind)
    word = text.strip().casefold()
    is_leftover = shift is not None and CALLED in shift.detail and word in NOT_CALLED
    if shift is None or not (is_leftover or (kind and kind.is_on_call)):
        has = f"has {kind.label}" if kind else "has no shift"
        raise UnknownValue(f"Only an on-call shift takes calls; {long_day(day.date)} {has}.")
    called: str | list[tuple[str, str]] | None
    if word in NOT_CALLED:
        called = None
    elif word == CALLED_AT_NIGHT:
        called = CALLED_AT_NIGHT
    else:
        begins = _begin(day.date, shift, choices, clock)
        spans = _joined(_within(shift, span, clock) for span in _read_spans(text, begins, clock))
        called = [(as_stamp(start), as_stamp(end)) for start, end in spans]
    detail = {key: value for key, value in shift.detail.items() if key != CALLED}
    return Change(day.date, "shift", shift.value, detail=detail | {CALLED: called})


def called_text(shift: Square | None, clock: Clock) -> str:
    """What she was called for as `called_answer` reads it; empty where nothing is noted."""
    return _times(shift.detail, clock) if shift else ""


def _times(detail: Mapping[str, Any], clock: Clock) -> str:
    called = detail.get(CALLED)
    if not called or called == CALLED_AT_NIGHT:
        return called or ""
    local = [tuple(f"{clock.local(from_stamp(at)):%H:%M}" for at in span) for span in called]
    return ", ".join(f"{start}-{end}" for start, end in local)


def called_in_words(detail: Mapping[str, Any], clock: Clock | None = None) -> str:
    """`called for 3.5 hours`, `called at night`, or empty; with a clock also the times."""
    called = detail.get(CALLED)
    if not called:
        return ""
    if called == CALLED_AT_NIGHT:
        return "called at night"
    hours = round(sum(hours_between(from_stamp(start), from_stamp(end)) for start, end in called), 1)
    times = f", {_times(detail, clock)}" if clock else ""
    return f"called for {hours:g} hour{'' if hours == 1 else 's'}{times}"


def _begin(day: date, shift: Square, choices: Choices, clock: Clock) -> datetime:
    """The moment at which a shift begins, local; without hours it begins with its day."""
    start = shift.detail.get("start")
    return clock.local(
        from_stamp(start) if start else clock.moment(day, time(choices.settings.day_change_hour))
    )


def _read_spans(text: str, begins: datetime, clock: Clock) -> Iterator[Span]:
    """The spans that a text names, each at the first such times from the beginning of the shift on."""
    parts = [part for part in re.split(r"[,;]|(?<=\d)\s+(?=\d)", text) if part.strip()]
    for part in parts:
        found = re.fullmatch(SPAN, part.strip())
        try:
            first, past, end, over = [int(figures or 0) for figures in found.groups()] if found else []
            times = time(first, past), time(end, over)
        except ValueError:
            raise UnknownValue(
                f"'{part.strip()}' is no time of being called; write it like 01:00-04:30, or night."
            ) from None
        start = _first_at(times[0], begins, clock)
        yield start, _first_at(times[1], clock.local(start + timedelta(minutes=1)), clock)


def _first_at(at: time, begins: datetime, clock: Clock) -> datetime:
    """The first moment from a beginning on at which the clock shows a time."""
    return clock.moment(begins.date() + timedelta(days=at < begins.time()), at)


def _within(shift: Square, span: Span, clock: Clock) -> Span:
    end = shift.detail.get("end")
    if end and span[0] >= from_stamp(end):
        hours = "-".join(f"{clock.local(from_stamp(shift.detail[at])):%H:%M}" for at in ("start", "end"))
        raise UnknownValue(f"{clock.local(span[0]):%H:%M} does not lie in the on-call shift, {hours}.")
    return span


def _joined(spans: Iterable[Span]) -> list[Span]:
    """The spans in order of time, those that overlap as one."""
    joined: list[Span] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined
