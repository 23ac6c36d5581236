"""What the month and the year share: keys and clicks go to the editor, the day is told below."""

from __future__ import annotations

from textual.actions import parse
from textual.app import ComposeResult
from textual.binding import Binding

from tracker import words
from tracker.cells import text_width
from tracker.editing.editor import Editor
from tracker.editing.modes import ANSWERS, ONLY_IN
from tracker.grids.canvas import CellStyle
from tracker.grids.descriptions import spoken_day
from tracker.grids.drawing import Drawing
from tracker.grids.squares import Focus
from tracker.screens.base import BaseScreen
from tracker.screens.bindings import action_of
from tracker.screens.widgets.canvas_view import CanvasView

TWO_ROWS_FROM = 22
"""Rows of a window from which the day in words may take two."""
NARROW = 60
"""Columns under which what waits is said in fewer words."""
REFRESH_SECONDS = 2.0
"""How often another copy's changes, and a new day, are looked for."""


class GridScreen(BaseScreen[None], inherit_bindings=False):
    """A screen with the grids of a month or a year."""

    CAUTION = False

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._drawing: Drawing | None = None
        self._today = self.kept.today
        self._is_painted = False
        """Whether the first paint is over: only then is more of the record read than is looked at."""

    def body(self) -> ComposeResult:
        yield CanvasView(id="grids")
        yield CanvasView(id="words")

    def on_mount(self) -> None:
        self.call_after_refresh(self._after_first_paint)
        self.set_interval(REFRESH_SECONDS, self._refresh_record)

    def _after_first_paint(self) -> None:
        """Older squares are counted, and the months before are read."""
        self._is_painted = True
        self.redraw()

    def _refresh_record(self) -> None:
        """Take up what another copy wrote, and the day that has begun."""
        if not self.is_current:
            return
        new_day = self._today != self.kept.today
        if self.editor.refresh() or new_day:
            self._today = self.kept.today
            self.redraw()

    # --- keys and clicks -------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action == "edit" and not self.editor.allowed(*map(str, parameters)):
            return False
        return super().check_action(action, parameters)

    def is_offered(self, binding: Binding) -> bool:
        _, _, parameters = parse(binding.action)
        return self.editor.offered(action_of(binding), *parameters[1:])

    def offer(self) -> object:
        is_to_come = self.state.cursor > self.kept.last_open_day
        return self.editor.modes, self.state.scale, is_to_come, self.kept.choices.kinds

    def rank(self, binding: Binding) -> int:
        """While catching up the answers stand right behind the keys that are of use only then."""
        action = action_of(binding)
        return int(self.editor.catching_up is not None and action not in ONLY_IN and action not in ANSWERS)

    def action_edit(self, action: str, *args: object) -> None:
        self.editor.perform(action, *args)
        self.redraw()

    async def action_show(self, name: str) -> None:
        self.editor.perform("leave_it")
        await super().action_show(name)

    def pass_unknown(self, key: str) -> None:
        """Letters of other alphabets may stand for a shift or a colour."""
        letter = key.lower() if len(key) == 1 else ""
        claimed = [action for action in ("shift", "colour") if letter and self.editor.allowed(action, letter)]
        if claimed:
            self.action_edit(claimed[0], letter)
        else:
            self.action_edit("unknown_key")
            super().pass_unknown(key)

    def on_mouse_scroll_up(self) -> None:
        self._turn_wheel("up")

    def on_mouse_scroll_down(self) -> None:
        self._turn_wheel("down")

    def _turn_wheel(self, key: str) -> None:
        """Walk as an arrow key does: a week of the month, a month of the year."""
        if not self.has_class("-too-small"):
            self.app.simulate_key(key)

    def on_canvas_view_clicked(self, event: CanvasView.Clicked) -> None:
        if event.view.id != "grids" or self._drawing is None:
            return
        square, level = self._drawing.place_at(event.x, event.y), self._drawing.level_at(event.x, event.y)
        if square:
            self.action_edit("go_to", square.day, square.grid)
        if level:
            self.action_edit("keep_level", *level)

    # --- drawing -----------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> None:
        self._drawing = self.drawing(width, height)
        self.show("grids", self._drawing.canvas)
        self.draw_below(width, height - 1 - self._drawing.canvas.height)

    def drawing(self, width: int, height: int) -> Drawing:
        """The grids, drawn."""
        raise NotImplementedError

    def draw_below(self, width: int, height: int) -> None:
        """The lines between the grids and the keys."""
        raise NotImplementedError

    @property
    def focus_drawn(self) -> Focus:
        """Where keys go; while a shift's letter is awaited, the shifts."""
        return "shift" if self.state.awaiting == "shift" else self.state.focus

    def line(self) -> tuple[str, CellStyle]:
        """What the last key did and what is asked for next, in one line."""
        said, asked = self.state.message, self.state.asked()
        if not said:
            return asked, self.palette.accent
        together = f"{said} {asked}".rstrip()
        return (together if text_width(together) <= self.size.width - 2 else said), self.palette.accent

    def idle(self) -> str:
        """What the rota has in this month, for when there is nothing else to say."""
        return "" if self.state.message or self.state.asked() else self.state.rota()

    def spoken(self) -> tuple[str, str]:
        """The day under the cursor in words, and in fewer."""
        full, brief = (
            spoken_day(self.state.grid_data, self.state.cursor, with_note=True, brief=brief)
            for brief in (False, True)
        )
        return full, brief

    def waits(self) -> str:
        """How many earlier squares wait; nothing while the grids are hidden."""
        counted = self._is_painted and not self.state.hidden
        if not counted:
            return ""
        is_narrow = self.size.width < NARROW
        return words.waiting_line(self.kept.waiting_before(), self.state.sign("g"), brief=is_narrow)
