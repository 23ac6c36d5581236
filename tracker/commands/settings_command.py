"""`tracker settings`."""

from __future__ import annotations

import click

from tracker.commands.printed_tables import print_table
from tracker.commands.shared import open_record
from tracker.diary.help_lines import note_on
from tracker.diary.settings import SETTINGS
from tracker.grids.theme_checks import refuse_misleading, warnings
from tracker.grids.themes import is_own, load_theme, own_themes, theme_names

EXAMPLES = """\b
Examples:
  tracker settings
  tracker settings country Scotland
  tracker settings day_change_hour 12
"""


def _names(_: click.Context, __: click.Parameter, incomplete: str) -> list[str]:
    return [name for name in SETTINGS if name.startswith(incomplete)]


def _values(ctx: click.Context, _: click.Parameter, incomplete: str) -> list[str]:
    """What the setting before it is offered, for a shell that completes a line."""
    name = ctx.params.get("name") or ""
    if name == "theme":
        offered = [id for id, _ in theme_names()]
    else:
        offered = [value for value, _ in SETTINGS[name].offered()] if name in SETTINGS else []
    return [value for value in offered if value.startswith(incomplete)]


@click.command("settings", epilog=EXAMPLES)
@click.argument("name", required=False, shell_complete=_names)
@click.argument("value", required=False, shell_complete=_values)
@click.pass_context
def command(ctx: click.Context, name: str | None, value: str | None) -> None:
    """Show all settings, show one, or change one."""
    record = open_record(ctx, "refuse" if value is None else "begin")
    settings = record.choices().settings
    if name is None:
        print_table([(row.name, settings.text_of(row.name), row.help) for row in SETTINGS.values()])
        return
    name = name.casefold().replace("-", "_")
    if value is None:
        click.echo(settings.text_of(name))
        return
    if name == "theme":
        value = _theme(value)
    changed = settings.with_value(name, value)
    record.keep_settings(changed)
    click.echo(f"{name} is now {changed.text_of(name)}.")
    if name == "country" and (note := note_on(changed.country)):
        click.echo(note)


def _theme(value: str) -> str:
    """The id of a theme that can be used, by its id or the name the app shows, whatever its capitals.

    Raises BrokenTheme for a file that cannot be read, or squares and text that could not.
    """
    wanted = value.casefold()
    alike = [id for id, name in theme_names() if wanted in (id.casefold(), name.casefold())]
    id = value if value in alike or not alike else alike[0]
    theme, own = load_theme(id, own_themes()), own_themes()
    if is_own(id, own):
        refuse_misleading(theme)
        for warning in warnings(theme):
            click.echo(warning, err=True)
    return id
