"""The year: a row a month, a column a day, and two years compared."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.diary.months import days_of_year
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.grids.descriptions import spoken_grid
from tracker.grids.drawing import Drawing
from tracker.grids.year import Strip, YearPlan, compare_plan, draw_year, year_plan
from tracker.screens import bindings
from tracker.screens.grid_screen import GridScreen
from tracker.screens.lines import Said, draw_words, shortened, wrapped

STRIP_ROWS, SIGN_ROWS = 2, 2
"""The last rows of a drawn year: the strip, and what the signs mean."""
NEXT_STRIP: Mapping[Strip, Strip] = {"": "shifts", "shifts": "daylight", "daylight": ""}


class YearScreen(GridScreen):
    """One year of one grid, or of both where there is room."""

    BINDINGS = bindings.YEAR

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.compared = False
        """Whether the year before stands above this one."""
        self.strip: Strip = ""
        """What the strip under the months shows."""

    def action_to_month(self) -> None:
        self.action_back()

    def action_compare(self) -> None:
        """Put the year before above this one, or take it away."""
        self.editor.perform("leave_it")
        self.compared = not self.compared
        self.redraw()

    def action_next_strip(self) -> None:
        """Show the shifts, the daylight or nothing under the months."""
        self.editor.perform("leave_it")
        self.strip = NEXT_STRIP[self.strip]
        if self.strip == "daylight" and self.kept.settings.latitude is None:
            self.state.message = "Daylight needs a latitude; the settings (,) have it."
        self.redraw()

    def drawing(self, width: int, height: int) -> Drawing:
        state, room = self.state, height - 3 - len(self.always)
        year = state.cursor.year
        plan = year_plan(year, width, room, state.grid)
        if self.compared:
            plan = compare_plan(year, width, room, state.grid, state.cursor.month)
        drawing = draw_year(
            state.grid_data,
            self.palette,
            plan,
            cursor=state.cursor,
            focus=self.focus_drawn,
            strip=self.strip,
            latitude=self.kept.settings.latitude,
        )
        if self.kept.first_day and not self.strip and not state.hidden:
            self._sum_up(drawing.canvas, plan)
        return drawing

    def _sum_up(self, canvas: Canvas, plan: YearPlan) -> None:
        """The year in words where the strip would be: days kept, the commonest level, the longest wait."""
        state = self.state
        said = spoken_grid(state.grid_data, state.grid, days_of_year(state.cursor.year))
        rows = shortened(wrapped(f"{state.grid.capitalize()}: {said}", canvas.width - 2), STRIP_ROWS)
        for y, row in enumerate(rows, start=plan.height - SIGN_ROWS - STRIP_ROWS):
            canvas.put(1, y, row, self.palette.quiet)

    def draw_below(self, width: int, height: int) -> None:
        said = Said(self.line(), self.spoken(), self.always, idle=self.idle())
        self.show("words", draw_words(self.palette, width, height, said))
