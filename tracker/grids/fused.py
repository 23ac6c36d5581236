"""One day as one square: its mood above the sleep before it, in a single row of cells."""

from __future__ import annotations

from functools import lru_cache

from tracker.grids.canvas import Canvas, CellStyle
from tracker.grids.palette import Palette
from tracker.grids.squares import SquareStyle

HALF = "▀"


@lru_cache(maxsize=2048)
def fused_square(
    palette: Palette, mood: SquareStyle, sleep: SquareStyle, width: int, is_open: bool = False
) -> Canvas:
    """The two squares of a day in so many cells.

    Parameters
    ----------
    is_open
        Whether it is the cursor's day: its first cell is then the mood, its second the sleep.
    """
    canvas = Canvas(width, 1, palette.text)
    if palette.has_halves:
        _draw_halves(canvas, mood, sleep)
    else:
        _draw_shape(canvas, palette, mood, sleep)
    if is_open and width > 1:
        canvas.put(0, 0, mood.mark, mood.style)
        canvas.put(1, 0, sleep.mark, sleep.style)
        return canvas
    _draw_sign(canvas, palette, mood, sleep)
    if width > 1 and mood.anxious.strip():
        canvas.put(width - 1, 0, mood.anxious, mood.style if palette.has_halves else palette.text)
    return canvas


def _draw_halves(canvas: Canvas, mood: SquareStyle, sleep: SquareStyle) -> None:
    """The fills of both, each in its half of the cells; the ground shows where one has none."""
    above, below = mood.style.bg, sleep.style.bg
    if above == below:
        canvas.put(0, 0, " " * canvas.width, CellStyle(bg=below))
    elif above is None:
        canvas.put(0, 0, "▄" * canvas.width, CellStyle(below))
    else:
        canvas.put(0, 0, HALF * canvas.width, CellStyle(above, below))


def _draw_shape(canvas: Canvas, palette: Palette, mood: SquareStyle, sleep: SquareStyle) -> None:
    """Where there are no fills: whether the mood was low and the sleep short."""
    signs = palette.signs
    shape = {
        (True, True): signs.low_and_short,
        (True, False): signs.low,
        (False, True): signs.short,
    }.get((mood.is_counted, sleep.is_counted), signs.neither)
    if "kept" in (mood.state, sleep.state):
        canvas.put(0, 0, shape * canvas.width, palette.text)


def _draw_sign(canvas: Canvas, palette: Palette, mood: SquareStyle, sleep: SquareStyle) -> None:
    """What stands in the first cell where something was not kept, on the fill of the other half."""
    states = {mood.state, sleep.state}
    if "could not say" in states:
        other = next((half for half in (mood, sleep) if half.state == "kept"), None)
        style = other.style if other and palette.has_halves else palette.unsaid
        canvas.put(0, 0, palette.signs.unsaid, style._replace(reverse=False))
    elif states == {"waiting"}:
        canvas.put(0, 0, palette.signs.waiting, palette.waiting)
    elif states == {"in a break"}:
        canvas.put(0, 0, palette.signs.in_break, palette.quiet)
