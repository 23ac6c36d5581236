"""The year: a row a month, a column a day, and two years compared."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tracker.grids.calendar import days_of_year
from tracker.grids.drawing import Drawing
from tracker.grids.spoken import spoken_grid
from tracker.grids.year import Strip, compare_plan, draw_year, year_plan
from tracker.screens import commands
from tracker.screens.grid_screen import GridScreen
from tracker.screens.lines import draw_words, wrapped

NEXT_STRIP: Mapping[Strip, Strip] = {"": "shifts", "shifts": "daylight", "daylight": ""}


class YearScreen(GridScreen):
    """One year of one grid, or of both where there is room."""

    COMMANDS_HERE = commands.YEAR_COMMANDS
    compared = False
    """Whether the year before stands above this one."""
    strip: Strip = ""
    """What the strip under the months shows."""

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        desk = self.desk
        walk = {
            "up": lambda: desk.move_months(-1),
            "down": lambda: desk.move_months(1),
            "left_square_bracket": lambda: desk.move_months(-12),
            "right_square_bracket": lambda: desk.move_months(12),
            "pageup": lambda: desk.move_months(-12),
            "pagedown": lambda: desk.move_months(12),
        }
        return {
            **super().deeds(),
            **walk,
            "enter": self.dismiss,
            "escape": self.dismiss,
            "y": self.dismiss,
            "equals_sign": self.compare,
            "v": self.next_strip,
        }

    def compare(self) -> None:
        """Put the year before above this one, or take it away."""
        self.compared = not self.compared

    def next_strip(self) -> None:
        """Show the shifts, the daylight or nothing under the months."""
        self.strip = NEXT_STRIP[self.strip]
        if self.strip == "daylight" and self.desk.settings.latitude is None:
            self.desk.said = "Daylight needs a latitude; F2 sets it."

    def drawing(self, width: int, height: int) -> Drawing:
        desk, room = self.desk, height - 3 - len(self.always)
        year = desk.cursor.year
        plan = year_plan(year, width, room, desk.grid)
        if self.compared:
            plan = compare_plan(year, width, room, desk.grid, desk.cursor.month)
        return draw_year(
            desk.sheet,
            self.palette,
            plan,
            cursor=desk.cursor,
            focus=desk.focus,
            strip=self.strip,
            latitude=desk.settings.latitude,
        )

    def draw_below(self, width: int, height: int) -> None:
        line = self.line()
        if not self.desk.said:
            line = (self.summed_up(width - 2, height - len(self.always) - 1), self.palette.quiet)
        picture = draw_words(self.palette, width, height, line, self.spoken(), self.always)
        self.show("words", picture)

    def summed_up(self, width: int, rows: int) -> str:
        """The year in words; without the days kept, which the head shows too, where there are few rows."""
        if self.desk.hidden:
            return ""
        grid, year = self.desk.grid, self.desk.cursor.year
        said = spoken_grid(self.desk.sheet, grid, days_of_year(year))
        if len(wrapped(said, width - len(grid) - 2)) > rows:
            said = said.partition("; ")[2] or said
        return f"{grid.capitalize()}: {said}"
