"""The line of keys at the foot: what the screen offers now, as much as fits; or that a key means nothing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Protocol, cast

from textual.geometry import Size
from textual.screen import Screen

from tracker.cells import begun, text_width
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.drawing import put_pieces
from tracker.grids.palette import Palette
from tracker.screens.bindings import NamedKey
from tracker.screens.widgets.canvas_view import CanvasView


class OfferingScreen(Protocol):
    """A screen that tells which of its keys can be pressed now."""

    @property
    def size(self) -> Size:
        """Of the window."""

    @property
    def palette(self) -> Palette:
        """The looks of this terminal."""

    def offer(self) -> object:
        """All that decides which keys are offered."""

    @property
    def key_answer(self) -> str:
        """What is said of the key that was pressed last, in place of the keys."""

    def offered_keys(self) -> list[NamedKey]:
        """What the foot names now."""


class KeyLine(CanvasView):
    """Follows the bindings of its screen; a click on a key does what the key does."""

    DEFAULT_CSS = "KeyLine { height: 1; }"

    _shown: object = None
    """What the line was drawn for."""

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self.redraw)

    def redraw(self, _: Screen[object] | None = None) -> None:
        """Draw the keys as they are offered now."""
        screen = cast("OfferingScreen", self.screen)
        shown = screen.key_answer, screen.offer(), screen.palette, screen.size
        if shown != self._shown:
            self._shown = shown
            self.show(self._drawn(screen), screen.palette.text)

    def _drawn(self, screen: OfferingScreen) -> Canvas:
        width, palette = screen.size.width, screen.palette
        if screen.key_answer:
            self._rects: Mapping[NamedKey, Rect] = {}
            return draw_answer(palette, width, screen.key_answer)
        canvas, self._rects = draw_keys(palette, width, tuple(screen.offered_keys()))
        return canvas

    def on_canvas_view_clicked(self, event: CanvasView.Clicked) -> None:
        event.stop()
        for named, rect in self._rects.items():
            if named.key and rect.holds(event.x, event.y):
                self.app.simulate_key(named.key)


def draw_answer(palette: Palette, width: int, sentence: str) -> Canvas:
    """One sentence in place of the keys."""
    canvas = Canvas(width, 1, CellStyle(palette.quiet.fg, palette.panel))
    canvas.put(1, 0, begun(sentence, width - 2), CellStyle(palette.accent.fg, palette.panel))
    return canvas


@lru_cache(maxsize=16)
def draw_keys(
    palette: Palette, width: int, keys: tuple[NamedKey, ...]
) -> tuple[Canvas, Mapping[NamedKey, Rect]]:
    """As many keys as fit, and where each stands; not to be drawn on, for it is drawn once."""
    sign = CellStyle(palette.accent.fg, palette.panel, bold=palette.accent.fg is None)
    word = CellStyle(palette.quiet.fg, palette.panel)
    canvas, x = Canvas(width, 1, word), 1
    rects: dict[NamedKey, Rect] = {}
    for named in keys:
        needed = text_width(f"{named.sign} {named.text}")
        if x + needed <= width:
            put_pieces(canvas, x, 0, [(named.sign, sign), (f" {named.text}", word)])
            rects[named] = Rect(x, 0, needed, 1)
            x += needed + 2
    return canvas, rects
