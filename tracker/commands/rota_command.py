"""`tracker rota`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.shared import day_or_none, first_of, open_record, say_dry_run
from tracker.diary.choices import Choices
from tracker.diary.days import Change
from tracker.diary.errors import NobodyThere, TrackerError, UnknownValue
from tracker.diary.rota import kind_for_text
from tracker.diary.rota_plan import YEAR, RotaPlan, pattern_shifts, plan_rota, rota_span, with_days_off
from tracker.diary.rota_report import (
    changed_in_words,
    kept_rota_in_words,
    named_for_undo,
    plan_in_words,
    staying_in_words,
)
from tracker.record.csv_days import text_of
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.record.rota_files import RotaFile

EXAMPLES = """\b
Examples:
  tracker rota winter.ics --dry-run
  tracker rota winter.ics --kind "Night, Box 4=n" --kind "Meeting="
  tracker rota --pattern "L L N N off off" --from 2026-04-01 --to 2026-09-30
"""


@click.command("rota", epilog=EXAMPLES)
@click.argument("file", required=False, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--pattern", metavar="KINDS", help="Kinds of shifts that repeat; - is a day without one.")
@click.option(
    "--from",
    "first",
    metavar="DAY",
    help="First day; 1 nov is the next 1 November (a file: a year ago, if left out).",
)
@click.option("--to", "last", metavar="DAY", help="Last day (a year ahead, if left out).")
@click.option(
    "--kind",
    "named",
    multiple=True,
    metavar="NAME=KIND",
    help="Kind of the events of a name; NAME= for none. Remembered for the next file.",
)
@click.option(
    "--days-off/--no-days-off",
    default=None,
    help="Write the days without a shift as off, or leave them blank; else asked.",
)
@click.option("--over-leave", is_flag=True, help="Lay the rota over leave as well.")
@click.option("--dry-run", is_flag=True, help="Say what would change, and change nothing.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    file: Path | None,
    pattern: str | None,
    first: str | None,
    last: str | None,
    named: tuple[str, ...],
    days_off: bool | None,
    over_leave: bool,
    dry_run: bool,
) -> None:
    """Take shifts from an iCalendar FILE, or from a pattern that repeats.

    What would change is shown first. Shifts that you set by hand stay as they are, and so does leave, unless
    you lay the rota over it. Shifts in a spreadsheet: save it as CSV; tracker import takes them.
    """
    laid: Laid | None = None
    if (file is None) == (pattern is None):
        raise click.UsageError("Name a file, or a pattern with --from.")
    record = open_record(ctx, "empty" if dry_run else "begin")
    record.changed_elsewhere()  # from here on
    if pattern is not None:
        if first is None:
            raise click.UsageError("--pattern needs the day on which it begins: --from DAY.")
        laid = _by_pattern(record, pattern, _span(record, first, last), days_off)
    elif file is not None:
        laid = _by_file(record, file, _span(record, first, last), named, days_off)
    if laid:
        _go_on(record, laid.over_leave() if over_leave else laid, dry_run)


class Laid(NamedTuple):
    """A rota laid beside the shifts that stand."""

    plan: RotaPlan
    span: tuple[date, date]
    name: str
    """Of the rota: its pattern, or the name of its file."""
    remembered: Mapping[str, str] = MappingProxyType({})
    """Choices: the kinds of the names in a file."""

    def over_leave(self) -> Laid:
        """The same, over leave as well."""
        return self._replace(plan=self.plan.over_leave())


def _span(record: Record, first: str | None, last: str | None) -> tuple[date, date]:
    today = record.today()
    begin = day_or_none(first, record, ahead=True) or today - YEAR
    return rota_span(begin, day_or_none(last, record, ahead=True), today)


def _by_pattern(record: Record, pattern: str, span: tuple[date, date], days_off: bool | None) -> Laid:
    choices = record.choices()
    shifts = pattern_shifts(pattern, *span, choices.kinds, record.clock)
    changes = _without_blanks(record, shifts, span, "pattern", days_off)
    plan = plan_rota(changes, record.days(*span), *span)
    return Laid(plan, span, pattern)


def _by_file(
    record: Record, file: Path, span: tuple[date, date], named: tuple[str, ...], days_off: bool | None
) -> Laid | None:
    from tracker.record.rota_files import read_rota, shifts_of

    rota = read_rota(text_of(file), file, *span, record.clock)
    for warning in rota.warnings:
        click.echo(warning, err=True)
    choices = record.choices()
    answers = _kinds_of_names(rota, choices, _named(named))
    kinds = {name: choices.kinds_by_id.get(id) for name, id in answers.items()}
    shifts = shifts_of(rota.events, kinds, record.clock)
    click.echo(f"{words.counted(len(shifts.changes), 'shift')} in {file.name}, {span[0]} to {span[1]}.")
    for line in shifts.doubles:
        click.echo(f"  {line}")
    if not shifts.changes:
        return None
    covered = (min(shifts.changes), max(shifts.changes))
    changes = _without_blanks(record, shifts.changes, covered, "file", days_off)
    plan = plan_rota(changes, record.days(*covered), *covered)
    remembered = {
        f"event.{name}": id
        for name, id in answers.items()
        if choices.event_kinds.get(name) != id
        and (name.casefold() in _named(named) or not _is_a_kind(name, choices))
    }
    return Laid(plan, covered, file.name, remembered)


def _without_blanks(
    record: Record, shifts: Mapping[date, Change], span: tuple[date, date], by: str, days_off: bool | None
) -> Mapping[date, Change]:
    """The rota with its blank days as off, if she wants it: findings use no day whose shift is blank."""
    blank = (span[1] - span[0]).days + 1 - len(shifts)
    question = f"Write the {words.counted(blank, 'day')} without a shift in this span as off?"
    if not blank or not (_asked_yes(question) if days_off is None else days_off):
        return shifts
    off = record.choices().kinds_by_id["off"]
    return with_days_off(shifts, *span, off, by, record.clock)


def _asked_yes(question: str) -> bool:
    return terminal.somebody_is_there() and click.confirm(question, default=True)


def _go_on(record: Record, laid: Laid, dry_run: bool) -> None:
    plan, remembered = laid.plan, laid.remembered
    for line in _plan_lines(plan, record.choices(), laid.span):
        click.echo(line)
    if dry_run:
        say_dry_run()
    elif not plan.changes and not remembered:
        click.echo("There is nothing to change.")
    elif not terminal.somebody_is_there() or click.confirm("Keep these shifts?", default=True):
        if record.changed_elsewhere():
            raise TrackerError(
                "The record was changed in another window meanwhile, so nothing was kept; lay the rota again."
            )
        what = named_for_undo(laid.name, plan)
        record.keep(plan.changes, what, "imported", "at the time", choices=remembered)
        click.echo(f"{kept_rota_in_words(plan)} tracker undo takes {'them' if plan.changes else 'it'} back.")


def _plan_lines(plan: RotaPlan, choices: Choices, span: tuple[date, date]) -> Iterator[str]:
    yield from plan_in_words(plan, choices, span)
    yield from first_of(changed_in_words(plan, choices))
    yield from first_of(staying_in_words(plan, choices))
    if plan.on_leave:
        yield "Leave stays as it is; --over-leave lays the rota over it."


def _named(pairs: tuple[str, ...]) -> dict[str, str]:
    """The kind given for each name of an event; capitals are easily mistyped, and part no two names."""
    named = {}
    for pair in pairs:
        name, parted, kind = pair.rpartition("=")
        if not parted or not name:
            raise click.UsageError(f"--kind takes NAME=KIND, not '{pair}'.")
        named[name.casefold()] = kind
    return named


def _kinds_of_names(rota: RotaFile, choices: Choices, named: Mapping[str, str]) -> dict[str, str]:
    """The id of the kind of each name, empty for none: as given, remembered, read from the name, or asked."""
    found: dict[str, str] = {}
    unknown: dict[str, int] = {}
    for name, count in rota.names().items():
        if name.casefold() in named:
            found[name] = _id_of(named[name.casefold()], choices)
        elif name in choices.event_kinds:
            found[name] = choices.event_kinds[name]
        elif _is_a_kind(name, choices):
            found[name] = kind_for_text(name, choices.kinds).id
        else:
            unknown[name] = count
    if unknown and not terminal.somebody_is_there():
        listed = ", ".join(f"'{name}' ({count})" for name, count in unknown.items())
        raise NobodyThere(
            f"No kind of shift is known for {listed}; "
            f'name it like --kind "{next(iter(unknown))}=n", or with nothing behind = to pass it over.'
        )
    return found | {name: _asked(name, count, choices) for name, count in unknown.items()}


def _is_a_kind(name: str, choices: Choices) -> bool:
    try:
        kind_for_text(name, choices.kinds)
    except UnknownValue:
        return False
    return True


def _id_of(text: str, choices: Choices) -> str:
    return kind_for_text(text, choices.kinds).id if text.strip() else ""


def _asked(name: str, count: int, choices: Choices) -> str:
    """Ask once; the answer is remembered with the shifts."""
    there = ", ".join(f"{kind.code} {kind.label}" for kind in choices.kinds)
    times = words.counted(count, "event")
    while True:
        answer: str = click.prompt(
            terminal.folded(f"Which kind is '{name}' ({times}; {there}; Enter alone: no shift)?"),
            default="",
            show_default=False,
        )
        try:
            return _id_of(answer, choices)
        except UnknownValue as error:
            click.echo(str(error))
