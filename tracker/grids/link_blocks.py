"""What is said of mood and sleep, on either side a block: verdict, sentence, and two counts with bars.

Plain values in, a picture out; nothing here judges or counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from tracker.cells import text_width, wrapped
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.drawing import draw_bar
from tracker.grids.palette import Palette

COUNTS_NOTE = "Counts as they stand; verdicts allow for weekday, shift and slow change."
"""Explains a count that differs where nothing is shown; stands wherever the blocks do."""
SENTENCE_X = 11
"""Column of the sentences and counts; the verdict stands before it."""
GAP = 2
"""Cells between two blocks side by side."""
SIDE_BY_SIDE_FROM = 110
"""Cells from which the blocks stand side by side."""
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


def draw_blocks(blocks: Sequence[Block], palette: Palette, width: int) -> Canvas:
    """Blocks side by side where there is room, else under one another."""
    columns = _columns([bar for block in blocks for part in block.parts for bar in part.counts])
    if width >= SIDE_BY_SIDE_FROM:
        across = (width - GAP * (len(blocks) - 1)) // len(blocks)
        return _beside([_block(block, palette, across, columns) for block in blocks], palette, width)
    return piled([_block(block, palette, width, columns) for block in blocks], width, palette.text)


def _columns(bars: Sequence[CountBar]) -> _Columns:
    widths = [(text_width(bar.label), len(f"{bar.number}"), len(f"{bar.of}")) for bar in bars]
    label, number, of = (max(column) for column in zip(*widths, strict=True))
    return _Columns(label, number, of, full_share(bars))


def full_share(bars: Iterable[CountBar]) -> float:
    """The share of a full bar: half of the days, or the next ten in a hundred above the largest share."""
    shares = [bar.number / bar.of for bar in bars if bar.has_bar]
    return max([LEAST_FULL, *(math.ceil(share * 10) / 10 for share in shares)])


def _beside(drawn: Sequence[Canvas], palette: Palette, width: int) -> Canvas:
    canvas = Canvas(width, max(block.height for block in drawn), palette.text)
    for place, block in enumerate(drawn):
        canvas.lay(block, place * (block.width + GAP), 0)
    return canvas


def _block(block: Block, palette: Palette, width: int, columns: _Columns) -> Canvas:
    head = text_canvas([block.head], width, palette.title)
    parts = [_part(part, palette, width, columns) for part in block.parts]
    return piled([head, *parts], width, palette.text)


def _part(part: Part, palette: Palette, width: int, columns: _Columns) -> Canvas:
    is_shown = part.verdict == "shown"
    verdict = wrapped(part.verdict, SENTENCE_X - 1)
    sentence = wrapped(part.sentence, width - SENTENCE_X)
    first_count = max(len(verdict), len(sentence))
    canvas = Canvas(width, first_count + len(part.counts), palette.text)
    for y, line in enumerate(verdict):
        canvas.put(0, y, line, palette.focused if is_shown else palette.text)
    for y, line in enumerate(sentence):
        canvas.put(SENTENCE_X, y, line, palette.title if is_shown else palette.text)
    for y, bar in enumerate(part.counts, start=first_count):
        _count(canvas, y, bar, palette, columns)
    return canvas


def _count(canvas: Canvas, y: int, bar: CountBar, palette: Palette, columns: _Columns) -> None:
    canvas.put(SENTENCE_X, y, bar.label, palette.quiet)
    x = SENTENCE_X + columns.label + 2 + columns.number
    canvas.put_right(x, y, f"{bar.number}", palette.title)
    x = canvas.put(x, y, f" of {bar.of:>{columns.of}} ", palette.quiet)
    if bar.has_bar:
        share = bar.number / bar.of / columns.full
        draw_bar(canvas, palette, x, y, share, canvas.width - x, bar.fill)
