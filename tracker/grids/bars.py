"""Pictures for findings: a bar a lag with its interval, and how many days fell on each level.

Plain numbers in, a picture out; nothing here computes a finding.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.cells import cut, text_width
from tracker.diary.scales import Scale
from tracker.grids.canvas import Canvas, CellStyle
from tracker.grids.palette import Palette

SMALLEST = "smallest effect that could be shown"
LEAST_SCALE = 0.4
"""The axis reaches at least so far on both sides, so that small effects look small."""


class Bar(NamedTuple):
    """One effect with its interval, as it is drawn."""

    label: str
    """What is compared, in words."""
    effect: float | None
    """-1 to 1; None where it cannot be computed."""
    low: float | None = None
    high: float | None = None
    smallest: float | None = None
    """The smallest effect that could have been shown, on both sides of nought."""
    shown: bool = False
    """Whether the finding is shown."""


def draw_bars(bars: Sequence[Bar], palette: Palette, width: int, label_width: int = 24) -> Canvas:
    """A row a bar, nought in the middle of one common axis, and under it what the signs mean.

    The effect is ``●`` (``o`` in ASCII), the interval a line of ``─``, the smallest effect that could have
    been shown ``┊`` on both sides; a shown finding is bold, has a star, and its line is drawn heavy.
    """
    label_width = min(label_width, max(width // 3, 8))
    explained = _meanings(_signs(palette), width)
    canvas = Canvas(width, len(bars) + 1 + len(explained), palette.text)
    axis = _Axis(label_width + 2, width - 2, _reach(bars))
    for row, bar in enumerate(bars):
        name = palette.title if bar.shown else palette.quiet
        canvas.put(0, row, cut(bar.label, label_width), name)
        _draw_bar(canvas, palette, bar, row, axis)
    _draw_axis(canvas, palette, len(bars), axis)
    for row, line in enumerate(explained, start=len(bars) + 1):
        canvas.put(0, row, line, palette.quiet)
    return canvas


class _Axis(NamedTuple):
    left: int
    right: int
    reach: float

    def column(self, value: float) -> int:
        """The column of a value; what lies beyond the axis stands at its end."""
        share = (max(-self.reach, min(self.reach, value)) / self.reach + 1) / 2
        return self.left + round(share * (self.right - self.left))


class _Signs(NamedTuple):
    effect: str
    line: str
    heavy: str
    smallest: str
    nought: str


def _signs(palette: Palette) -> _Signs:
    if palette.marks == "ascii":
        return _Signs("o", "-", "=", ":", "|")
    return _Signs("●", "─", "━", "┊", "│")


def _reach(bars: Sequence[Bar]) -> float:
    values = [
        abs(value)
        for bar in bars
        for value in (bar.effect, bar.low, bar.high, bar.smallest)
        if value is not None
    ]
    return min(max([LEAST_SCALE, *values]), 1.0)


def _draw_bar(canvas: Canvas, palette: Palette, bar: Bar, row: int, axis: _Axis) -> None:
    signs = _signs(palette)
    style = palette.focused if bar.shown else palette.text
    if bar.low is not None and bar.high is not None:
        first, last = axis.column(bar.low), axis.column(bar.high)
        canvas.put(first, row, (signs.heavy if bar.shown else signs.line) * (last - first + 1), style)
    canvas.put(axis.column(0), row, signs.nought, palette.faint)
    if bar.smallest is not None:
        for side in (-1, 1):
            canvas.put(axis.column(side * bar.smallest), row, signs.smallest, palette.quiet)
    if bar.effect is None:
        canvas.put(axis.column(0) + 2, row, "too little kept", palette.quiet)
    else:
        canvas.put(axis.column(bar.effect), row, signs.effect, style)
    if bar.shown:
        canvas.put(axis.right + 1, row, "*", style)


def _draw_axis(canvas: Canvas, palette: Palette, row: int, axis: _Axis) -> None:
    for value, text in ((-axis.reach, f"{-axis.reach:.1f}"), (0.0, "0"), (axis.reach, f"{axis.reach:.1f}")):
        canvas.put(axis.column(value) - len(text) // 2, row, text, palette.quiet)


def _meanings(signs: _Signs, width: int) -> list[str]:
    """What the signs mean, in as many rows as it takes."""
    listed = (
        f"{signs.effect} effect",
        f"{signs.line} 95 % interval",
        f"{signs.smallest} {SMALLEST}",
        "* shown",
    )
    rows = [""]
    for meaning in listed:
        together = f"{rows[-1]}  {meaning}" if rows[-1] else meaning
        if text_width(together) <= width:
            rows[-1] = together
        else:
            rows.append(cut(meaning, width))
    return rows


class Spread(NamedTuple):
    """How many days of a group fell on each level."""

    label: str
    counts: tuple[int, ...]
    """Days at each level, lowest first."""
    days: int
    """Days of the group; those beyond the counts were not kept."""


def draw_spreads(spreads: Sequence[Spread], scale: Scale, palette: Palette, width: int) -> Canvas:
    """A row a group: marks side by side, as many as the level's share of the kept days, lowest first.

    Behind the marks stand the kept days and the days of the group. A group of which under half is kept
    has a question mark.
    """
    label_width = max((text_width(spread.label) for spread in spreads), default=0)
    canvas = Canvas(width, len(spreads), palette.text)
    room = width - label_width - 16
    for row, spread in enumerate(spreads):
        canvas.put(0, row, spread.label, palette.quiet)
        kept = sum(spread.counts)
        x = label_width + 1
        for place, cells in enumerate(shares(spread.counts, room)):
            style = palette.style(palette.fill(scale.grid, place, len(scale.levels)))
            x = canvas.put(x, row, palette.mark(scale, scale.levels[place]) * cells, style)
        few = " ?" if kept * 2 < spread.days else ""
        canvas.put(label_width + room + 2, row, f"{kept} of {spread.days}{few}", _count_look(palette, few))
    return canvas


def _count_look(palette: Palette, few: str) -> CellStyle:
    return palette.text if few else palette.quiet


def shares(counts: Sequence[int], cells: int) -> list[int]:
    """Cells shared out in proportion to counts, by largest remainders; none where nothing was counted.

    A level that was kept at all gets at least one cell where there are enough.
    """
    total = sum(counts)
    if not total or cells <= 0:
        return [0] * len(counts)
    exact = [count * cells / total for count in counts]
    given = [max(int(share), 1 if count else 0) for share, count in zip(exact, counts, strict=True)]
    while sum(given) > cells and max(given) > 1:
        given[given.index(max(given))] -= 1
    order = sorted(range(len(counts)), key=lambda at: given[at] - exact[at])
    for at in order[: max(cells - sum(given), 0)]:
        given[at] += 1
    return given
