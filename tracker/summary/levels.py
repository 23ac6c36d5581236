"""What a kept square counts as on the page, whatever version of the levels it was kept under."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tracker.diary.days import Day, Square
from tracker.diary.scales import Grid, Level, Scale, Scales

FEWEST_FOR_TWO = 4
"""Levels from which the page counts the two lowest and the two highest; below that one of each."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A level and its place among those of its version."""

    level: Level
    place: int
    """From 0, lowest first."""
    of: int
    """How many levels the version has."""

    @property
    def is_low(self) -> bool:
        """Whether it is one of the lowest levels."""
        return self.place < at_the_ends(self.of)

    @property
    def is_high(self) -> bool:
        """Whether it is one of the highest levels."""
        return self.place >= self.of - at_the_ends(self.of)


def at_the_ends(levels: int) -> int:
    """How many levels count as the lowest, and how many as the highest."""
    return 2 if levels >= FEWEST_FOR_TWO else 1


class Levels:
    """Every level of a record with its place."""

    def __init__(self, scales: Scales) -> None:
        self._scales = scales
        self._standings = {
            level.id: Standing(level, place, len(scale.levels))
            for scale in scales.versions
            for place, level in enumerate(scale.levels)
        }

    def of(self, square: Square | None) -> Standing | None:
        """Where a square stands; None where no level is kept."""
        return self._standings[square.value] if square and square.is_kept else None

    def versions(self, grid: Grid, days: Iterable[Day]) -> list[Scale]:
        """The versions under which the days were kept, oldest first; the newest where none was."""
        used = {square.value for day in days if (square := day.square(grid)) and square.is_kept}
        found = [scale for scale in self._scales.of(grid) if any(level.id in used for level in scale.levels)]
        return found or [self._scales.newest(grid)]

    def is_short(self, day: Day, bound: float) -> bool:
        """Whether a day's sleep was under so many hours, by its exact hours or its whole bucket."""
        if day.hours is not None:
            return day.hours < bound
        standing = self.of(day.sleep)
        return standing is not None and _ends_by(standing.level, bound)

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
