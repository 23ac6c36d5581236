"""The year: a row a month, a column a day of the month, two to five cells a square.

Two years compared stand with the same months one above the other.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import Literal, NamedTuple

from tracker.diary.asking import Place
from tracker.diary.dates import MONTHS
from tracker.diary.months import days_of_month, days_of_year, each_day
from tracker.diary.scales import Grid, other_grid
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
from tracker.grids.picture import Area, Look, Picture
from tracker.grids.squares import Face, Focus, Sheet, face, on_other_levels

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
    sheet: Sheet,
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
    _draw_squares(drawing, sheet, palette)
    for grid, left, top in plan.corners:
        _draw_head(drawing.picture, sheet, palette, plan, (grid, left, top), focus if cursor else "")
        _draw_today(drawing, sheet, palette, plan, grid)
        if cursor is not None:
            _draw_cursor(drawing, palette, plan, (grid, left, top), cursor, focus)
        _draw_key(drawing, sheet, palette, plan, (grid, left, top), cursor)
        if cursor is not None and (grid == focus or len(plan.corners) == 1):
            below = (left, plan.height - FOOT)
            _draw_strip(drawing.picture, sheet, palette, plan, below, cursor, strip, latitude)
    _draw_signs(drawing.picture, palette, plan, with_keys)
    return drawing


Corner = tuple[Grid, int, int]


@lru_cache(maxsize=8)
def _empty_year(palette: Palette, plan: YearPlan) -> Drawing:
    """What the calendar alone decides, with the places of the squares: no key changes it."""
    width = max(left + plan.width for _, left, _ in plan.corners)
    drawing = Drawing(Picture(width, plan.height, palette.text))
    for grid, left, top in plan.corners:
        for day in NUMBERED:
            _put_number(drawing.picture, plan, left, top, day, palette.quiet)
        _draw_rows(drawing, palette, plan, (grid, left, top))
    return drawing


def _draw_signs(picture: Picture, palette: Palette, plan: YearPlan, with_keys: bool) -> None:
    """What the signs mean, in one row where it is long enough, else in two."""
    signs, hatching = signs_line(palette, with_keys), hatching_words(palette)
    row, together = plan.height - 2, [*signs, ("  ", palette.quiet), *hatching]
    if pieces_width(together) < picture.width:
        put_pieces(picture, 1, row, together)
    else:
        put_pieces(picture, 1, row, signs)
        put_pieces(picture, 1, row + 1, hatching)


def _draw_head(
    picture: Picture, sheet: Sheet, palette: Palette, plan: YearPlan, corner: Corner, focus: Focus
) -> None:
    grid, left, top = corner
    years = sorted({year for year, _ in plan.months})
    x = picture.put(left + 1, top, " above ".join(map(str, years)), palette.title)
    if grid == focus and len(plan.corners) > 1:
        picture.put(x + 1, top, palette.signs.right, palette.focus)
    title = grid_title(palette, grid, grid == focus, each_day=len(years) == 1)
    x, kept = put_pieces(picture, x + 3, top, title), kept_days(sheet, grid, *years)
    other = f" (Tab: {other_grid(grid)})"
    if focus and len(plan.corners) == 1 and x + len(other) < left + plan.width - 2 - len(kept):
        picture.put(x, top, other, palette.quiet)
    picture.put_right(left + plan.width - 1, top, kept, palette.quiet)


def _put_number(picture: Picture, plan: YearPlan, left: int, top: int, day: int, look: Look) -> None:
    picture.put(plan.mark_x(left, day), top + 1, str(day), look)


def kept_days(sheet: Sheet, grid: Grid, *years: int) -> str:
    """On how many days of a year, or of each of two, a square is kept, of those that could be."""
    possible = [days for year in years if (days := sheet.possible(days_of_year(year)))]
    counts = [f"{len(sheet.kept(grid, days))} of {len(days)}" for days in possible]
    return f"kept {', '.join(counts)} {'day' if len(possible[-1]) == 1 else 'days'}" if counts else ""


def _draw_rows(drawing: Drawing, palette: Palette, plan: YearPlan, corner: Corner) -> None:
    """The names of the months, the places of their days, and the days that do not exist."""
    grid, left, top = corner
    for row, (year, month) in enumerate(plan.months):
        y = top + HEAD + row
        drawing.picture.put(left + 1, y, _row_name(plan, row), palette.quiet)
        days = days_of_month(year, month)
        for day in days:
            drawing.squares[Place(day, grid)] = Area(
                left + MARGIN + (day.day - 1) * plan.cell, y, plan.cell, 1
            )
        hatched = left + MARGIN + len(days) * plan.cell
        drawing.picture.put(hatched, y, palette.signs.hatch * (31 - len(days)) * plan.cell, palette.faint)


def _row_name(plan: YearPlan, row: int) -> str:
    """The month; where two years are compared, the year stands beside the lower row."""
    year, month = plan.months[row]
    below = row > 0 and plan.months[row - 1][1] == month
    return f"'{year % 100:02}" if below else MONTHS[month - 1][:3]


def _draw_squares(drawing: Drawing, sheet: Sheet, palette: Palette) -> None:
    for place, area in drawing.squares.items():
        drawing.picture.lay(_square(face(sheet, palette, place), area.width), area.x, area.y)


@lru_cache(maxsize=256)
def _square(drawn: Face, width: int) -> Picture:
    """A square by itself: in a year there are few that differ."""
    square = Picture(width, 1, drawn.outer)
    mark = width // 4
    square.put(mark, 0, drawn.mark, drawn.look)
    square.put(mark + 1, 0, drawn.anxious, drawn.outer if width == 2 else drawn.look)
    return square


def _draw_today(drawing: Drawing, sheet: Sheet, palette: Palette, plan: YearPlan, grid: Grid) -> None:
    """An arrow in the first cell behind today's square, which is free: what lies there is still to come."""
    area = drawing.squares.get(Place(sheet.today, grid))
    if area is None:
        return
    tomorrow = Place(sheet.today + timedelta(days=1), grid)
    same_row = tomorrow.day.month == sheet.today.month
    if not same_row or sheet.state(tomorrow) == "still to come":
        drawing.picture.put(area.x + plan.cell, area.y, palette.signs.today, palette.accent)


def _draw_cursor(
    drawing: Drawing, palette: Palette, plan: YearPlan, corner: Corner, cursor: date, focus: Focus
) -> None:
    grid, left, top = corner
    area = drawing.squares.get(Place(cursor, grid))
    if area is None:
        return
    _mark_square(drawing.picture, plan, area, at_edge=cursor.day == 1 and grid == focus)
    if grid == focus:
        _draw_pointers(drawing.picture, palette, plan, left, top, area, cursor)


def _mark_square(picture: Picture, plan: YearPlan, area: Area, at_edge: bool) -> None:
    """Brackets where there are three cells or more, reverse video where there are two; the fill stays."""
    if area.width > 2:
        mark = area.x + plan.inset
        for x, bracket in ((mark - 1, "["), (mark + 2, "]")):
            if x >= area.x or not at_edge:  # the pointer at the month's name stays
                picture.put(x, area.y, bracket, picture.look_at(x, area.y))
        return
    for x in (area.x, area.x + 1):
        look = picture.look_at(x, area.y)
        picture.put(x, area.y, picture.text_at(x, area.y), Look(look.fg, look.bg, bold=True, reverse=True))


def _draw_pointers(
    picture: Picture, palette: Palette, plan: YearPlan, left: int, top: int, area: Area, cursor: date
) -> None:
    """An arrow over the column, with the day's number, and one behind the month's name."""
    for day in NUMBERED:
        if day != cursor.day and abs(day - cursor.day) <= 1:
            picture.put(plan.mark_x(left, day), top + 1, "  ", palette.quiet)
    _put_number(picture, plan, left, top, cursor.day, palette.focused)
    picture.put(area.x + plan.inset, top + 2, palette.signs.down, palette.focus)
    name = _row_name(plan, area.y - top - HEAD)
    picture.put(left + 1, area.y, name, palette.focused)
    picture.put(left + MARGIN - 1, area.y, palette.signs.right, palette.focus)


def _draw_key(
    drawing: Drawing, sheet: Sheet, palette: Palette, plan: YearPlan, corner: Corner, cursor: date | None
) -> None:
    """The levels under the cursor; where the year has others too, with the days for which they are."""
    grid, left, top = corner
    at = cursor or date(*plan.months[-1], 1)
    found = days_of_key(sheet.scales, grid, days_of_year(at.year), at)
    head, look = (_span_text(*found), palette.accent) if found else ("the key", palette.quiet)
    drawing.picture.put(left + plan.key_x, top + 2, head, look)
    scale = sheet.scales.on(grid, at)
    draw_key(drawing, palette, scale, left + plan.key_x, top + HEAD, plan.key)
    others = on_other_levels(sheet, grid, each_day(*found) if found else days_of_year(at.year))
    if others:
        row = top + HEAD + plan.key.rows(len(scale.levels))
        drawing.picture.put(left + plan.key_x, row, f"{others} on other", palette.accent)
        drawing.picture.put(left + plan.key_x, row + 1, "levels", palette.accent)


def _span_text(first: date, last: date) -> str:
    """Days of a year in the width of a key: `to 26 Nov`, `27 Nov on`; `from 5 Mar` where others follow."""
    if (first.month, first.day) == (1, 1):
        return f"to {last.day} {MONTHS[last.month - 1][:3]}"
    begin = f"{first.day} {MONTHS[first.month - 1][:3]}"
    return f"{begin} on" if (last.month, last.day) == (12, 31) else f"from {begin}"


def _draw_strip(
    picture: Picture,
    sheet: Sheet,
    palette: Palette,
    plan: YearPlan,
    corner: tuple[int, int],
    cursor: date,
    strip: Strip,
    latitude: int | None,
) -> None:
    left, top = corner
    if strip == "shifts":
        picture.put(left + 1, top + 1, f"{MONTHS[cursor.month - 1][:3]}", palette.quiet)
        for day in days_of_month(cursor.year, cursor.month):
            picture.put(plan.mark_x(left, day.day), top + 1, sheet.shift_letter(day), palette.text)
    elif latitude is not None:
        picture.put(left + 1, top + 1, "sun", palette.quiet)
        for month in range(1, 13):
            light = clock_text(hours_of_light(date(cursor.year, month, 15), latitude))
            x = left + MARGIN + (month - 1) * (plan.cell + 4)
            picture.put(x, top, MONTHS[month - 1][:3], palette.quiet)
            picture.put(x, top + 1, light, palette.text)
