"""`tracker scales`."""

from __future__ import annotations

from datetime import date

import click

from tracker import words
from tracker.commands.printed_tables import print_table
from tracker.commands.shared import day_or_none, open_record, typed_day
from tracker.diary.answers import level_name, scale_span
from tracker.diary.scales import GRIDS, Grid, Scale, mood_scale, read_bounds, renamed, sleep_scale
from tracker.record.choice_rows import new_scale_values, scale_value
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker scales
  tracker scales mood --rename 4=bright --rename "5=very bright"
  tracker scales mood --levels "bad, so-so, fine, great" --from 2027-01-01
  tracker scales sleep --bounds "0 4 6 8" --from 2024-01-01 --to 2024-12-31
"""


@click.command("scales", epilog=EXAMPLES)
@click.argument("grid", required=False, type=click.Choice(GRIDS))
@click.option("--levels", metavar="WORDS", help="Mood: other levels, the lowest first, parted by commas.")
@click.option("--bounds", metavar="HOURS", help="Sleep: hours at which a bucket begins, from 0 up.")
@click.option(
    "--rename", multiple=True, metavar="OLD=NEW", help="Another word for a level (number or label)."
)
@click.option("--from", "first", metavar="DAY", help="First day of the other levels (today, if left out).")
@click.option("--to", "last", metavar="DAY", help="Last day, for a past span like an old paper year.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    grid: Grid | None,
    levels: str | None,
    bounds: str | None,
    rename: tuple[str, ...],
    first: str | None,
    last: str | None,
) -> None:
    """Show the levels of mood and the buckets of sleep, rename them, or change them from a day on.

    Squares that are kept keep the level they were given.
    """
    wanted = [name for name, given in (("levels", levels), ("bounds", bounds), ("rename", rename)) if given]
    if len(wanted) > 1 or (wanted and grid is None):
        raise click.UsageError("Name mood or sleep, and one of --levels, --bounds, --rename.")
    if (levels and grid != "mood") or (bounds and grid != "sleep"):
        raise click.UsageError("--levels is for mood, --bounds for sleep.")
    record = open_record(ctx, "begin" if wanted else "refuse")
    if rename and grid:
        _rename(record, grid, rename)
    elif levels or bounds:
        begin = typed_day(first, record)
        end = day_or_none(last, record)
        _change(record, _made(levels, bounds, begin, end))
    else:
        _show(record, [grid] if grid else list(GRIDS))


def _made(levels: str | None, bounds: str | None, begin: date, end: date | None) -> Scale:
    if levels:
        return mood_scale(levels.split(","), begin, end)
    return sleep_scale(read_bounds(bounds or ""), begin, end)


def _change(record: Record, scale: Scale) -> None:
    scales = record.choices().scales
    if scale in scales.versions:
        click.echo("They stand so already.")
        return
    record.choose(new_scale_values(scale, scales, record.was_kept), f"levels of {scale.grid}")
    _show_version(scale)
    older = [
        day
        for day in record.days(scale.from_day, scale.to_day).values()
        if (square := day.square(scale.grid)) and square.is_kept
    ]
    if older:
        click.echo(
            f"{words.counted(len(older), 'square')} kept with other levels in these days: left as kept."
        )
    if scale.grid == "mood" and scale.to_day is None:
        click.echo(words.NEWEST_ALONE)


def _rename(record: Record, grid: Grid, pairs: tuple[str, ...]) -> None:
    scale = record.choices().scales.newest(grid)
    labels = {}
    for pair in pairs:
        old, parted, new = pair.partition("=")
        if not parted:
            raise click.UsageError(f"--rename takes OLD=NEW, not '{pair}'.")
        labels[scale.level_for_text(old).rank] = new.strip()
    other = renamed(scale, labels)
    record.choose(scale_value(other), f"words for {grid}")
    _show_version(other)


def _show(record: Record, grids: list[Grid]) -> None:
    for grid in grids:
        for scale in record.choices().scales.of(grid):
            if not scale.is_taken_back:
                _show_version(scale)


def _show_version(scale: Scale) -> None:
    click.echo(f"{scale.grid}, {scale_span(scale)}")
    rows = [
        (level_name(level, scale.grid), f"key {' or '.join(level.keys)}", level.help)
        for level in scale.levels
    ]
    print_table(rows, indent=2)
