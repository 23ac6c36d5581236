"""How many days of a group fell on each level, as a picture.

Plain numbers in, a picture out; nothing here computes a finding.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.cells import text_width
from tracker.diary.scales import Scale
from tracker.grids.canvas import Canvas, CellStyle
from tracker.grids.palette import Palette

BEHIND, LEAST_MARKS, INDENT = 15, 8, 2
"""Cells of the counts behind the marks, and of the marks at least; where these begin in their own row."""


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
    has a question mark. Where there is little room, the marks stand under what the group is called.
    """
    begin = max((text_width(spread.label) for spread in spreads), default=0) + 1
    under = width - begin - BEHIND < LEAST_MARKS
    begin = INDENT if under else begin
    room = width - begin - BEHIND
    canvas = Canvas(width, len(spreads) * (1 + under), palette.text)
    for place, spread in enumerate(spreads):
        y = place * (1 + under)
        canvas.put(0, y, spread.label, palette.quiet)
        kept, x = sum(spread.counts), begin
        for level, cells in zip(scale.levels, shares(spread.counts, room), strict=True):
            style = palette.style(palette.fill(scale.grid, scale.levels.index(level), len(scale.levels)))
            x = canvas.put(x, y + under, palette.mark(scale, level) * cells, style)
        few = " ?" if kept * 2 < spread.days else ""
        told = f"{kept} of {spread.days}{few}"
        canvas.put(begin + room + 1, y + under, told, _count_look(palette, few))
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
