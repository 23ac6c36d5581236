"""From a person's answer to the changes it means, and whether they can be kept."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from tracker.diary.choices import Choices
from tracker.diary.clock import Clock, as_stamp
from tracker.diary.dates import long_day, within_reach
from tracker.diary.days import LATE_AFTER, LONGEST_NOTE, RESTING, Basis, Change, Day, Field, Square, State
from tracker.diary.errors import UnknownValue, WrongDay
from tracker.diary.own_changes import LONGEST_WORDS, DatedChange
from tracker.diary.rota import CALLED, ShiftKind
from tracker.diary.scales import Level

AHEAD_LONGEST = timedelta(days=3 * 366)
"""How far ahead a rota, a note or a dated change may be entered."""


def mood_changes(day: Day, level: Level, choices: Choices) -> list[Change]:
    """A mood; with the setting it also notes `not anxious` where nothing is noted."""
    changes = [Change(day.date, "mood", level.id)]
    if choices.settings.not_anxious and day.anxious is None:
        changes.append(Change(day.date, "anxious", "no"))
    return changes


def sleep_change(day: date, level: Level, hours: float | None = None) -> Change:
    """A sleep by its bucket, with the exact hours where they were given."""
    detail: Mapping[str, Any] = {} if hours is None else {"hours": hours}
    return Change(day, "sleep", level.id, detail=detail)


def anxious_change(day: date, anxious: bool | None) -> Change:
    """The anxious mark: yes, no, or taken away."""
    if anxious is None:
        return Change(day, "anxious", state="cleared")
    return Change(day, "anxious", "yes" if anxious else "no")


def next_anxious(anxious: bool | None) -> bool | None:
    """What the key makes of the mark: not noted, yes, no, and round again."""
    return {None: True, True: False, False: None}[anxious]


def shift_change(day: date, kind: ShiftKind, clock: Clock) -> Change:
    """A shift by its kind; the usual moments are copied, so that editing a kind leaves the past alone."""
    moments = kind.moments(day, clock)
    detail = {} if moments is None else {"start": as_stamp(moments[0]), "end": as_stamp(moments[1])}
    return Change(day, "shift", kind.id, detail=detail)


def note_change(day: date, text: str) -> Change:
    """A note; an empty one takes the note away."""
    kept = text.strip()
    return Change(day, "note", kept) if kept else Change(day, "note", state="cleared")


def dated_change(day: date, words: str, today: date) -> DatedChange:
    """A dated change of her own as it is kept: in one line, without blanks at its ends.

    Raises UnknownValue for no words, too many or what cannot be shown; WrongDay for a day out of reach.
    """
    line = " ".join(words.split())
    if not line:
        raise UnknownValue("A change needs a few words: what began, ended or was moved.")
    check_text(line, f"The change of {long_day(day)}")
    if len(line) > LONGEST_WORDS:
        raise UnknownValue(f"A change has at most {LONGEST_WORDS} letters; this one has {len(line)}.")
    if within_reach(day) > today + AHEAD_LONGEST:
        raise WrongDay(f"{long_day(day)} is over three years ahead; nothing was kept.")
    return DatedChange(day, line)


def answer(day: date, field: Field, state: State) -> Change:
    """`could not say`, or `cleared`."""
    return Change(day, field, state=state)


def basis_by_hand(day: date, today: date) -> Basis:
    """Typed within two days: at the time; later: remembered."""
    return "at the time" if (today - day).days <= LATE_AFTER else "remembered"


def rests_on(change: Change, stood: Square | None, basis: Basis | None, today: date) -> tuple[Basis, bool]:
    """On what an answer rests, and whether it keeps the moment at which the one that stood was first kept.

    Another basis for the same answer leaves its moment. So does a slip that is put right later than two days
    after, which keeps the basis too; within two days another answer is one of its own.

    Parameters
    ----------
    stood
        What stood in the square.
    basis
        What she says that it rests on; None: nothing.
    """
    by_hand = basis_by_hand(change.day, today)
    if stood is None or change.state == "cleared" or change.field not in RESTING:
        return basis or by_hand, False
    if is_same(change, stood):
        return basis or stood.basis, True
    return (basis, False) if basis else (stood.basis, by_hand != "at the time")


def differs_in_basis(change: Change, stood: Square | None, basis: Basis | None) -> bool:
    """Whether an answer stands already, and rests on something else than she says."""
    if stood is None or basis is None or change.field not in RESTING:
        return False
    return is_same(change, stood) and stood.basis != basis


def is_same(change: Change, stood: Square) -> bool:
    """Whether a change is the answer that stands, leaving its detail aside."""
    return (change.state, change.value) == (stood.state, stood.value)


def with_its_detail(change: Change, stood: Square | None) -> Change:
    """An answer that brings no detail, with that of the same answer where it stood."""
    if stood is None or change.detail or not is_same(change, stood):
        return change
    return change._replace(detail=stood.detail)


def check_day(day: date, field: Field, last_open_day: date) -> None:
    """Raise WrongDay if a day cannot be kept; a rota and notes may be entered ahead."""
    within_reach(day)
    ahead = AHEAD_LONGEST if field in ("shift", "note") else timedelta(0)
    if day > last_open_day + ahead:
        raise WrongDay(f"{day.isoformat()} is still to come; nothing was kept.")


def check(change: Change, choices: Choices, last_open_day: date) -> None:
    """Raise WrongDay or UnknownValue if a change cannot be kept as it is."""
    check_day(change.day, change.field, last_open_day)
    if change.state != "kept":
        return
    if change.field in ("mood", "sleep"):
        _check_level(change, choices)
    elif change.field == "anxious" and change.value not in ("yes", "no"):
        raise UnknownValue(f"anxious takes yes or no, not '{change.value}'.")
    elif change.field == "shift" and change.value not in choices.kinds_by_id:
        raise UnknownValue(f"There is no kind of shift '{change.value}'.")
    elif change.field == "note":
        _check_note(change)


def _check_note(change: Change) -> None:
    if len(change.value) > LONGEST_NOTE:
        raise UnknownValue(
            f"The note of {change.day.isoformat()} has {len(change.value)} characters; "
            f"it may have {LONGEST_NOTE}."
        )
    check_text(change.value, f"The note of {change.day.isoformat()}")


def check_text(text: str, what: str) -> None:
    """Raise UnknownValue for what cannot be written or shown: bytes that are no text, signs that steer."""
    if any("\ud800" <= sign <= "\udfff" for sign in text):
        raise UnknownValue(f"{what} holds bytes that are no text; write it in UTF-8.")
    if any(unicodedata.category(sign) == "Cc" and sign not in "\t\r\n" for sign in text):
        raise UnknownValue(f"{what} holds signs that steer a terminal and cannot be shown; take them out.")


def _check_level(change: Change, choices: Choices) -> None:
    versions = (scale for scale in choices.scales.versions if scale.grid == change.field)
    levels = (level.id for scale in versions for level in scale.levels)
    if change.value not in levels:
        raise UnknownValue(f"'{change.value}' is no level of {change.field}.")
    hours = change.detail.get("hours")
    level = choices.scales.level(change.value)
    if hours is not None and not level.holds(float(hours)):
        raise UnknownValue(
            f"{hours:g} hours on {change.day.isoformat()} do not lie in '{level.label}'; "
            f"leave the bucket out or correct the hours."
        )


def changes_something(change: Change, day: Day) -> bool:
    """Whether a change would alter what stands; what it does not speak of, it leaves.

    A bare value leaves the detail of the same value, and the same shift the calls that are noted on it.
    """
    square = day.square(change.field)
    if square is None:
        return change.state != "cleared"
    if not is_same(change, square):
        return True
    return bool(change.detail) and _detail_left(change, square) != dict(square.detail)


def _detail_left(change: Change, square: Square) -> dict[str, Any]:
    calls = {CALLED: square.detail[CALLED]} if CALLED in square.detail else {}
    return {**calls, **change.detail}
