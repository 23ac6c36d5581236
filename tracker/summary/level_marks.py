"""What a kept square counts as on the page, whatever version of the levels it was kept under."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.diary.days import Day, Square, kept_values
from tracker.diary.scales import Grid, Level, Placed, Scale, Scales

FEWEST_FOR_TWO = 4
"""Levels from which the page counts the two lowest and the two highest; below that one of each."""


def is_low(placed: Placed) -> bool:
    """Whether a level is one of the lowest of its version."""
    return placed.place < at_the_ends(len(placed.scale.levels))


def is_high(placed: Placed) -> bool:
    """Whether a level is one of the highest of its version."""
    levels = len(placed.scale.levels)
    return placed.place >= levels - at_the_ends(levels)


def at_the_ends(levels: int) -> int:
    """How many levels count as the lowest, and how many as the highest."""
    return 2 if levels >= FEWEST_FOR_TWO else 1


class Levels:
    """What squares hold, by the levels of a record."""

    def __init__(self, scales: Scales) -> None:
        self._scales = scales

    def of(self, square: Square | None) -> Placed | None:
        """Where a square stands; None where no level is kept."""
        return self._scales.placed(square.value) if square and square.is_kept else None

    def versions(self, grid: Grid, days: Iterable[Day]) -> list[Scale]:
        """The versions under which the days were kept, oldest first; the newest where none was."""
        return list(self._scales.used(grid, kept_values(days, grid))) or [self._scales.newest(grid)]

    def is_short(self, day: Day, bound: float) -> bool:
        """Whether a day's sleep was under so many hours, by its exact hours or its whole bucket."""
        if day.hours is not None:
            return day.hours < bound
        placed = self.of(day.sleep)
        return placed is not None and _ends_by(placed.level, bound)

    def bound(self, wanted: float, days: Iterable[Day]) -> float | None:
        """The bound next below so many hours at which the buckets of all the days can be told apart.

        The lowest one they share if all lie above; None if they share none.
        """
        shared = set.intersection(*(_bounds(scale) for scale in self.versions("sleep", days)))
        below = [bound for bound in shared if bound <= wanted]
        return max(below) if below else min(shared, default=None)


def _bounds(scale: Scale) -> set[float]:
    return {level.to_hours for level in scale.levels if level.to_hours}


def _ends_by(level: Level, bound: float) -> bool:
    return level.to_hours is not None and level.to_hours <= bound
