"""A line of text that is being typed."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.grids.palette import Palette
from tracker.grids.picture import Look, Picture, text_width


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
        if key == "backspace":
            self.text, self.at = before[:-1] + after, max(self.at - 1, 0)
        elif key == "delete":
            self.text = before + after[1:]
        elif key == "ctrl+u":
            self.text, self.at = after, 0
        elif key in ("left", "right", "home", "end"):
            places = {"left": self.at - 1, "right": self.at + 1, "home": 0, "end": len(self.text)}
            self.at = min(max(places[key], 0), len(self.text))
        else:
            return False
        return True

    def draw(self, picture: Picture, x: int, y: int, width: int, palette: Palette) -> None:
        """Draw the part that holds the place of the next letter, which is shown in reverse."""
        start = max(0, self.at - width + 2)
        shown = self.text[start : start + width - 1]
        picture.put(x, y, shown, palette.text)
        under = self.text[self.at] if self.at < len(self.text) else " "
        look = Look(palette.text.fg, palette.text.bg, reverse=True)
        picture.put(x + text_width(self.text[start : self.at]), y, under, look)
