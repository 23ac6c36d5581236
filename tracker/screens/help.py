"""Help: where to turn, what this is not, how days and findings work, and every key."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tracker.diary.help_page import help_page
from tracker.screens import commands
from tracker.screens.commands import ESCAPE, QUIT, Command
from tracker.screens.lines import wrapped
from tracker.screens.scrolled import SCROLL, Line, ScrolledScreen


class HelpScreen(ScrolledScreen):
    """Always the same, whatever the days say."""

    COMMANDS_HERE = (SCROLL, ESCAPE, QUIT)

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        return {**super().deeds(), "question_mark": self.dismiss}

    def lines(self, width: int) -> list[Line]:
        text, title = self.palette.text, self.palette.title
        lines: list[Line] = []
        for paragraph in help_page(self.desk.choices):
            look = title if paragraph and not paragraph.startswith(" ") and paragraph.isupper() else text
            lines += [(line, look) for line in wrapped(paragraph, width)]
        for head, listed in (
            ("KEYS IN THE MONTH", commands.MONTH),
            ("KEYS IN THE YEAR", commands.YEAR_COMMANDS),
        ):
            lines += [("", text), (head, title), *self._keys(listed, width)]
        return lines

    def _keys(self, listed: tuple[Command, ...], width: int) -> list[Line]:
        column = 2 + max(len(command.sign) for command in listed)
        return [
            (f"{command.sign.ljust(column)}{command.name}"[:width], self.palette.text)
            for command in listed
            if command.name
        ]
