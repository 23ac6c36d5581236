"""The year: a row a month, a column a day, and two years compared."""

from __future__ import annotations

from tracker import words
from tracker.cells import wrapped
from tracker.editing.editor import Editor
from tracker.grids.drawing import Drawing
from tracker.grids.year import Strip, View, YearView, draw_year
from tracker.screens import bindings
from tracker.screens.grid_screen import TWO_ROWS_FROM, GridScreen
from tracker.screens.status import Status, draw_status

VIEWS: tuple[tuple[View, Strip], ...] = (
    ("both", ""),
    ("one grid", ""),
    ("one grid", "shifts"),
    ("one grid", "daylight"),
)
"""What `v` goes round: which grids, and the strip under them."""


class YearScreen(GridScreen):
    """One year: each day's mood above the sleep before it, or one grid."""

    BINDINGS = bindings.YEAR

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.compared = False
        """Whether the year before stands above this one."""
        self._view = 0
        """Place in VIEWS."""

    def action_to_month(self) -> None:
        self.action_back()

    def action_compare(self) -> None:
        """Put the year before above this one, or take it away."""
        self.editor.perform("leave_it")
        self.editor.clear_message()
        self.compared = not self.compared
        self.redraw()

    def action_next_view(self) -> None:
        """Show both grids in one, one of them, its shifts or the daylight."""
        self.editor.perform("leave_it")
        self.editor.clear_message()
        self._view = (self._view + 1) % len(VIEWS)
        if VIEWS[self._view][1] == "daylight" and self.kept.settings.latitude is None:
            comma = self.state.sign(",")
            self.state.message = f"Daylight needs a latitude; put it into the settings ({comma})."
        self.redraw()

    def drawing(self, width: int, height: int) -> Drawing:
        state, (shown, strip) = self.state, VIEWS[self._view]
        view = YearView(
            state.cursor.year,
            shown,
            state.grid,
            state.cursor,
            self.focus_drawn,
            strip,
            self.compared,
            self.kept.settings.latitude,
            self.aside,
            state.sign("Tab"),
        )
        day_rows = 2 if height >= TWO_ROWS_FROM else 1
        rows = height - 1 - len(self._caution(width)) - day_rows
        return draw_year(state.grid_data, self.palette, view, width, rows)

    def draw_below(self, width: int, height: int) -> None:
        said = Status(self.line(), self.spoken(), self._caution(width), idle=self.idle())
        self.show("words", draw_status(self.palette, width, height, said))

    def _caution(self, width: int) -> list[str]:
        return wrapped(words.CAUTION, width - 1)
