"""The days that findings rest on."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from tracker.analysis.reading import Reading
from tracker.analysis.verdict_days import FIRST_GROUPS, VerdictSchedule, group_level, link_looks, season_looks
from tracker.diary.errors import WrongDay


class Span(NamedTuple):
    """The days that a page rests on."""

    first: date
    last: date
    """The verdict day, or the last day asked for where nothing is judged."""
    until: date
    """Last day of the tables, which are live."""
    looks: VerdictSchedule
    season_looks: VerdictSchedule
    chosen: bool

    @property
    def judged(self) -> bool:
        """Whether a verdict day has passed and the days were not picked by hand."""
        return self.looks.last is not None and not self.chosen

    @property
    def group_level(self) -> float:
        """Level of the group tests; of those that are only described, that of a long record."""
        days = (self.last - self.first).days + 1
        return group_level(days if self.judged else 2 * FIRST_GROUPS)

    @property
    def groups_from(self) -> date | None:
        """Day from which groups are judged, None if that has come."""
        day = self.first + timedelta(days=FIRST_GROUPS - 1)
        return day if self.judged and day > self.last else None


def span_of(reading: Reading, as_of: date, chosen: tuple[date | None, date | None] | None) -> Span:
    """Return the days up to the last verdict day, or those that were chosen by hand.

    Raises
    ------
    WrongDay
        If the chosen days end before they begin.
    """
    first = reading.series.first
    looks, yearly = link_looks(first, as_of), season_looks(first, as_of)
    if chosen is not None:
        start, end = max(chosen[0] or first, first), min(chosen[1] or as_of, as_of)
        if start > end:
            raise WrongDay(
                f"No day lies between {start} and {end}: the record begins on {first} and is looked at up to "
                f"{as_of}; choose other days."
            )
        return Span(start, end, end, looks, yearly, chosen=True)
    return Span(first, looks.last or as_of, reading.last or first, looks, yearly, chosen=False)
