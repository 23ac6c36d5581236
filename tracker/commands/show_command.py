"""`tracker show`."""

from __future__ import annotations

import os
import re
import sys
import textwrap
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date, timedelta

import click

from tracker.commands.shared import open_record
from tracker.diary.choices import Choices
from tracker.diary.dates import LAST_DATE, read_day, read_month
from tracker.diary.errors import TrackerError
from tracker.diary.months import column, last_of_month
from tracker.diary.own_changes import changes_within
from tracker.diary.scales import GRIDS, Grid
from tracker.diary.spoken import spoken
from tracker.diary.waiting import Waiting
from tracker.grids.canvas import Canvas
from tracker.grids.descriptions import spoken_month, spoken_rota, spoken_week, spoken_year
from tracker.grids.month import draw_month
from tracker.grids.month_view import MonthView
from tracker.grids.palette import Palette, colours_of, usable_marks
from tracker.grids.squares import GridData
from tracker.grids.theme_checks import usable_theme
from tracker.grids.themes import own_themes
from tracker.grids.year import YearView, draw_year
from tracker.record.store import Record
from tracker.words import CAUTION

NARROWEST = 80
MONTH_ROWS, ROWS_OF_ONE, ROWS_OF_BOTH = 22, 20, 40
"""Rows of a printed month, and of a year of one grid or of both, with room for her changes."""


@click.command(
    "show",
    context_settings={"allow_extra_args": True},
    epilog="\b\nExamples:\n  tracker show\n  tracker show --month 2026-03 --grid sleep"
    "\n  tracker show --year 2026 --plain\n  tracker show --words"
    "\n  tracker show --week yesterday",
)
@click.option("--month", metavar="MONTH", help="A month, like 2026-03 or march (this one, if left out).")
@click.option("--week", metavar="DAY", help="The week that holds a day, in sentences.")
@click.option("--year", type=click.IntRange(1900, 2199), metavar="YYYY", help="A whole year.")
@click.option("--grid", type=click.Choice(GRIDS), help="One grid alone.")
@click.option("--plain", is_flag=True, help="ASCII without colour, at most 80 columns.")
@click.option("--words", "in_words", is_flag=True, help="Sentences in place of squares.")
@click.pass_context
def command(
    ctx: click.Context,
    month: str | None,
    week: str | None,
    year: int | None,
    grid: Grid | None,
    plain: bool,
    in_words: bool,
) -> None:
    """Print a month or a year of squares, or a week, a month or a year in sentences.

    Colours are left out where the output is no terminal, or NO_COLOR is set.
    """
    if ctx.args:
        raise click.UsageError(_no_use_for(" ".join(ctx.args)))
    if sum(span is not None for span in (month, week, year)) > 1:
        raise click.UsageError("--month, --week and --year do not go together; give one of them.")
    record = open_record(ctx, "refuse")
    grids = (grid,) if grid else GRIDS
    if year is not None:
        _year(record, year, grids, plain, in_words)
    elif week is not None:
        _week(record, read_day(week, record.today()), grids)
    else:
        first = read_month(month, record.today()) if month else record.today().replace(day=1)
        _month(record, first, grids, plain, in_words)


def _no_use_for(bare: str) -> str:
    """Why words without an option are refused; what they can only mean is named with its option."""
    option = _option_for(bare.casefold())
    if not option:
        return f"tracker show has no use for '{bare}'"
    quoted = f'"{bare}"' if " " in bare else bare
    return f"A {option} goes behind --{option}: tracker show --{option} {quoted}"


def _option_for(word: str) -> str:
    if word in GRIDS:
        return "grid"
    if re.fullmatch(r"\d{4}", word):
        return "year"
    for option, read in (("month", read_month), ("week", read_day)):
        with suppress(TrackerError):
            read(word, LAST_DATE)
            return option
    return ""


def _year(record: Record, year: int, grids: tuple[Grid, ...], plain: bool, in_words: bool) -> None:
    grid_data = sheet_of(record, date(year, 1, 1), date(year, 12, 31))
    if in_words:
        changes = _changes_said(record, date(year, 1, 1), date(year, 12, 31))
        _say([*spoken_year(grid_data, year, grids), *changes, CAUTION])
    else:
        _show_year(record, grid_data, year, grids, plain)


def _week(record: Record, day: date, grids: tuple[Grid, ...]) -> None:
    first = day - timedelta(days=column(day, record.choices().settings.first_weekday))
    last = first + timedelta(days=6)
    _say([*spoken_week(sheet_of(record, first, last), first, grids), *_changes_said(record, first, last)])


def _month(record: Record, first: date, grids: tuple[Grid, ...], plain: bool, in_words: bool) -> None:
    eve, last = first - timedelta(days=1), last_of_month(first)
    grid_data = sheet_of(record, eve, last)
    rota = spoken_rota(grid_data, first.year, first.month, record.clock)
    if in_words:
        changes = _changes_said(record, first, last)
        _say(filter(None, [*spoken_month(grid_data, first.year, first.month, grids), rota, *changes]))
    else:
        _show_month(record, grid_data, first, grids, plain)
        _echo(textwrap.wrap(rota, NARROWEST, initial_indent="   ", subsequent_indent="   "))


def _changes_said(record: Record, first: date, last: date) -> Iterator[str]:
    for change in changes_within(first, last, record.choices().dated_changes):
        yield f"Change on {change}."


def sheet_of(record: Record, first: date, last: date) -> GridData:
    """The days from first to last as they are drawn."""
    choices = record.choices()
    waiting = Waiting(record.days(first, last), record.first_day(), record.today(), choices.breaks)
    return GridData(
        waiting,
        choices.scales,
        choices.kinds_by_id,
        changes={change.day: change.words for change in choices.dated_changes},
        short_limit=choices.settings.short_sleep,
        clock=record.clock,
    )


def _show_month(
    record: Record, grid_data: GridData, first: date, grids: tuple[Grid, ...], plain: bool
) -> None:
    choices = record.choices()
    palette, width, height = _terminal(record, choices, plain)
    view = MonthView(first.year, first.month, choices.settings.first_weekday, grids=grids)
    _print(draw_month(grid_data, palette, view, width, max(height - 2, MONTH_ROWS)).canvas, palette)


def _show_year(record: Record, grid_data: GridData, year: int, grids: tuple[Grid, ...], plain: bool) -> None:
    palette, width, _ = _terminal(record, record.choices(), plain)
    view = YearView(year, "one grid", grids[0])
    rows = ROWS_OF_BOTH if len(grids) > 1 else ROWS_OF_ONE
    _print(draw_year(grid_data, palette, view, width, rows).canvas, palette)
    click.echo(f" {CAUTION}")


def _terminal(record: Record, choices: Choices, plain: bool) -> tuple[Palette, int, int]:
    """The palette of this output, and the cells that it has."""
    from rich.console import Console

    theme, sentences = usable_theme(choices.settings.theme, own_themes())
    for sentence in sentences:
        click.echo(sentence, err=True)
    if plain:
        return Palette(theme, "none", "ascii"), NARROWEST, 24
    console = Console()
    encoding = getattr(sys.stdout, "encoding", None) or "ascii"
    marks = usable_marks(choices.settings.marks, encoding, os.environ.get("TERM", ""))
    colours = colours_of(console.color_system, console.no_color)
    palette = Palette(theme, colours, marks, choices.settings.fills)
    return palette, max(console.width, NARROWEST), console.height


def _print(canvas: Canvas, palette: Palette) -> None:
    lines = canvas.lines()
    filled = max(row for row, line in enumerate(lines) if line) + 1
    if palette.colours == "none":
        _echo(lines[:filled])
        return
    from rich.console import Console
    from rich.style import Style
    from rich.text import Text

    console = Console(highlight=False)
    for y in range(filled):
        line = Text(no_wrap=True)
        for text, style in canvas.row(y):
            line.append(text, Style(color=style.fg, bgcolor=style.bg, bold=style.bold, reverse=style.reverse))
        console.print(line, soft_wrap=True)


def _say(sentences: Iterable[str]) -> None:
    """For those who listen: no note stands in these sentences."""
    _echo(map(spoken, sentences))


def _echo(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(line)
