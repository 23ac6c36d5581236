"""A choice of which every option is seen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rich.style import Style
from rich.text import Text
from textual.geometry import Size

from tracker.cells import begun
from tracker.screens.bindings import PICK
from tracker.screens.widgets.choice import Choice

PLAIN = Style()
LEAST_WORDS = 8
"""Cells for the words of the chosen option; with fewer it is shown alone."""


class Swatch(NamedTuple):
    """One option, as it is seen in the row."""

    text: str
    style: Style = PLAIN
    keys: tuple[str, ...] = ()
    """Digits that choose it."""


class SwatchRow(NamedTuple):
    """The options of a choice as they are seen, by their values; another one is told in words alone."""

    swatches: Mapping[str, Swatch]
    bars: tuple[str, str]
    """What stands on either side of the chosen one."""


class ChoiceRow(Choice):
    """The options side by side, the chosen one between bars; its words stand behind them."""

    BINDINGS = PICK

    def __init__(self, options: Sequence[tuple[str, str]], value: str, row: SwatchRow) -> None:
        super().__init__(options, value)
        self.row = row

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        has_room = self._width(side=0) + 2 + LEAST_WORDS <= width
        return 1 if has_room else super().get_content_height(container, viewport, width)

    def render(self) -> Text:
        shown, before = Text(), None
        left, right = self.row.bars
        for value, swatch in self.row.swatches.items():
            shown.append(left if value == self.value else right if before == self.value else " ")
            shown.append(swatch.text.center(len(swatch.text) + 2 * self._side), swatch.style)
            before = value
        shown.append(right if before == self.value else " ")
        room = self.content_size.width - shown.cell_len - 2
        return shown.append(f"  {begun(self._words(), room)}") if room >= LEAST_WORDS else super().render()

    @property
    def _side(self) -> int:
        """Cells of an option on either side of its text: none where they would take the words their room."""
        return int(self._width(side=1) + 2 + LEAST_WORDS <= self.content_size.width)

    def _width(self, side: int) -> int:
        """Cells of all options, with so many on either side of each text."""
        return sum(len(swatch.text) + 2 * side + 1 for swatch in self.row.swatches.values()) + 1

    def _words(self) -> str:
        words = dict(self.options).get(self.value, self.value)
        seen = self.row.swatches.get(self.value)
        return "" if seen and seen.text == words else words

    def click(self, x: int) -> None:
        end = 0
        for value, swatch in self.row.swatches.items():
            end += len(swatch.text) + 2 * self._side + 1
            if x < end:
                self.value = value
                return

    def action_pick(self, digit: str) -> None:
        """Choose the option of a digit, if it has one."""
        swatches = self.row.swatches.items()
        self.value = next((value for value, swatch in swatches if digit in swatch.keys), self.value)
