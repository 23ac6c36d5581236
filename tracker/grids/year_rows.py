"""Months as rows, a column a day of the month: one grid, or each day's mood above the sleep before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache

from tracker.cells import begun, text_width
from tracker.diary.dates import MONTHS
from tracker.diary.months import days_of_month, length_of_month
from tracker.diary.rota import night_dates
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.drawing import draw_texture
from tracker.grids.fused import fused_square
from tracker.grids.palette import Palette
from tracker.grids.remembered import Remembered
from tracker.grids.rows_plan import TALL, WITH_SHIFTS, MonthRow, Rows, RowsPlan
from tracker.grids.squares import GridData, SquareStyle, square_style
from tracker.grids.year_counts import draw_counts

NUMBERED = (1, 5, 10, 15, 20, 25, 30)
"""Days whose numbers stand above their columns."""
NUMBERED_NARROW = (1, 10, 20)
NOTHING_THERE = ("still to come", "before the first day", "hidden")


def draw_month_rows(
    grid_data: GridData, palette: Palette, plan: RowsPlan, cursor: date | None = None
) -> Canvas:
    """Months as rows, with the numbers of the days above and the counts of each month behind it."""
    rows = _rows(grid_data, palette, plan)
    for row in plan.months:
        rows.canvas.lay(_month(grid_data, palette, plan, row), plan.margin - 1, row.y - row.has_room_above)
    if cursor is not None:
        _draw_cursor(rows, cursor)
    draw_counts(rows)
    return rows.canvas


def _rows(grid_data: GridData, palette: Palette, plan: RowsPlan) -> Rows:
    return Rows(_empty_rows(palette, plan).copy(), grid_data, palette, plan)


@lru_cache(maxsize=8)
def month_squares(plan: RowsPlan, x: int, y: int) -> Mapping[SquareKey, Rect]:
    """Where the squares lie once the rows stand at a place; a fused day is its mood's."""
    return {
        SquareKey(day, grid): plan.rect(row, grid, day.day).moved(x, y)
        for row in plan.months
        for grid in (plan.grids[:1] if plan.is_fused else plan.grids)
        for day in days_of_month(row.year, row.month)
    }


_drawn = Remembered[Canvas](most=256)


def _month(grid_data: GridData, palette: Palette, plan: RowsPlan, row: MonthRow) -> Canvas:
    """The days of a month with the signs round them, without a cursor: it seldom changes."""
    days = days_of_month(row.year, row.month)
    return _drawn.get(
        (palette, plan, row),
        grid_data.basis(days),
        lambda: _draw_month(_rows(grid_data, palette, plan), row, days),
    )


def _draw_month(rows: Rows, row: MonthRow, days: Sequence[date]) -> Canvas:
    plan = rows.plan
    for day in days:
        _draw_day(rows, row, day)
    if plan.lines >= WITH_SHIFTS:
        _draw_notes_and_shifts(rows, row, days)
    _draw_changes(rows, row, days)
    _draw_today(rows, row)
    top = row.y - row.has_room_above
    left = plan.margin - 1
    return rows.canvas.part(Rect(left, top, plan.edge + 1 - left, plan.lines + row.has_room_above))


@lru_cache(maxsize=8)
def _empty_rows(palette: Palette, plan: RowsPlan) -> Canvas:
    """What the calendar alone decides: no key changes it."""
    canvas = Canvas(plan.width, plan.height, palette.text)
    for number in NUMBERED if plan.cell > 1 else NUMBERED_NARROW:
        canvas.put(plan.mark_x(number), 0, str(number), palette.quiet)
    for row in plan.months:
        canvas.put(_name_x(plan), _name_y(plan, row), _row_name(plan, row), palette.quiet)
        days = length_of_month(row.year, row.month)
        for y in range(plan.grid_y(row, plan.grids[0]), row.y + plan.squares_end):
            hatch = palette.signs.hatch * (31 - days) * plan.cell
            canvas.put(plan.day_x(days + 1), y, hatch, palette.faint)
    return canvas


def _name_x(plan: RowsPlan) -> int:
    return plan.margin - 4


def _name_y(plan: RowsPlan, row: MonthRow) -> int:
    return plan.grid_y(row, plan.grids[0])


def _row_name(plan: RowsPlan, row: MonthRow) -> str:
    """The month; where two years are compared, the year stands beside the lower row."""
    at = plan.months.index(row)
    below = at > 0 and plan.months[at - 1].month == row.month
    return f"'{row.year % 100:02}" if below else MONTHS[row.month - 1][:3]


# --- squares ---------------------------------------------------------------------------------------------


def _draw_day(rows: Rows, row: MonthRow, day: date, is_open: bool = False) -> None:
    canvas, grid_data, palette, plan = rows
    styles = [square_style(grid_data, palette, SquareKey(day, grid)) for grid in plan.grids]
    if all(style.state in NOTHING_THERE for style in styles):
        return
    if plan.is_fused:
        canvas.lay(fused_square(palette, *styles, plan.cell, is_open), plan.day_x(day.day), row.y)
        return
    for grid, style in zip(plan.grids, styles, strict=True):
        rect = plan.rect(row, grid, day.day)
        shown = style if grid == plan.grids[0] else style._replace(anxious=" ")
        canvas.lay(_square(shown, rect.width, rect.height), rect.x, rect.y)


@lru_cache(maxsize=512)
def _square(style: SquareStyle, width: int, height: int) -> Canvas:
    """A square by itself: in a year there are few that differ."""
    square = Canvas(width, height)
    draw_texture(square, style)
    mark = width // 4
    square.put(mark, 0, style.mark, style.style)
    if style.anxious.strip():
        square.put(mark + 1, 0, style.anxious, style.style)
    return square


def _draw_notes_and_shifts(rows: Rows, row: MonthRow, days: Sequence[date]) -> None:
    """The letters of shifts in the row below a month, and the signs of notes in one above it."""
    canvas, grid_data, palette, plan = rows
    nights = night_dates(map(grid_data.day, days), grid_data.kinds, grid_data.clock)
    for day in days:
        x = plan.mark_x(day.day)
        if plan.lines == TALL and grid_data.has_note(day):
            canvas.put(x, row.y, palette.signs.note, palette.quiet)
        letter = grid_data.shift_letter(day)
        canvas.put(x, row.y + plan.lines - 1, letter, palette.text if day in nights else palette.quiet)


# --- signs round the squares ------------------------------------------------------------------------------


def _draw_changes(rows: Rows, row: MonthRow, days: Sequence[date]) -> None:
    """Her changes above their days; where a month has no row for them, one sign behind or before it."""
    canvas, grid_data, palette, plan = rows
    changes = {plan.mark_x(day.day): grid_data.changes[day] for day in days if day in grid_data.changes}
    if not changes:
        return
    if not row.has_room_above and plan.lines < TALL:
        x = plan.edge if plan.cell > 1 else plan.margin - 1
        canvas.put(x, row.y, palette.signs.down, palette.warning)
        return
    y = row.y if plan.lines == TALL else row.y - 1
    for x in changes:
        canvas.put(x, y, palette.signs.down, palette.warning)
    for x, words in changes.items():
        at, shown = _beside(canvas, y, x, plan.edge, words)
        canvas.put(at, y, shown, palette.warning)


def _beside(canvas: Canvas, y: int, x: int, edge: int, words: str) -> tuple[int, str]:
    """Where words stand beside a sign: on its right, else on its left, else as much as has room."""
    right, left = _free_to(canvas, y, range(x + 2, edge), 1), _free_to(canvas, y, range(x - 2, 0, -1), -1)
    width = text_width(words)
    if width <= right:
        return x + 2, words
    if width <= left:
        return x - 1 - width, words
    shown = begun(words, max(right, left)) if max(right, left) > 3 else ""
    return (x + 2 if right >= left else x - 1 - text_width(shown)), shown


def _free_to(canvas: Canvas, y: int, columns: range, step: int) -> int:
    """How many cells are free in a direction, with one more that parts what follows."""
    for at, x in enumerate(columns):
        if canvas.text_at(x, y) != " ":
            return max(at - 1, 0)
    return len(columns)


def _draw_today(rows: Rows, row: MonthRow) -> None:
    """An arrow in the first free cell behind today's square, unless tomorrow's holds something."""
    canvas, grid_data, palette, plan = rows
    today = grid_data.today
    tomorrow = today + timedelta(days=1)
    if (row.year, row.month) != (today.year, today.month):
        return
    if tomorrow.month != today.month or not grid_data.day(tomorrow).is_answered:
        x, y = plan.day_x(today.day + 1), plan.grid_y(row, plan.grids[0])
        x += plan.cell > 1 and canvas.text_at(x, y) == palette.signs.in_break
        canvas.put(x, y, palette.signs.today, palette.accent)


def _draw_cursor(rows: Rows, cursor: date) -> None:
    plan = rows.plan
    row = next((row for row in plan.months if (row.year, row.month) == (cursor.year, cursor.month)), None)
    if row is None:
        return
    _draw_pointers(rows, row, cursor)
    if plan.is_fused:
        _draw_day(rows, row, cursor, is_open=True)
        return
    for grid in plan.grids:
        rect = plan.rect(row, grid, cursor.day)
        _mark_square(rows.canvas, rect, at_edge=cursor.day == 1 and grid == plan.grids[0])


def _mark_square(canvas: Canvas, rect: Rect, at_edge: bool) -> None:
    """Brackets where there are three cells or more, reverse video where there are fewer; the fill stays."""
    if rect.width > 2:
        mark = rect.x + rect.width // 4
        for x, bracket in ((mark - 1, "["), (mark + 2, "]")):
            if x >= rect.x or not at_edge:  # the pointer at the month's name stays
                canvas.put(x, rect.y, bracket, canvas.style_at(x, rect.y))
        return
    for x in range(rect.x, rect.x + rect.width):
        style = canvas.style_at(x, rect.y)
        turned = CellStyle(style.fg, style.bg, bold=True, reverse=not style.reverse)
        canvas.put(x, rect.y, canvas.text_at(x, rect.y), turned)


def _draw_pointers(rows: Rows, row: MonthRow, cursor: date) -> None:
    """The cursor's day among the numbers, and an arrow behind the name of its month."""
    canvas, _, palette, plan = rows
    for day in NUMBERED:
        if day != cursor.day and abs(day - cursor.day) <= max(2 // plan.cell, 1):
            canvas.put(plan.mark_x(day), 0, "  ", palette.quiet)
    number = str(cursor.day)
    canvas.put(min(plan.mark_x(cursor.day), plan.edge - len(number)), 0, number, palette.pointed)
    y = _name_y(plan, row)
    canvas.put(_name_x(plan), y, _row_name(plan, row), palette.focused)
    canvas.put(plan.margin - 1, y, palette.signs.right, palette.focus)
