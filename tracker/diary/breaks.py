"""Marked times of not keeping: what holds when one is added or ended, by a key, a command or a form."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from tracker.diary.dates import long_day, short_day
from tracker.diary.days import Change
from tracker.diary.errors import TrackerError, UnknownValue
from tracker.diary.scales import GRIDS

DAY = timedelta(days=1)


class Break(NamedTuple):
    """A marked time of not keeping."""

    from_day: date
    to_day: date | None = None
    """Last day of it; None: still going on."""

    def holds(self, day: date) -> bool:
        """Whether a day lies in it."""
        return self.from_day <= day and (self.to_day is None or day <= self.to_day)

    def __str__(self) -> str:
        """As a sentence names it: `from 1 April 2026 to 14 April 2026`."""
        end = f"to {long_day(self.to_day)}" if self.to_day else "until you keep a square again"
        return f"from {long_day(self.from_day)} {end}"


Breaks = tuple[Break, ...]
"""In order of time; no two have a day in common."""


def in_break(day: date, breaks: Breaks) -> bool:
    """Whether a day lies in a marked break."""
    return any(span.holds(day) for span in breaks)


def added(breaks: Breaks, span: Break) -> Breaks:
    """The breaks and one more; without a last day it ends before the next one begins.

    Raises UnknownValue for one that ends before it begins, or has a day in common with another.
    """
    later = [other.from_day for other in breaks if other.from_day > span.from_day]
    if span.to_day is None and later:
        span = Break(span.from_day, min(later) - DAY)
    if span.to_day is not None and span.to_day < span.from_day:
        begins, ends = long_day(span.from_day), long_day(span.to_day)
        raise UnknownValue(f"A break cannot end on {ends}, before it begins on {begins}.")
    for other in breaks:
        if span.from_day <= (other.to_day or date.max) and other.from_day <= (span.to_day or date.max):
            raise UnknownValue(
                f"The break {span} overlaps the one {other}; take that one away first, or name other days."
            )
    return tuple(sorted([*breaks, span]))


def ended(breaks: Breaks, day: date) -> Breaks:
    """The breaks once the one that holds a day has ended on the day before; one that began that day is gone.

    Raises TrackerError where none holds it.
    """
    held = next((span for span in breaks if span.holds(day)), None)
    if held is None:
        raise TrackerError(f"No break holds {long_day(day)}.")
    return _until(breaks, held, day - DAY)


def removed(breaks: Breaks, first: date) -> Breaks:
    """The breaks without the one that begins on a day.

    Raises UnknownValue where none does.
    """
    left = tuple(span for span in breaks if span.from_day != first)
    if left == breaks:
        raise UnknownValue(f"No break begins on {long_day(first)}.")
    return left


def ended_by(breaks: Breaks, changes: Iterable[Change]) -> Breaks:
    """The breaks once some answers are kept: a mood or sleep in one going on ends it on the day before."""
    days = [change.day for change in changes if change.field in GRIDS and change.state != "cleared"]
    for span in breaks:
        inside = [day for day in days if span.to_day is None and span.holds(day)]
        if inside:
            breaks = _until(breaks, span, min(inside) - DAY)
    return breaks


def _until(breaks: Breaks, span: Break, last: date) -> Breaks:
    """The breaks with one of them ending on a day, or without it where no day of it is left."""
    others = [other for other in breaks if other != span]
    return tuple(sorted([*others, Break(span.from_day, last)] if last >= span.from_day else others))


def difference_in_words(before: Breaks, after: Breaks) -> list[str]:
    """What leads from some breaks to others, as undo names it: `end of the break from Mon 16 March`."""
    old, new = ({span.from_day: span for span in breaks} for breaks in (before, after))
    gone = [f"taking away the break from {short_day(day)}" for day in old if day not in new]
    ended = [f"end of the break from {short_day(day)}" for day in old if day in new and new[day] != old[day]]
    return [*gone, *ended, *(f"break from {short_day(day)}" for day in new if day not in old)]
