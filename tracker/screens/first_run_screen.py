"""The first screen of an empty record: what this is, and five choices with good defaults."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Static

from tracker import words
from tracker.record.choice_rows import setting_values
from tracker.screens import bindings
from tracker.screens.settings_screen import TriedSettings


class FirstRunScreen(TriedSettings):
    """Shown once; Enter takes all defaults."""

    BINDINGS = bindings.FIRST_RUN
    ASKED = ("country", "first_weekday", "day_change_hour", "theme", "not_anxious")
    HEADING = "A diary of mood and sleep"

    def preface(self) -> ComposeResult:
        yield Static("\n".join(words.WHAT_THIS_IS), classes="preface text", markup=False)
        yield Static(f"{words.STOPPING} {words.WHERE_TO_TURN_HINT}", classes="preface", markup=False)

    def submit(self, answers: dict[str, str]) -> None:
        settings = self.answered()
        asked = {f"setting.{name}": getattr(settings, name) for name in self.ASKED}
        self.kept.record.choose(asked | setting_values(settings, self.kept.settings), "first choices")
        self.kept.reload()
        self.editor.start()
