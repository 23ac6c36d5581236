"""A drawn grid with the places of its squares, and the key that explains it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from tracker.cells import named_in, text_width
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import Grid, Level, Scale, Scales
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.palette import Palette, shapes_of
from tracker.words import SLEEP_BEFORE

Piece = tuple[str, CellStyle]


class Drawing:
    """A picture, and what lies where on it."""

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas
        self.squares: dict[SquareKey, Rect] = {}
        self.levels: dict[tuple[Grid, str], Rect] = {}
        """Where the key shows each level: grid and level id."""

    def copy(self) -> Drawing:
        """The same once more, to draw on."""
        copied = Drawing(self.canvas.copy())
        copied.squares, copied.levels = dict(self.squares), dict(self.levels)
        return copied

    def place_at(self, x: int, y: int) -> SquareKey | None:
        """The square under a cell."""
        return next((place for place, rect in self.squares.items() if rect.holds(x, y)), None)

    def level_at(self, x: int, y: int) -> tuple[Grid, str] | None:
        """The grid and the id of the level that the key shows under a cell."""
        return next((level for level, rect in self.levels.items() if rect.holds(x, y)), None)


class KeyPlan(NamedTuple):
    """How the key of a grid is laid out."""

    swatch: int
    """Cells of a coloured piece."""
    columns: int
    column_width: int
    label_width: int
    """Cells that a label may take; one that would fill them gives way to its short form."""

    def rows(self, levels: int) -> int:
        """Rows that so many levels take."""
        return -(-levels // self.columns)


def days_of_key(scales: Scales, grid: Grid, days: Sequence[date], at: date) -> tuple[date, date] | None:
    """The first and the last of the days round one that have its levels; None where all of them have."""
    if len(scales.of(grid)) == 1:
        return None
    scale, index = scales.on(grid, at), days.index(at)
    first = last = index
    while first > 0 and scales.on(grid, days[first - 1]) == scale:
        first -= 1
    while last + 1 < len(days) and scales.on(grid, days[last + 1]) == scale:
        last += 1
    return None if last - first + 1 == len(days) else (days[first], days[last])


def draw_key(drawing: Drawing, palette: Palette, scale: Scale, x: int, y: int, plan: KeyPlan) -> None:
    """The key of a grid: colour, mark and label of every level, the highest first."""
    key = _key(palette, scale, plan)
    drawing.canvas.lay(key.canvas, x, y)
    room = drawing.canvas.width - x
    for level, rect in key.levels.items():
        width = min(rect.width, room - rect.x)
        drawing.levels[level] = Rect(x + rect.x, y + rect.y, width, 1)


@lru_cache(maxsize=16)
def _key(palette: Palette, scale: Scale, plan: KeyPlan) -> Drawing:
    """A key by itself: it stays the same from one picture to the next."""
    rows = plan.rows(len(scale.levels))
    drawing = Drawing(Canvas(plan.columns * plan.column_width, rows, palette.text))
    for at, level in enumerate(reversed(scale.levels)):
        rect = Rect(at // rows * plan.column_width, at % rows, plan.column_width, 1)
        _draw_level(drawing.canvas, palette, scale, level, rect, plan)
        drawing.levels[scale.grid, level.id] = rect
    return drawing


def _draw_level(
    canvas: Canvas, palette: Palette, scale: Scale, level: Level, rect: Rect, plan: KeyPlan
) -> None:
    x, y, _, _ = rect
    place = scale.levels.index(level)
    fill = palette.fill(scale.grid, place, len(scale.levels))
    style = palette.style(fill, bold=True)
    lead = 0 if plan.swatch < 4 else 1
    filled = plan.swatch if fill.whole else lead + 1
    canvas.put(x, y, " " * filled, style)
    if palette.marks == "shapes" and shapes_of(scale):
        canvas.put(x + lead, y, level.mark + palette.mark(scale, level), style)
    else:
        canvas.put(x + lead, y, level.mark, style)
    label = named_in(plan.label_width, level.label, level.short)
    canvas.put(x + plan.swatch + 1, y, label, palette.text)


def put_pieces(canvas: Canvas, x: int, y: int, pieces: Iterable[Piece]) -> int:
    """Put pieces of text one behind another and give the column behind them."""
    for text, style in pieces:
        x = canvas.put(x, y, text, style)
    return x


def pieces_width(pieces: Iterable[Piece]) -> int:
    """Cells that pieces of text take."""
    return sum(text_width(text) for text, _ in pieces)


@lru_cache(maxsize=8)
def signs_line(palette: Palette, with_keys: bool) -> tuple[Piece, ...]:
    """What the signs in the squares mean, with the keys that set them, but where the sign is the key."""
    signs, quiet, text = palette.signs, palette.quiet, palette.text
    keys = {signs.unsaid: " (x)", signs.waiting: " (Backspace)"} if with_keys else {}
    meanings = [
        (signs.anxious, "anxious", text),
        (signs.unsaid, "could not say", text),
        (signs.waiting, "waiting", text),
        (signs.in_break, "in a break", text),
        (signs.today, "today", palette.accent),
    ]
    pieces: list[Piece] = []
    for sign, meaning, style in meanings:
        gap = "  " if pieces else ""
        key = (keys.get(sign, ""), palette.accent)
        pieces += [(gap, quiet), (sign, style), (f" {meaning}", quiet), key]
    return tuple(pieces)


def kinds_line(palette: Palette, kinds: Iterable[ShiftKind]) -> list[Piece]:
    """The kinds of shift with the letters that set them."""
    pieces: list[Piece] = []
    for kind in kinds:
        gap = " " if pieces else ""
        pieces += [(gap + kind.code.upper(), palette.focused), (f" {kind.label}", palette.quiet)]
    return pieces


def hatching_words(palette: Palette) -> list[Piece]:
    """What else the year shows: days that do not exist, and those on which nothing waits yet."""
    return [
        (palette.signs.hatch * 2, palette.text),
        (" no such day  blank: to come", palette.quiet),
    ]


def grid_title(palette: Palette, grid: Grid, focused: bool, each_day: bool = False) -> list[Piece]:
    """The name of a grid, with what sleep means."""
    name = (grid.capitalize(), palette.focused if focused else palette.title)
    if grid == "mood":
        return [name]
    return [name, (f", {SLEEP_BEFORE}" + (" each day" if each_day else ""), palette.quiet)]
