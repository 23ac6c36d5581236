"""Pictures made of terminal cells: rows of runs of text, each with a look.

What is drawn here knows no screen library; a screen turns runs into strips, a command into styled text.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple


class Look(NamedTuple):
    """Colours and weight of a piece of text; None stands for the terminal's own colour."""

    fg: str | None = None
    bg: str | None = None
    bold: bool = False
    reverse: bool = False


PLAIN = Look()


class Run(NamedTuple):
    """A piece of text in one look."""

    text: str
    look: Look


Row = list[Run]


class Area(NamedTuple):
    """A part of a picture, in cells from its top left corner."""

    x: int
    y: int
    width: int
    height: int

    def holds(self, x: int, y: int) -> bool:
        """Whether a cell lies in it."""
        return self.x <= x < self.x + self.width and self.y <= y < self.y + self.height


Cell = tuple[str, Look]


class Picture:
    """A board of cells to put text on; what would stand outside is cut off."""

    def __init__(self, width: int, height: int, look: Look = PLAIN) -> None:
        self.width = width
        self.height = height
        self._cells: list[list[Cell]] = [[(" ", look)] * width for _ in range(height)]

    def put(self, x: int, y: int, text: str, look: Look) -> int:
        """Put text at a cell and give the column behind it."""
        if text.isascii():
            if 0 <= y < self.height and x >= 0:
                line = self._cells[y]
                for at, letter in enumerate(text[: max(self.width - x, 0)], start=x):
                    line[at] = (letter, look)
            return x + len(text)
        return self._put_wide(x, y, text, look)

    def _put_wide(self, x: int, y: int, text: str, look: Look) -> int:
        for letter in text:
            cells = letter_width(letter)
            if 0 <= y < self.height and x >= 0 and x + cells <= self.width:
                if cells:
                    self._cells[y][x : x + cells] = [(letter, look), ("", look)][:cells]
                elif x:
                    self._cells[y][x - 1] = (self._cells[y][x - 1][0] + letter, look)
            x += cells
        return x

    def put_right(self, x: int, y: int, text: str, look: Look) -> None:
        """Put text so that it ends before a column."""
        self.put(x - text_width(text), y, text, look)

    def lay(self, part: Picture, x: int, y: int, skipped: int = 0) -> None:
        """Lay another picture on this one, without its first rows."""
        room = max(self.width - x, 0)
        for row, cells in enumerate(part._cells[skipped : skipped + max(self.height - y, 0)], start=y):
            self._cells[row][x : x + len(cells)] = cells[:room]

    def look_at(self, x: int, y: int) -> Look:
        """The look of a cell."""
        return self._cells[y][x][1]

    def text_at(self, x: int, y: int, width: int = 1) -> str:
        """The text of some cells of a row."""
        return "".join(letter for letter, _ in self._cells[y][x : x + width])

    def row(self, y: int) -> Row:
        """A row as runs, as long as the picture is wide."""
        alike = groupby(self._cells[y], key=lambda cell: cell[1])
        return [Run("".join(letter for letter, _ in cells), look) for look, cells in alike]

    def rows(self) -> list[Row]:
        """Every row, from the top."""
        return [self.row(y) for y in range(self.height)]

    def lines(self) -> list[str]:
        """The text alone, without blanks at the ends of lines."""
        return ["".join(letter for letter, _ in line).rstrip() for line in self._cells]

    def changes(self, before: Picture) -> Iterator[Area]:
        """Where this picture differs from one drawn before, a stretch of a row each."""
        if (self.width, self.height) != (before.width, before.height):
            yield Area(0, 0, self.width, self.height)
            return
        for y, (new, old) in enumerate(zip(self._cells, before._cells, strict=True)):
            if new != old:
                differing = [x for x in range(self.width) if new[x] != old[x]]
                yield from _stretches(differing, y)


def _stretches(columns: list[int], y: int) -> Iterator[Area]:
    for _, group in groupby(enumerate(columns), key=lambda pair: pair[1] - pair[0]):
        stretch = [x for _, x in group]
        yield Area(stretch[0], y, len(stretch), 1)


def letter_width(letter: str) -> int:
    """Cells that a letter takes: none for a combining mark, two for East Asian wide letters."""
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def text_width(text: str) -> int:
    """Cells that a text takes."""
    return len(text) if text.isascii() else sum(letter_width(letter) for letter in text)


def cut(text: str, width: int) -> str:
    """As much of a text as fits into so many cells."""
    while text_width(text) > width:
        text = text[:-1]
    return text
