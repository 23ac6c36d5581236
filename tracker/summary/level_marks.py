"""What a kept square counts as on the page, by the version of the levels under which it was kept."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.diary.days import Day, Square, kept_values
from tracker.diary.scales import Grid, Placed, Scale, Scales
from tracker.summary.page_model import BREAK, COULD_NOT_SAY, NOTHING, Mark

VERSIONS_TOLD = 2
"""Versions of the levels that have rows and a key of their own: the newest."""


class Levels:
    """What squares hold, by the levels of a record."""

    def __init__(self, scales: Scales) -> None:
        self.scales = scales

    def of(self, square: Square | None) -> Placed | None:
        """Where a square stands; None where no level is kept."""
        return self.scales.placed(square.value) if square and square.is_kept else None

    def versions(self, grid: Grid, days: Iterable[Day]) -> list[Scale]:
        """The versions under which the days were kept, oldest first; the newest where none was."""
        return list(self.scales.used(grid, kept_values(days, grid))) or [self.scales.newest(grid)]

    def holds(self, scale: Scale, day: date) -> bool:
        """Whether a version is the one that holds on a day."""
        return self.scales.on(scale.grid, day).id == scale.id

    def shared_bounds(self, days: Iterable[Day]) -> list[float]:
        """The hours at which a bucket begins in every version under which the days were kept, rising."""
        begins = [{level.from_hours for level in scale.levels} for scale in self.versions("sleep", days)]
        return sorted(hours for hours in set.intersection(*begins) if hours)


def mark_of(levels: Levels, square: Square | None, away: bool) -> Mark:
    """What stands in a square: its level's digit, or the sign for none."""
    placed = levels.of(square)
    if placed:
        return Mark(placed.level.mark, placed.place, len(placed.scale.levels))
    if square and square.state == "could not say":
        return Mark(COULD_NOT_SAY)
    return Mark(BREAK if away else NOTHING)
