"""`tracker summary`."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

import click

from tracker import words
from tracker.commands.common import open_record, read_day, somebody_is_there
from tracker.diary.days import Day
from tracker.diary.errors import CannotWrite, UnknownValue, WrongDay
from tracker.record.store import Record
from tracker.summary.content import make_page
from tracker.summary.ground import RECENT, Wishes, usual_period
from tracker.summary.own_words import CHANGED_LINES, WANTS_LINES, checked_lines
from tracker.summary.page import Page
from tracker.summary.text import as_text
from tracker.summary.writing import Sheet, check_place, write_page

EXAMPLES = """\b
Examples:
  tracker summary mood-and-sleep.pdf
  tracker summary - --from 2026-01-01 --to 2026-03-31
  tracker summary --want "To talk about sleep around nights."
  tracker summary page.pdf --note 2026-03-12 --fax
"""


@click.command("summary", epilog=f"{words.CAUTION}\n\n{EXAMPLES}")
@click.argument("file", required=False, metavar="[FILE]")
@click.option("--from", "first", metavar="DAY", help="First day; else 14 weeks before the last.")
@click.option("--to", "last", metavar="DAY", help="Last day; else today, or yesterday while its mood waits.")
@click.option("--want", "wants", multiple=True, metavar="TEXT", help="What you would like from today; kept.")
@click.option("--changed", multiple=True, metavar="TEXT", help="What has changed, what you tried; kept.")
@click.option("--notes", is_flag=True, help="Put the notes of the last 14 days on it.")
@click.option("--note", "note_days", multiple=True, metavar="DAY", help="Put the note of a day on it.")
@click.option("--shifts/--no-shifts", default=None, help="Shifts with their own names, or none at all.")
@click.option("--letter", is_flag=True, help="US Letter instead of A4.")
@click.option("--fax", is_flag=True, help="White squares with a bar for the level, for fax and copiers.")
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    file: str | None,
    first: str | None,
    last: str | None,
    wants: tuple[str, ...],
    changed: tuple[str, ...],
    notes: bool,
    note_days: tuple[str, ...],
    shifts: bool | None,
    letter: bool,
    fax: bool,
    force: bool,
) -> None:
    """Write the page for the GP: one side, your own words first, then counts, then what is shown and not.

    FILE ends in .pdf, .txt or .md; - prints the text page here. --want and --changed may be given several
    times; they replace what stood there and are kept for the next page. An empty text takes it away.
    """
    record = open_record(ctx)
    _keep_lines(record, wants, changed)
    if file is None:
        if not (wants or changed):
            raise click.UsageError("Name a file that ends in .pdf, .txt or .md, or give - for text here.")
        return
    if file != "-":
        check_place(Path(file), force or _may_write_over(Path(file)))
    days = record.days()
    period = _period(record, days, first, last)
    picked = tuple(read_day(day, record) for day in note_days)
    if notes:
        picked += tuple(period[1] - timedelta(days=n) for n in range(RECENT))
    page = page_of(record, days, Wishes(period, picked, shifts), as_of=period[1] if last else record.today())
    if file == "-":
        _print(page)
    else:
        left_out = write_page(page, Path(file), Sheet(letter, fax))
        _tell(Path(file), left_out)


def page_of(record: Record, days: Mapping[date, Day], wishes: Wishes, as_of: date) -> Page:
    """The page of a record, findings included."""
    from tracker.analysis.findings import find
    from tracker.summary.said import said_by

    choices = record.choices()
    findings = find(days.values(), choices, as_of=as_of, clock=record.clock)
    return make_page(days, choices, said_by(findings), record.today(), record.clock, wishes)


def _keep_lines(record: Record, wants: tuple[str, ...], changed: tuple[str, ...]) -> None:
    """Keep her lines, if any were given."""
    values = {}
    if wants:
        values["page.wants"] = checked_lines(wants, WANTS_LINES, "What you would like")
    if changed:
        values["page.changed"] = checked_lines(changed, CHANGED_LINES, "What has changed")
    if record.choose(values, "lines for the appointment"):
        click.echo("Kept for the page. tracker undo takes it back.", err=True)


def _period(
    record: Record, days: Mapping[date, Day], first: str | None, last: str | None
) -> tuple[date, date]:
    if record.first_day() is None:
        raise UnknownValue("Nothing is kept yet, so there is no page to write; tracker put keeps a day.")
    end = read_day(last, record) if last else None
    usual = usual_period(days, end or record.today())
    chosen = (read_day(first, record) if first else usual[0], end or usual[1])
    if chosen[0] > chosen[1]:
        raise WrongDay(f"The page would begin on {chosen[0]} and end on {chosen[1]}; change --from or --to.")
    if chosen[1] > record.today():
        raise WrongDay(f"{chosen[1]} is still to come; the page can end today at the latest.")
    return chosen


def _may_write_over(path: Path) -> bool:
    """Ask, if somebody is there to answer."""
    if not path.is_file() or not somebody_is_there():
        return False
    if click.confirm(f"{path} is there already. Write over it?"):
        return True
    raise CannotWrite(f"{path} was left as it is.")


def _print(page: Page) -> None:
    text, left_out = as_text(page)
    click.echo(text, nl=False)
    _tell_left_out(left_out)
    click.echo("\n".join(words.HANDING_OVER), err=True)


def _tell(path: Path, left_out: tuple[str, ...]) -> None:
    click.echo(f"The page is in {path}; nothing was sent or printed.")
    _tell_left_out(left_out)
    click.echo("\n".join(words.HANDING_OVER))


def _tell_left_out(left_out: tuple[str, ...]) -> None:
    if left_out:
        click.echo(f"Left out, for want of room on one side: {words.listed(list(left_out))}.", err=True)
