"""Text that is longer than the window: it scrolls with keys and mouse, and can be selected and copied."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from tracker.grids.canvas import CellStyle
from tracker.screens import bindings
from tracker.screens.own_keys import take_own_keys
from tracker.screens.widgets.canvas_view import style_of

Line = tuple[str, CellStyle]
Row = Sequence[Line]
"""Pieces of text one behind another."""


class LongText(VerticalScroll, inherit_bindings=False):
    """Lines in styles of the palette; the focus is on it, so that keys scroll it."""

    BINDINGS = bindings.SCROLL
    DEFAULT_CSS = """
    LongText { padding: 0 1; scrollbar-size-vertical: 1; }
    LongText:focus { background-tint: transparent 0%; }
    """

    def on_mount(self) -> None:
        take_own_keys(self)

    def compose(self) -> ComposeResult:
        yield Static(markup=False)

    def show(self, rows: Iterable[Row]) -> None:
        """Show rows in place of those before."""
        lines = [Text.assemble(*((piece, style_of(style)) for piece, style in row)) for row in rows]
        self.query_one(Static).update(Text("\n").join(lines))
