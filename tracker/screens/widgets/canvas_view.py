"""A picture on the screen: one widget, of which only the cells that changed are drawn again."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from tracker.grids.canvas import PLAIN, Canvas, CellStyle


class CanvasView(Widget):
    """Shows a picture; tells where it was clicked."""

    DEFAULT_CSS = """
    CanvasView { width: 1fr; height: auto; }
    """
    ALLOW_SELECT = False

    class Clicked(Message):
        """A cell of the picture was clicked."""

        def __init__(self, view: CanvasView, x: int, y: int) -> None:
            super().__init__()
            self.view = view
            self.x = x
            self.y = y

        @property
        def control(self) -> CanvasView:
            """The view that was clicked."""
            return self.view

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._canvas = Canvas(0, 0)
        self._ground = PLAIN

    def render_line(self, y: int) -> Strip:
        width = self.content_size.width
        ground = style_of(self._ground)
        if y >= self._canvas.height:
            return Strip.blank(width, ground)
        segments = [Segment(run.text, style_of(run.style)) for run in self._canvas.row(y)]
        return Strip(segments, self._canvas.width).adjust_cell_length(width, ground)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self._canvas.height

    def on_click(self, event: events.Click) -> None:
        offset = event.get_content_offset(self)
        if offset is not None:
            self.post_message(self.Clicked(self, offset.x, offset.y))

    def show(self, canvas: Canvas, ground: CellStyle) -> None:
        """Show a picture in place of the one before."""
        before, self._canvas = self._canvas, canvas
        resized = (before.width, before.height) != (canvas.width, canvas.height)
        if resized or ground != self._ground:
            self._ground = ground
            self.refresh(layout=before.height != canvas.height)
            return
        changed = [Region(*rect) for rect in canvas.changes(before)]
        if changed:
            self.refresh(*changed)

    @property
    def lines(self) -> list[str]:
        """What stands on it, as text."""
        return self._canvas.lines()


@lru_cache(maxsize=512)
def style_of(style: CellStyle) -> Style:
    """A look as the terminal is told of it; every piece of text has one, colours or not."""
    return Style(color=style.fg, bgcolor=style.bg, bold=style.bold or None, reverse=style.reverse or None)
