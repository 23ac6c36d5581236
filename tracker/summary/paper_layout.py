"""Grids for a paper notebook, laid out to the millimetre.

With her dots the lines fall on them: every grid begins at a whole number of pitches from where one of them
lies. Measures are millimetres from the upper left corner of the paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, NamedTuple

from tracker import words
from tracker.diary.breaks import in_break
from tracker.diary.choices import Choices
from tracker.diary.dates import month_name
from tracker.diary.days import Day
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import GRIDS, Grid, Scale
from tracker.grids.colour import grey_of
from tracker.summary.level_marks import Levels, mark_of
from tracker.summary.page_model import BREAK, COULD_NOT_SAY, NOTHING, Mark, brief, brief_day
from tracker.summary.paper_blocks import Name, PaperCell, Piece, month_piece, turned_year, year_pieces
from tracker.summary.print_colours import PrintColours

PaperName = Literal["a4", "a5", "letter"]


class Paper(NamedTuple):
    """A side of paper, and what is kept free round it and at its foot for the ruler and the caution."""

    width: float
    height: float
    margin: float
    foot: float


PAPERS: Mapping[PaperName, Paper] = {
    "a4": Paper(210.0, 297.0, 8.0, 24.0),
    "a5": Paper(148.0, 210.0, 2.5, 13.5),
    "letter": Paper(215.9, 279.4, 8.0, 24.0),
}
YEAR_PITCHES, MONTH_PITCHES = (2.0, 10.0), (2.0, 20.0)
USUAL_PITCH, LARGEST_MONTH = 5.0, 16
CUT_GAP, CUT_LENGTH, PAD = 1.0, 3.0, 1.5
CUT = CUT_GAP + CUT_LENGTH + PAD
"""From what is cut out to the outer end of its marks."""
BETWEEN = 2.0
TITLE, HEADER = 5.5, 4.5
RULER = 100.0
KEY_GAP, KEY_SQUARE, KEY_ROW, KEY_SIZE = 2.0, 4.2, 5.0, 8.0
LETTER_WIDTH, DIGIT_WIDTH = 0.45, 0.5
"""Widths in ems, of a letter on the large side: a label must not run into the next one."""
KEY_VERSIONS = 2
"""Versions of the levels that the key has room for."""
POINT = 25.4 / 72
NUMBER_SIZE, SMALLEST = 8.0, 7.0
"""Points of numbers and digits, and the least they may have."""
CORNER = 0.32
"""Of a weekend square, in pitches."""
THIN = 0.5
INK, LINE, GREY_CORNER = "#000000", "#6b6b6b", "#8a8a8a"
PRINT_WHOLE = "100 mm; print at 100 %"
Side = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be printed."""

    year: int
    month: int | None = None
    """None: the whole year."""
    grids: tuple[Grid, ...] = GRIDS
    pitch: float | None = None
    """None: 5 mm for a year, for a month the largest whole millimetre that fits."""
    dots: tuple[float, float] | None = None
    """Where a dot of hers lies: millimetres from the left and from the upper edge."""
    filled: bool = False
    grey: bool = False
    paper: PaperName = "a4"
    turned: bool | None = None
    """Whether months are columns. None: where the year does not fit in rows, and fits in columns."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, filled or not, with a frame."""

    x: float
    y: float
    width: float
    height: float
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Corner:
    """A triangle in the lower right corner of a square."""

    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float
    weight: float = THIN
    """Points."""


@dataclass(frozen=True, slots=True)
class Text:
    """Letters in a rectangle."""

    x: float
    y: float
    width: float
    height: float
    text: str
    size: float
    """Points."""
    ink: str = INK
    side: Side = "center"
    bold: bool = False


class Cut(NamedTuple):
    """What is cut out in one: the corners between which its marks stand."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(slots=True)
class PaperSheet:
    """One side of paper."""

    width: float
    height: float
    title: str
    boxes: list[Box] = field(default_factory=list)
    corners: list[Corner] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)


KeyEntry = tuple[Mark | None, str, Grid]


def sheets(wanted: Wanted, days: Mapping[date, Day], choices: Choices, today: date) -> list[PaperSheet]:
    """The sides of paper with everything that is wanted.

    Raises UnknownValue for a pitch that is too small or too large, or at which a turned year does not fit.
    """
    return _Layout(wanted, days, choices, today).sheets()


def text_width(text: str, size: float) -> float:
    """About how wide a text is in millimetres, rather more than less."""
    return LETTER_WIDTH * size * POINT * len(text)


def fits(text: str, room: float, size: float) -> bool:
    """Whether a number has room in so many millimetres, with a little between it and the next one."""
    return DIGIT_WIDTH * size * POINT * len(text) + 0.3 <= room and size * POINT <= room + 0.5


class _Layout:
    """Puts piece under piece, and begins a new sheet where one does not fit."""

    def __init__(self, wanted: Wanted, days: Mapping[date, Day], choices: Choices, today: date) -> None:
        self._wanted, self._days, self._choices, self._today = wanted, days, choices, today
        self._paper = PAPERS[wanted.paper]
        self._levels, self._colours = Levels(choices.scales), PrintColours(fax=False)
        self._sheets: list[PaperSheet] = []
        self._below = 0.0
        self._pitch = self._chosen_pitch()

    def sheets(self) -> list[PaperSheet]:
        for piece in self._pieces():
            self._place(piece)
        return self._sheets

    # --- which form -------------------------------------------------------------------------------

    def _chosen_pitch(self) -> float:
        pitch, is_month = self._wanted.pitch, self._wanted.month is not None
        low, high = MONTH_PITCHES if is_month else YEAR_PITCHES
        if pitch is None:
            return self._largest_month() if is_month else USUAL_PITCH
        if not low <= pitch <= high:
            raise UnknownValue(f"The pitch is {low:g} to {high:g} mm, not {pitch:g}.")
        return pitch

    def _largest_month(self) -> float:
        """The largest whole millimetre at which all grids of a month stand on one side."""
        pieces = self._months()
        for pitch in range(LARGEST_MONTH, int(USUAL_PITCH), -1):
            self._pitch = float(pitch)
            together = sum(self._height(piece) + 2 * CUT for piece in pieces) + BETWEEN * (len(pieces) - 1)
            if all(map(self._fits_across, pieces)) and together <= self._room_down:
                return self._pitch
        return USUAL_PITCH

    def _months(self) -> list[Piece]:
        wanted = self._wanted
        first_weekday = self._choices.settings.first_weekday
        return [month_piece(grid, wanted.year, wanted.month or 1, first_weekday) for grid in wanted.grids]

    def _pieces(self) -> list[Piece]:
        """The form that fits whole: rows of months first, then columns; in parts only if neither does."""
        if self._wanted.month:
            return self._months()
        grids, year = self._wanted.grids, self._wanted.year
        across = self._columns_that_fit()
        if self._wanted.turned is None and across >= 31:
            return year_pieces(grids, year, across)
        turned = turned_year(grids, year)
        if self._wanted.turned is not False and self._fits(turned):
            return [turned]
        if self._wanted.turned:
            width, height = self._width(turned) + 2 * PAD, self._height(turned) + 2 * PAD
            raise UnknownValue(
                f"Turned, the year takes {width:.0f} by {height:.0f} mm, more than the paper has; "
                "take a smaller --pitch, one --grid, or larger --paper."
            )
        return year_pieces(grids, year, across)

    def _fits(self, piece: Piece) -> bool:
        return self._fits_across(piece) and self._height(piece) + 2 * CUT <= self._room_down

    def _fits_across(self, piece: Piece) -> bool:
        return self._left(piece) + self._width(piece) + CUT <= self._paper.width - self._paper.margin + 1e-6

    @property
    def _room_down(self) -> float:
        return self._paper.height - self._paper.margin - self._paper.foot + 1e-6

    def _columns_that_fit(self) -> int:
        (probe,) = year_pieces(GRIDS[:1], self._wanted.year, 31)
        room = self._paper.width - 2 * (self._paper.margin + CUT)
        if self._wanted.dots:
            room = self._paper.width - self._paper.margin - CUT - self._snapped(self._paper.margin + CUT, 0)
        return min(math.floor(room / self._pitch + 1e-9) - probe.left, 31)

    # --- where things go --------------------------------------------------------------------------

    def _snapped(self, value: float, axis: int) -> float:
        """The first line of her dots at or after a place; without dots the place itself."""
        if self._wanted.dots is None:
            return value
        first = self._wanted.dots[axis]
        return first + math.ceil((value - first) / self._pitch - 1e-9) * self._pitch

    def _width(self, piece: Piece) -> float:
        return (piece.left + piece.columns) * self._pitch

    def _left(self, piece: Piece) -> float:
        """Where a piece begins: in the middle of the paper, or on her dots."""
        middle = (self._paper.width - self._width(piece)) / 2
        least = self._paper.margin + CUT
        return self._snapped(max(least, middle) if self._wanted.dots is None else least, 0)

    def _height(self, piece: Piece) -> float:
        """From the title of a piece to the end of its key."""
        key = KEY_ROW * len(self._key_rows(piece))
        return TITLE + HEADER + piece.rows * self._pitch + KEY_GAP + key

    def _place(self, piece: Piece) -> None:
        if not self._sheets or self._top(piece) + self._below_top(piece) > self._foot:
            self._new_sheet()
        left, first_row = self._left(piece), self._top(piece)
        top = first_row - HEADER - TITLE
        bottom = self._draw(piece, left + piece.left * self._pitch, first_row)
        self._cut_out(Cut(left - PAD, top - PAD, left + self._width(piece) + PAD, bottom + PAD))
        self._below = bottom + CUT

    def _top(self, piece: Piece) -> float:
        """Where the first row of the next piece begins, its head and cut marks above it."""
        return self._snapped(self._below + BETWEEN + CUT + TITLE + HEADER, 1)

    def _below_top(self, piece: Piece) -> float:
        return self._height(piece) - TITLE - HEADER + CUT

    @property
    def _foot(self) -> float:
        return self._paper.height - self._paper.foot + 1e-6

    def _new_sheet(self) -> None:
        wanted, paper = self._wanted, self._paper
        when = month_name(date(wanted.year, wanted.month, 1)) if wanted.month else wanted.year
        what = words.listed(list(wanted.grids)).capitalize()
        sheet = PaperSheet(paper.width, paper.height, f"{what}, {when}")
        self._sheets.append(sheet)
        self._below = paper.margin - BETWEEN
        _draw_foot(sheet, paper)

    # --- a piece ----------------------------------------------------------------------------------

    def _draw(self, piece: Piece, left: float, top: float) -> float:
        """Draw a piece whose first square lies there; where its key ends."""
        sheet, pitch = self._sheets[-1], self._pitch
        self._draw_titles(piece, left, top)
        for cell in piece.cells:
            self._draw_cell(piece, cell, left + cell.column * pitch, top + cell.row * pitch)
        for rule in piece.rules:
            begin = left + rule.column * pitch, top + rule.row * pitch
            end = left + rule.to_column * pitch, top + rule.to_row * pitch
            sheet.strokes.append(Stroke(*begin, *end, rule.weight))
        size = self._number_size(piece)
        for head in piece.heads:
            self._draw_name(
                head, Text(left + head.column * pitch, top - HEADER, pitch, HEADER, head.text, size)
            )
        for name in piece.names:
            x, width = left + name.column * pitch, 2 * pitch
            text = Text(x, top + name.row * pitch, width, pitch, name.text, size)
            self._draw_name(name, text, "center" if name.is_number else "left")
        self._draw_key(piece, left - piece.left * pitch, top + piece.rows * pitch + KEY_GAP)
        return top + piece.rows * pitch + KEY_GAP + KEY_ROW * len(self._key_rows(piece))

    def _draw_titles(self, piece: Piece, left: float, top: float) -> None:
        x, width = left - piece.left * self._pitch, self._width(piece)
        sides: tuple[Side, ...] = ("left", "right")
        for title, side in zip(piece.titles, sides, strict=False):
            self._sheets[-1].texts.append(
                Text(x, top - HEADER - TITLE, width, TITLE, title, 10, side=side, bold=True)
            )

    def _number_size(self, piece: Piece) -> float:
        """Points of the numbers; where even the least has no room every fifth one is left."""
        return next((size for size in (NUMBER_SIZE, SMALLEST) if self._has_room(size)), SMALLEST)

    def _has_room(self, size: float) -> bool:
        return fits("31", self._pitch, size)

    def _draw_name(self, name: Name, text: Text, side: Side = "center") -> None:
        """A number, or a name; of those without room every fifth number, and the first month of a quarter."""
        if self._has_room(text.size) or name.bold:
            wide = Text(text.x - 2, text.y, text.width + 4, text.height, text.text, text.size)
            placed = wide if side == "center" else text
            self._sheets[-1].texts.append(_styled(placed, side, name.bold))

    def _draw_cell(self, piece: Piece, cell: PaperCell, x: float, y: float) -> None:
        sheet, pitch = self._sheets[-1], self._pitch
        if cell.day is None:
            sheet.strokes.append(
                Stroke(x + pitch * 0.35, y + pitch * 0.65, x + pitch * 0.65, y + pitch * 0.35)
            )
            return
        sign, fill, ink = self._looks(cell.grid, cell.day)
        sheet.boxes.append(Box(x, y, pitch, pitch, fill))
        if fill is None and cell.day.weekday() >= 5 and not piece.is_month:
            size = CORNER * pitch
            sheet.corners.append(Corner(x + pitch - size, y + pitch - size, size))
        dated = piece.is_month and self._has_room(NUMBER_SIZE)
        if dated:
            number = str(cell.day.day)
            sheet.texts.append(Text(x + 0.8, y + 0.6, pitch, 3.0, number, NUMBER_SIZE, ink, side="left"))
        sign_size = self._sign_size(sign, pitch - 3.0 if dated else pitch)
        if sign and sign_size:
            above = 2.4 if dated else 0.0
            sheet.texts.append(Text(x, y + above, pitch, pitch - above, sign, sign_size, ink))

    def _sign_size(self, sign: str, room: float) -> float | None:
        """Points of the sign in a square; None where it has no room."""
        sizes = (12.0, 10.0, NUMBER_SIZE, SMALLEST)
        return next((size for size in sizes if fits(sign, 0.75 * room if size > 8 else room, size)), None)

    def _looks(self, grid: Grid, at: date) -> tuple[str, str | None, str]:
        """Sign, fill and ink of a day; nothing on a blank grid and for days still to come."""
        if not self._wanted.filled or at > self._today:
            return "", None, INK
        day = self._days.get(at, Day(at))
        mark = mark_of(self._levels, day.square(grid), in_break(at, self._choices.breaks))
        anxious = "a" if grid == "mood" and day.is_anxious else ""
        fill, ink = self._fill(mark, grid)
        return mark.sign + anxious, fill, ink

    def _fill(self, mark: Mark, grid: Grid) -> tuple[str | None, str]:
        drawn = self._colours.of(mark, grid)
        if drawn["fill"] is None:
            return None, INK
        return grey_of(drawn["fill"]) if self._wanted.grey else drawn["fill"], drawn["ink"]

    def _cut_out(self, cut: Cut) -> None:
        """Two short lines outside each corner."""
        sheet, near, far = self._sheets[-1], CUT_GAP, CUT_GAP + CUT_LENGTH
        sheet.cuts.append(cut)
        for x, outward in ((cut.left, -1), (cut.right, 1)):
            for y, away in ((cut.top, -1), (cut.bottom, 1)):
                sheet.strokes.append(Stroke(x + outward * near, y, x + outward * far, y))
                sheet.strokes.append(Stroke(x, y + away * near, x, y + away * far))

    # --- the key ----------------------------------------------------------------------------------

    def _key_rows(self, piece: Piece) -> list[list[tuple[KeyEntry, float]]]:
        """The key in rows no wider than the piece: each entry, and where it begins."""
        rows: list[list[tuple[KeyEntry, float]]] = []
        room = self._width(piece)
        for grid in piece.grids:
            rows.append([])
            x = 0.0
            for entry in self._key_entries(piece, grid):
                mark, text, _ = entry
                width = (KEY_SQUARE + 1.0 if mark else 0.0) + text_width(text, KEY_SIZE) + 2.0
                if rows[-1] and x + width > room:
                    rows.append([])
                    x = 0.0
                rows[-1].append((entry, x))
                x += width
        return rows

    def _scales(self, piece: Piece, grid: Grid) -> list[tuple[date, Scale]]:
        """The versions that hold on the days of a piece, each with its first day there; blank: the last."""
        first_days: dict[str, tuple[date, Scale]] = {}
        for day in sorted(cell.day for cell in piece.cells if cell.day):
            scale = self._choices.scales.on(grid, day)
            first_days.setdefault(scale.id, (day, scale))
        held = sorted(first_days.values(), key=lambda one: one[0])
        return held if self._wanted.filled else held[-1:]

    def _key_entries(self, piece: Piece, grid: Grid) -> Iterator[KeyEntry]:
        held = self._scales(piece, grid)
        for first, scale in held[-KEY_VERSIONS:]:
            if len(held) > 1:
                yield None, f"from {brief_day(first)}:", grid
            for place, level in enumerate(scale.levels):
                yield Mark(level.mark, place, len(scale.levels)), brief(level.label), grid
        if len(held) > KEY_VERSIONS:
            yield None, "(no room for the levels before)", grid
        yield from ((None, text, grid) for text in self._key_signs(piece, grid))

    def _key_signs(self, piece: Piece, grid: Grid) -> Iterator[str]:
        """What the signs mean; those of all grids stand with the last one."""
        if grid == "mood":
            yield "a anxious"
        if grid != piece.grids[-1]:
            return
        yield f"{COULD_NOT_SAY} could not say"
        if self._wanted.filled:
            yield f"{NOTHING} nothing kept"
        if self._wanted.filled and self._choices.breaks:
            yield f"{BREAK} a break"
        if not piece.is_month:
            yield "/ no such day"
            yield "grey corner: weekend"

    def _draw_key(self, piece: Piece, left: float, top: float) -> None:
        sheet = self._sheets[-1]
        for number, row in enumerate(self._key_rows(piece)):
            y = top + number * KEY_ROW
            for (mark, text, grid), offset in row:
                x = left + offset
                if mark:
                    fill, ink = self._fill(mark, grid) if self._wanted.filled else (None, INK)
                    sheet.boxes.append(Box(x, y, KEY_SQUARE, KEY_SQUARE, fill))
                    sheet.texts.append(Text(x, y, KEY_SQUARE, KEY_SQUARE, mark.sign, NUMBER_SIZE, ink))
                    x += KEY_SQUARE + 1.0
                sheet.texts.append(Text(x, y, 90, KEY_SQUARE, text, KEY_SIZE, side="left"))


def _styled(text: Text, side: Side, bold: bool) -> Text:
    return Text(text.x, text.y, text.width, text.height, text.text, text.size, text.ink, side, bold)


def _draw_foot(sheet: PaperSheet, paper: Paper) -> None:
    """The ruler that shows whether the printer keeps to scale, and the caution."""
    is_low = paper.foot < 20
    left = (paper.width - RULER - 32) / 2 if is_low else 20.0
    y = paper.height - (5.0 if is_low else 12.0)
    sheet.strokes.append(Stroke(left, y, left + RULER, y))
    for tick in range(0, int(RULER) + 1, 5):
        length = 3.0 if tick % 10 == 0 else 1.5
        sheet.strokes.append(Stroke(left + tick, y, left + tick, y - length))
    sheet.texts.append(Text(left + RULER + 2, y - 4, 60, 5, PRINT_WHOLE, NUMBER_SIZE, side="left"))
    caution_at = y - 7.5 if is_low else y + 2.0
    sheet.texts.append(Text(left, caution_at, 130, 4, words.CAUTION, NUMBER_SIZE, side="left"))
