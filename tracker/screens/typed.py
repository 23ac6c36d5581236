"""A line of text that is being typed."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.cells import cut, letters_of, text_width
from tracker.grids.canvas import Canvas, CellStyle
from tracker.grids.palette import Palette


@dataclass
class Typed:
    """A text and the place in it where the next letter goes."""

    text: str = ""
    longest: int = 2000
    at: int = -1

    def __post_init__(self) -> None:
        if self.at < 0:
            self.at = len(self.text)

    def type(self, letters: str) -> None:
        """Put letters in; what would be too long is left out."""
        room = self.longest - len(self.text)
        new = "".join(letter for letter in letters if letter.isprintable())[:room]
        self.text = self.text[: self.at] + new + self.text[self.at :]
        self.at += len(new)

    def press(self, key: str) -> bool:
        """Do what an editing key does; whether it is one."""
        before, after = self.text[: self.at], self.text[self.at :]
        back, on = _last(before), _first(after)
        if key == "backspace":
            self.text, self.at = before[: self.at - back] + after, self.at - back
        elif key == "delete":
            self.text = before + after[on:]
        elif key == "ctrl+u":
            self.text, self.at = after, 0
        elif key in ("left", "right", "home", "end"):
            places = {"left": self.at - back, "right": self.at + on, "home": 0, "end": len(self.text)}
            self.at = places[key]
        else:
            return False
        return True

    def draw(self, canvas: Canvas, x: int, y: int, width: int, palette: Palette) -> None:
        """Draw the part that holds the place of the next letter, which is shown in reverse.

        `<` and `>` stand at its ends where there is more.
        """
        whole, after = self.text[: self.at], self.text[self.at :]
        before = whole if text_width(whole) <= width - 3 else "<" + _end_of(whole, width - 4)
        room = width - 1 - text_width(before)
        shown = after if text_width(after) <= room else cut(after, room - 1) + ">"
        canvas.put(x, y, before + shown, palette.text)
        if before != whole:
            canvas.put(x, y, "<", palette.accent)
        if shown != after:
            canvas.put(x + text_width(before + shown) - 1, y, ">", palette.accent)
        style = CellStyle(palette.text.fg, palette.text.bg, reverse=True)
        canvas.put(x + text_width(before), y, after[: _first(after)] or " ", style)


def _first(text: str) -> int:
    """The length of a text's first letter, with the marks and signs that are joined to it."""
    return next((len(letter) for letter, _ in letters_of(text)), 0)


def _last(text: str) -> int:
    return next((len(letter) for letter, _ in reversed([*letters_of(text)])), 0)


def _end_of(text: str, width: int) -> str:
    """The last letters of a text, as many as fit into so many cells."""
    start = len(text)
    for letter, cells in reversed([*letters_of(text)]):
        width -= cells
        if width < 0:
            break
        start -= len(letter)
    return text[start:]
