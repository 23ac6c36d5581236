"""Scroll bars of whole cells."""

from __future__ import annotations

from typing import ClassVar

from textual.scrollbar import ScrollBarRender


class WholeCells(ScrollBarRender):
    """Blanks in two colours, or in reverse video: no font and no encoding lacks them."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "]
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "]
