"""The month: mood and sleep side by side, their keys, and the day in words. The first screen."""

from __future__ import annotations

from tracker import words
from tracker.grids.drawing import Drawing
from tracker.grids.month import draw_month
from tracker.screens import bindings
from tracker.screens.grid_screen import GridScreen
from tracker.screens.lines import Said, draw_words


class MonthScreen(GridScreen):
    """One month of both grids."""

    BINDINGS = bindings.MONTH

    def drawing(self, width: int, height: int) -> Drawing:
        return draw_month(
            self.state.grid_data,
            self.palette,
            self.state.cursor.year,
            self.state.cursor.month,
            width=width,
            height=height - 4,
            first_weekday=self.kept.settings.first_weekday,
            cursor=self.state.cursor,
            focus=self.focus_drawn,
        )

    def draw_below(self, width: int, height: int) -> None:
        always, also = [], self.waits()
        if self.tracker.invented:
            earlier = self.kept.waiting_before() if also else 0
            always, also = [words.INVENTED + (f"  {earlier} wait (g)" if earlier else "")], ""
        said = Said(self.line(), self.spoken(), always, also, self.idle())
        self.show("words", draw_words(self.palette, width, height, said))
