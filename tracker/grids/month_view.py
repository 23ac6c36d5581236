"""What of a month is looked at."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.diary.scales import GRIDS, Grid
from tracker.grids.squares import Focus


class MonthView(NamedTuple):
    """What of a month is looked at, and what stands with it."""

    year: int
    month: int
    first_weekday: int = 0
    """Weekday of the first column, 0 for Monday."""
    cursor: date | None = None
    """The day under the cursor; a printed month has none."""
    focus: Focus = ""
    """Where keys go."""
    grids: tuple[Grid, ...] = GRIDS
    aside: str = ""
    """What is said behind the title."""
    has_more: bool = False
    """Whether the months before and what is counted stand with it, where there is room."""

    @property
    def first(self) -> date:
        """The first day of the month."""
        return date(self.year, self.month, 1)

    @property
    def day(self) -> date:
        """The day whose levels the keys show."""
        return self.cursor or self.first

    @property
    def calendar(self) -> MonthView:
        """What of it no key changes."""
        return MonthView(self.year, self.month, self.first_weekday, grids=self.grids)
