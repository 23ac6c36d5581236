"""The month: mood and sleep side by side, their keys, and the day in words. The first screen."""

from __future__ import annotations

from tracker.grids.drawing import Drawing
from tracker.grids.month import draw_month
from tracker.grids.month_plan import LEAST_HEIGHT, LEAST_WIDTH
from tracker.grids.month_view import MonthView
from tracker.screens import bindings
from tracker.screens.grid_screen import TWO_ROWS_FROM, GridScreen
from tracker.screens.status import Status, draw_status


class MonthScreen(GridScreen):
    """One month of both grids."""

    BINDINGS = bindings.MONTH

    def drawing(self, width: int, height: int) -> Drawing:
        cursor = self.state.cursor
        view = MonthView(
            cursor.year,
            cursor.month,
            self.kept.settings.first_weekday,
            cursor,
            self.focus_drawn,
            aside=self.aside,
            has_more=self._is_painted,
        )
        is_wide = width >= LEAST_WIDTH and height >= LEAST_HEIGHT + 3
        below = 3 if is_wide and height < TWO_ROWS_FROM else 4
        return draw_month(self.state.grid_data, self.palette, view, width, height - below)

    def draw_below(self, width: int, height: int) -> None:
        said = Status(self.line(), self.spoken(), also=self.waits(), idle=self.idle())
        self.show("words", draw_status(self.palette, width, height, said))
