"""The settings as questions, with a word of help for each."""

from __future__ import annotations

from pathlib import Path

from tracker.diary.choices import HEMISPHERES, MARKS, Settings
from tracker.diary.dates import WEEKDAYS
from tracker.diary.help_lines import HELP_LINES
from tracker.diary.scales import GRIDS, Scales
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.grids.themes import own_themes, theme_names
from tracker.screens.form import Question

YES_NO = (("yes", "yes"), ("no", "no"))
UNMARKED = (("yes", "a day was not anxious"), ("no", "nothing is noted either way"))


def setting_question(name: str, settings: Settings) -> Question:
    """The question for one setting, answered as it stands."""
    value = getattr(settings, name)
    label, help = TEXTS[name]
    if name == "theme":
        help = f"{help} {own_themes_line()}"
    if isinstance(value, bool):
        answers = UNMARKED if name == "not_anxious" else YES_NO
        return Question(name, label, "yes" if value else "no", answers, help)
    if name == "first_weekday":
        return Question(name, label, WEEKDAYS[value], [(day, day.capitalize()) for day in WEEKDAYS], help)
    if name == "day_change_hour":
        return Question(name, label, str(value), [(str(hour), f"{hour:02}:00") for hour in range(13)], help)
    if name == "short_sleep":
        return Question(name, label, str(value), [(str(hour), f"{hour} h") for hour in range(1, 13)], help)
    if name == "latitude":
        return Question(name, label, "" if value is None else str(value), (), help)
    return Question(name, label, value, _options(name), help)


def _options(name: str) -> list[tuple[str, str]]:
    if name == "country":
        return [("", "none of these"), *((row.country, row.country) for row in HELP_LINES)]
    if name == "theme":
        return theme_names()
    words = MARKS if name == "marks" else HEMISPHERES
    return [(word, "ASCII" if word == "ascii" else word) for word in words]


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


TEXTS = {
    "country": ("Country", "For the lines under 'where to turn'. It never leaves this computer."),
    "first_weekday": ("First day of the week", "The first column of the month."),
    "day_change_hour": (
        "The day begins at",
        "What is pressed before this hour belongs to the day before. "
        "Whoever works nights only may like 12:00.",
    ),
    "theme": ("Theme", "The colours of the squares; they change at once. 'Lamps' has the most contrast."),
    "marks": (
        "Marks",
        "What stands in a square: the digit that is pressed, a shape that grows with the level, or ASCII "
        "only, for terminals whose signs do not line up.",
    ),
    "fills": ("Colours in squares", "Without them a square shows its mark alone."),
    "not_anxious": (
        "Without the anxious mark",
        "a marks an anxious day. This says what a mood without the mark notes.",
    ),
    "hemisphere": ("Hemisphere", "For the names of the seasons."),
    "latitude": (
        "Latitude",
        "Whole degrees, south with a minus; for the length of daylight. May stay empty.",
    ),
    "short_sleep": ("A short sleep is under", "What the page for the GP counts as short."),
    "works_shifts": ("I work shifts", "Whether findings say so when no rota is entered."),
    "lines": ("Open as plain questions", "Bare tracker then asks in lines, without a picture."),
    "hide": ("Open with hidden grids", "h shows them."),
}
"""Label and help of each setting, in the order of the settings screen."""
FIRST_ASKED = ("country", "first_weekday", "day_change_hour", "theme", "not_anxious")
