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
