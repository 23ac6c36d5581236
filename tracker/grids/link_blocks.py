"""What is said of mood and sleep, on either side a block: verdict, sentence, and two counts with bars.

Plain values in, a picture out; nothing here judges or counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from tracker.cells import text_width, wrapped
from tracker.grids.canvas import Canvas, beside, piled, text_canvas
from tracker.grids.drawing import draw_bar
from tracker.grids.palette import Palette

SENTENCE_X = 11
"""Column of the sentences and counts; the verdict stands before it."""
GAP = 2
"""Cells between two blocks side by side."""
SIDE_BY_SIDE_FROM = 110
"""Cells from which the blocks stand side by side."""
VERDICT_BESIDE_FROM = 74
"""Cells from which a verdict stands beside its sentence where blocks lie under one another."""
BARS_FROM = 57
"""Cells from which counts have bars."""
INDENT = 2
LEAST_FULL = 0.5
"""The share of a full bar is at least so large, so that small shares look small."""


class CountBar(NamedTuple):
    """So many of so many days, and how its bar is filled."""

    label: str
    number: int
    of: int
    fill: str | None
    """None: in the colour of the text."""
    has_bar: bool


class Part(NamedTuple):
    """What is said of one outcome on one side."""

    verdict: str
    """Empty where nothing is judged."""
    sentence: str
    counts: tuple[CountBar, ...]


class Block(NamedTuple):
    """One side of the link."""

    head: str
    parts: tuple[Part, ...]


class _Columns(NamedTuple):
    """Where the counts stand, the same in every block."""

    label: int
    number: int
    of: int
    full: float
    """Share of days of a full bar."""
    left: int
    """Where labels begin; sentences too, behind their verdict, where that is far enough from the left."""


def draw_blocks(blocks: Sequence[Block], palette: Palette, width: int, gap: int = 0) -> Canvas:
    """Blocks side by side where there is room, else under one another; `gap` blank rows between parts."""
    columns = _columns([bar for block in blocks for part in block.parts for bar in part.counts], width)
    if width >= SIDE_BY_SIDE_FROM:
        across = (width - GAP * (len(blocks) - 1)) // len(blocks)
        return beside([_block(block, palette, across, columns, gap) for block in blocks], GAP, palette.text)
    between = Canvas(width, gap, palette.text)
    drawn = [part for block in blocks for part in (between, _block(block, palette, width, columns, gap))]
    return piled(drawn[1:], width, palette.text)


def _columns(bars: Sequence[CountBar], width: int) -> _Columns:
    widths = [(text_width(bar.label), len(f"{bar.number}"), len(f"{bar.of}")) for bar in bars]
    label, number, of = (max(column) for column in zip(*widths, strict=True))
    left = SENTENCE_X if width >= VERDICT_BESIDE_FROM else INDENT if width >= BARS_FROM else 0
    return _Columns(label, number, of, full_share(bars), left)


def full_share(bars: Iterable[CountBar]) -> float:
    """The share of a full bar: half of the days, or the next ten in a hundred above the largest share."""
    shares = [bar.number / bar.of for bar in bars if bar.has_bar]
    return max([LEAST_FULL, *(math.ceil(share * 10) / 10 for share in shares)])


def _block(block: Block, palette: Palette, width: int, columns: _Columns, gap: int) -> Canvas:
    head, between = text_canvas([block.head], width, palette.title), Canvas(width, gap, palette.text)
    draw = _part if columns.left else _narrow_part
    parts = [drawn for part in block.parts for drawn in (between, draw(part, palette, width, columns))]
    return piled([head, *parts[1:]], width, palette.text)


def draw_said(
    verdict: str, sentence: str, palette: Palette, width: int, column: int, *, stressed: bool = False
) -> Canvas:
    """A verdict and its sentence in a column behind it.

    Without a verdict, or where the column lies too far left, all but the first row stand in the column.

    Parameters
    ----------
    stressed : bool
        Whether the sentence of what is shown is bold too.
    """
    is_shown = verdict == "shown"
    verdict_style = palette.focused if is_shown else palette.text
    style = palette.title if is_shown and stressed else palette.text
    if verdict and column >= SENTENCE_X:
        named = text_canvas(_lines(verdict, column - 1), column, verdict_style)
        said = text_canvas(_lines(sentence, width - column), width - column, style)
        return beside([named, said], 0, palette.text)
    hanging = min(column, INDENT)
    rows = [(verdict, verdict_style)] if verdict else []
    rows += [(line, style) for line in _lines(sentence, width - hanging)]
    canvas = Canvas(width, len(rows), palette.text)
    for y, (line, look) in enumerate(rows):
        canvas.put(hanging if y else 0, y, line, look)
    return canvas


def _lines(text: str, width: int) -> list[str]:
    return wrapped(text, width) if text else []


def _part(part: Part, palette: Palette, width: int, columns: _Columns) -> Canvas:
    counts = Canvas(width, len(part.counts), palette.text)
    for y, bar in enumerate(part.counts):
        _count(counts, y, bar, palette, columns)
    said = draw_said(part.verdict, part.sentence, palette, width, columns.left, stressed=True)
    return piled([said, counts], width, palette.text)


def _count(canvas: Canvas, y: int, bar: CountBar, palette: Palette, columns: _Columns) -> None:
    canvas.put(columns.left, y, bar.label, palette.quiet)
    x = columns.left + columns.label + 2 + columns.number
    canvas.put_right(x, y, f"{bar.number}", palette.title)
    x = canvas.put(x, y, f" of {bar.of:>{columns.of}} ", palette.quiet)
    if bar.has_bar:
        share = bar.number / bar.of / columns.full
        draw_bar(canvas, palette, x, y, share, canvas.width - x, bar.fill)


def _narrow_part(part: Part, palette: Palette, width: int, columns: _Columns) -> Canvas:
    """The same with the counts before their labels, and no bars."""
    said = draw_said(part.verdict, part.sentence, palette, width, columns.left, stressed=True)
    counts = [_narrow_count(bar, palette, width, columns) for bar in part.counts]
    return piled([said, *counts], width, palette.text)


def _narrow_count(bar: CountBar, palette: Palette, width: int, columns: _Columns) -> Canvas:
    left = columns.number + len(" of ") + columns.of + 1
    label = text_canvas(wrapped(bar.label, width - left), width - left, palette.quiet)
    canvas = Canvas(width, label.height, palette.text)
    canvas.put_right(columns.number, 0, f"{bar.number}", palette.title)
    canvas.put(columns.number, 0, f" of {bar.of:>{columns.of}}", palette.quiet)
    canvas.lay(label, left, 0)
    return canvas
