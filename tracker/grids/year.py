"""The year: a row a month, a column a day of the month, two to five cells a square.

Two years compared stand with the same months one above the other.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import Literal, NamedTuple

from tracker.diary.dates import MONTHS
from tracker.diary.months import days_of_month, days_of_year, each_day
from tracker.diary.scales import Grid, other_grid
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, CellStyle, Rect
from tracker.grids.daylight import clock_text, hours_of_light
from tracker.grids.drawing import (
    Drawing,
    KeyPlan,
    days_of_key,
    draw_key,
    grid_title,
    hatching_words,
    pieces_width,
    put_pieces,
    signs_line,
)
from tracker.grids.palette import Palette
from tracker.grids.squares import Focus, GridData, SquareStyle, face, on_other_levels

NUMBERED = (1, 5, 10, 15, 20, 25, 30)
"""Days whose numbers stand above their columns."""
MARGIN = 5
"""Column of the first square; the months' names and the pointer stand before it."""
HEAD = 3
"""Rows above the months: title, day numbers, pointer."""
FOOT = 4
"""Rows under the months: two for a strip, two for what the signs mean."""
NARROW = 80
WIDE_KEY = KeyPlan(4, 1, 21, 16)
NARROW_KEY = KeyPlan(2, 1, 12, 9)

Strip = Literal["", "shifts", "daylight"]


class YearPlan(NamedTuple):
    """Where the parts of a year stand, in cells."""

    cell: int
    """Cells of a square, 2 to 5."""
    width: int
    """Width of one grid with its key."""
    months: tuple[tuple[int, int], ...]
    """Year and month of each row."""
    corners: tuple[tuple[Grid, int, int], ...]
    """The grids that are drawn, each with its left edge and its top."""

    @property
    def height(self) -> int:
        """Rows down to the two that explain the signs."""
        return max(top for _, _, top in self.corners) + self.grid_height + FOOT

    @property
    def grid_height(self) -> int:
        """Rows of one grid with its head."""
        return HEAD + len(self.months)

    @property
    def key_x(self) -> int:
        """Column of the key, counted from the grid's left edge."""
        return MARGIN + 31 * self.cell + 1

    @property
    def key(self) -> KeyPlan:
        """How the key is laid out."""
        return NARROW_KEY if self.width == NARROW else WIDE_KEY

    @property
    def inset(self) -> int:
        """Cells of a square before its mark."""
        return self.cell // 4

    def mark_x(self, left: int, day: int) -> int:
        """The column of a day's mark in a grid that begins at a column."""
        return left + MARGIN + (day - 1) * self.cell + self.inset


def year_plan(year: int, width: int, height: int, grid: Grid = "mood") -> YearPlan:
    """The plan for a year in so many cells: both grids where there is room, else one of them."""
    months = tuple((year, month) for month in range(1, 13))
    return _plan(months, width, height, grid)


def _plan(months: tuple[tuple[int, int], ...], width: int, height: int, grid: Grid) -> YearPlan:
    tall = HEAD + len(months)
    gap = min(height - 2 * tall - FOOT, 2)
    if gap >= 1:
        return YearPlan(*_cells(width), months, (("mood", 0, 0), ("sleep", 0, tall + gap)))
    if width >= 2 * NARROW:
        return YearPlan(*_cells(width // 2), months, (("mood", 0, 0), ("sleep", width // 2, 0)))
    return YearPlan(*_cells(width), months, ((grid, 0, 0),))


def _cells(width: int) -> tuple[int, int]:
    """The cells of a square, and of a grid with its key, in so wide a place."""
    wide = {cell: MARGIN + 31 * cell + 1 + WIDE_KEY.column_width for cell in (5, 4, 3, 2)}
    return next(((cell, needed) for cell, needed in wide.items() if needed <= width), (2, NARROW))


def compare_plan(year: int, width: int, height: int, grid: Grid = "mood", month: int = 1) -> YearPlan:
    """The plan for the year before above the year, month by month; half a year where height is short."""
    shown = range(1, 13) if height >= 24 + HEAD + FOOT else range(1, 7) if month <= 6 else range(7, 13)
    months = tuple((which, month) for month in shown for which in (year - 1, year))
    return _plan(months, width, min(height, len(months) + HEAD + FOOT), grid)


def draw_year(
    grid_data: GridData,
    palette: Palette,
    plan: YearPlan,
    *,
    cursor: date | None = None,
    focus: Focus = "",
    with_keys: bool = True,
    strip: Strip = "",
    latitude: int | None = None,
) -> Drawing:
    """A year, or two compared, as a picture with the places of its squares.

    Parameters
    ----------
    cursor, focus
        The day under the cursor, and where keys go; a printed year has neither.
    with_keys
        Whether the line of signs names the keys that set them.
    strip
        What the two rows under the months show: the shifts of the cursor's month, day by day, or the length
        of daylight in the middle of each month.
    latitude
        Whole degrees, south negative; without it there is no daylight to show.
    """
    if cursor is not None and focus not in [grid for grid, _, _ in plan.corners]:
        focus = plan.corners[0][0]  # shifts have no grid of their own here
    drawing = _empty_year(palette, plan).copy()
    _draw_squares(drawing, grid_data, palette)
    for grid, left, top in plan.corners:
        _draw_head(drawing.canvas, grid_data, palette, plan, (grid, left, top), focus if cursor else "")
        _draw_today(drawing, grid_data, palette, plan, grid)
        if cursor is not None:
            _draw_cursor(drawing, palette, plan, (grid, left, top), cursor, focus)
        _draw_key(drawing, grid_data, palette, plan, (grid, left, top), cursor)
        if cursor is not None and (grid == focus or len(plan.corners) == 1):
            below = (left, plan.height - FOOT)
            _draw_strip(drawing.canvas, grid_data, palette, plan, below, cursor, strip, latitude)
    _draw_signs(drawing.canvas, palette, plan, with_keys)
    return drawing


Corner = tuple[Grid, int, int]


@lru_cache(maxsize=8)
def _empty_year(palette: Palette, plan: YearPlan) -> Drawing:
    """What the calendar alone decides, with the places of the squares: no key changes it."""
    width = max(left + plan.width for _, left, _ in plan.corners)
    drawing = Drawing(Canvas(width, plan.height, palette.text))
    for grid, left, top in plan.corners:
        for day in NUMBERED:
            _put_number(drawing.canvas, plan, left, top, day, palette.quiet)
        _draw_rows(drawing, palette, plan, (grid, left, top))
    return drawing


def _draw_signs(canvas: Canvas, palette: Palette, plan: YearPlan, with_keys: bool) -> None:
    """What the signs mean, in one row where it is long enough, else in two."""
    signs, hatching = signs_line(palette, with_keys), hatching_words(palette)
    row, together = plan.height - 2, [*signs, ("  ", palette.quiet), *hatching]
    if pieces_width(together) < canvas.width:
        put_pieces(canvas, 1, row, together)
    else:
        put_pieces(canvas, 1, row, signs)
        put_pieces(canvas, 1, row + 1, hatching)


def _draw_head(
    canvas: Canvas, grid_data: GridData, palette: Palette, plan: YearPlan, corner: Corner, focus: Focus
) -> None:
    grid, left, top = corner
    years = sorted({year for year, _ in plan.months})
    x = canvas.put(left + 1, top, " above ".join(map(str, years)), palette.title)
    if grid == focus and len(plan.corners) > 1:
        canvas.put(x + 1, top, palette.signs.right, palette.focus)
    title = grid_title(palette, grid, grid == focus, each_day=len(years) == 1)
    x, kept = put_pieces(canvas, x + 3, top, title), kept_days(grid_data, grid, *years)
    other = f" (Tab: {other_grid(grid)})"
    if focus and len(plan.corners) == 1 and x + len(other) < left + plan.width - 2 - len(kept):
        canvas.put(x, top, other, palette.quiet)
    canvas.put_right(left + plan.width - 1, top, kept, palette.quiet)


def _put_number(canvas: Canvas, plan: YearPlan, left: int, top: int, day: int, style: CellStyle) -> None:
    canvas.put(plan.mark_x(left, day), top + 1, str(day), style)


def kept_days(grid_data: GridData, grid: Grid, *years: int) -> str:
    """On how many days of a year, or of each of two, a square is kept, of those that could be."""
    possible = [days for year in years if (days := grid_data.possible(days_of_year(year)))]
    counts = [f"{len(grid_data.kept(grid, days))} of {len(days)}" for days in possible]
    return f"kept {', '.join(counts)} {'day' if len(possible[-1]) == 1 else 'days'}" if counts else ""


def _draw_rows(drawing: Drawing, palette: Palette, plan: YearPlan, corner: Corner) -> None:
    """The names of the months, the places of their days, and the days that do not exist."""
    grid, left, top = corner
    for row, (year, month) in enumerate(plan.months):
        y = top + HEAD + row
        drawing.canvas.put(left + 1, y, _row_name(plan, row), palette.quiet)
        days = days_of_month(year, month)
        for day in days:
            drawing.squares[SquareKey(day, grid)] = Rect(
                left + MARGIN + (day.day - 1) * plan.cell, y, plan.cell, 1
            )
        hatched = left + MARGIN + len(days) * plan.cell
        drawing.canvas.put(hatched, y, palette.signs.hatch * (31 - len(days)) * plan.cell, palette.faint)


def _row_name(plan: YearPlan, row: int) -> str:
    """The month; where two years are compared, the year stands beside the lower row."""
    year, month = plan.months[row]
    below = row > 0 and plan.months[row - 1][1] == month
    return f"'{year % 100:02}" if below else MONTHS[month - 1][:3]


def _draw_squares(drawing: Drawing, grid_data: GridData, palette: Palette) -> None:
    for place, rect in drawing.squares.items():
        drawing.canvas.lay(_square(face(grid_data, palette, place), rect.width), rect.x, rect.y)


@lru_cache(maxsize=256)
def _square(drawn: SquareStyle, width: int) -> Canvas:
    """A square by itself: in a year there are few that differ."""
    square = Canvas(width, 1, drawn.outer)
    mark = width // 4
    square.put(mark, 0, drawn.mark, drawn.style)
    square.put(mark + 1, 0, drawn.anxious, drawn.outer if width == 2 else drawn.style)
    return square


def _draw_today(drawing: Drawing, grid_data: GridData, palette: Palette, plan: YearPlan, grid: Grid) -> None:
    """An arrow in the first cell behind today's square, which is free: what lies there is still to come."""
    rect = drawing.squares.get(SquareKey(grid_data.today, grid))
    if rect is None:
        return
    tomorrow = SquareKey(grid_data.today + timedelta(days=1), grid)
    same_row = tomorrow.day.month == grid_data.today.month
    if not same_row or grid_data.state(tomorrow) == "still to come":
        drawing.canvas.put(rect.x + plan.cell, rect.y, palette.signs.today, palette.accent)


def _draw_cursor(
    drawing: Drawing, palette: Palette, plan: YearPlan, corner: Corner, cursor: date, focus: Focus
) -> None:
    grid, left, top = corner
    rect = drawing.squares.get(SquareKey(cursor, grid))
    if rect is None:
        return
    _mark_square(drawing.canvas, plan, rect, at_edge=cursor.day == 1 and grid == focus)
    if grid == focus:
        _draw_pointers(drawing.canvas, palette, plan, left, top, rect, cursor)


def _mark_square(canvas: Canvas, plan: YearPlan, rect: Rect, at_edge: bool) -> None:
    """Brackets where there are three cells or more, reverse video where there are two; the fill stays."""
    if rect.width > 2:
        mark = rect.x + plan.inset
        for x, bracket in ((mark - 1, "["), (mark + 2, "]")):
            if x >= rect.x or not at_edge:  # the pointer at the month's name stays
                canvas.put(x, rect.y, bracket, canvas.style_at(x, rect.y))
        return
    for x in (rect.x, rect.x + 1):
        style = canvas.style_at(x, rect.y)
        canvas.put(
            x, rect.y, canvas.text_at(x, rect.y), CellStyle(style.fg, style.bg, bold=True, reverse=True)
        )


def _draw_pointers(
    canvas: Canvas, palette: Palette, plan: YearPlan, left: int, top: int, rect: Rect, cursor: date
) -> None:
    """An arrow over the column, with the day's number, and one behind the month's name."""
    for day in NUMBERED:
        if day != cursor.day and abs(day - cursor.day) <= 1:
            canvas.put(plan.mark_x(left, day), top + 1, "  ", palette.quiet)
    _put_number(canvas, plan, left, top, cursor.day, palette.focused)
    canvas.put(rect.x + plan.inset, top + 2, palette.signs.down, palette.focus)
    name = _row_name(plan, rect.y - top - HEAD)
    canvas.put(left + 1, rect.y, name, palette.focused)
    canvas.put(left + MARGIN - 1, rect.y, palette.signs.right, palette.focus)


def _draw_key(
    drawing: Drawing,
    grid_data: GridData,
    palette: Palette,
    plan: YearPlan,
    corner: Corner,
    cursor: date | None,
) -> None:
    """The levels under the cursor; where the year has others too, with the days for which they are."""
    grid, left, top = corner
    at = cursor or date(*plan.months[-1], 1)
    found = days_of_key(grid_data.scales, grid, days_of_year(at.year), at)
    head, style = (_span_text(*found), palette.accent) if found else ("the key", palette.quiet)
    drawing.canvas.put(left + plan.key_x, top + 2, head, style)
    scale = grid_data.scales.on(grid, at)
    draw_key(drawing, palette, scale, left + plan.key_x, top + HEAD, plan.key)
    others = on_other_levels(grid_data, grid, each_day(*found) if found else days_of_year(at.year))
    if others:
        row = top + HEAD + plan.key.rows(len(scale.levels))
        drawing.canvas.put(left + plan.key_x, row, f"{others} on other", palette.accent)
        drawing.canvas.put(left + plan.key_x, row + 1, "levels", palette.accent)


def _span_text(first: date, last: date) -> str:
    """Days of a year in the width of a key: `to 26 Nov`, `27 Nov on`; `from 5 Mar` where others follow."""
    if (first.month, first.day) == (1, 1):
        return f"to {last.day} {MONTHS[last.month - 1][:3]}"
    begin = f"{first.day} {MONTHS[first.month - 1][:3]}"
    return f"{begin} on" if (last.month, last.day) == (12, 31) else f"from {begin}"


def _draw_strip(
    canvas: Canvas,
    grid_data: GridData,
    palette: Palette,
    plan: YearPlan,
    corner: tuple[int, int],
    cursor: date,
    strip: Strip,
    latitude: int | None,
) -> None:
    left, top = corner
    if strip == "shifts":
        canvas.put(left + 1, top + 1, f"{MONTHS[cursor.month - 1][:3]}", palette.quiet)
        for day in days_of_month(cursor.year, cursor.month):
            canvas.put(plan.mark_x(left, day.day), top + 1, grid_data.shift_letter(day), palette.text)
    elif latitude is not None:
        canvas.put(left + 1, top + 1, "sun", palette.quiet)
        for month in range(1, 13):
            light = clock_text(hours_of_light(date(cursor.year, month, 15), latitude))
            x = left + MARGIN + (month - 1) * (plan.cell + 4)
            canvas.put(x, top, MONTHS[month - 1][:3], palette.quiet)
            canvas.put(x, top + 1, light, palette.text)
