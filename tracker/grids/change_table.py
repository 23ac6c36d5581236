"""The days before and after dated changes, counted: a change and its rows under the names of what is counted.

Plain text in, a picture out; nothing here counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate
from typing import NamedTuple

from tracker.cells import text_width, wrapped
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.palette import Palette

WIDE_FROM = 76
"""Cells from which a change stands in one row, and its rows are named in full."""
GAPS = (3, 1)
"""Cells between columns; the fewer where there is little room."""
INDENT = 2

TableCell = tuple[str, str]
"""A number, which is bold, and what stands behind it."""


class TableRow(NamedTuple):
    """What was counted on one side of a change."""

    label: str
    cells: tuple[TableCell, ...]


class ChangeRows(NamedTuple):
    """A change, and what was counted around it."""

    day: str
    words: str
    rows: tuple[TableRow, ...]
    note: str
    """Why nothing is counted, or why it compares badly; empty: nothing of it."""


def draw_changes(
    names: Sequence[str], changes: Sequence[ChangeRows], palette: Palette, width: int
) -> tuple[Canvas, list[Canvas]]:
    """The names of what is counted, one above each column, and by itself each change with its rows."""
    ends = _ends(names, [row for change in changes for row in change.rows], width)
    head = Canvas(width, 1 if ends else 0, palette.text)
    for name, end in zip(names if ends else (), ends, strict=True):
        head.put_right(end, 0, name, palette.quiet)
    return head, [_change(change, ends, palette, width) for change in changes]


def _ends(names: Sequence[str], rows: Sequence[TableRow], width: int) -> list[int]:
    """The column behind each of the columns."""
    if not rows:
        return []
    label = INDENT + max(text_width(row.label) for row in rows)
    columns = zip(names, *(row.cells for row in rows), strict=True)
    widths = [_widest([(name, ""), *cells]) for name, *cells in columns]
    ends = [
        [label + cells + gap * place for place, cells in enumerate(accumulate(widths), 1)] for gap in GAPS
    ]
    return next((columns for columns in ends if columns[-1] <= width), ends[-1])


def _widest(cells: Iterable[TableCell]) -> int:
    return max(text_width("".join(cell)) for cell in cells)


def _change(change: ChangeRows, ends: Sequence[int], palette: Palette, width: int) -> Canvas:
    rows = Canvas(width, len(change.rows), palette.text)
    for y, row in enumerate(change.rows):
        rows.put(INDENT, y, row.label, palette.quiet)
        for (number, behind), end in zip(row.cells, ends, strict=True):
            rows.put_right(end, y, behind, palette.quiet)
            rows.put_right(end - text_width(behind), y, number, palette.title)
    note = wrapped(change.note, width - INDENT) if change.note else []
    said = [_title(change, palette, width), rows, _indented(text_canvas(note, width, palette.quiet), palette)]
    return piled(said, width, palette.text)


def _title(change: ChangeRows, palette: Palette, width: int) -> Canvas:
    """Its sign, its day, and her words; these in a row of their own where there is little room."""
    begin = f"{palette.signs.down} {change.day}"
    left, top = (text_width(begin) + 2, 0) if width >= WIDE_FROM else (INDENT, 1)
    named = text_canvas(wrapped(change.words, width - left), width - left, palette.title)
    title = Canvas(width, top + named.height, palette.text)
    title.put(0, 0, begin, palette.text)
    title.put(0, 0, palette.signs.down, palette.warning)
    title.lay(named, left, top)
    return title


def _indented(part: Canvas, palette: Palette) -> Canvas:
    canvas = Canvas(part.width, part.height, palette.text)
    canvas.lay(part, INDENT, 0)
    return canvas
