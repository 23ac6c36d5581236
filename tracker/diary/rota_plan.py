"""What a new rota does to the one that stands: shifts that a person touched by hand stay as they are."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.diary.changes import AHEAD_LONGEST, answer, changes_something, shift_change
from tracker.diary.clock import Clock
from tracker.diary.dates import long_day
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.months import each_day
from tracker.diary.rota import CALLED, ShiftKind, kind_for_text

NOT_BY_HAND = ("file", "pattern")
"""What `by` in the detail of a shift says when it came with a whole rota."""
LEAVE = "leave"
"""The kind of a day that was booked: no rota takes it away unasked."""
NO_SHIFT = ("-", ".")
YEAR = timedelta(days=366)


class RotaPlan(NamedTuple):
    """What a rota would do, day by day."""

    new: list[Change]
    """Shifts on days that have none."""
    changed: list[tuple[Square, Change]]
    """Shifts of an older rota, and what becomes of them; cleared where the new one has none."""
    by_hand: list[tuple[Square, Change]]
    """Shifts touched by hand, which stay, and what the rota has instead."""
    on_leave: list[tuple[Square, Change]]
    """Leave of an older rota, which stays until she lays the new one over it, and what that has instead."""
    same: int

    def over_leave(self) -> RotaPlan:
        """The same plan with the rota laid over leave."""
        return self._replace(changed=sorted([*self.changed, *self.on_leave], key=_day_of), on_leave=[])

    @property
    def changes(self) -> list[Change]:
        """All that would be written."""
        return [*self.new, *(change for _, change in self.changed)]


def rota_span(first: date, last: date | None, today: date) -> tuple[date, date]:
    """The days on which a rota is laid; without a last one it reaches a year ahead.

    Raises UnknownValue where there is no such day, or the last one is too far ahead.
    """
    end = last or max(first, today) + YEAR
    if end < first:
        raise UnknownValue(f"There is no day from {long_day(first)} to {long_day(end)}.")
    if end > today + AHEAD_LONGEST:
        longest = long_day(today + AHEAD_LONGEST)
        raise UnknownValue(f"{long_day(end)} is over three years ahead; a rota may reach to {longest}.")
    return first, end


def plan_rota(
    shifts: Mapping[date, Change], standing: Mapping[date, Day], first: date, last: date
) -> RotaPlan:
    """Set a rota for the days from first to last beside the shifts that stand."""
    plan = RotaPlan([], [], [], [], 0)
    same = 0
    for day in each_day(first, last):
        stands = standing[day].shift if day in standing else None
        change = shifts.get(day, answer(day, "shift", "cleared"))
        if stands is None:
            plan.new.extend([change] if day in shifts else [])
        elif not changes_something(change, standing[day]):
            same += 1
        elif not _is_by_hand(stands) and stands.value == LEAVE:
            plan.on_leave.append((stands, change))
        elif not _is_by_hand(stands):
            plan.changed.append((stands, change))
        elif day in shifts and change.value != stands.value:
            plan.by_hand.append((stands, change))
        elif day in shifts:
            same += 1
    return plan._replace(same=same)


def _is_by_hand(shift: Square) -> bool:
    """Whether she set a shift herself, or said what it was worked for."""
    return shift.detail.get("by") not in NOT_BY_HAND or bool(shift.detail.get(CALLED))


def _day_of(pair: tuple[Square, Change]) -> date:
    return pair[1].day


def pattern_shifts(
    pattern: str, first: date, last: date, kinds: Sequence[ShiftKind], clock: Clock
) -> dict[date, Change]:
    """A pattern of kinds, repeated from first to last; `-` is a day without a shift.

    Raises UnknownValue for a word that is no kind, and where there is no shift at all.
    """
    cycle = [None if word in NO_SHIFT else _kind(word, kinds) for word in _words(pattern)]
    if not any(cycle):
        raise UnknownValue("The pattern has no shift in it.")
    repeated = zip(each_day(first, last), itertools.cycle(cycle), strict=False)
    return {day: _laid(day, kind, "pattern", clock) for day, kind in repeated if kind}


def with_days_off(
    shifts: Mapping[date, Change], first: date, last: date, off: ShiftKind, by: str, clock: Clock
) -> dict[date, Change]:
    """A rota whose days without a shift are days off, from first to last: a blank day is no known day.

    Parameters
    ----------
    by
        With what the rota came: `file` or `pattern`.
    """
    blank = (day for day in each_day(first, last) if day not in shifts)
    return {**shifts, **{day: _laid(day, off, by, clock) for day in blank}}


def _kind(word: str, kinds: Sequence[ShiftKind]) -> ShiftKind:
    try:
        return kind_for_text(word, kinds)
    except UnknownValue as error:
        codes = {kind.code.casefold() for kind in kinds}
        if len(word) > 1 and codes.issuperset(word.casefold()):
            raise UnknownValue(
                f"'{word}' stands together; put a space between the shifts: {' '.join(word)}."
            ) from error
        raise


def _words(pattern: str) -> list[str]:
    return [word for word in re.split(r"[\s,]+", pattern.strip()) if word]


def _laid(day: date, kind: ShiftKind, by: str, clock: Clock) -> Change:
    change = shift_change(day, kind, clock)
    return Change(day, "shift", kind.id, detail={**change.detail, "by": by})
