"""The links of mood and sleep, lag by lag: an effect with its interval a row, in groups that share an axis.

Plain numbers in, a picture out; nothing here computes a finding.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.cells import text_width, wrapped
from tracker.grids.canvas import Canvas, beside, piled, text_canvas
from tracker.grids.drawing import Piece, pieces_width, put_pieces
from tracker.grids.link_blocks import GAP, SIDE_BY_SIDE_FROM
from tracker.grids.palette import Palette

LEAST_SCALE = 0.4
"""The axis reaches at least so far on both sides, so that small effects look small."""
NO_EFFECT = "too little kept"
MISSED = "a link inside could be missed"


class LagBar(NamedTuple):
    """One effect with its interval."""

    label: str
    """What is set beside the day, in words."""
    effect: float | None
    """-1 to 1; None where it cannot be computed."""
    low: float | None = None
    high: float | None = None
    smallest: float | None = None
    """The smallest effect that could have been shown, on both sides of nought."""
    shown: bool = False
    """Whether the finding is shown."""


class LagGroup(NamedTuple):
    """The effects on one side of a day."""

    head: str
    notes: tuple[str, ...]
    """On how many pairs it rests; then the same in fewer cells. Empty: nothing."""
    bars: tuple[LagBar, ...]


class _Signs(NamedTuple):
    effect: str
    line: str
    heavy: str
    smallest: str
    nought: str
    crossing: str
    """Nought within an interval, which it must not break."""
    heavy_crossing: str


UNICODE = _Signs("●", "─", "━", "┊", "│", "┼", "┿")
ASCII = _Signs("o", "-", "=", ":", "|", "+", "+")


class _Axis(NamedTuple):
    left: int
    right: int
    reach: float

    def column(self, value: float) -> int:
        """The column of a value."""
        share = (value / self.reach + 1) / 2
        return self.left + round(share * (self.right - self.left))

    def columns(self, low: float, high: float) -> range:
        """The columns from one value to another."""
        return range(self.column(low), self.column(high) + 1)


def draw_lags(
    groups: Sequence[LagGroup], direction: str, palette: Palette, width: int, gap: int = 0
) -> Canvas:
    """Groups side by side where there is room, else under one another, and what their signs mean.

    Nought is a line through every row. The stretch in which an effect could have been missed is a tile, or
    lies between two ``┊`` where there is no colour for it; a shown interval is drawn heavy.

    Parameters
    ----------
    direction : str
        What it means that an effect lies to the right.
    gap : int
        Blank rows between groups under one another.
    """
    bars = [bar for group in groups for bar in group.bars]
    across = (width - GAP) // 2 if width >= SIDE_BY_SIDE_FROM else width
    axis = _Axis(max(text_width(bar.label) for bar in bars) + 2, across - 2, _reach(bars))
    parts = [_group(group, palette, across, axis) for group in groups]
    scale, blank = _scale(axis, palette, across), Canvas(across, gap, palette.text)
    if across < width:
        scaled = [piled([part, scale], across, palette.text) for part in parts]
        drawn = [beside(scaled, GAP, palette.text)]
    else:
        drawn = [*[part for group in parts for part in (blank, group)][1:], scale]
    return piled([*drawn, _meanings(bars, direction, palette, width)], width, palette.text)


def _reach(bars: Sequence[LagBar]) -> float:
    values = (value for bar in bars for value in (bar.effect, bar.low, bar.high, bar.smallest))
    return max([LEAST_SCALE, *(abs(value) for value in values if value is not None)])


def _group(group: LagGroup, palette: Palette, width: int, axis: _Axis) -> Canvas:
    rows = Canvas(width, len(group.bars), palette.text)
    for y, bar in enumerate(group.bars):
        rows.put(0, y, bar.label, palette.focused if bar.shown else palette.quiet)
        _draw_bar(rows, y, bar, axis, palette)
    return piled([_head(group, palette, width), rows], width, palette.text)


def _scale(axis: _Axis, palette: Palette, width: int) -> Canvas:
    row, end = Canvas(width, 1, palette.text), f"{axis.reach:.1f}"
    for value, text in ((-axis.reach, f"-{end}"), (0.0, "0"), (axis.reach, f"+{end}")):
        row.put(axis.column(value) - len(text) // 2, 0, text, palette.quiet)
    return row


def _head(group: LagGroup, palette: Palette, width: int) -> Canvas:
    """The head, and behind it what it rests on; under it where there is no room."""
    x = text_width(group.head) + 3
    behind = next((note for note in group.notes if x + text_width(note) <= width), "")
    below = wrapped(group.notes[-1], width) if group.notes and not behind else []
    canvas = piled(
        [text_canvas([group.head], width, palette.title), text_canvas(below, width, palette.quiet)],
        width,
        palette.text,
    )
    canvas.put(x, 0, behind, palette.quiet)
    return canvas


def _draw_bar(canvas: Canvas, y: int, bar: LagBar, axis: _Axis, palette: Palette) -> None:
    signs, zero = _signs(palette), axis.column(0.0)
    missed = range(0) if bar.smallest is None else axis.columns(-bar.smallest, bar.smallest)
    line = range(0) if bar.low is None or bar.high is None else axis.columns(bar.low, bar.high)
    ends = () if _has_tile(palette) or not missed else (missed[0], missed[-1])
    drawn = palette.focused if bar.shown else palette.text
    for x in range(axis.left, axis.right + 1):
        if bar.effect is not None and x == axis.column(bar.effect):
            sign, style = signs.effect, drawn
        elif x in line:
            sign, style = _of_line(signs, crossing=x == zero, heavy=bar.shown), drawn
        elif x == zero:
            sign, style = signs.nought, palette.quiet
        else:
            sign, style = signs.smallest if x in ends else " ", palette.quiet
        canvas.put(x, y, sign, style._replace(bg=palette.panel) if x in missed else style)
    if bar.effect is None:
        canvas.put(zero + 2, y, NO_EFFECT, palette.quiet)


def _of_line(signs: _Signs, *, crossing: bool, heavy: bool) -> str:
    if crossing:
        return signs.heavy_crossing if heavy else signs.crossing
    return signs.heavy if heavy else signs.line


def _signs(palette: Palette) -> _Signs:
    return ASCII if palette.marks == "ascii" else UNICODE


def _has_tile(palette: Palette) -> bool:
    return palette.panel != palette.text.bg


def _meanings(bars: Sequence[LagBar], direction: str, palette: Palette, width: int) -> Canvas:
    """What the signs mean that are there, in as many rows as it takes."""
    signs, quiet = _signs(palette), palette.quiet
    line = signs.heavy + signs.effect + signs.heavy
    listed: list[tuple[list[Piece], str]] = [
        ([(signs.effect, palette.text)], "link"), ([(signs.line * 2, palette.text)], "95 % interval"),
    ]  # fmt: skip
    if any(bar.smallest is not None for bar in bars):
        ends = "    " if _has_tile(palette) else f"{signs.smallest}  {signs.smallest}"
        listed.append(([(ends, quiet._replace(bg=palette.panel))], MISSED))
    if any(bar.shown for bar in bars):
        listed.append(([(line, palette.focused)], "shown"))
    listed.append(([], direction))
    rows: list[list[Piece]] = [[]]
    for sign, meaning in listed:
        told = [*sign, (f" {meaning}" if sign else meaning, quiet)]
        if rows[-1] and pieces_width(rows[-1]) + 3 + pieces_width(told) > width:
            rows.append([])
        rows[-1] += [("   ", palette.text), *told] if rows[-1] else told
    canvas = Canvas(width, len(rows), palette.text)
    for y, row in enumerate(rows):
        put_pieces(canvas, 0, y, row)
    return canvas
