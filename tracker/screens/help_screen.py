"""Help: where to turn, every key, what this is not, and how days and findings work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from tracker.cells import wrapped
from tracker.diary.help_page import explanations, where_to_turn
from tracker.editing.modes import ONLY_IN, Mode
from tracker.screens import bindings
from tracker.screens.base import BaseScreen
from tracker.screens.bindings import NamedKey, action_of, named_keys
from tracker.screens.grid_screen import GridScreen
from tracker.screens.widgets.long_text import Line, LongText

SIGN_WIDTH = 13


class HelpScreen(BaseScreen[None]):
    """Where to turn is always the same, whatever the days say; then come the keys of where she asked."""

    BINDINGS = bindings.HELP_PAGE

    def body(self) -> ComposeResult:
        yield LongText(id="text")

    def draw(self, width: int, height: int) -> None:
        choices, room = self.kept.choices, width - 4
        lines = self._paragraphs(where_to_turn(choices), room)
        for head, listed in self._sections():
            lines += [("", self.palette.text), (head, self.palette.title), *self._keys(listed, room)]
        kinds = ", ".join(f"{kind.code.upper()} {kind.label}" for kind in choices.kinds)
        letters = f"The letters beside the days are shifts: {kinds}."
        lines += self._paragraphs(["", letters, "", *explanations(choices)], room)
        self.query_one(LongText).show(lines)

    def _sections(self) -> Iterator[tuple[str, list[NamedKey]]]:
        """Of the modes that hold and of the screen below, then of all others."""
        below = self.app.screen_stack[-2]
        tables = {f"keys {name}": keys_without_mode(table) for name, table in bindings.TABLES.items()}
        here = next(
            (f"keys {name}" for name, table in bindings.TABLES.items() if table is below.BINDINGS), ""
        )
        if not here:
            here, tables["keys here"] = "keys here", keys_without_mode(below.BINDINGS)
        modes = {f"keys {name}": keys_of_mode(mode) for mode, name in bindings.MODE_NAMES.items()}
        now = self.editor.modes if isinstance(below, GridScreen) else ()
        first = [*(f"keys {bindings.MODE_NAMES[mode]}" for mode in now), here]
        sections = modes | tables
        for title in dict.fromkeys([*first, *sections]):
            if sections[title]:
                yield title.upper(), sections[title]

    def _keys(self, listed: Sequence[NamedKey], width: int) -> Iterator[Line]:
        for named in listed:
            first, *more = wrapped(named.name, width - SIGN_WIDTH)
            yield f"{named.sign:<{SIGN_WIDTH}}{first}", self.palette.text
            for row in more:
                yield " " * SIGN_WIDTH + row, self.palette.text

    def _paragraphs(self, paragraphs: Sequence[str], width: int) -> list[Line]:
        lines: list[Line] = []
        for paragraph in paragraphs:
            is_heading = paragraph.isupper() and not paragraph.startswith(" ")
            style = self.palette.title if is_heading else self.palette.text
            lines += [(line, style) for line in wrapped(paragraph, width)]
        return lines


def keys_without_mode(table: Sequence[BindingType]) -> list[NamedKey]:
    """What the keys of a table do, whatever is being done."""
    return _named(binding for binding in Binding.make_bindings(table) if action_of(binding) not in ONLY_IN)


def keys_of_mode(mode: Mode) -> list[NamedKey]:
    """What keys do in one mode alone."""
    own = Binding.make_bindings(bindings.MODES)
    return _named(binding for binding in own if mode in ONLY_IN[action_of(binding)])


def _named(listed: Iterable[Binding]) -> list[NamedKey]:
    return [named for named in named_keys(listed) if named.name]
