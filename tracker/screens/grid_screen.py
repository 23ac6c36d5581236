"""What the month and the year share: keys go to the editor, a click moves or sets, and the day is spoken."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from textual.app import ComposeResult

from tracker import words
from tracker.cells import text_width
from tracker.editing.editor import Editor, as_pressed
from tracker.grids.canvas import CellStyle
from tracker.grids.descriptions import spoken_day
from tracker.grids.drawing import Drawing
from tracker.grids.squares import Focus
from tracker.screens import key_commands
from tracker.screens.base import BaseScreen
from tracker.screens.canvas_view import CanvasView
from tracker.screens.key_commands import Command

LOOK_AGAIN_SECONDS = 2.0
"""How often another copy's changes, and a new day, are looked for."""


class GridScreen(BaseScreen):
    """A screen with the grids of a month or a year."""

    def body(self) -> ComposeResult:
        yield CanvasView(id="grids")
        yield CanvasView(id="words")

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._drawing: Drawing | None = None
        self._today = editor.today
        self._counts = False
        """Whether older squares are counted."""

    def on_mount(self) -> None:
        self.call_after_refresh(self._count)
        self.set_interval(LOOK_AGAIN_SECONDS, self._look_again)

    def _count(self) -> None:
        """Older squares are counted after the first paint: that looks at every entry."""
        self._counts = True
        self.redraw()

    def _look_again(self) -> None:
        if not self.is_current:
            return
        new_day = self._today != self.editor.today
        if self.editor.refresh() or new_day:
            self._today = self.editor.today
            self.redraw()

    # --- keys and clicks -------------------------------------------------------------------------------

    def do(self, key: str) -> bool:
        done = super().do(key)
        if not done and not self.has_class("-too-small"):
            self.editor.unknown_key(key)
            self.redraw_if_current()
        return done

    def press(self, key: str) -> bool:
        self.editor.refresh()
        pressed = as_pressed(key)
        if self.editor.claims(pressed) and self.editor.press(pressed):
            return True
        deed = self.deeds().get(pressed)
        if deed:
            deed()
            return True
        return self.editor.press(pressed)

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        opens = {
            "y": "year", "f": "findings", "p": "page", "question_mark": "help", "n": "note", "enter": "day",
            "slash": "search", "c": "catch_up", "comma": "settings", "f2": "settings", "f3": "more_settings",
        }  # fmt: skip
        return {key: partial(self.tracker.open, name) for key, name in opens.items()} | {
            "q": self.tracker.leave
        }

    def click(self, board: CanvasView, x: int, y: int) -> None:
        if board.id != "grids" or self._drawing is None:
            return
        place = self._drawing.place_at(x, y)
        if place:
            self.editor.go_to(place.day, place.grid)
        found = self._drawing.level_at(x, y)
        if found:
            grid, level = found
            self.editor.focus = grid
            self.editor.keep_level(self.editor.choices.scales.level(level))

    def keys_here(self) -> Sequence[Command]:
        keys = sorted(key for level in self.editor.scale.levels for key in level.keys)
        digits = key_commands.DIGITS._replace(sign=f"{keys[0]}-{keys[-1]}")
        return [digits if command == key_commands.DIGITS else command for command in self._keys_now()]

    def _keys_now(self) -> Sequence[Command]:
        editor = self.editor
        if editor.pending == "shift":
            return key_commands.LETTER_OF_A_SHIFT
        if editor.pending:
            return (
                key_commands.AFTER_A_ONE_WHILE_CATCHING_UP if editor.catching_up else key_commands.AFTER_A_ONE
            )
        if editor.hidden:
            return key_commands.WHILE_HIDDEN
        if editor.month_is_done:
            return key_commands.WHEN_A_MONTH_IS_DONE
        if editor.focus == "shift":
            return key_commands.IN_THE_SHIFTS
        if editor.catching_up:
            return key_commands.WHILE_CATCHING_UP
        to_come = editor.cursor > editor.last_open_day
        return [
            command for command in self.COMMANDS_HERE if not (to_come and command in key_commands.ANSWERS)
        ]

    @property
    def focus_drawn(self) -> Focus:
        """Where keys go; while a shift's letter is awaited, the shifts."""
        return "shift" if self.editor.pending == "shift" else self.editor.focus

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

    def line(self) -> tuple[str, CellStyle]:
        """What the last key did and what is asked for next, in one line."""
        said, asked = self.editor.message, self.editor.asked()
        if not said:
            return asked, self.palette.accent
        together = f"{said} {asked}".rstrip()
        return (together if text_width(together) <= self.size.width - 2 else said), self.palette.accent

    def idle(self) -> str:
        """What the rota has in this month, for when there is nothing else to say."""
        return "" if self.editor.message or self.editor.asked() else self.editor.rota()

    def spoken(self) -> tuple[str, str]:
        """The day under the cursor in words, and in fewer."""
        full, brief = (
            spoken_day(self.editor.grid_data, self.editor.cursor, with_note=True, brief=brief)
            for brief in (False, True)
        )
        return full, brief

    def waits(self) -> str:
        """How many earlier squares wait; nothing while the grids are hidden."""
        return (
            "" if self.editor.hidden or not self._counts else words.waiting_line(self.editor.waiting_before())
        )
