"""Fields to type in: a line, and a note of several."""

from __future__ import annotations

import re
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input, TextArea
from textual.widgets.input import Selection

from tracker.cells import letters_of
from tracker.screens.bindings import character_of

LONGEST = 2000
"""Letters that a line may have where nothing else is said."""
UNDO = Binding("ctrl+underscore,ctrl+z,super+z", "undo", "Undo", show=False)
"""Ctrl-Z where it does not suspend the program."""
State = tuple[str, Selection]


class TextField(Input):
    """Textual's Input as a row of a form, with undo.

    A letter and the accent above it, or signs that are joined to one, are walked over and taken away as one.
    Where a text is longer than the row, `<` or `>` says that it goes on; its cursor stays in view.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        UNDO,
        Binding("ctrl+y,super+y", "redo", "Redo", show=False),
    ]
    DEFAULT_CSS = """
    TextField {
        width: 1fr;
        &:ansi { text-style: underline; }
        &:nocolor > .input--cursor { text-style: reverse; }
    }
    """

    def __init__(self, value: str = "", *, longest: int = LONGEST, id: str | None = None) -> None:
        super().__init__(value, max_length=longest, select_on_focus=False, compact=True, id=id)
        self.cursor_blink = False
        self._longest = longest
        self._before: list[State] = []
        self._undone: list[State] = []
        self._typed_to = -1
        """Where the next letter goes if it belongs to the word that is being typed."""

    def on_resize(self) -> None:
        self._bring_into_view(self._cursor_offset if self.has_focus else 0)

    def on_focus(self) -> None:
        self._bring_into_view(self._cursor_offset)

    def on_blur(self) -> None:
        self._bring_into_view(0)

    def _bring_into_view(self, x: int) -> None:
        self.scroll_to_region(Region(x, 0, 1, 1), force=True, animate=False)

    def render_line(self, y: int) -> Strip:
        line, first, room = super().render_line(y), self.scroll_offset.x, self.content_size.width
        here = self._cursor_offset - first if self.has_focus else -1
        if first and here:
            line = Strip([Segment("<", self.rich_style), *line.crop(1)])
        if self.content_width - first > room and here != room - 1:
            line = Strip([*line.crop(0, room - 1), Segment(">", self.rich_style)])
        return line

    async def on_key(self, event: events.Key) -> None:
        await edit_now(self, event)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        return super().check_consume_key(key, character or character_of(key) or None)

    def on_paste(self, event: events.Paste) -> None:
        event.text = as_one_line(event.text.strip())

    def replace(self, text: str, start: int, end: int) -> None:
        """Put a text in place of another, as one line, and as far as there is room for it."""
        text, (start, end) = as_one_line(text), sorted((start, end))
        start, end = self._letter_edge(start, -1), self._letter_edge(end, 1)
        room = max(self._longest - len(self.value) + end - start, 0)
        if not (len(text) == 1 and not text.isspace() and start == end == self._typed_to):
            self._before.append((self.value, self.selection))
        self._undone.clear()
        super().replace(text[:room], start, end)
        self._typed_to = self.cursor_position if text else -1

    def validate_selection(self, selection: Selection) -> Selection:
        """Keep the cursor out of the middle of a letter, on the side to which it goes."""
        start, end = super().validate_selection(selection)
        end = self._letter_edge(end, -1 if end < self.selection.end else 1)
        return Selection(end if selection.is_empty else start, end)

    def _letter_edge(self, place: int, step: int) -> int:
        """A place between two letters: this one, or the next on the side of `step` (-1 or 1)."""
        edge = 0
        for letter, _ in letters_of(self.value):
            if edge + len(letter) > place:
                return edge if step < 0 or edge == place else edge + len(letter)
            edge += len(letter)
        return edge

    def action_undo(self) -> None:
        """Take the last edit back; a word that was typed goes as a whole."""
        self._go_back(self._before, self._undone)

    def action_redo(self) -> None:
        """Bring the edit back that was taken back last."""
        self._go_back(self._undone, self._before)

    def _go_back(self, states: list[State], others: list[State]) -> None:
        if states:
            others.append((self.value, self.selection))
            self.value, self.selection = states.pop()
            self._typed_to = -1


class NoteField(TextArea):
    """Textual's TextArea as a part of a form: one text, wrapped; Enter is left to the form."""

    BINDINGS: ClassVar[list[BindingType]] = [UNDO]
    DEFAULT_CSS = """
    NoteField {
        width: 1fr; padding: 0; scrollbar-size-vertical: 1;
        &:ansi { text-style: underline; }
        &:nocolor .text-area--cursor { text-style: reverse; }
    }
    """

    def __init__(self, value: str = "", id: str | None = None) -> None:
        super().__init__(value, compact=True, highlight_cursor_line=False, id=id)
        self.cursor_blink = False
        self.move_cursor(self.document.end)

    async def on_key(self, event: events.Key) -> None:
        await edit_now(self, event)

    def check_consume_key(self, key: str, character: str | None = None) -> bool:
        return super().check_consume_key(key, character or character_of(key) or None)

    def on_paste(self, event: events.Paste) -> None:
        event.text = as_one_line(event.text.strip())

    @property
    def value(self) -> str:
        """The text as it stands."""
        return self.text

    @value.setter
    def value(self, value: str) -> None:
        self.text = value

    def walk(self, step: int) -> bool:
        """Go a row up or down; False at the first or last one."""
        is_last = self.navigator.is_first_wrapped_line if step < 0 else self.navigator.is_last_wrapped_line
        if is_last(self.cursor_location):
            return False
        self.action_cursor_up() if step < 0 else self.action_cursor_down()
        return True


async def edit_now(field: Widget, event: events.Key) -> None:
    """Do what an editing key does: as a binding it would come after all that was typed behind it."""
    for binding in field._bindings.key_to_bindings.get(event.key, ()):
        if not event.is_printable and await field.app.run_action(binding.action, field):
            event.stop()
            event.prevent_default()


def as_one_line(text: str) -> str:
    """Several lines as one, without signs that cannot be printed."""
    return "".join(letter for letter in re.sub(r"\s+", " ", text) if letter.isprintable())
