"""Pictures made of terminal cells: rows of runs of text, each with a look.

What is drawn here knows no screen library; a screen turns runs into strips, a command into styled text.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from tracker.cells import all_narrow, letters_of, text_width


class CellStyle(NamedTuple):
    """Colours and weight of a piece of text; None stands for the terminal's own colour."""

    fg: str | None = None
    bg: str | None = None
    bold: bool = False
    reverse: bool = False


PLAIN = CellStyle()


class StyledText(NamedTuple):
    """A piece of text in one look."""

    text: str
    style: CellStyle


CanvasRow = list[StyledText]


class Rect(NamedTuple):
    """A part of a picture, in cells from its top left corner."""

    x: int
    y: int
    width: int
    height: int

    def holds(self, x: int, y: int) -> bool:
        """Whether a cell lies in it."""
        return self.x <= x < self.x + self.width and self.y <= y < self.y + self.height

    def moved(self, x: int, y: int) -> Rect:
        """The same part, so many cells further right and down."""
        return self._replace(x=self.x + x, y=self.y + y)


CanvasCell = tuple[str, CellStyle]
"""A letter and its look; an empty text is the second half of the wide letter before it."""


class Canvas:
    """A board of cells to put text on; what would stand outside is cut off."""

    def __init__(self, width: int, height: int, style: CellStyle = PLAIN) -> None:
        self.width = width
        self.height = height
        self._cells: list[list[CanvasCell]] = [[(" ", style)] * width for _ in range(height)]

    def copy(self) -> Canvas:
        """The same once more, to draw on."""
        copied = Canvas(self.width, 0)
        copied.height, copied._cells = self.height, [list(row) for row in self._cells]
        return copied

    def part(self, rect: Rect) -> Canvas:
        """A part of it by itself."""
        part = Canvas(rect.width, 0)
        part.height = rect.height
        rows = self._cells[rect.y : rect.y + rect.height]
        part._cells = [row[rect.x : rect.x + rect.width] for row in rows]
        return part

    def put(self, x: int, y: int, text: str, style: CellStyle) -> int:
        """Put text at a cell and give the column behind it."""
        if all_narrow(text):
            cells = [(letter, style) for letter in text]
        else:
            cells = [
                cell for letter, wide in letters_of(text) for cell in ((letter, style), ("", style))[:wide]
            ]
        if 0 <= y < self.height and x >= 0:
            self._write(x, y, cells)
        return x + len(cells)

    def put_right(self, x: int, y: int, text: str, style: CellStyle) -> None:
        """Put text so that it ends before a column."""
        self.put(x - text_width(text), y, text, style)

    def lay(self, part: Canvas, x: int, y: int, skipped: int = 0) -> None:
        """Lay another picture on this one, without its first rows."""
        for row, cells in enumerate(part._cells[skipped : skipped + max(self.height - y, 0)], start=y):
            self._write(x, row, cells)

    def _write(self, x: int, y: int, cells: list[CanvasCell]) -> None:
        """Write over a part of a row. A wide letter of which only one half has room is not drawn."""
        room = max(self.width - x, 0)
        if len(cells) > room:
            cells = cells[: room if cells[room][0] else room - 1]
        if not cells:
            return
        line, end = self._cells[y], x + len(cells)
        if not line[x][0]:
            line[x - 1] = (" ", line[x - 1][1])
        if end < self.width and not line[end][0]:
            line[end] = (" ", line[end][1])
        line[x:end] = cells

    def on_ground(self, rows: range, ground: str | None) -> None:
        """Lay another ground under some rows."""
        for y in rows:
            self._cells[y] = [(letter, style._replace(bg=ground)) for letter, style in self._cells[y]]

    def style_at(self, x: int, y: int) -> CellStyle:
        """The look of a cell."""
        return self._cells[y][x][1]

    def text_at(self, x: int, y: int, width: int = 1) -> str:
        """The text of some cells of a row."""
        return "".join(letter for letter, _ in self._cells[y][x : x + width])

    def row(self, y: int) -> CanvasRow:
        """A row as runs, as long as the picture is wide."""
        alike = groupby(self._cells[y], key=lambda cell: cell[1])
        return [StyledText("".join(letter for letter, _ in cells), style) for style, cells in alike]

    def lines(self) -> list[str]:
        """The text alone, without blanks at the ends of lines."""
        return ["".join(letter for letter, _ in line).rstrip() for line in self._cells]

    def changes(self, before: Canvas) -> Iterator[Rect]:
        """Where this picture differs from one drawn before, a stretch of a row each."""
        if (self.width, self.height) != (before.width, before.height):
            yield Rect(0, 0, self.width, self.height)
            return
        for y, (new, old) in enumerate(zip(self._cells, before._cells, strict=True)):
            if new != old:
                yield from _stretches([x for x in range(self.width) if _differs(new, old, x)], y)


def _stretches(columns: list[int], y: int) -> Iterator[Rect]:
    for _, group in groupby(enumerate(columns), key=lambda pair: pair[1] - pair[0]):
        stretch = [x for _, x in group]
        yield Rect(stretch[0], y, len(stretch), 1)


def _differs(new: list[CanvasCell], old: list[CanvasCell], x: int) -> bool:
    """Whether a cell must be drawn again; both halves of a wide letter must if one has changed."""
    return new[x] != old[x] or (not new[x][0] and new[x - 1] != old[x - 1])


def text_canvas(lines: Sequence[str], width: int, style: CellStyle) -> Canvas:
    """Lines of text as a picture."""
    canvas = Canvas(width, len(lines), style)
    for y, line in enumerate(lines):
        canvas.put(0, y, line, style)
    return canvas


def piled(parts: Sequence[Canvas], width: int, style: CellStyle) -> Canvas:
    """Pictures under one another."""
    whole, y = Canvas(width, sum(part.height for part in parts), style), 0
    for part in parts:
        whole.lay(part, 0, y)
        y += part.height
    return whole


def beside(parts: Sequence[Canvas], gap: int, style: CellStyle) -> Canvas:
    """Pictures next to one another, with so many cells between them."""
    width = sum(part.width for part in parts) + gap * (len(parts) - 1)
    whole, x = Canvas(width, max(part.height for part in parts), style), 0
    for part in parts:
        whole.lay(part, x, 0)
        x += part.width + gap
    return whole
