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
FOOT_LEAST, FOOT_MORE = 0.3, 2.2
"""Millimetres of the black foot of a square on a fax: of the best but one, and what the worst has more."""


class PrintColours:
    """What a mark looks like on paper."""

    def __init__(self, fax: bool) -> None:
        self.fax = fax
        self._theme: Theme = load_theme(PRINT_THEME)

    def of(self, mark: Mark, grid: Grid) -> Json:
        """Fill, ink and foot of a mark; the ink is black or white, so that photocopies keep the digits."""
        if not mark.of:
            return {"sign": mark.sign, "fill": None, "ink": None, "foot": 0.0}
        if self.fax:
            return {"sign": mark.sign, "fill": WHITE, "ink": BLACK, "foot": foot(mark)}
        fill = ramp(self._theme.anchors(grid), mark.of)[mark.place]
        return {"sign": mark.sign, "fill": fill, "ink": plain_ink(fill), "foot": 0.0}


def foot(mark: Mark) -> float:
    """Height of the black foot of a square on a fax, in millimetres: the worst is the blackest."""
    place = mark.place / (mark.of - 1)
    return 0.0 if place == 1 else FOOT_LEAST + FOOT_MORE * (1 - place)
