"""A drawn grid with the places of its squares, and the key that explains it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from tracker.cells import begun, named_in, text_width
from tracker.diary.dates import MONTHS
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import Grid, Level, Scale, Scales
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.palette import Palette, shapes_of
from tracker.grids.squares import GridData, SquareStyle, on_other_levels
from tracker.words import SLEEP_BEFORE, counted

Piece = tuple[str, CellStyle]
Line = Sequence[Piece]


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

    def lay(self, part: Drawing, x: int, y: int) -> None:
        """Lay another drawing on this one, with what lies where on it."""
        self.canvas.lay(part.canvas, x, y)
        self.squares |= {square: rect.moved(x, y) for square, rect in part.squares.items()}
        self.levels |= {level: rect.moved(x, y) for level, rect in part.levels.items()}

    def place_at(self, x: int, y: int) -> SquareKey | None:
        """The square under a cell."""
        return next((place for place, rect in self.squares.items() if rect.holds(x, y)), None)

    def level_at(self, x: int, y: int) -> tuple[Grid, str] | None:
        """The grid and the id of the level that the key shows under a cell."""
        return next((level for level, rect in self.levels.items() if rect.holds(x, y)), None)


# --- the key ---------------------------------------------------------------------------------------------


class KeyPlan(NamedTuple):
    """How a key in columns is laid out."""

    swatch: int
    """Cells of a coloured piece."""
    columns: int
    column_width: int
    label_width: int
    """Cells that a label may take; one that would fill them gives way to its short form."""

    def rows(self, levels: int) -> int:
        """Rows that so many levels take."""
        return -(-levels // self.columns)


@lru_cache(maxsize=16)
def key_in_columns(palette: Palette, scale: Scale, plan: KeyPlan) -> Drawing:
    """Colour, mark and label of every level, the highest first; it stays the same from key to key."""
    rows = plan.rows(len(scale.levels))
    drawing = Drawing(Canvas(plan.columns * plan.column_width, rows, palette.text))
    for at, level in enumerate(reversed(scale.levels)):
        x, y = at // rows * plan.column_width, at % rows
        drawing.canvas.lay(key_swatch(palette, scale, level, plan.swatch), x, y)
        label = named_in(plan.label_width, level.label, level.short)
        end = drawing.canvas.put(x + plan.swatch + 1, y, label, palette.text)
        drawing.levels[scale.grid, level.id] = Rect(x, y, end - x, 1)
    return drawing


def key_swatch(palette: Palette, scale: Scale, level: Level, width: int) -> Canvas:
    """The mark of a level on its colour."""
    swatch = Canvas(width, 1)
    place = scale.levels.index(level)
    fill = palette.fill(scale.grid, place, len(scale.levels))
    style = palette.style(fill, bold=True)
    texture = " " if fill.whole else palette.signs.texture
    swatch.put(0, 0, texture * width, style if fill.whole else style._replace(fg=palette.texture_ink))
    shapes = palette.marks == "shapes" and bool(shapes_of(scale))
    marks = level.mark + (palette.mark(scale, level) if shapes else "")
    swatch.put(min((width - 1) // 2, 1), 0, marks, style)
    return swatch


NAME_WIDTH = 7
"""Cells of the name before a key in one row."""


def fits_in_a_row(scale: Scale, width: int) -> bool:
    """Whether every level of a key has a label in one row of so many cells."""
    return _labels_in(scale, width) is not None


@lru_cache(maxsize=16)
def key_in_a_row(palette: Palette, scale: Scale, width: int, as_run: bool = False) -> Drawing:
    """The key in one row of so many cells: with labels, or as a run between the names of its ends."""
    drawing = Drawing(Canvas(width, 1, palette.text))
    labels = _labels_in(scale, width)
    if labels is None or as_run:
        _draw_run(drawing, palette, scale)
        return drawing
    drawing.canvas.put(0, 0, "mood" if scale.grid == "mood" else "hours", palette.quiet)
    x = NAME_WIDTH
    for level, label in zip(reversed(scale.levels), labels, strict=True):
        drawing.canvas.lay(key_swatch(palette, scale, level, 2), x, 0)
        end = drawing.canvas.put(x + 3, 0, label, palette.text)
        drawing.levels[scale.grid, level.id] = Rect(x, 0, end - x, 1)
        x = end + 2
    return drawing


def _labels_in(scale: Scale, width: int) -> list[str] | None:
    return next((labels for labels in _labels(scale) if _key_width(labels) <= width - NAME_WIDTH), None)


def _labels(scale: Scale) -> Iterator[list[str]]:
    """The labels of the levels, the highest first, in ever shorter forms."""
    levels = list(reversed(scale.levels))
    yield [level.label for level in levels]
    yield [level.short for level in levels]
    if scale.grid == "sleep":
        yield [level.short.replace("h", "").replace(" ", "") for level in levels]


def _key_width(labels: Sequence[str]) -> int:
    return sum(text_width(label) + 5 for label in labels) - 2


def _draw_run(drawing: Drawing, palette: Palette, scale: Scale) -> None:
    """The levels side by side, lowest first, between the names of the lowest and the highest."""
    canvas, levels = drawing.canvas, scale.levels
    room = (canvas.width - 2 * len(levels) - 2) // 2
    low, high = (begun(named_in(room, level.label, level.short), room) for level in (levels[0], levels[-1]))
    x = max(text_width(low), min(NAME_WIDTH, room)) + 1
    canvas.put_right(x - 1, 0, low, palette.text)
    for level in levels:
        canvas.lay(key_swatch(palette, scale, level, 2), x, 0)
        drawing.levels[scale.grid, level.id] = Rect(x, 0, 2, 1)
        x += 2
    canvas.put(x + 1, 0, high, palette.text)


@lru_cache(maxsize=16)
def key_in_rows(palette: Palette, scale: Scale, width: int, rows: int) -> Drawing:
    """The key of a grid in so many rows, labels one behind another; as a run where they have no room."""
    drawing = Drawing(Canvas(width, rows, palette.text))
    levels = list(reversed(scale.levels))
    for labels in _labels(scale):
        x = y = 0
        for level, label, needed in zip(levels, labels, _key_cells(labels, width, rows), strict=True):
            if x and x + needed > width:
                x, y = 0, y + 1
            drawing.canvas.lay(key_swatch(palette, scale, level, 2), x, y)
            drawing.canvas.put(x + 3, y, label, palette.text)
            drawing.levels[scale.grid, level.id] = Rect(x, y, needed, 1)
            x += needed + 2
        if y < rows and all(rect.x + rect.width <= width for rect in drawing.levels.values()):
            return drawing
        drawing = Drawing(Canvas(width, rows, palette.text))
    _draw_run(drawing, palette, scale)
    return drawing


def _key_cells(labels: Sequence[str], width: int, rows: int) -> list[int]:
    """Cells that each level takes: where one row has no room, as many for all, if those have."""
    cells = [text_width(label) + 3 for label in labels]
    columns, in_a_row = -(-len(labels) // rows), sum(cells) + 2 * len(cells) - 2
    is_even = in_a_row > width >= columns * (max(cells) + 2) - 2
    return [max(cells)] * len(cells) if is_even else cells


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


def levels_note(grid_data: GridData, grids: Sequence[Grid], days: Sequence[date], at: date) -> str:
    """For which of the days the key of one is, where not for all, and how many squares have no key here."""
    told = [
        f"{grid} levels {_span_text(*span, days)}"
        for grid in grids
        if (span := days_of_key(grid_data.scales, grid, days, at))
    ]
    if others := sum(on_other_levels(grid_data, grid, days) for grid in grids):
        told.append(f"{counted(others, 'square')} on older levels")
    return "; ".join(told)


def _span_text(first: date, last: date, days: Sequence[date]) -> str:
    """`from 28 October on`, `to 27 October`, `from 3 to 9 March`."""
    end = f"{last.day} {MONTHS[last.month - 1]}"
    if first == days[0]:
        return f"to {end}"
    same_month = first.month == last.month and last != days[-1]
    begin = f"{first.day}" if same_month else f"{first.day} {MONTHS[first.month - 1]}"
    return f"from {begin} on" if last == days[-1] else f"from {begin} to {end}"


# --- lines of text ---------------------------------------------------------------------------------------


def put_pieces(canvas: Canvas, x: int, y: int, pieces: Iterable[Piece]) -> int:
    """Put pieces of text one behind another and give the column behind them."""
    for text, style in pieces:
        x = canvas.put(x, y, text, style)
    return x


def pieces_width(pieces: Iterable[Piece]) -> int:
    """Cells that pieces of text take."""
    return sum(text_width(text) for text, _ in pieces)


def signs_line(palette: Palette, width: int, over_a_year: bool = False) -> list[Piece]:
    """What the signs in the squares mean, as many as have room."""
    signs, text = palette.signs, palette.text
    meanings = [
        (signs.anxious, "anxious", text),
        (signs.waiting, "waiting", palette.waiting),
        (signs.unsaid, "could not say", text),
        *([] if over_a_year else [(signs.note, "note", text)]),
        (signs.in_break, "break", text),
        (signs.down, "a change", palette.warning),
        (signs.today, "today", palette.accent),
    ]
    if over_a_year:
        meanings += [
            (signs.hatch * 2, "no such day", palette.faint),
            (" ", "blank: to come, or before the first day", palette.text),
        ]
    pieces: list[Piece] = []
    for sign, meaning, style in meanings:
        gap = ("  " if pieces else "", palette.text)
        added = [gap, (sign, style), (f" {meaning}", palette.quiet)]
        if pieces_width(pieces) + pieces_width(added) <= width:
            pieces += added
    return pieces


def kinds_lines(palette: Palette, kinds: Sequence[ShiftKind], width: int) -> list[Line]:
    """The kinds of shift with the letters that set them, in rows; by first words where they are many."""
    whole = _in_rows(palette, [(kind.code.upper(), kind.label) for kind in kinds], width)
    if len(whole) <= 2:
        return whole
    return _in_rows(palette, [(kind.code.upper(), kind.label.split()[0]) for kind in kinds], width)


def _in_rows(palette: Palette, named: Iterable[tuple[str, str]], width: int) -> list[Line]:
    rows: list[list[Piece]] = [[]]
    for letter, label in named:
        if rows[-1] and pieces_width(rows[-1]) + 3 + text_width(label) > width:
            rows.append([])
        gap = " " if rows[-1] else ""
        rows[-1] += [(gap + letter, palette.focused), (f" {label}", palette.quiet)]
    return list(rows)


def letters_line(palette: Palette, kinds: Sequence[ShiftKind], width: int) -> list[Piece]:
    """What the letters in the squares mean, in ever shorter forms; empty where none has room."""
    for gap, shorter, joined in (
        ("  ", False, False),
        (" ", False, False),
        (" ", True, False),
        (" ", True, True),
    ):
        pieces: list[Piece] = []
        for kind in kinds:
            label = kind.label.split()[0] if shorter else kind.label
            begins = joined and label[:1].casefold() == kind.code
            meaning = label[1:] if begins else f" {label}"
            lead = gap if pieces else ""
            pieces += [(lead + kind.code.upper(), palette.text), (meaning, palette.quiet)]
        if pieces_width(pieces) <= width:
            return pieces
    return []


def grid_title(palette: Palette, grid: Grid, focused: bool, each_day: bool = False) -> list[Piece]:
    """The name of a grid, with what sleep means."""
    name = (grid.capitalize(), palette.focused if focused else palette.title)
    if grid == "mood":
        return [name]
    return [name, (f", {SLEEP_BEFORE}" + (" each day" if each_day else ""), palette.quiet)]


def draw_title(canvas: Canvas, palette: Palette, title: Line, aside: str, right: Sequence[str]) -> None:
    """The first row: what is shown, an aside, and at its end the longest text that has room."""
    x = put_pieces(canvas, 1, 0, title)
    if aside and x + 3 + text_width(aside) < canvas.width:
        x = canvas.put(x + 3, 0, aside, palette.accent)
    shown = next((text for text in right if x + 2 + text_width(text) < canvas.width), "")
    canvas.put_right(canvas.width - 1, 0, shown, palette.quiet)


def draw_bar(
    canvas: Canvas, palette: Palette, x: int, y: int, share: float, cells: int, fill: str | None
) -> None:
    """A bar of so many cells at most, in halves of a cell; what is not nought has at least one half."""
    signs = palette.signs
    halves = max(round(share * cells * 2), 1) if share and cells else 0
    if not signs.half_bar:
        halves = (halves + 1) // 2 * 2
    text = signs.bar * (halves // 2) + signs.half_bar * (halves % 2)
    canvas.put(x, y, text, CellStyle(fill or palette.text.fg, palette.text.bg))


def draw_texture(canvas: Canvas, style: SquareStyle) -> None:
    """Fill a square by what stands in its cells without a mark."""
    for y in range(canvas.height):
        canvas.put(0, y, style.texture * canvas.width, style.texture_style)
