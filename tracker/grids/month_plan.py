"""Where the parts of a month stand, in cells, by the room there is."""

from __future__ import annotations

from typing import NamedTuple

from tracker.diary.scales import GRIDS, Grid
from tracker.grids.canvas import Rect

WEEKS = 6
SIGNS = 76
"""Cells that what the signs mean takes."""
LEAST_WIDTH, LEAST_HEIGHT = 80, 17
"""Cells for two grids side by side; under that the month is drawn as one calendar."""


class MonthPlan(NamedTuple):
    """Where the parts of a month stand."""

    width: int
    """Least cells that it needs."""
    height: int
    square: int
    """Cells of a square."""
    fill: int
    """Its rows, under the one with the number of the day."""
    lefts: tuple[int, int]
    """Left edges of the mood and the sleep grid."""
    names_row: int
    weeks_row: int
    panel: int = 0
    """Column of what is counted and written beside the grids; 0: there is no room for it."""
    keys: tuple[int, int] = (0, 0)
    """Columns of the keys where the months before stand under the grids; 0: the keys stand there."""

    @property
    def panel_is_tall(self) -> bool:
        """Whether what stands below the grids leaves the panel its rows."""
        return self.panel > self.keys[0] + SIGNS

    @property
    def weekdays_row(self) -> int:
        """The row right above the first week."""
        return self.weeks_row - 1

    @property
    def week(self) -> int:
        """Rows of a week."""
        return self.fill + 1

    @property
    def below(self) -> int:
        """First row below six weeks."""
        return self.weeks_row + WEEKS * self.week

    @property
    def keys_row(self) -> int:
        """Row of the keys below the grids."""
        return self.below + (self.fill > 2)

    def left(self, grid: Grid) -> int:
        """Left edge of a grid; its first square stands three columns further."""
        return self.lefts[GRIDS.index(grid)]

    def right(self, grid: Grid) -> int:
        """Column behind the last square of a grid."""
        return self.left(grid) + 2 + 7 * (self.square + 1)

    def rect(self, grid: Grid, row: int, column: int) -> Rect:
        """The cells of a square with its number."""
        x = self.left(grid) + 3 + column * (self.square + 1)
        return Rect(x, self.weeks_row + row * self.week, self.square, self.week)


PLANS = (
    MonthPlan(200, 56, 10, 5, (1, 84), 2, 4, 168, (87, 113)),
    MonthPlan(160, 46, 8, 4, (2, 71), 2, 4, 139, (84, 110)),
    MonthPlan(120, 34, 6, 3, (4, 64), 2, 4),
    MonthPlan(100, 25, 5, 2, (2, 52), 1, 3),
    MonthPlan(LEAST_WIDTH, LEAST_HEIGHT, 4, 1, (0, 42), 1, 3),
)
"""Largest squares first."""


def month_plan(width: int, height: int) -> MonthPlan | None:
    """The plan with the largest squares that fits; None where two grids have no room side by side."""
    return next((plan for plan in PLANS if plan.width <= width and plan.height <= height), None)
