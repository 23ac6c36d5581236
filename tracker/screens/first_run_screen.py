"""The first screen of an empty record: what this is, and five choices with good defaults."""

from __future__ import annotations

from collections.abc import Sequence

from tracker import words
from tracker.grids.canvas import CellStyle
from tracker.record.choice_rows import setting_values
from tracker.screens.form_screen import CHOOSE, ROWS
from tracker.screens.key_commands import HELP, Command
from tracker.screens.settings_form import FIRST_ASKED
from tracker.screens.settings_screen import TriedSettings

TAKE = Command(("enter",), "Enter", "take these and begin", "Take these choices and begin")
LATER = Command(("escape",), "Esc", "leave", "Leave; nothing is kept")


class FirstRunScreen(TriedSettings):
    """Shown once; Enter takes all defaults."""

    COMMANDS_HERE = (TAKE, ROWS, CHOOSE, LATER, HELP)
    ASKED = FIRST_ASKED
    HEADING = "A diary of mood and sleep, a square a day"

    def preface(self) -> Sequence[tuple[str, CellStyle]]:
        text, quiet = self.palette.text, self.palette.quiet
        lines = [(line, text) for line in words.WHAT_THIS_IS]
        return [*lines, ("", text), *((line, quiet) for line in (*words.STOPPING, words.WHERE_TO_TURN_HINT))]

    def take(self, answers: dict[str, str]) -> None:
        settings = self.answered()
        asked = {f"setting.{name}": getattr(settings, name) for name in FIRST_ASKED}
        self.editor.kept.record.choose(
            asked | setting_values(settings, self.editor.kept.settings), "first choices"
        )
        self.editor.kept.reload()
        self.editor.start()

    def cancel(self) -> None:
        self.tracker.leave()
