"""Help: where to turn, every key, what this is not, and how days and findings work."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tracker.diary.help_page import explanations, where_to_turn
from tracker.screens import key_commands
from tracker.screens.findings import FindingsScreen
from tracker.screens.key_commands import ESCAPE, QUIT, Command
from tracker.screens.lines import wrapped
from tracker.screens.page import PageScreen
from tracker.screens.scrolled import SCROLL, Line, ScrolledScreen

KEYS: Mapping[str, tuple[Command, ...]] = {
    "KEYS IN THE MONTH": key_commands.MONTH,
    "KEYS IN THE YEAR": key_commands.YEAR_COMMANDS,
    "KEYS WHILE CATCHING UP": key_commands.WHILE_CATCHING_UP,
    "KEYS IN THE FINDINGS": FindingsScreen.COMMANDS_HERE,
    "KEYS AT THE PAGE": PageScreen.COMMANDS_HERE,
}
ASKED_AT = {
    "YearScreen": "KEYS IN THE YEAR",
    "FindingsScreen": "KEYS IN THE FINDINGS",
    "PageScreen": "KEYS AT THE PAGE",
}


class HelpScreen(ScrolledScreen):
    """Where to turn is always the same, whatever the days say; then come the keys of where she asked."""

    COMMANDS_HERE = (SCROLL, ESCAPE, QUIT)

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        return {**super().deeds(), "question_mark": self.back}

    def lines(self, width: int) -> list[Line]:
        text, title = self.palette.text, self.palette.title
        lines = self._paragraphs(where_to_turn(self.desk.choices), width)
        asked_at = self._asked_at()
        for head, listed in sorted(KEYS.items(), key=lambda section: section[0] != asked_at):
            lines += [("", text), (head, title), *self._keys(listed, width)]
            if listed == key_commands.MONTH:
                lines += self._paragraphs([self._letters()], width)
        return [*lines, ("", text), *self._paragraphs(explanations(self.desk.choices), width)]

    def _asked_at(self) -> str:
        """Over which keys help was asked for: those come first."""
        if self.desk.catching_up:
            return "KEYS WHILE CATCHING UP"
        return ASKED_AT.get(type(self.app.screen_stack[-2]).__name__, "")

    def _letters(self) -> str:
        kinds = [f"{kind.code.upper()} {kind.label}" for kind in self.desk.choices.kinds]
        return f"The letters beside the days are shifts: {', '.join(kinds)}."

    def _paragraphs(self, paragraphs: list[str], width: int) -> list[Line]:
        lines: list[Line] = []
        for paragraph in paragraphs:
            is_heading = paragraph.isupper() and not paragraph.startswith(" ")
            look = self.palette.title if is_heading else self.palette.text
            lines += [(line, look) for line in wrapped(paragraph, width)]
        return lines

    def _keys(self, listed: tuple[Command, ...], width: int) -> list[Line]:
        column = 2 + max(len(command.sign) for command in listed)
        return [
            (f"{command.sign.ljust(column)}{command.name}"[:width], self.palette.text)
            for command in listed
            if command.name
        ]
