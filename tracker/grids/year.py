"""The year: each day's mood above the sleep before it, or one grid, or two years compared.

Months are rows, days of the month columns. How large a day is drawn follows from the room there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal, NamedTuple

from tracker.cells import begun, text_width
from tracker.diary.dates import MONTHS
from tracker.diary.months import days_of_month, days_of_year
from tracker.diary.scales import GRIDS, Grid, other_grid
from tracker.grids.canvas import Canvas
from tracker.grids.daylight import clock_text, hours_of_light
from tracker.grids.descriptions import spoken_grid
from tracker.grids.drawing import (
    Drawing,
    Line,
    Piece,
    draw_title,
    fits_in_a_row,
    grid_title,
    key_in_a_row,
    levels_note,
    pieces_width,
    put_pieces,
    signs_line,
)
from tracker.grids.month_counts import count_month, low_words, short_words
from tracker.grids.palette import Palette
from tracker.grids.remembered import Remembered
from tracker.grids.rows_plan import TALL, WITH_SHIFTS, RowsPlan, stacked
from tracker.grids.squares import Focus, GridData
from tracker.grids.year_rows import draw_month_rows, month_squares
from tracker.words import counted

View = Literal["both", "one grid"]
Strip = Literal["", "shifts", "daylight"]
CELLS = ((200, 5), (160, 4), (120, 3), (80, 2))
"""Columns, and the cells of a day from there on; under 80 columns a day has one."""
ROOM_FOR_NAME = 120
"""Columns from which it is said beside one grid what its sleep is."""
YearMonth = tuple[int, int]


class YearView(NamedTuple):
    """What of a year is looked at."""

    year: int
    view: View = "both"
    grid: Grid = "mood"
    """The grid that stands where there is room for one."""
    cursor: date | None = None
    focus: Focus = ""
    """Where keys go."""
    strip: Strip = ""
    """What the two rows under one grid show: the shifts of the cursor's month, or the daylight."""
    is_compared: bool = False
    """Whether the year before stands above this one, month by month; only with one grid."""
    latitude: int | None = None
    """Whole degrees, south negative; without it there is no daylight to show."""
    aside: str = ""
    """What is said behind the title."""
    tab: str = "Tab"
    """How the key is written that goes to the other grid."""

    @property
    def years(self) -> tuple[int, ...]:
        """The years that are drawn."""
        return (self.year - 1, self.year) if self.is_compared else (self.year,)

    @property
    def day(self) -> date:
        """The day whose levels the key shows."""
        return self.cursor or date(self.year, 12, 31)


def draw_year(grid_data: GridData, palette: Palette, view: YearView, width: int, height: int) -> Drawing:
    """A year in so many cells, with the places of its squares."""
    drawing = Drawing(Canvas(width, height, palette.text))
    if view.view == "both" and not view.is_compared:
        y = _draw_both(drawing, grid_data, palette, view)
        grids: tuple[Grid, ...] = GRIDS
    else:
        grids, y = _draw_one(drawing, grid_data, palette, view)
    _draw_lines_below(drawing.canvas, grid_data, palette, view, grids, y)
    return drawing


def _cell(width: int) -> int:
    return next((cell for least, cell in CELLS if width >= least), 1)


def _in_reach(months: Sequence[YearMonth], room: int, at: date) -> Sequence[YearMonth]:
    """As many of the months as have room, with that of a day among them."""
    if room >= len(months):
        return months
    here = months.index((at.year, at.month)) if (at.year, at.month) in months else 0
    first = min(max(here - room // 2, 0), len(months) - room)
    return months[first : first + max(room, 1)]


def _with_changes(grid_data: GridData, years: Iterable[int]) -> set[YearMonth]:
    return {(day.year, day.month) for day in grid_data.changes if day.year in years}


# --- mood above sleep ------------------------------------------------------------------------------------


def _draw_both(drawing: Drawing, grid_data: GridData, palette: Palette, view: YearView) -> int:
    """Both grids in one; gives the row under their keys."""
    width, height = drawing.canvas.width, drawing.canvas.height
    cell = _cell(width)
    keys = 1 if cell == CELLS[0][1] else 2
    room = height - 1 - keys
    lines = _lines_of_both(cell, room)
    months = _in_reach([(view.year, month) for month in range(1, 13)], (room - 1) // lines, view.day)
    left_for_signs = room > 1 + lines * len(months)
    rows = stacked(months, lines, room - left_for_signs, _with_changes(grid_data, view.years), lines < TALL)
    plan = RowsPlan(GRIDS, cell, lines, rows, width)
    _draw_title_of_both(drawing.canvas, grid_data, palette, view)
    drawing.canvas.lay(draw_month_rows(grid_data, palette, plan, view.cursor), 0, 1)
    drawing.squares |= month_squares(plan, 0, 1)
    y = plan.height + 1 + (lines == TALL and height > plan.height + keys + 5)
    if plan.is_fused and not palette.has_halves:
        lines_of_shapes = _shapes_key(grid_data, palette, view.day, width - 2)
        for at, line in enumerate(lines_of_shapes[:keys]):
            put_pieces(drawing.canvas, 1, y + at, line)
        return y + keys
    _draw_keys_of_both(drawing, grid_data, palette, view, y, keys)
    return y + keys


def _lines_of_both(cell: int, room: int) -> int:
    """Rows of a month, as many as have room under the row of day numbers."""
    fits = ((TALL, 4, 50), (WITH_SHIFTS, 3, 42), (2, 2, 26), (1, 1, 0))
    return next(lines for lines, least, rows in fits if cell >= least and room >= rows)


def _draw_title_of_both(canvas: Canvas, grid_data: GridData, palette: Palette, view: YearView) -> None:
    mood, sleep = (palette.focused if view.focus == grid else palette.title for grid in GRIDS)
    title = [(f"{view.year}", palette.title), ("  ", palette.title), ("Mood above", mood)]
    (mood_kept, sleep_kept), possible = kept_in_year(grid_data, view.year)
    text = f"mood {mood_kept}, sleep {sleep_kept} of {counted(possible, 'day')}" if possible else ""
    right = [f"kept: {text}", text] if text else []
    draw_title(canvas, palette, [*title, (", ", palette.title), ("sleep below", sleep)], view.aside, right)


def _draw_keys_of_both(
    drawing: Drawing, grid_data: GridData, palette: Palette, view: YearView, y: int, rows: int
) -> None:
    width = drawing.canvas.width - 2
    first = 71 if rows == 1 else width
    places = ((1, y, first), (1, y + 1, first) if rows > 1 else (1 + first, y, width - first))
    keys = [(grid_data.scales.on(grid, view.day), *place) for grid, place in zip(GRIDS, places, strict=True)]
    as_run = not all(fits_in_a_row(scale, room) for scale, _, _, room in keys)
    for scale, x, row, room in keys:
        drawing.lay(key_in_a_row(palette, scale, room, as_run), x, row)


def _shapes_key(grid_data: GridData, palette: Palette, day: date, width: int) -> list[Line]:
    """What the shapes mean that stand for both squares of a day where there are no colours."""
    signs, short = palette.signs, short_words(grid_data, 9 if width > 50 else 4)
    named = [
        (signs.low, low_words(grid_data, day, max(width - 50, 3))),
        (signs.short, short),
        (signs.low_and_short, "both"),
        (signs.neither, "kept, neither" if width > 50 else "neither"),
    ]
    shapes: list[Piece] = []
    for shape, meaning in named:
        gap = "  " if shapes else ""
        shapes += [(f"{gap}{shape * 2}", palette.text), (f" {meaning}", palette.quiet)]
    opened = begun("under the cursor: the level of mood, the hours of sleep", width)
    return [shapes, [(opened, palette.quiet)] if _cell(width + 2) > 1 else []]


# --- one grid --------------------------------------------------------------------------------------------


def _draw_one(
    drawing: Drawing, grid_data: GridData, palette: Palette, view: YearView
) -> tuple[tuple[Grid, ...], int]:
    """One grid, or both one above the other where there is room; gives which, and the row under them."""
    height = drawing.canvas.height - 2 * bool(view.strip)
    months = _months_of_one(view, height)
    grids: tuple[Grid, ...] = GRIDS if height >= 2 * (3 + len(months)) + 2 else (view.grid,)
    cell = _cell(drawing.canvas.width)
    lines = 2 if cell > 3 and height >= len(grids) * (3 + 2 * len(months)) else 1
    spare = height - len(grids) * (3 + lines * len(months)) - 1
    y = 0
    for at, grid in enumerate(grids):
        changes = set() if view.is_compared else _with_changes(grid_data, view.years)
        room = 1 + lines * len(months) + max(spare, 0)
        plan = RowsPlan((grid,), cell, lines, stacked(months, lines, room, changes), drawing.canvas.width)
        _draw_band(drawing, grid_data, palette, view, plan, y, is_alone=len(grids) == 1)
        spare -= plan.height - 1 - lines * len(months)
        y += plan.height + 2
        if at < len(grids) - 1 and spare > 0:
            y, spare = y + 1, spare - 1
    _draw_strip(drawing.canvas, grid_data, palette, view, cell, y)
    return grids, y + 2 * bool(view.strip)


def _months_of_one(view: YearView, height: int) -> Sequence[YearMonth]:
    """As many months as have room, each in every year that is drawn."""
    shown = _in_reach(
        [(view.year, month) for month in range(1, 13)], (height - 3) // len(view.years), view.day
    )
    return [(year, month) for _, month in shown for year in view.years]


def _draw_band(
    drawing: Drawing,
    grid_data: GridData,
    palette: Palette,
    view: YearView,
    plan: RowsPlan,
    y: int,
    is_alone: bool,
) -> None:
    """One grid with its title and its key."""
    (grid,) = plan.grids
    is_focused = grid == view.focus or (is_alone and bool(view.focus))
    canvas = Canvas(plan.width, 1, palette.text)
    title: list[Piece] = [(f"{' above '.join(map(str, view.years))}  ", palette.title)]
    if view.focus and not is_alone:
        title.append((palette.signs.right if is_focused else " ", palette.focus))
    name = grid_title(palette, grid, is_focused, each_day=not view.is_compared)
    has_room = plan.width >= ROOM_FOR_NAME or not (is_alone and view.focus)
    title += [(" ", palette.title), *(name if has_room else name[:1])]
    if is_alone and view.focus:
        title.append((f" ({view.tab}: {other_grid(grid)})", palette.quiet))
    draw_title(
        canvas, palette, title, view.aside if y == 0 else "", [kept_days(grid_data, grid, *view.years)]
    )
    drawing.canvas.lay(canvas, 0, y)
    drawing.canvas.lay(draw_month_rows(grid_data, palette, plan, view.cursor), 0, y + 1)
    drawing.squares |= month_squares(plan, 0, y + 1)
    key = key_in_a_row(palette, grid_data.scales.on(grid, view.day), plan.width - 2)
    drawing.lay(key, 1, y + 1 + plan.height)


def kept_days(grid_data: GridData, grid: Grid, *years: int) -> str:
    """On how many days of a year, or of each of two, a square is kept, of those that could be."""
    found = [kept_in_year(grid_data, year) for year in years]
    counts = [f"{kept[GRIDS.index(grid)]} of {possible}" for kept, possible in found if possible]
    return f"kept {', '.join(counts)} {'day' if counts[-1].endswith(' 1') else 'days'}" if counts else ""


def kept_in_year(grid_data: GridData, year: int) -> tuple[tuple[int, int], int]:
    """Days of a year with a mood and with a sleep, and those on which they could be kept."""
    months = [counts for month in range(1, 13) if (counts := count_month(grid_data, year, month))]
    mood, sleep = (sum(counts.kept_of(grid) for counts in months) for grid in GRIDS)
    return (mood, sleep), sum(counts.possible for counts in months)


def _draw_strip(
    canvas: Canvas, grid_data: GridData, palette: Palette, view: YearView, cell: int, y: int
) -> None:
    plan = RowsPlan((view.grid,), cell, 1, (), canvas.width)
    left = plan.margin - 4
    if view.strip == "shifts":
        canvas.put(left, y + 1, MONTHS[view.day.month - 1][:3], palette.quiet)
        for day in days_of_month(view.day.year, view.day.month):
            canvas.put(plan.mark_x(day.day), y + 1, grid_data.shift_letter(day), palette.text)
    elif view.strip == "daylight" and view.latitude is not None:
        _draw_daylight(canvas, palette, plan, view.year, view.latitude, y)


def _draw_daylight(
    canvas: Canvas, palette: Palette, plan: RowsPlan, year: int, latitude: int, y: int
) -> None:
    """The hours of daylight in the middle of each month."""
    step = max((plan.edge - plan.margin) // 12, 6)
    canvas.put(plan.margin - 4, y + 1, "sun", palette.quiet)
    for month in range(1, 13):
        x = plan.margin + (month - 1) * step
        if x + 5 <= canvas.width:
            canvas.put(x, y, MONTHS[month - 1][:3], palette.quiet)
            canvas.put(x, y + 1, clock_text(hours_of_light(date(year, month, 15), latitude)), palette.text)


# --- lines below -----------------------------------------------------------------------------------------


def _draw_lines_below(
    canvas: Canvas, grid_data: GridData, palette: Palette, view: YearView, grids: Sequence[Grid], y: int
) -> None:
    """For which days the key is, what the signs mean, and the year in words, as there is room."""
    width, days = canvas.width - 2, days_of_year(view.day.year)
    note = levels_note(grid_data, grids, days, view.day)
    lines: list[Line] = [[(begun(note, width), palette.accent)]] if note else []
    lines.append(signs_line(palette, width, over_a_year=True))
    if not view.strip and not grid_data.hidden and grid_data.waiting.first:
        words = [_year_in_words(grid_data, grid, view.day.year, width) for grid in grids]
        if all(words) and canvas.height - y > len(lines) + len(words):
            lines += [[], *([(text, palette.quiet)] for text in words)]
    for at, line in enumerate(lines):
        if pieces_width(line):
            put_pieces(canvas, 1, y + at, line)


_spoken = Remembered[str](most=8)


def _year_in_words(grid_data: GridData, grid: Grid, year: int, width: int) -> str:
    """A grid of a year in one row: as many of its parts as have room; empty where it would say too little."""
    days = days_of_year(year)
    said = _spoken.get((grid, year), grid_data.basis(days), lambda: spoken_grid(grid_data, grid, days))
    kept, *rest = said.removesuffix(".").split("; ")
    parts = [*kept.split(", ")[1:], *rest]  # how many are kept stands in the title
    forms = (f"{grid.capitalize()}: {'; '.join(parts[:end])}." for end in range(len(parts), 0, -1))
    return next((form for form in forms if text_width(form) <= width), "")
