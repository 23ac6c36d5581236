"""The year: a row a month, a column a day, and two years compared."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tracker.diary.months import days_of_year
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.grids.descriptions import spoken_grid
from tracker.grids.drawing import Drawing
from tracker.grids.year import Strip, YearPlan, compare_plan, draw_year, year_plan
from tracker.screens import key_commands
from tracker.screens.grid_screen import GridScreen
from tracker.screens.lines import Said, draw_words, shortened, wrapped

STRIP_ROWS, SIGN_ROWS = 2, 2
"""The last rows of a drawn year: the strip, and what the signs mean."""
NEXT_STRIP: Mapping[Strip, Strip] = {"": "shifts", "shifts": "daylight", "daylight": ""}


class YearScreen(GridScreen):
    """One year of one grid, or of both where there is room."""

    COMMANDS_HERE = key_commands.YEAR_COMMANDS

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.compared = False
        """Whether the year before stands above this one."""
        self.strip: Strip = ""
        """What the strip under the months shows."""

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        editor = self.editor
        walk = {
            "up": lambda: editor.move_months(-1),
            "down": lambda: editor.move_months(1),
            "pageup": lambda: editor.move_months(-12),
            "pagedown": lambda: editor.move_months(12),
            "home": lambda: editor.go_to(editor.cursor.replace(month=1, day=1)),
            "end": lambda: editor.go_to(editor.cursor.replace(month=12, day=31)),
        }
        return {
            **super().deeds(),
            **walk,
            "enter": self.back,
            "escape": self.back,
            "y": self.back,
            "equals_sign": self.compare,
            "v": self.next_strip,
        }

    def compare(self) -> None:
        """Put the year before above this one, or take it away."""
        self.compared = not self.compared

    def next_strip(self) -> None:
        """Show the shifts, the daylight or nothing under the months."""
        self.strip = NEXT_STRIP[self.strip]
        if self.strip == "daylight" and self.editor.settings.latitude is None:
            self.editor.message = "Daylight needs a latitude; the settings (,) have it."

    def drawing(self, width: int, height: int) -> Drawing:
        editor, room = self.editor, height - 3 - len(self.always)
        year = editor.cursor.year
        plan = year_plan(year, width, room, editor.grid)
        if self.compared:
            plan = compare_plan(year, width, room, editor.grid, editor.cursor.month)
        drawing = draw_year(
            editor.grid_data,
            self.palette,
            plan,
            cursor=editor.cursor,
            focus=self.focus_drawn,
            strip=self.strip,
            latitude=editor.settings.latitude,
        )
        if editor.first and not self.strip and not editor.hidden:
            self._sum_up(drawing.canvas, plan)
        return drawing

    def _sum_up(self, canvas: Canvas, plan: YearPlan) -> None:
        """The year in words where the strip would be: days kept, the commonest level, the longest wait."""
        editor = self.editor
        said = spoken_grid(editor.grid_data, editor.grid, days_of_year(editor.cursor.year))
        rows = shortened(wrapped(f"{editor.grid.capitalize()}: {said}", canvas.width - 2), STRIP_ROWS)
        for y, row in enumerate(rows, start=plan.height - SIGN_ROWS - STRIP_ROWS):
            canvas.put(1, y, row, self.palette.quiet)

    def draw_below(self, width: int, height: int) -> None:
        said = Said(self.line(), self.spoken(), self.always, idle=self.idle())
        self.show("words", draw_words(self.palette, width, height, said))
