"""The settings as questions, with a word of help for each."""

from __future__ import annotations

from pathlib import Path

from tracker.diary.scales import GRIDS, Scales
from tracker.diary.settings import NONE, Settings, setting
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.grids.themes import own_themes, theme_names
from tracker.screens.form import Question


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


def draw_ramps(canvas: Canvas, y: int, palette: Palette, scales: Scales) -> None:
    """Every level of both grids as the theme shows it."""
    for row, grid in enumerate(GRIDS):
        canvas.put(3, y + row, grid, palette.quiet)
        scale, x = scales.newest(grid), 10
        for place, level in enumerate(scale.levels):
            style = palette.style(palette.fill(grid, place, len(scale.levels)), bold=True)
            x = canvas.put(x, y + row, f"  {palette.mark(scale, level)}  ", style)


FIRST_ASKED = ("country", "first_weekday", "day_change_hour", "theme", "not_anxious")
