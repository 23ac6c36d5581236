"""What stands beside a month where there is room: its days counted by level, and what she wrote."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tracker.cells import wrapped
from tracker.diary.months import days_of_month
from tracker.diary.scales import GRIDS, Grid
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.drawing import draw_bar, key_swatch
from tracker.grids.month_counts import DayCounts, count_month, low_words, short_words
from tracker.grids.month_view import MonthView
from tracker.grids.palette import Palette
from tracker.grids.squares import GridData

SWATCH = 3
BAR_X = SWATCH + 4


def draw_panel(canvas: Canvas, grid_data: GridData, palette: Palette, view: MonthView, rect: Rect) -> None:
    """Days by level with bars, four counts, then notes and changes by day, in the cells of a rect."""
    counts = count_month(grid_data, view.year, view.month)
    panel = Canvas(rect.width, rect.height, palette.text)
    y = _draw_levels(panel, grid_data, palette, view)
    if counts is not None:
        y = _draw_counts(panel, grid_data, palette, view, counts, y)
    _draw_written(panel, grid_data, palette, view, y)
    canvas.lay(panel, rect.x, rect.y)


def _draw_levels(panel: Canvas, grid_data: GridData, palette: Palette, view: MonthView) -> int:
    """How many days each level was kept on, the highest level first; gives the row behind."""
    panel.put(0, 0, "Counted", palette.title)
    days, y = days_of_month(view.year, view.month), 1
    found = {
        grid: Counter(level.id for day in days if (level := grid_data.level(SquareKey(day, grid))))
        for grid in GRIDS
    }
    most = max((count for counter in found.values() for count in counter.values()), default=1)
    for grid in GRIDS:
        y = _draw_grid(panel, grid_data, palette, grid, found[grid], most, view, y) + 1
    return y


def _draw_grid(
    panel: Canvas,
    grid_data: GridData,
    palette: Palette,
    grid: Grid,
    found: Counter[str],
    most: int,
    view: MonthView,
    y: int,
) -> int:
    scale = grid_data.scales.on(grid, view.day)
    for place, level in reversed(list(enumerate(scale.levels))):
        panel.lay(key_swatch(palette, scale, level, SWATCH), 0, y)
        number = found[level.id]
        panel.put_right(SWATCH + 3, y, str(number), palette.text if number else palette.quiet)
        fill = palette.fill(grid, place, len(scale.levels)).ground
        draw_bar(panel, palette, BAR_X, y, number / most, panel.width - BAR_X - 1, fill)
        y += 1
    return y


def _draw_counts(
    panel: Canvas, grid_data: GridData, palette: Palette, view: MonthView, counts: DayCounts, y: int
) -> int:
    rows = (
        (low_words(grid_data, view.day, panel.width - 9), counts.low),
        (short_words(grid_data), counts.short),
        ("anxious", counts.anxious),
        ("night shifts", counts.nights),
    )
    for name, count in rows:
        panel.put(0, y, name, palette.quiet)
        panel.put_right(panel.width, y, str(count), palette.text)
        y += 1
    return y + 1


def _draw_written(panel: Canvas, grid_data: GridData, palette: Palette, view: MonthView, y: int) -> None:
    """Notes and changes by day, as many as have room; dots say that there are more."""
    lines = list(_written(grid_data, palette, view, panel.width - 4))
    room = panel.height - y - 1
    if not lines or room < 1:
        return
    panel.put(0, y, "Written", palette.title)
    shown = lines if len(lines) <= room else lines[: room - 1]
    for at, (number, text, is_change) in enumerate(shown, start=y + 1):
        panel.put(0, at, number, palette.quiet)
        panel.put(4, at, text, palette.warning if is_change else palette.text)
    if len(lines) > room:
        panel.put(4, panel.height - 1, "...", palette.quiet)


def _written(
    grid_data: GridData, palette: Palette, view: MonthView, width: int
) -> Iterator[tuple[str, str, bool]]:
    """Lines of what was written: the day's number, the text, and whether it is a change."""
    for day in days_of_month(view.year, view.month):
        change = grid_data.changes.get(day)
        texts = [(f"{palette.signs.down} {change}", True)] if change else []
        if grid_data.has_note(day):
            texts.append((grid_data.day(day).note_text, False))
        number = f"{day.day:2}"
        for text, is_change in texts:
            for line in wrapped(text, width):
                yield number, line, is_change
                number = ""
