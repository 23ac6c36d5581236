"""Grids for a paper notebook, laid out to the millimetre.

Lines fall on her own dots: every grid begins at a whole number of pitches from where her first dot lies.
Measures are millimetres from the upper left corner of the paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

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
from tracker.summary.paper_blocks import Block, PaperCell, month_block, year_blocks
from tracker.summary.print_colours import PAPERS, PrintColours

PITCHES = (2.0, 10.0)
USUAL_PITCH = 5.0
MARGIN = 10.0
CUT_GAP, CUT_LENGTH = 1.0, 3.0
RULER = 100.0
FOOT = 24.0
"""Height kept at the foot for the ruler and the caution."""
LABEL, HEADER = 9.0, 4.0
"""Least room for the names of months, and for the numbers of days."""
KEY_GAP, KEY_SQUARE, KEY_ROW, LETTER_WIDTH = 1.0, 4.5, 6.0, 1.75
KEY_VERSIONS = 2
"""Versions of the levels that the key has room for."""
POINT = 25.4 / 72
INK, LINE = "#000000", "#6b6b6b"
PRINT_WHOLE = "100 mm: measure it. Print at 100 %, not fitted to the page."


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be printed."""

    year: int
    month: int | None = None
    """None: the whole year."""
    grids: tuple[Grid, ...] = GRIDS
    pitch: float = USUAL_PITCH
    dots: tuple[float, float] = (0.0, 0.0)
    """Where a dot of hers lies: millimetres from the left and from the upper edge."""
    filled: bool = False
    grey: bool = False
    letter: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, filled or not, with a frame."""

    x: float
    y: float
    width: float
    height: float
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float


@dataclass(frozen=True, slots=True)
class Text:
    """Letters in the middle of a rectangle, or at its left."""

    x: float
    y: float
    width: float
    height: float
    text: str
    size: float
    """Points."""
    ink: str = INK
    left: bool = False


@dataclass(slots=True)
class PaperSheet:
    """One side of paper."""

    width: float
    height: float
    title: str
    boxes: list[Box] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)


def sheets(wanted: Wanted, days: Mapping[date, Day], choices: Choices, today: date) -> list[PaperSheet]:
    """The sides of paper with everything that is wanted.

    Raises UnknownValue for a pitch that is too small or too large.
    """
    low, high = PITCHES
    if not low <= wanted.pitch <= high:
        raise UnknownValue(f"The pitch is {low:g} to {high:g} mm, not {wanted.pitch:g}.")
    return _Layout(wanted, days, choices, today).sheets()


class _Layout:
    """Puts block under block, and begins a new sheet where one does not fit."""

    def __init__(self, wanted: Wanted, days: Mapping[date, Day], choices: Choices, today: date) -> None:
        self._wanted, self._days, self._choices, self._today = wanted, days, choices, today
        self._width, self._height = PAPERS[wanted.letter]
        self._levels, self._inks = Levels(choices.scales), PrintColours(fax=False)
        self._sheets: list[PaperSheet] = []
        self._below = 0.0

    def sheets(self) -> list[PaperSheet]:
        for grid in self._wanted.grids:
            for block in self._blocks(grid):
                self._place(block)
        return self._sheets

    def _blocks(self, grid: Grid) -> Iterator[Block]:
        year, month = self._wanted.year, self._wanted.month
        if month:
            yield month_block(grid, year, month, self._choices.settings.first_weekday)
        else:
            yield from year_blocks(grid, year, self._columns_that_fit())

    # --- where things go ----------------------------------------------------------------------

    def _snapped(self, value: float, axis: int) -> float:
        """The first line of her dots at or after a place."""
        pitch, first = self._wanted.pitch, self._wanted.dots[axis]
        return first + math.ceil((value - first) / pitch - 1e-9) * pitch

    def _cells(self, room: float) -> float:
        """So much room, as whole squares."""
        return math.ceil(room / self._wanted.pitch) * self._wanted.pitch

    @property
    def _left(self) -> float:
        return self._snapped(MARGIN + CUT_GAP + CUT_LENGTH, 0)

    def _columns_that_fit(self) -> int:
        right = self._width - MARGIN - CUT_GAP - CUT_LENGTH
        return math.floor((right - self._left - self._cells(LABEL)) / self._wanted.pitch + 1e-9)

    def _place(self, block: Block) -> None:
        key = self._key_rows(block)
        header, height = self._cells(HEADER), block.rows * self._wanted.pitch
        top = self._top()
        if not self._sheets or top + header + height + self._key_height(key) > self._height - FOOT:
            self._new_sheet()
            top = self._top()
        self._draw(block, top, header)
        bottom = top + header + height
        self._draw_key(key, block.grid, bottom + CUT_GAP + CUT_LENGTH + KEY_GAP)
        self._below = bottom + self._key_height(key)

    def _top(self) -> float:
        """Where the next block begins, its title and cut marks above it."""
        return self._snapped(self._below + 6.0 + CUT_GAP + CUT_LENGTH, 1)

    def _key_height(self, rows: Sequence[object]) -> float:
        return CUT_GAP + CUT_LENGTH + KEY_GAP + KEY_ROW * len(rows)

    def _new_sheet(self) -> None:
        wanted = self._wanted
        when = month_name(date(wanted.year, wanted.month, 1)) if wanted.month else wanted.year
        what = words.listed(list(wanted.grids)).capitalize()
        sheet = PaperSheet(self._width, self._height, f"{what}, {when}")
        self._sheets.append(sheet)
        self._below = MARGIN + 7.0
        _draw_ruler(sheet)
        sheet.texts.append(Text(MARGIN, sheet.height - MARGIN - 4, 180, 4, words.CAUTION, 9, left=True))

    # --- a block ------------------------------------------------------------------------------

    def _draw(self, block: Block, top: float, header: float) -> None:
        sheet, pitch = self._sheets[-1], self._wanted.pitch
        label = self._cells(LABEL) if block.names else 0.0
        left, first_row = self._left + label, top + header
        size = _points(min(pitch * 0.6, 3.0))
        columns = len(block.heads)
        sheet.texts.append(Text(self._left + 2.0, top - 5.0 - CUT_GAP, 150, 4, block.title, 9, left=True))
        for column, head in enumerate(block.heads):
            sheet.texts.append(Text(left + column * pitch, top, pitch, header, head, size))
        for row, name in enumerate(block.names):
            sheet.texts.append(Text(self._left, first_row + row * pitch, label, pitch, name, size, left=True))
        for cell in block.cells:
            self._draw_cell(block, cell, left + cell.column * pitch, first_row + cell.row * pitch)
        self._cut_marks(self._left, top, left + columns * pitch, first_row + block.rows * pitch)

    def _draw_cell(self, block: Block, cell: PaperCell, x: float, y: float) -> None:
        sheet, pitch = self._sheets[-1], self._wanted.pitch
        if cell.day is None:
            sheet.strokes += [
                Stroke(x + pitch * 0.2, y + pitch * 0.8, x + pitch * 0.5, y + pitch * 0.2),
                Stroke(x + pitch * 0.5, y + pitch * 0.8, x + pitch * 0.8, y + pitch * 0.2),
            ]
            return
        sign, fill, ink = self._looks(block.grid, cell.day)
        sheet.boxes.append(Box(x, y, pitch, pitch, fill))
        small = block.numbered and pitch >= 4
        if small:
            number = str(cell.day.day)
            sheet.texts.append(
                Text(x + 0.4, y + 0.3, pitch, pitch * 0.4, number, _points(pitch * 0.34), ink, left=True)
            )
        if sign:
            above = pitch * 0.35 if small else 0.0
            sheet.texts.append(
                Text(x, y + above, pitch, pitch - above, sign, _points(min(pitch * 0.6, 4.0)), ink)
            )

    def _looks(self, grid: Grid, at: date) -> tuple[str, str | None, str]:
        """Sign, fill and ink of a day; nothing on a blank grid and for days still to come."""
        if not self._wanted.filled or at > self._today:
            return "", None, INK
        day = self._days.get(at, Day(at))
        mark = mark_of(self._levels, day.square(grid), in_break(at, self._choices.breaks))
        anxious = "a" if grid == "mood" and day.is_anxious else ""
        fill, ink = self._colours(mark, grid)
        return mark.sign + anxious, fill, ink

    def _colours(self, mark: Mark, grid: Grid) -> tuple[str | None, str]:
        drawn = self._inks.of(mark, grid)
        if drawn["fill"] is None:
            return None, INK
        return grey_of(drawn["fill"]) if self._wanted.grey else drawn["fill"], drawn["ink"]

    def _cut_marks(self, left: float, top: float, right: float, bottom: float) -> None:
        """Two short lines outside each corner."""
        strokes, near, far = self._sheets[-1].strokes, CUT_GAP, CUT_GAP + CUT_LENGTH
        for x, outward in ((left, -1), (right, 1)):
            for y, away in ((top, -1), (bottom, 1)):
                strokes.append(Stroke(x + outward * near, y, x + outward * far, y))
                strokes.append(Stroke(x, y + away * near, x, y + away * far))

    # --- the key ------------------------------------------------------------------------------

    def _key_rows(self, block: Block) -> list[list[tuple[Mark | None, str, float]]]:
        """The key in rows that fit the paper: mark, words, and where each begins."""
        rows: list[list[tuple[Mark | None, str, float]]] = [[]]
        right, x = self._width - MARGIN, self._left
        for mark, text in self._key_entries(block):
            width = (KEY_SQUARE + 1.5 if mark else 0.0) + LETTER_WIDTH * len(text) + 4.0
            if rows[-1] and x + width > right:
                rows.append([])
                x = self._left
            rows[-1].append((mark, text, x))
            x += width
        return rows

    def _scales(self, block: Block) -> list[tuple[date, Scale]]:
        """The versions that hold on the days of a block, each with its first day there; blank: the last."""
        first_days: dict[str, tuple[date, Scale]] = {}
        for day in sorted(cell.day for cell in block.cells if cell.day):
            scale = self._choices.scales.on(block.grid, day)
            first_days.setdefault(scale.id, (day, scale))
        held = sorted(first_days.values(), key=lambda one: one[0])
        return held if self._wanted.filled else held[-1:]

    def _key_entries(self, block: Block) -> Iterator[tuple[Mark | None, str]]:
        held = self._scales(block)
        for first, scale in held[-KEY_VERSIONS:]:
            if len(held) > 1:
                yield None, f"from {brief_day(first)}:"
            for place, level in reversed(list(enumerate(scale.levels))):
                yield Mark(level.mark, place, len(scale.levels)), brief(level.label)
        if len(held) > KEY_VERSIONS:
            yield None, "(no room for the levels before)"
        if block.grid == "mood":
            yield None, "a anxious"
        yield None, f"{NOTHING} nothing kept"
        yield None, f"{COULD_NOT_SAY} could not say"
        if self._wanted.filled and self._choices.breaks:
            yield None, f"{BREAK} a break"

    def _draw_key(self, rows: list[list[tuple[Mark | None, str, float]]], grid: Grid, top: float) -> None:
        sheet = self._sheets[-1]
        for number, row in enumerate(rows):
            y = top + number * KEY_ROW
            for mark, text, x in row:
                begin = x
                if mark:
                    fill, ink = self._colours(mark, grid) if self._wanted.filled else (None, INK)
                    sheet.boxes.append(Box(x, y, KEY_SQUARE, KEY_SQUARE, fill))
                    sheet.texts.append(Text(x, y, KEY_SQUARE, KEY_SQUARE, mark.sign, 9, ink))
                    begin += KEY_SQUARE + 1.5
                sheet.texts.append(Text(begin, y, 90, KEY_SQUARE, text, 9, left=True))


def _draw_ruler(sheet: PaperSheet) -> None:
    y = sheet.height - FOOT + 8.0
    sheet.strokes.append(Stroke(MARGIN, y, MARGIN + RULER, y))
    for tick in range(0, int(RULER) + 1, 5):
        length = 3.0 if tick % 10 == 0 else 1.5
        sheet.strokes.append(Stroke(MARGIN + tick, y, MARGIN + tick, y - length))
    sheet.texts.append(Text(MARGIN + RULER + 3, y - 4, 90, 5, PRINT_WHOLE, 9, left=True))


def _points(millimetres: float) -> float:
    return round(millimetres / POINT, 2)
