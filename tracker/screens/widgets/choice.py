"""One of several options: shown alone, turned through with the arrow keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.text import Text
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from tracker.cells import wrapped
from tracker.screens.bindings import CHOOSE
from tracker.screens.own_keys import take_own_keys


class Choice(Widget, can_focus=True):
    """The option that is chosen; with the focus between `<` and `>`."""

    BINDINGS = CHOOSE
    ALLOW_SELECT = False
    DEFAULT_CSS = """
    Choice { width: 1fr; height: auto; pointer: pointer; }
    Choice:focus { color: $focus; text-style: bold; }
    """

    value = reactive("", init=False, layout=True)

    @dataclass
    class Changed(Message):
        """Another option was chosen."""

        choice: Choice
        value: str

        @property
        def control(self) -> Choice:
            """The choice that changed."""
            return self.choice

    def __init__(self, options: Sequence[tuple[str, str]], value: str, id: str | None = None) -> None:
        """
        Parameters
        ----------
        options
            Values and the words for them, in the order in which they are turned through.
        """
        super().__init__(id=id)
        self.options = options
        self.set_reactive(Choice.value, value)

    def on_mount(self) -> None:
        take_own_keys(self)

    def watch_value(self, value: str) -> None:
        self.post_message(self.Changed(self, value))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._rows(width))

    def _rows(self, width: int) -> list[str]:
        """The words of the chosen option, in so many cells with the signs beside them."""
        return wrapped(dict(self.options).get(self.value, self.value), max(width - 4, 1))

    def render(self) -> Text:
        shown = "\n  ".join(self._rows(self.content_size.width))
        return Text(f"< {shown} >" if self.has_focus else f"  {shown}")

    def on_click(self, event: events.Click) -> None:
        self.click(event.x)

    def click(self, x: int) -> None:
        """Choose what a click so many cells from the left means: the next option."""
        self.action_turn(1)

    def action_turn(self, step: int) -> None:
        """Choose the option that stands so many further on, round and round."""
        values = [value for value, _ in self.options]
        at = values.index(self.value) if self.value in values else 0
        self.value = values[(at + step) % len(values)]
