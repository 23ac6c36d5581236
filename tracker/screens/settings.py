"""The settings, on one screen; they are tried at once and kept together with Enter."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.desk.desk import Desk
from tracker.diary.choices import Settings
from tracker.diary.errors import TrackerError
from tracker.grids.picture import Picture
from tracker.screens.form import Question
from tracker.screens.form_screen import CHOOSE, KEEP, LEAVE_IT, ROWS, FormScreen
from tracker.screens.key_commands import MORE_SETTINGS
from tracker.screens.settings_form import TEXTS, draw_ramps, setting_question, with_answers


class TriedSettings(FormScreen):
    """Settings that are looked at before they are kept."""

    ASKED: Sequence[str]
    """Names of the settings."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._theme = self.form.question("theme").answer

    def questions(self) -> list[Question]:
        return [setting_question(name, self.desk.settings) for name in self.ASKED]

    def answered(self) -> Settings:
        """The settings as they are answered."""
        return with_answers(self.desk.settings, self.form.answers())

    def adorn(self, picture: Picture, y: int) -> None:
        draw_ramps(picture, y, self.palette, self.desk.choices.scales)

    def changed(self) -> None:
        try:
            self.tracker.wear(self.answered())
        except TrackerError as error:
            self.trouble = str(error)
        before, self._theme = self._theme, self.form.question("theme").answer
        if self._theme != before:
            self.trouble = self.tracker.theme_trouble


class SettingsScreen(TriedSettings):
    """Everything that can be set with a word."""

    COMMANDS_HERE = (KEEP, LEAVE_IT, MORE_SETTINGS, ROWS, CHOOSE)
    HEADING = "Settings"
    ASKED = tuple(TEXTS)

    def take(self, answers: dict[str, str]) -> None:
        self.desk.look_again()  # what was set elsewhere meanwhile stays
        if self.desk.keep_settings(with_answers(self.desk.settings, self.changes)):
            self.tracker.wear(self.desk.settings)
        else:
            self.trouble = self.desk.said

    def press(self, key: str) -> bool:
        if key != "f3":
            return super().press(key)
        if self.changes:
            self.trouble = "Enter keeps what is changed here, Esc leaves it; then F3."
        else:
            self.let_be()
            self.tracker.open("more_settings")
        return True

    def let_be(self) -> None:
        self.tracker.wear(self.desk.settings)
        super().let_be()
