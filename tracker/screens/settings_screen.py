"""The settings, on one screen; they are tried at once and kept together with Enter."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from textual.app import ComposeResult

from tracker.diary.errors import TrackerError
from tracker.diary.scales import GRIDS, Scales
from tracker.diary.settings import NONE, SETTINGS, Settings, setting
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.grids.themes import own_themes, theme_names
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question
from tracker.screens.widgets.canvas_view import CanvasView

RAMPS_FROM = 18
"""Rows of a window in which the levels of a theme are seen."""


class TriedSettings(FormScreen):
    """Settings that are looked at before they are kept."""

    ASKED: Sequence[str]
    """Names of the settings."""

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._theme = self.answers["theme"]

    def questions(self) -> list[Question]:
        return [setting_question(name, self.kept.settings) for name in self.ASKED]

    def place(self, question: Question) -> str:
        return f"settings.{question.name}"

    def foot(self) -> ComposeResult:
        yield CanvasView(id="ramps")

    def answered(self) -> Settings:
        """The settings as they are answered.

        Raises UnknownValue for one that cannot be.
        """
        return with_answers(self.kept.settings, self.changes)

    def changed(self) -> None:
        try:
            self.tracker.apply_theme(self.answered())
        except TrackerError as error:
            self.error = str(error)
        before, self._theme = self._theme, self.answers["theme"]
        if self._theme != before:
            self.error = self.tracker.theme_trouble

    def draw(self, width: int, height: int) -> None:
        super().draw(width, height)
        shown = ramps(self.palette, self.kept.choices.scales, width)
        self.show("ramps", shown if height >= RAMPS_FROM else Canvas(width, 0))


class SettingsScreen(TriedSettings):
    """Everything that can be set with a word."""

    BINDINGS = bindings.SETTINGS_FORM
    HEADING = "Settings"
    ASKED = tuple(SETTINGS)

    def submit(self, answers: dict[str, str]) -> None:
        self.editor.refresh()  # what was set elsewhere meanwhile stays
        self.editor.keep_settings(self.answered())
        self.tracker.apply_theme(self.kept.settings)

    async def action_more(self) -> None:
        """Go on to levels and shifts, where nothing here is left half done."""
        await self.settle()
        if self.changes:
            self.error = f"Enter keeps what is changed here, Esc leaves it; then {self.state.sign('Ctrl+L')}."
        else:
            self.cancel()
            await self.action_show("more_settings")

    def cancel(self) -> None:
        self.tracker.apply_theme(self.kept.settings)
        super().cancel()


def setting_question(name: str, settings: Settings) -> Question:
    """The question for one setting, answered as it stands."""
    row, value = setting(name), settings.text_of(name)
    if name == "theme":
        return Question(name, row.label, value, theme_names(), f"{row.help} {own_themes_line()}")
    options = row.offered()
    return Question(name, row.label, value if options or value != NONE else "", options, row.help)


def own_themes_line() -> str:
    """Where a theme of her own goes, with the home folder as it is typed."""
    folder = own_themes()
    home = Path.home()
    short = Path("~", folder.relative_to(home)) if folder.is_relative_to(home) else folder
    return f"Own ones: a TOML file in {short}."


def with_answers(settings: Settings, answers: dict[str, str]) -> Settings:
    """The settings with the answers of a form.

    Raises UnknownValue for one that cannot be.
    """
    for name, text in answers.items():
        settings = settings.with_value(name, text)
    return settings


def ramps(palette: Palette, scales: Scales, width: int) -> Canvas:
    """Every level of both grids as the theme shows it."""
    canvas, x = Canvas(width, len(GRIDS), palette.text), 9
    shown = [scales.newest(grid) for grid in GRIDS]
    cells = min((width - x) // max(len(scale.levels) for scale in shown), 5)
    for row, scale in enumerate(shown):
        canvas.put(2, row, scale.grid, palette.quiet)
        for place, level in enumerate(scale.levels):
            style = palette.style(palette.fill(scale.grid, place, len(scale.levels)), bold=True)
            canvas.put(x + cells * place, row, palette.mark(scale, level).center(cells), style)
    return canvas
