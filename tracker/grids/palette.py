"""A theme made ready for one terminal: looks, fills, marks and signs."""

from __future__ import annotations

import codecs
from typing import Literal, NamedTuple, cast

from tracker.diary.scales import Grid, Level, Scale
from tracker.grids.canvas import CellStyle
from tracker.grids.themes import NO_FILL, SIXTEEN, Colours, Fill, Theme, ansi, fills, ui_colours

Marks = Literal["digits", "shapes", "ascii"]

BARS = "▁▂▃▄▅▆▇█"
LAMPS = {3: "○◑●", 4: "○◔◕●", 5: "○◔◑◕●"}


class Signs(NamedTuple):
    """One-cell signs of everything in a grid that is not a level."""

    waiting: str
    today: str
    hatch: str
    """A day that does not exist; fills its square."""
    right: str
    down: str
    left_bar: str
    """On either side of the cursor's square in the grid in focus."""
    right_bar: str
    texture: str
    """Fills a square beside its mark where a neighbouring level has the same colour."""
    low: str
    """The mood of a day is low: where there are no colours, over the year."""
    short: str
    """Its sleep was short."""
    low_and_short: str
    neither: str
    bar: str
    """A whole cell of a counted bar."""
    half_bar: str
    unsaid: str = "?"
    anxious: str = "a"
    in_break: str = "-"
    note: str = '"'


UNICODE_SIGNS = Signs("·", "◄", "╱", "►", "▼", "▐", "▌", "▒", "▀", "▄", "█", "▁", "▄", "▖")
ASCII_SIGNS = Signs(".", "<", "/", ">", "v", "[", "]", ":", "^", ",", "#", "_", "=", "")


class Palette:
    """Everything that decides how a grid looks in one terminal.

    Parameters
    ----------
    with_fills
        Whether levels have colours at all; a person may switch them off.
    """

    def __init__(
        self, theme: Theme, colours: Colours = "truecolor", marks: Marks = "digits", with_fills: bool = True
    ) -> None:
        self.theme = theme
        self.colours = colours
        self.marks = marks
        self.with_fills = with_fills
        self.signs = ASCII_SIGNS if marks == "ascii" else UNICODE_SIGNS
        ui = ui_colours(theme, colours)
        ground = ui["ground"]
        self.text = CellStyle(ui["text"], ground)
        """What is read first."""
        self.title = CellStyle(ui["text"], ground, bold=True)
        """A heading."""
        self.quiet = CellStyle(ui["quiet"], ground)
        """Names, numbers and hints round the squares."""
        self.faint = CellStyle(ui["faint"], ground)
        """Hatching."""
        self.accent = CellStyle(ui["accent"], ground)
        """Today's sign, keys in hints."""
        self.key = CellStyle(ui["accent"], ground, bold=True)
        """A key in a list of keys, the number of a paragraph."""
        self.panel = theme.ui.panel if colours == "truecolor" else ground
        """The ground of a line of keys and of a sheet."""
        self.warning = CellStyle(ui["warning"], ground)
        """A sentence that asks for attention."""
        self.focus = CellStyle(ui["focus"], ground)
        """The bars and pointers of the grid in focus."""
        self.focused = CellStyle(ui["focus"], ground, bold=True)
        """Its heading."""
        self.pointed = CellStyle(ui["focus_ink"], ui["focus"], bold=True, reverse=ui["focus"] is None)
        """The number of the cursor's day over a year."""
        self.waiting = CellStyle(ui["quiet"], ui["waiting"])
        """A square on which nothing is kept yet."""
        self.unsaid = CellStyle(ui["text"], ui["waiting"])
        """A square that is answered without a level."""
        self.texture_ink = ansi(0, colours) if colours in SIXTEEN else None
        """Of the texture that tells two levels with the same colour apart."""

    @property
    def has_fills(self) -> bool:
        """Whether levels have colours here."""
        return self.with_fills and self.colours != "none"

    @property
    def has_halves(self) -> bool:
        """Whether two colours can share a cell."""
        return self.has_fills and self.marks != "ascii"

    def fill(self, grid: Grid, place: int, levels: int) -> Fill:
        """The fill of the level at a place, from 0, among so many."""
        return fills(self.theme, grid, levels, self.colours)[place] if self.with_fills else NO_FILL

    def style(self, fill: Fill, bold: bool = False) -> CellStyle:
        """A mark on a fill; without one it stands on the ground as text."""
        return CellStyle(fill.ink or self.text.fg, fill.ground or self.text.bg, bold)

    def mark(self, scale: Scale, level: Level) -> str:
        """The sign of a level: the digit that is pressed, or a shape that grows with the level."""
        shapes = shapes_of(scale) if self.marks == "shapes" else ""
        return shapes[scale.levels.index(level)] if shapes else level.mark


def shapes_of(scale: Scale) -> str:
    """A shape for each level, lowest first; empty where there are too many to tell apart."""
    levels = len(scale.levels)
    if scale.grid == "mood":
        return LAMPS.get(levels, "")
    if levels > len(BARS):
        return ""
    return "".join(BARS[int(place * 7 / (levels - 1) + 0.5)] for place in range(levels))


def colours_of(color_system: str | None, no_color: bool = False) -> Colours:
    """The colours of a terminal, from the name that its console gives them."""
    if no_color or color_system not in ("truecolor", "256", "standard", "windows"):
        return "none"
    return cast(Colours, color_system)


def usable_marks(wanted: str, encoding: str, term: str = "") -> Marks:
    """The marks that were asked for, or ASCII where a terminal cannot show others.

    The Linux console has neither the arrows nor most of the shapes in its usual fonts.
    """
    if term == "linux" or not _encodes(encoding, "·◄╱►▼▐▌" + BARS + LAMPS[5]):
        return "ascii"
    return cast(Marks, wanted) if wanted in ("digits", "shapes", "ascii") else "digits"


def _encodes(encoding: str, signs: str) -> bool:
    try:
        codecs.lookup(encoding)
        signs.encode(encoding)
    except (LookupError, UnicodeEncodeError):
        return False
    return True
