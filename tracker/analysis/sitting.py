"""Which moods were kept beside a night's sleep, or when it was known already.

A mood rated in one sitting with a sleep may be coloured by it, and that alone makes a link of the two.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple, Self, TypeAlias

import numpy as np

from tracker.analysis.series import Flags
from tracker.diary.clock import Clock
from tracker.diary.days import LATE_AFTER, Day, Field, Square

ONE_SITTING = timedelta(minutes=10)
"""A mood kept so soon before or after a day's sleep was kept in one sitting with it."""
KNOWN_BEFORE = timedelta(minutes=60)
"""A mood kept later than so long before the next sleep was kept was kept by one who knew that sleep. Both:
common practice, no source."""

_Moment: TypeAlias = datetime | None


class Sittings(NamedTuple):
    """When one outcome was kept; arrays have a place a day, and are false where it was not."""

    beside_sleep: Flags
    """(n,) in one sitting with the sleep before."""
    after_next_sleep: Flags
    """(n,) when the sleep after was known."""
    unknown: Flags
    """(n,) the moment does not tell: from paper or a file, or kept over two days late."""

    def cut(self, places: slice) -> Self:
        """Return some of the days."""
        return type(self)(*(flags[places] for flags in self))


def sittings(days: Sequence[Day], clock: Clock) -> dict[str, Sittings]:
    """Tell when the moods and the anxious marks of n consecutive days were kept.

    A mood or a sleep whose moment does not tell is beside nothing: such moods are used, and counted.
    """
    sleeps = [_moment(day.date, day.sleep, clock) for day in days]
    known_from = [None if at is None else at - KNOWN_BEFORE for at in [*sleeps[1:], None]]
    return {field: _sittings(days, field, sleeps, known_from, clock) for field in ("mood", "anxious")}


def _sittings(
    days: Sequence[Day], field: Field, sleeps: Sequence[_Moment], known_from: Sequence[_Moment], clock: Clock
) -> Sittings:
    squares = [day.square(field) for day in days]
    kept = [_moment(day.date, square, clock) for day, square in zip(days, squares, strict=True)]
    return Sittings(
        beside_sleep=_flags(map(_near, kept, sleeps)),
        after_next_sleep=_flags(map(_later, kept, known_from)),
        unknown=_flags(_is_kept(square) and at is None for square, at in zip(squares, kept, strict=True)),
    )


def _moment(day: date, square: Square | None, clock: Clock) -> _Moment:
    """Return when a square was kept, None where its entry does not tell when it was rated."""
    if square is None or not square.is_kept or square.kept_at is None:
        return None
    if square.basis != "at the time" or square.source == "imported":
        return None
    on_its_day = (square.kept_at.date() - day).days < LATE_AFTER  # whatever the time zone
    if not on_its_day and (clock.local(square.kept_at).date() - day).days > LATE_AFTER:
        return None
    return square.kept_at


def _is_kept(square: Square | None) -> bool:
    return square is not None and square.is_kept


def _near(mood: _Moment, sleep: _Moment) -> bool:
    return mood is not None and sleep is not None and abs(mood - sleep) <= ONE_SITTING


def _later(mood: _Moment, known_from: _Moment) -> bool:
    return mood is not None and known_from is not None and mood > known_from


def _flags(told: Iterable[bool]) -> Flags:
    return np.array(list(told), dtype=bool)
