"""The settings, on one screen; they are tried at once and kept together with Enter."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.diary.errors import TrackerError
from tracker.diary.settings import SETTINGS, Settings
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.screens.form import Question
from tracker.screens.form_screen import CHOOSE, KEEP, LEAVE_IT, ROWS, FormScreen
from tracker.screens.key_commands import MORE_SETTINGS
from tracker.screens.settings_form import draw_ramps, setting_question, with_answers


class TriedSettings(FormScreen):
    """Settings that are looked at before they are kept."""

    ASKED: Sequence[str]
    """Names of the settings."""

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._theme = self.form.question("theme").answer

    def questions(self) -> list[Question]:
        return [setting_question(name, self.editor.kept.settings) for name in self.ASKED]

    def answered(self) -> Settings:
        """The settings as they are answered."""
        return with_answers(self.editor.kept.settings, self.form.answers())

    def adorn(self, canvas: Canvas, y: int) -> None:
        draw_ramps(canvas, y, self.palette, self.editor.kept.choices.scales)

    def changed(self) -> None:
        try:
            self.tracker.apply_theme(self.answered())
        except TrackerError as error:
            self.error = str(error)
        before, self._theme = self._theme, self.form.question("theme").answer
        if self._theme != before:
            self.error = self.tracker.theme_trouble


class SettingsScreen(TriedSettings):
    """Everything that can be set with a word."""

    COMMANDS_HERE = (KEEP, LEAVE_IT, MORE_SETTINGS, ROWS, CHOOSE)
    HEADING = "Settings"
    ASKED = tuple(SETTINGS)

    def take(self, answers: dict[str, str]) -> None:
        self.editor.refresh()  # what was set elsewhere meanwhile stays
        self.editor.keep_settings(with_answers(self.kept.settings, self.changes))
        self.tracker.apply_theme(self.kept.settings)

    def press(self, key: str) -> bool:
        if key != "f3":
            return super().press(key)
        if self.changes:
            self.error = "Enter keeps what is changed here, Esc leaves it; then F3."
        else:
            self.cancel()
            self.tracker.open("more_settings")
        return True

    def cancel(self) -> None:
        self.tracker.apply_theme(self.editor.kept.settings)
        super().cancel()
