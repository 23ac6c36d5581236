"""The least that an app on this screen library can be: one widget, one line, drawn by the line."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.app import App, ComposeResult
from textual.strip import Strip
from textual.widget import Widget

PAINTED = "one line"
QUIT = "ctrl+q"


class OneLine(Widget):
    """Says how many keys came."""

    DEFAULT_CSS = "OneLine { height: 1; }"
    keys = 0

    def render_line(self, y: int) -> Strip:
        return Strip([Segment(f"{PAINTED}, {self.keys} keys", Style())])


class BareApp(App[None]):
    """Shows the line."""

    ENABLE_COMMAND_PALETTE = False

    def compose(self) -> ComposeResult:
        yield OneLine()


if __name__ == "__main__":
    BareApp().run()
