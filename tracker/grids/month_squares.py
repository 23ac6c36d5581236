"""A square of a month: the number of its day on the ground, and under it the fill with mark and shift."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.drawing import draw_texture
from tracker.grids.palette import Palette
from tracker.grids.squares import GridData, SquareStyle, square_style


class DayHead(NamedTuple):
    """What stands over a day's squares."""

    number: int
    is_today: bool
    has_note: bool
    has_change: bool


def day_head(grid_data: GridData, day: date) -> DayHead:
    """The number of a day with its signs."""
    is_today = day == grid_data.today
    return DayHead(day.day, is_today, grid_data.has_note(day), day in grid_data.changes)


@lru_cache(maxsize=512)
def head_canvas(palette: Palette, head: DayHead, width: int) -> Canvas:
    """The number row: the signs of today, a note and a change, in as many columns as there are."""
    canvas, signs = Canvas(width, 1, palette.text), palette.signs
    style = palette.accent._replace(bold=True) if head.is_today else palette.quiet
    canvas.put(0, 0, f"{head.number:2}", style)
    if head.has_note:
        canvas.put(3 if width > 5 else 2, 0, signs.note, palette.quiet)
    if head.is_today:
        canvas.put(2, 0, signs.today, palette.accent)
    if head.has_change:
        canvas.put(width - 1, 0, signs.down, palette.warning)
    return canvas


def fill_of(
    grid_data: GridData, palette: Palette, key: SquareKey, width: int, height: int, with_letter: bool = True
) -> Canvas:
    """The fill of a square with its mark, its shift and its exact hours."""
    hours = grid_data.day(key.day).hours if key.grid == "sleep" and not grid_data.hidden else None
    letter = grid_data.shift_letter(key.day) if with_letter else " "
    shown = f"{hours:g}" if hours is not None and height > 2 else ""
    return _fill(square_style(grid_data, palette, key), letter, shown, width, height)


@lru_cache(maxsize=1024)
def _fill(style: SquareStyle, letter: str, hours: str, width: int, height: int) -> Canvas:
    canvas = Canvas(width, height)
    draw_texture(canvas, style)
    x, y = mark_cell(Rect(0, 0, width, height))
    canvas.put(x, y, style.mark, style.style)
    if style.anxious.strip():
        canvas.put(x + 1, y, style.anxious, style.style)
    if letter.strip():
        canvas.put(0, height - 1, letter, style.plain)
    if len(hours) < width:
        canvas.put_right(width, height - 1, hours, style.plain)
    return canvas


def mark_cell(fill: Rect) -> tuple[int, int]:
    """Column and row of the mark in the fill of a square."""
    inset = 2 if fill.width == 4 else (fill.width - 1) // 2
    return fill.x + inset, fill.y + (fill.height - 1) // 2


def draw_bars(canvas: Canvas, palette: Palette, rect: Rect, signs: str) -> None:
    """A sign on either side of some rows, in the gaps between the squares."""
    for y in range(rect.y, rect.y + rect.height):
        canvas.put(rect.x - 1, y, signs[0], palette.focus)
        canvas.put(rect.x + rect.width, y, signs[1], palette.focus)
