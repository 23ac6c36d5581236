"""`tracker settings`."""

from __future__ import annotations

import click

from tracker.cells import padded
from tracker.commands.shared import open_record
from tracker.diary.choices import SETTING_NAMES
from tracker.diary.errors import UnknownValue
from tracker.diary.help_lines import HELP_LINES
from tracker.grids.themes import load_theme, own_themes, theme_names

EXAMPLES = """\b
Examples:
  tracker settings
  tracker settings country Scotland
  tracker settings day_change_hour 12
"""
HELP = {
    "country": "whose help lines are shown",
    "first_weekday": "the day with which a week begins",
    "day_change_hour": "hour at which a day begins, 0 to 12; 12 for nights only",
    "hemisphere": "north, south or equator, for the names of the seasons",
    "latitude": "whole degrees, south negative, for the day length; or none",
    "theme": "colours of the grids",
    "marks": "digits, shapes or ascii in the squares",
    "fills": "whether squares have colours",
    "not_anxious": "whether keeping a mood also notes 'not anxious'",
    "lines": "whether bare tracker asks in plain lines",
    "short_sleep": "hours under which the page counts a sleep as short",
    "works_shifts": "whether findings ask for the rota",
    "hide": "whether the app opens with the grids hidden",
}
"""What each setting decides."""


@click.command(
    "settings",
    epilog=EXAMPLES,
)
@click.argument("name", required=False)
@click.argument("value", required=False)
@click.pass_context
def command(ctx: click.Context, name: str | None, value: str | None) -> None:
    """Show all settings, show one, or change one."""
    record = open_record(ctx, "refuse" if value is None else "begin")
    settings = record.choices().settings
    if name is None:
        for each in SETTING_NAMES:
            click.echo(f"{each:16} {padded(settings.text_of(each), 16)} {HELP[each]}")
        return
    name = name.casefold().replace("-", "_")
    if value is None:
        click.echo(settings.text_of(name))
        return
    if name == "country":
        value = _country(value)
    if name == "theme":
        value = _theme(value)
    changed = settings.with_value(name, value)
    record.keep_settings(changed)
    click.echo(f"{name} is now {changed.text_of(name)}.")


def _theme(value: str) -> str:
    """The id of a theme that can be used, by its id or the name the app shows, whatever its capitals."""
    wanted = value.casefold()
    alike = [id for id, name in theme_names() if wanted in (id.casefold(), name.casefold())]
    id = value if value in alike or not alike else alike[0]
    load_theme(id, own_themes())
    return id


def _country(value: str) -> str:
    if value.casefold() in ("", "none"):
        return ""
    countries = [row.country for row in HELP_LINES]
    found = [country for country in countries if country.casefold() == value.casefold()]
    if not found:
        raise UnknownValue(f"There are no help lines for '{value}'; there are: {', '.join(countries)}.")
    return found[0]
