"""How marks look on paper, and the papers."""

from __future__ import annotations

from tracker.diary.scales import Grid
from tracker.grids.colour import BLACK, WHITE, plain_ink, ramp
from tracker.grids.themes import Theme, load_theme
from tracker.summary.page_model import Mark
from tracker.summary.typesetting import Json

PRINT_THEME = "selderby-morning"
"""Its fills rise in lightness by even steps: in order on a grey printer and on a photocopy."""
PAPERS = {False: (210.0, 297.0), True: (215.9, 279.4)}
"""Width and height in millimetres: A4, and US Letter."""


class PrintColours:
    """What a mark looks like on paper."""

    def __init__(self, fax: bool) -> None:
        self.fax = fax
        self._theme: Theme = load_theme(PRINT_THEME)

    def of(self, mark: Mark, grid: Grid) -> Json:
        """Fill, ink and bar of a mark; the ink is black or white, so that photocopies keep the digits."""
        if not mark.of:
            return {"sign": mark.sign, "fill": None, "ink": None, "bar": None}
        if self.fax:
            bar = mark.place / (mark.of - 1)
            return {"sign": mark.sign, "fill": WHITE, "ink": BLACK, "bar": bar}
        fill = ramp(self._theme.anchors(grid), mark.of)[mark.place]
        return {"sign": mark.sign, "fill": fill, "ink": plain_ink(fill), "bar": None}
