"""A month in little room: one calendar, of each week the numbers, the moods and the sleeps before them."""

from __future__ import annotations

from datetime import date

from tracker.cells import text_width
from tracker.diary.dates import month_name
from tracker.diary.months import week_number, weekday_names, weeks
from tracker.diary.scales import Grid
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.drawing import Drawing, draw_title, key_in_rows, kinds_lines, put_pieces
from tracker.grids.month_squares import day_head, draw_bars, fill_of, head_canvas
from tracker.grids.month_view import MonthView
from tracker.grids.palette import Palette
from tracker.grids.squares import GridData

WEEK = 3
FIRST_ROW, FIRST_COLUMN = 2, 3
KEY_ROWS = 2
WIDEST = 10


def draw_narrow_month(
    grid_data: GridData, palette: Palette, view: MonthView, width: int, height: int
) -> Drawing:
    """As many weeks as have room, that of the cursor among them, above the key of the grid in focus."""
    drawing = Drawing(Canvas(width, height, palette.text))
    square = min((width - 11) // 7, WIDEST)
    listed = weeks(view.year, view.month, view.first_weekday)
    room = max((height - FIRST_ROW - KEY_ROWS) // WEEK, 1)
    here = next((at for at, week in enumerate(listed) if view.day in week), 0)
    first = min(max(here - room // 2, 0), max(len(listed) - room, 0))
    _draw_head(drawing.canvas, palette, view, square)
    for row, week in enumerate(listed[first : first + room]):
        y = FIRST_ROW + row * WEEK
        drawing.canvas.put(0, y + 1, f"{week_number(week):2}", palette.quiet)
        for column, day in enumerate(week):
            if day is not None:
                _draw_day(
                    drawing,
                    grid_data,
                    palette,
                    view,
                    day,
                    Rect(FIRST_COLUMN + column * (square + 1), y, square, WEEK),
                )
    if len(listed) > room:
        _draw_scroll_bar(drawing.canvas, palette, first, room, len(listed))
    _draw_key(drawing, grid_data, palette, view, FIRST_ROW + min(room, len(listed)) * WEEK)
    return drawing


def _draw_head(canvas: Canvas, palette: Palette, view: MonthView, square: int) -> None:
    title = month_name(view.first)
    draw_title(canvas, palette, [(title, palette.title)], "", [])
    if view.aside and text_width(title) + text_width(view.aside) + 4 < canvas.width:
        canvas.put_right(canvas.width - 1, 0, view.aside, palette.accent)
    for column, name in enumerate(weekday_names(view.first_weekday)):
        canvas.put(FIRST_COLUMN + column * (square + 1), 1, name, palette.quiet)


def _draw_day(
    drawing: Drawing, grid_data: GridData, palette: Palette, view: MonthView, day: date, rect: Rect
) -> None:
    canvas = drawing.canvas
    canvas.lay(head_canvas(palette, day_head(grid_data, day), rect.width), rect.x, rect.y)
    for below, grid in enumerate(view.grids, start=1):
        key, half = SquareKey(day, grid), Rect(rect.x, rect.y + below, rect.width, 1)
        is_last = below == len(view.grids)
        canvas.lay(fill_of(grid_data, palette, key, rect.width, 1, is_last), half.x, half.y)
        drawing.squares[key] = half
        if day == view.cursor:
            _draw_cursor(canvas, palette, view, grid, half)
    if day == view.cursor and view.focus != "shift":
        bars = palette.signs.left_bar + palette.signs.right_bar
        draw_bars(canvas, palette, Rect(rect.x, rect.y, rect.width, 1), bars)


def _draw_cursor(canvas: Canvas, palette: Palette, view: MonthView, grid: Grid, half: Rect) -> None:
    """Bars beside the half in focus, brackets beside the other; or bars beside the letter of a shift."""
    bars = palette.signs.left_bar + palette.signs.right_bar
    if view.focus == "shift":
        if grid == view.grids[-1]:
            draw_bars(canvas, palette, half, bars)
    elif grid == view.focus or palette.marks != "ascii":
        draw_bars(canvas, palette, half, bars if grid == view.focus else "[]")


def _draw_scroll_bar(canvas: Canvas, palette: Palette, first: int, room: int, weeks: int) -> None:
    """In the last column, which of the weeks are shown."""
    rows = room * WEEK
    begin, end = round(first * rows / weeks), round((first + room) * rows / weeks)
    sign = palette.signs.right_bar if palette.marks != "ascii" else "|"
    for y in range(begin, end):
        canvas.put(canvas.width - 1, FIRST_ROW + y, sign, palette.quiet)


def _draw_key(drawing: Drawing, grid_data: GridData, palette: Palette, view: MonthView, y: int) -> None:
    if view.focus == "shift":
        kinds_rows = kinds_lines(palette, list(grid_data.kinds.values()), drawing.canvas.width - 2)
        for at, line in enumerate(kinds_rows[:KEY_ROWS], start=y):
            put_pieces(drawing.canvas, 1, at, line)
        return
    grid: Grid = "sleep" if view.focus == "sleep" or view.grids == ("sleep",) else "mood"
    scale = grid_data.scales.on(grid, view.day)
    rows = min(max(drawing.canvas.height - y, 1), KEY_ROWS)
    drawing.lay(key_in_rows(palette, scale, drawing.canvas.width - 2, rows), 1, y)
