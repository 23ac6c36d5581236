"""The month: mood and sleep side by side, a row a week, a column a weekday.

A square of the smallest plan, four cells by one under its number::

    17"▼     day number, note or today, a change
    N 5a     the shift, the mark and the anxious sign, on the fill

Where there is more room, the months before and what is counted and written stand beside the grids; where
there is less, `month_narrow` draws one calendar.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import lru_cache

from tracker.cells import begun, text_width
from tracker.diary.dates import month_name
from tracker.diary.months import days_of_month, month_after, week_number, weekday_names, weeks
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import GRIDS, Grid
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.drawing import (
    Drawing,
    KeyPlan,
    Line,
    draw_title,
    grid_title,
    key_in_a_row,
    key_in_columns,
    kinds_lines,
    letters_line,
    levels_note,
    put_pieces,
    signs_line,
)
from tracker.grids.month_counts import count_month, low_words, short_words
from tracker.grids.month_narrow import draw_narrow_month
from tracker.grids.month_panel import draw_panel
from tracker.grids.month_plan import MonthPlan, month_plan
from tracker.grids.month_squares import day_head, draw_bars, fill_of, head_canvas, mark_cell
from tracker.grids.month_view import MonthView
from tracker.grids.palette import Palette
from tracker.grids.remembered import Remembered
from tracker.grids.rows_plan import RowsPlan, stacked
from tracker.grids.squares import Focus, GridData
from tracker.grids.year_rows import draw_month_rows, month_squares
from tracker.words import counted

ROOM_FOR_COUNTS = 48
"""Cells of a grid from which its name has its count beside it."""
IN_COLUMNS = KeyPlan(swatch=4, columns=2, column_width=20, label_width=14)
IN_NARROW_COLUMNS = KeyPlan(swatch=2, columns=2, column_width=18, label_width=14)
IN_ONE_COLUMN = KeyPlan(swatch=4, columns=1, column_width=26, label_width=20)


def draw_month(grid_data: GridData, palette: Palette, view: MonthView, width: int, height: int) -> Drawing:
    """A month in so many cells, with the places of its squares."""
    plan = month_plan(width, height)
    if plan is None:
        return draw_narrow_month(grid_data, palette, view, width, height)
    if len(view.grids) == 1:
        plan = plan._replace(lefts=(plan.lefts[0], plan.lefts[0]), panel=0, keys=(0, 0))
    drawing = _squares(grid_data, palette, plan, (width, height), view.calendar).copy()
    _draw_heads(drawing.canvas, grid_data, palette, plan, view)
    if view.cursor is not None:
        _draw_cursor(drawing, palette, plan, view.cursor, view.focus)
    if plan.panel and view.has_more and not grid_data.hidden:
        bottom = height if plan.panel_is_tall else _keys_end(grid_data, plan, view)
        panel = Rect(plan.panel, plan.weeks_row, width - plan.panel - 1, bottom - plan.weeks_row)
        draw_panel(drawing.canvas, grid_data, palette, view, panel)
        _draw_months_before(drawing, grid_data, palette, plan, view)
    _draw_below(drawing, grid_data, palette, plan, view)
    return drawing


_drawn = Remembered[Drawing](most=16)


def _squares(
    grid_data: GridData, palette: Palette, plan: MonthPlan, size: tuple[int, int], calendar: MonthView
) -> Drawing:
    """The calendar with its squares, without a cursor; not to be drawn on, for it seldom changes."""

    def draw() -> Drawing:
        drawing = _empty_month(palette, plan, size, calendar).copy()
        _draw_squares(drawing, grid_data, palette, plan)
        return drawing

    days = days_of_month(calendar.year, calendar.month)
    return _drawn.get((palette, plan, size, calendar), grid_data.basis(days), draw)


@lru_cache(maxsize=8)
def _empty_month(palette: Palette, plan: MonthPlan, size: tuple[int, int], calendar: MonthView) -> Drawing:
    """What the calendar alone decides, with the places of the squares: no key changes it."""
    drawing = Drawing(Canvas(*size, palette.text))
    canvas = drawing.canvas
    for grid in calendar.grids:
        for column, name in enumerate(weekday_names(calendar.first_weekday)):
            canvas.put(plan.rect(grid, 0, column).x, plan.weekdays_row, name, palette.quiet)
        for row, week in enumerate(weeks(calendar.year, calendar.month, calendar.first_weekday)):
            number = f"{week_number(week):2}"
            canvas.put(plan.left(grid), plan.rect(grid, row, 0).y + 1, number, palette.quiet)
            for column, day in enumerate(week):
                if day is not None:
                    drawing.squares[SquareKey(day, grid)] = plan.rect(grid, row, column)
    return drawing


# --- heads -----------------------------------------------------------------------------------------------


def _draw_heads(
    canvas: Canvas, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView
) -> None:
    kept = kept_days(grid_data, view.grids, view.year, view.month)
    draw_title(canvas, palette, [(month_name(view.first), palette.title)], view.aside, [kept] if kept else [])
    for grid in view.grids:
        x = plan.left(grid) + 3
        if grid == view.focus:
            canvas.put(x - 2, plan.names_row, palette.signs.right, palette.focus)
        x = put_pieces(canvas, x, plan.names_row, grid_title(palette, grid, grid == view.focus))
        if plan.right(grid) - plan.left(grid) >= ROOM_FOR_COUNTS:
            text = _count_words(grid_data, view, grid, plan.right(grid) - x - 2)
            canvas.put_right(plan.right(grid), plan.names_row, text, palette.quiet)


def _count_words(grid_data: GridData, view: MonthView, grid: Grid, width: int) -> str:
    """`low or very low 15 of 28`, `under 6 h 9 of 28`."""
    counts = count_month(grid_data, view.year, view.month)
    if counts is None or not counts.of(grid).of:
        return ""
    count = str(counts.of(grid))
    room = width - text_width(count) - 1
    words = low_words(grid_data, view.day, room) if grid == "mood" else short_words(grid_data)
    return f"{words} {count}"


def kept_days(grid_data: GridData, grids: Sequence[Grid], year: int, month: int) -> str:
    """On how many days of a month every one of the grids is kept, of those that could be."""
    days = grid_data.possible(days_of_month(year, month))
    if not days:
        return ""
    both = "both squares " if len(grids) > 1 else ""
    whole = set(days).intersection(*(grid_data.kept(grid, days) for grid in grids))
    return f"{both}kept on {len(whole)} of {counted(len(days), 'day')}"


# --- squares ---------------------------------------------------------------------------------------------


def _draw_squares(drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan) -> None:
    for key, rect in drawing.squares.items():
        drawing.canvas.lay(head_canvas(palette, day_head(grid_data, key.day), plan.square), rect.x, rect.y)
        drawing.canvas.lay(fill_of(grid_data, palette, key, plan.square, plan.fill), rect.x, rect.y + 1)


def _draw_cursor(drawing: Drawing, palette: Palette, plan: MonthPlan, cursor: date, focus: Focus) -> None:
    """Bars beside the square in focus, brackets beside the other one; beside both where a shift is set."""
    bars = palette.signs.left_bar + palette.signs.right_bar
    for grid in GRIDS:
        whole = drawing.squares.get(SquareKey(cursor, grid))
        if whole is None:
            continue
        fill = Rect(whole.x, whole.y + 1, whole.width, plan.fill)
        if focus == "shift":
            draw_bars(drawing.canvas, palette, Rect(fill.x, fill.y + plan.fill - 1, fill.width, 1), bars)
        elif grid == focus:
            draw_bars(drawing.canvas, palette, whole, bars)
        else:
            _, y = mark_cell(fill)
            draw_bars(drawing.canvas, palette, Rect(fill.x, y, fill.width, 1), "[]")


# --- below -----------------------------------------------------------------------------------------------


def _draw_months_before(
    drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView
) -> None:
    """Up to twelve months as the year has them, the month itself last."""
    x, y = plan.lefts[0] + 2, plan.below + (plan.fill > 4)
    room = min(drawing.canvas.height - y - 2, 12)
    months = [month_after(view.year, view.month, -back) for back in range(room - 1, -1, -1)]
    rows = RowsPlan(GRIDS, 2, 1, stacked(months, 1, room + 1), plan.keys[0] - x)
    title = drawing.canvas.put(x + 1, y, "The months before", palette.title)
    drawing.canvas.put(title + 2, y, "mood above, sleep below", palette.quiet)
    drawing.canvas.lay(draw_month_rows(grid_data, palette, rows), x, y + 1)
    drawing.canvas.put(x + 1, y + 1 + room, f"{view.first:%b}", palette.focused)
    drawing.squares |= {
        key: rect for key, rect in month_squares(rows, x, y + 1).items() if key not in drawing.squares
    }


def _draw_below(
    drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView
) -> None:
    """The keys, and what the letters and signs mean, as there is room."""
    canvas = drawing.canvas
    x = plan.keys[0] or (plan.lefts[0] + 3 if plan.fill > 1 else 1)
    width = (plan.panel if plan.panel_is_tall else canvas.width) - x - 1
    draw_keys = _draw_keys_beside if plan.keys[0] else _draw_keys_under
    if view.focus == "shift":
        _draw_kinds(drawing, grid_data, palette, plan, view)
        return
    y, beside = draw_keys(drawing, grid_data, palette, plan, view, canvas.height)
    kinds_here = _kinds_of_month(grid_data, view)
    letters = letters_line(palette, kinds_here, beside) if beside else []
    if letters:
        put_pieces(canvas, plan.left("mood") + 3, y - 1, letters)
    note = levels_note(grid_data, view.grids, days_of_month(view.year, view.month), view.day)
    lines: list[Line] = [[(begun(note, width), palette.accent)]] if note else []
    lines.append(signs_line(palette, width))
    other_letters = [] if letters else letters_line(palette, kinds_here, width)
    if other_letters and len(lines) < canvas.height - y:
        lines.insert(0, other_letters)
    y += plan.fill > 2 and y + len(lines) < canvas.height
    for at, line in enumerate(lines):
        put_pieces(canvas, x, y + at, line)


def _draw_kinds(
    drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView
) -> None:
    """The letters that set a shift, in the last rows; the keys of the grids where these leave them room."""
    canvas = drawing.canvas
    x = plan.keys[0] or 1
    lines = kinds_lines(palette, list(grid_data.kinds.values()), canvas.width - x)
    draw_keys = _draw_keys_beside if plan.keys[0] else _draw_keys_under
    y, _ = draw_keys(drawing, grid_data, palette, plan, view, canvas.height - len(lines))
    for at, line in enumerate(lines, start=y):
        put_pieces(canvas, x, at, line)


def _kinds_of_month(grid_data: GridData, view: MonthView) -> list[ShiftKind]:
    """The kinds of shift whose letters stand in the month."""
    letters = {grid_data.shift_letter(day) for day in days_of_month(view.year, view.month)}
    return [kind for kind in grid_data.kinds.values() if kind.code.upper() in letters]


def _keys_end(grid_data: GridData, plan: MonthPlan, view: MonthView) -> int:
    """The row behind the keys that stand beside the months before."""
    rows = max(len(grid_data.scales.on(grid, view.day).levels) for grid in view.grids)
    return plan.below + 2 * (plan.fill > 4) + rows


def _draw_keys_beside(
    drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView, bottom: int
) -> tuple[int, int]:
    """Both keys beside the months before, a level a row; gives the row behind them."""
    y = plan.below + 2 * (plan.fill > 4)
    for x, grid in zip(plan.keys, view.grids, strict=True):
        key = key_in_columns(palette, grid_data.scales.on(grid, view.day), IN_ONE_COLUMN)
        drawing.lay(key, x, y)
    return min(_keys_end(grid_data, plan, view), bottom), 0


def _draw_keys_under(
    drawing: Drawing, grid_data: GridData, palette: Palette, plan: MonthPlan, view: MonthView, bottom: int
) -> tuple[int, int]:
    """Each key under its grid, else both in a row each, else none, above a row.

    Gives the row behind them, and how many cells are free in the last row under the key of mood.
    """
    key = IN_COLUMNS if plan.fill > 2 else IN_NARROW_COLUMNS
    scales = {grid: grid_data.scales.on(grid, view.day) for grid in view.grids}
    rows = {grid: key.rows(len(scale.levels)) for grid, scale in scales.items()}
    y, most = plan.keys_row, max(rows.values())
    if y + len(scales) > bottom:
        return y, 0
    if y + most > bottom:
        for at, scale in enumerate(scales.values()):
            row = key_in_a_row(palette, scale, drawing.canvas.width - 2)
            drawing.lay(row, 1, y + at)
        return y + len(scales), 0
    for grid, scale in scales.items():
        drawing.lay(key_in_columns(palette, scale, key), plan.left(grid) + 3, y)
    free = plan.lefts[1] - plan.left("mood") - 1 if rows.get("mood", most) < most else 0
    return y + most, free
