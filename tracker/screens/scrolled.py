"""A screen of text that is longer than the window."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from textual import events
from textual.app import ComposeResult

from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas, CellStyle
from tracker.screens.drawn_screen import DrawnScreen
from tracker.screens.key_commands import ESCAPE, HELP, QUIT, Command
from tracker.screens.widgets.canvas_view import CanvasView

SCROLL = Command(("down", "up", "pagedown", "pageup"), "arrows", "scroll", "Scroll")
TO_THE_END = 100_000
"""More lines than there ever are."""
Line = tuple[str, CellStyle]


class ScrolledScreen(DrawnScreen):
    """Lines under one another; the caution stays where it is."""

    COMMANDS_HERE: Sequence[Command] = (SCROLL, ESCAPE, HELP, QUIT)
    MARGIN = 1

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.top = 0
        """First line that is shown."""
        self._room = 1

    def body(self) -> ComposeResult:
        yield CanvasView(id="text")

    def lines(self, width: int) -> list[Line]:
        """Everything there is to read, in lines of a width."""
        raise NotImplementedError

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        return {
            "up": lambda: self.scroll(-1),
            "down": lambda: self.scroll(1),
            "pageup": lambda: self.scroll(-self._room),
            "pagedown": lambda: self.scroll(self._room),
            "space": lambda: self.scroll(self._room),
            "home": lambda: self.scroll(-self.top),
            "end": lambda: self.scroll(TO_THE_END),
        }

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self.scroll(3)
        self.redraw()

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self.scroll(-3)
        self.redraw()

    def scroll(self, lines: int) -> None:
        """Go down or up by some lines; `draw` keeps the end in sight."""
        self.top = max(0, self.top + lines)

    def draw(self, width: int, height: int) -> None:
        lines = self.lines(width - 2 * self.MARGIN)
        self._room = height - 2 - len(self.always)
        self.top = min(self.top, max(0, len(lines) - self._room))
        canvas = Canvas(width, height - 1, self.palette.text)
        for y, (text, style) in enumerate(lines[self.top : self.top + self._room]):
            canvas.put(self.MARGIN, y, text, style)
        more = len(lines) - self.top - self._room
        if more > 0:
            canvas.put_right(width - 1, self._room, f"{more} more", self.palette.quiet)
        for row, line in enumerate(self.always, start=height - 1 - len(self.always)):
            canvas.put(1, row, line, self.palette.quiet)
        self.show("text", canvas)
