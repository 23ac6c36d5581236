"""Help: where to turn, every key, what this is not, and how days and findings work."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from tracker.diary.help_page import explanations, where_to_turn
from tracker.screens import bindings, key_commands
from tracker.screens.drawn_screen import DrawnScreen
from tracker.screens.findings_screen import FindingsScreen
from tracker.screens.grid_screen import GridScreen
from tracker.screens.key_commands import ESCAPE, QUIT, Command
from tracker.screens.lines import wrapped
from tracker.screens.scrolled import SCROLL, Line, ScrolledScreen
from tracker.screens.summary_screen import PageScreen

KEYS: Mapping[str, Sequence[Command]] = {
    "KEYS IN THE MONTH": key_commands.MONTH,
    "KEYS IN THE YEAR": key_commands.YEAR_COMMANDS,
    "KEYS WHILE CATCHING UP": key_commands.WHILE_CATCHING_UP,
    "KEYS IN THE FINDINGS": FindingsScreen.COMMANDS_HERE,
    "KEYS AT THE PAGE": PageScreen.COMMANDS_HERE,
}


class HelpScreen(ScrolledScreen):
    """Where to turn is always the same, whatever the days say; then come the keys of where she asked."""

    COMMANDS_HERE = (SCROLL, ESCAPE, QUIT)

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        return {**super().deeds(), "question_mark": self.back}

    def lines(self, width: int) -> list[Line]:
        text, title = self.palette.text, self.palette.title
        lines = self._paragraphs(where_to_turn(self.editor.kept.choices), width)
        here = self._keys_where_she_asked()
        for head, listed in sorted(KEYS.items(), key=lambda section: section[1] != here):
            lines += [("", text), (head, title), *self._keys(listed, width)]
            if listed == key_commands.MONTH:
                lines += self._paragraphs([self._letters()], width)
        return [*lines, ("", text), *self._paragraphs(explanations(self.editor.kept.choices), width)]

    def _keys_where_she_asked(self) -> Sequence[Command]:
        below = self.app.screen_stack[-2]
        if self.editor.catching_up and isinstance(below, GridScreen):
            return key_commands.WHILE_CATCHING_UP
        if isinstance(below, GridScreen):
            return key_commands.YEAR_COMMANDS if below.BINDINGS == bindings.YEAR else key_commands.MONTH
        return below.COMMANDS_HERE if isinstance(below, DrawnScreen) else ()

    def _letters(self) -> str:
        kinds = [f"{kind.code.upper()} {kind.label}" for kind in self.editor.kept.choices.kinds]
        return f"The letters beside the days are shifts: {', '.join(kinds)}."

    def _paragraphs(self, paragraphs: list[str], width: int) -> list[Line]:
        lines: list[Line] = []
        for paragraph in paragraphs:
            is_heading = paragraph.isupper() and not paragraph.startswith(" ")
            style = self.palette.title if is_heading else self.palette.text
            lines += [(line, style) for line in wrapped(paragraph, width)]
        return lines

    def _keys(self, listed: Sequence[Command], width: int) -> list[Line]:
        column = 2 + max(len(command.sign) for command in listed)
        return [
            (f"{command.sign.ljust(column)}{command.name}"[:width], self.palette.text)
            for command in listed
            if command.name
        ]
