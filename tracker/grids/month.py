"""The month: mood and sleep side by side, a row a week, a column a weekday.

A square of the smallest plan, four cells by two::

    17<N     day number, today, the shift's letter
     5 a     the mark, between brackets under the cursor, and the anxious sign
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from tracker.diary.dates import month_name
from tracker.diary.months import days_of_month, week_number, weekday_names, weeks
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import GRIDS, Grid
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.drawing import (
    Drawing,
    KeyPlan,
    Piece,
    days_of_key,
    draw_key,
    grid_title,
    kinds_line,
    put_pieces,
    signs_line,
)
from tracker.grids.palette import Palette
from tracker.grids.squares import Focus, GridData, SquareStyle, face, on_other_levels
from tracker.words import counted


class MonthPlan(NamedTuple):
    """Where the parts of a month stand, in cells."""

    width: int
    """Least width that it needs."""
    square_width: int
    square_height: int
    gap: int
    """Rows between weeks; between squares there is always one column."""
    lefts: tuple[int, int]
    """Left edges of the mood and the sleep grid."""
    names_row: int
    weekdays_row: int
    weeks_row: int

    @property
    def key_row(self) -> int:
        """First row of the keys, below six weeks."""
        return self.weeks_row + 6 * (self.square_height + self.gap)

    @property
    def height(self) -> int:
        """Rows with the keys of the usual levels and the line of signs."""
        return self.key_row + 5

    def left(self, grid: Grid) -> int:
        """Left edge of a grid; its first square stands three columns further."""
        return self.lefts[GRIDS.index(grid)]

    def rect(self, grid: Grid, row: int, column: int) -> Rect:
        """The cells of a square."""
        return Rect(
            self.left(grid) + 3 + column * (self.square_width + 1),
            self.weeks_row + row * (self.square_height + self.gap),
            self.square_width,
            self.square_height,
        )


PLANS = (
    MonthPlan(176, 10, 5, 1, (4, 93), 2, 4, 5),
    MonthPlan(148, 8, 4, 1, (4, 79), 2, 4, 5),
    MonthPlan(120, 6, 3, 1, (4, 65), 2, 4, 5),
    MonthPlan(100, 5, 2, 1, (2, 52), 1, 2, 3),
    MonthPlan(80, 4, 2, 0, (0, 42), 1, 2, 3),
)
"""Largest squares first."""


def month_plan(width: int, height: int) -> MonthPlan:
    """The plan with the largest squares that fits; the smallest where none does."""
    return next((plan for plan in PLANS if plan.width <= width and plan.height <= height), PLANS[-1])


def draw_month(
    grid_data: GridData,
    palette: Palette,
    year: int,
    month: int,
    *,
    width: int = 80,
    height: int = 20,
    first_weekday: int = 0,
    cursor: date | None = None,
    focus: Focus = "",
    grids: tuple[Grid, ...] = GRIDS,
    with_keys: bool = True,
) -> Drawing:
    """A month as a picture with the places of its squares.

    Parameters
    ----------
    width, height
        Cells there are for it; the squares grow with them.
    first_weekday
        Weekday of the first column, 0 for Monday.
    cursor, focus
        The day under the cursor, and where keys go; a printed month has neither.
    grids
        Which grids are drawn.
    with_keys
        Whether the line of signs names the keys that set them.
    """
    plan = month_plan(width, height)
    if len(grids) == 1:
        plan = plan._replace(lefts=(plan.lefts[0], plan.lefts[0]))
    rows = _rows(plan, grid_data)
    size = max(width, plan.width), max(height, rows)
    drawing = _empty_month(palette, plan, size, year, month, first_weekday, grids).copy()
    kept = kept_days(grid_data, grids, year, month)
    drawing.canvas.put_right(plan.width - 1, 0, kept, palette.quiet)
    _draw_squares(drawing, grid_data, palette)
    for grid in grids:
        _draw_name(drawing.canvas, palette, plan, grid, focus)
        if cursor is not None and (rect := drawing.squares.get(SquareKey(cursor, grid))):
            _draw_cursor(drawing.canvas, palette, plan, rect, grid, focus)
        _draw_days_of_key(drawing.canvas, grid_data, palette, plan, grid, cursor or date(year, month, 1))
        scale = grid_data.scales.on(grid, cursor or date(year, month, 1))
        draw_key(drawing, palette, scale, plan.left(grid) + 3, plan.key_row, _KEY)
    if focus == "shift":
        kinds = kinds_line(palette, grid_data.kinds.values())
        put_pieces(drawing.canvas, max(plan.lefts[0], 1), rows - 1, kinds)
        return drawing
    left = plan.lefts[0] + 3
    put_pieces(drawing.canvas, left, rows - 1, signs_line(palette, with_keys))
    if with_keys and rows < drawing.canvas.height:
        entered = kinds_line(palette, _kinds_of_month(grid_data, year, month))
        put_pieces(drawing.canvas, left, rows, entered)
    return drawing


def _kinds_of_month(grid_data: GridData, year: int, month: int) -> list[ShiftKind]:
    """The kinds of shift whose letters stand in a month."""
    letters = {grid_data.shift_letter(day) for day in days_of_month(year, month)}
    return [kind for kind in grid_data.kinds.values() if kind.code.upper() in letters]


def _draw_days_of_key(
    canvas: Canvas, grid_data: GridData, palette: Palette, plan: MonthPlan, grid: Grid, at: date
) -> None:
    """In a month with more than one set of levels, for which days the key below is: that of the cursor."""
    days = days_of_month(at.year, at.month)
    found = days_of_key(grid_data.scales, grid, days, at)
    if found is None:
        return
    first, last = found
    span = f"to {last.day}" if first == days[0] else f"{first.day} on" if last == days[-1] else ""
    edge = plan.rect(grid, 0, 6)
    text = f"key: {span or f'{first.day}-{last.day}'}"
    canvas.put_right(edge.x + edge.width, plan.names_row, text, palette.accent)


_KEY = KeyPlan(swatch=4, columns=2, column_width=18, label_width=12)


def _rows(plan: MonthPlan, grid_data: GridData) -> int:
    most = max(len(scale.levels) for scale in grid_data.scales.versions)
    return plan.key_row + max(_KEY.rows(most), 4) + 1


@lru_cache(maxsize=8)
def _empty_month(
    palette: Palette,
    plan: MonthPlan,
    size: tuple[int, int],
    year: int,
    month: int,
    first_weekday: int,
    grids: tuple[Grid, ...],
) -> Drawing:
    """What the calendar alone decides, with the places of the squares: no key changes it."""
    drawing = Drawing(Canvas(*size, palette.text))
    canvas = drawing.canvas
    canvas.put(1, 0, month_name(date(year, month, 1)), palette.title)
    for grid in grids:
        for column, name in enumerate(weekday_names(first_weekday)):
            canvas.put(plan.rect(grid, 0, column).x, plan.weekdays_row, name, palette.quiet)
        for row, week in enumerate(weeks(year, month, first_weekday)):
            number = f"{week_number(week):2}"
            canvas.put(plan.left(grid), plan.rect(grid, row, 0).y, number, palette.quiet)
            for column, day in enumerate(week):
                if day is not None:
                    drawing.squares[SquareKey(day, grid)] = plan.rect(grid, row, column)
    return drawing


def kept_days(grid_data: GridData, grids: tuple[Grid, ...], year: int, month: int) -> str:
    """On how many days of a month every one of the grids is kept, of those that could be."""
    days = grid_data.possible(days_of_month(year, month))
    if not days:
        return ""
    others = sum(on_other_levels(grid_data, grid, days) for grid in grids)
    told = f"{others} on other levels; " if others else ""
    both = "both squares " if len(grids) > 1 else ""
    whole = set(days).intersection(*(grid_data.kept(grid, days) for grid in grids))
    return f"{told}{both}kept on {len(whole)} of {counted(len(days), 'day')}"


def _draw_name(canvas: Canvas, palette: Palette, plan: MonthPlan, grid: Grid, focus: Focus) -> None:
    left = plan.left(grid)
    if grid == focus:
        canvas.put(left, plan.names_row, palette.signs.right, palette.focus)
    put_pieces(canvas, left + 3, plan.names_row, grid_title(palette, grid, grid == focus))


def _draw_squares(drawing: Drawing, grid_data: GridData, palette: Palette) -> None:
    for place, rect in drawing.squares.items():
        drawn = face(grid_data, palette, place, bold=True)
        today = _today_sign(palette, drawn) if place.day == grid_data.today else None
        letter = grid_data.shift_letter(place.day)
        square = _square(drawn, place.day.day, letter, today, rect.width, rect.height)
        drawing.canvas.lay(square, rect.x, rect.y)


def _today_sign(palette: Palette, drawn: SquareStyle) -> Piece:
    on_the_ground = drawn.outer.bg == palette.text.bg
    return palette.signs.today, palette.accent if on_the_ground else _plain(drawn)


def _plain(drawn: SquareStyle) -> CellStyle:
    return CellStyle(drawn.outer.fg, drawn.outer.bg)


@lru_cache(maxsize=1024)
def _square(
    drawn: SquareStyle, number: int, letter: str, today: Piece | None, width: int, height: int
) -> Canvas:
    """A square by itself: after a key nearly all of a month look as they did before it."""
    plain = _plain(drawn)
    square = Canvas(width, height, plain)
    square.put(0, 0, f"{number:2}", plain._replace(bold=today is not None))
    if today:
        square.put(2, 0, *today)
    square.put(width - 1, 0, letter, plain)
    row, at = mark_cell(Rect(0, 0, width, height))
    square.put(0, row, " " * width, drawn.style)
    square.put(at, row, f"{drawn.mark} {drawn.anxious}", drawn.style)
    return square


def mark_cell(rect: Rect) -> tuple[int, int]:
    """Row and column of the mark in a square of a month."""
    return rect.y + rect.height // 2, rect.x + rect.width // 2 - 1


def _draw_cursor(
    canvas: Canvas, palette: Palette, plan: MonthPlan, rect: Rect, grid: Grid, focus: Focus
) -> None:
    if focus == "shift":
        bars = "[]" if palette.marks == "ascii" else palette.signs.left_bar + palette.signs.right_bar
        _draw_bars(canvas, palette, Rect(rect.x, rect.y, rect.width, 1), bars)
        return
    row, at = mark_cell(rect)
    style = canvas.style_at(at, row)
    canvas.put(at - 1, row, "[", style)
    canvas.put(at + 1, row, "]", style)
    if grid == focus:
        _draw_bars(canvas, palette, rect, palette.signs.left_bar + palette.signs.right_bar)


def _draw_bars(canvas: Canvas, palette: Palette, rect: Rect, bars: str) -> None:
    for row in range(rect.y, rect.y + rect.height):
        canvas.put(rect.x - 1, row, bars[0], palette.focus)
        canvas.put(rect.x + rect.width, row, bars[1], palette.focus)
