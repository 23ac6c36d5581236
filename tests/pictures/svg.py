"""A screen of a terminal as SVG: a cell a letter, blocks drawn as blocks, with whatever font is there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple
from xml.sax.saxutils import escape

WIDTH, HEIGHT, SIZE = 9, 20, 15
"""Of a cell and of its letters, in pixels."""
BASELINE = 15
BLOCKS = {
    "█": (0, 0, 8, 8),
    "▀": (0, 0, 8, 4),
    "▄": (0, 4, 8, 4),
    "▌": (0, 0, 4, 8),
    "▐": (4, 0, 4, 8),
    "▖": (0, 4, 4, 4),
    **{bar: (0, 8 - eighths, 8, eighths) for eighths, bar in enumerate("▁▂▃▄▅▆▇", start=1)},
}
"""Left, top, width and height of a block in eighths of a cell, as terminals draw them themselves."""


class Piece(NamedTuple):
    """Text in one style."""

    text: str
    fg: str
    bg: str
    bold: bool = False


def svg_of(rows: Sequence[Sequence[Piece]], cells: int, ground: str) -> str:
    """Rows of a screen so many cells wide."""
    width, height = cells * WIDTH, len(rows) * HEIGHT
    parts = [part for y, row in enumerate(rows) for part in _row(row, y)]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
            f'viewBox="0 0 {width} {height}" font-family="monospace" font-size="{SIZE}">',
            f'<rect width="{width}" height="{height}" fill="{ground}"/>',
            *parts,
            "</svg>\n",
        ]
    )


def _row(row: Sequence[Piece], y: int) -> Iterator[str]:
    from tracker.cells import letters_of, text_width

    x = 0
    for piece in row:
        yield _rect(x, y, (0, 0, 8 * text_width(piece.text), 8), piece.bg)
        for letter, cells in letters_of(piece.text):
            if letter in BLOCKS:
                yield _rect(x, y, BLOCKS[letter], piece.fg)
            elif letter.strip():
                weight = ' font-weight="bold"' if piece.bold else ""
                yield (
                    f'<text x="{x * WIDTH}" y="{y * HEIGHT + BASELINE}" fill="{piece.fg}"{weight}>'
                    f"{escape(letter)}</text>"
                )
            x += cells


def _rect(x: int, y: int, eighths: tuple[int, int, int, int], fill: str) -> str:
    left, top, width, height = eighths
    return (
        f'<rect x="{x * WIDTH + left * WIDTH / 8:g}" y="{y * HEIGHT + top * HEIGHT / 8:g}" '
        f'width="{width * WIDTH / 8:g}" height="{height * HEIGHT / 8:g}" fill="{fill}" '
        'shape-rendering="crispEdges"/>'
    )
