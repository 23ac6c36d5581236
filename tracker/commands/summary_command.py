"""`tracker summary`."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.shared import day_or_none, need_somebody, open_record, typed_day
from tracker.diary.errors import CannotWrite
from tracker.record.files import refuse_existing
from tracker.record.store import Record
from tracker.summary.content import page_of
from tracker.summary.own_lines import CHANGED_LINES, WANTS_LINES, checked_lines
from tracker.summary.page_data import PageOptions, chosen_period
from tracker.summary.page_model import Page
from tracker.summary.text import as_text
from tracker.summary.thresholds import RECENT
from tracker.summary.writing import Print, check_place, unprinted, usual_name, write_page

EXAMPLES = """\b
Examples:
  tracker summary mood-and-sleep.pdf
  tracker summary - --from 2026-01-01 --to 2026-03-31
  tracker summary --want "To talk about sleep around nights."
  tracker summary page.pdf --note 2026-03-12 --fax --name -
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
@click.option("--changes/--no-changes", default=None, help="Your dated changes; else as the setting says.")
@click.option("--trial", is_flag=True, help="Put the newest trial that has ended on it.")
@click.option("--letter", is_flag=True, help="US Letter instead of A4.")
@click.option("--fax", is_flag=True, help="White squares with a black foot, for fax and copiers.")
@click.option("--ascii", is_flag=True, help="Plain ASCII in a page of text.")
@click.option("--name", metavar="TEXT", help=f"{words.NAMED_FOR_ONE_PAGE} - asks for it.")
@click.option("--born", metavar="TEXT", help="Your date of birth, for this page alone; - asks for it.")
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
    changes: bool | None,
    trial: bool,
    letter: bool,
    fax: bool,
    ascii: bool,
    name: str | None,
    born: str | None,
    force: bool,
) -> None:
    """Write the page for the GP: one side, your own words first, then counts, then what is shown and not.

    FILE ends in .pdf, .txt or .md; - prints the text page here; without one you are asked where to. --want
    and --changed may be given several times; they replace what stood there and are kept for the next page.
    An empty text takes it away.
    """
    record = open_record(ctx, "begin" if wants or changed else "refuse")
    _keep_lines(record, wants, changed)
    if file is None and (wants or changed):
        return
    days = record.days()
    period = chosen_period(days, day_or_none(first, record), day_or_none(last, record), record.today())
    picked = tuple(typed_day(day, record) for day in note_days)
    if notes:
        picked += tuple(period[1] - timedelta(days=n) for n in range(RECENT))
    place = None if file == "-" else _place(file, force, record)
    if file:
        _say_who_may_see_it()
    options = PageOptions(period, picked, shifts, changes, trial)
    page = page_of(days, record.choices(), options, record.today(), record.clock)
    _write(_named(page, name, born), place, Print(letter, fax, ascii))


def _keep_lines(record: Record, wants: tuple[str, ...], changed: tuple[str, ...]) -> None:
    """Keep her lines, if any were given."""
    values = {}
    if wants:
        values["page.wants"] = checked_lines(wants, WANTS_LINES, "What you would like")
    if changed:
        values["page.changed"] = checked_lines(changed, CHANGED_LINES, "What has changed")
    if record.choose(values):
        click.echo("Kept for the page. tracker undo takes it back.", err=True)


def _say_who_may_see_it() -> None:
    """Said before the file is asked for or written."""
    click.echo("\n".join(words.HANDING_OVER), err=True)


def _named(page: Page, name: str | None, born: str | None) -> Page:
    """The page with her name, asked for where she gives `-`: then no shell keeps it."""
    asked = {"name": name or "", "born": born or ""}
    for what, question in (("name", "Name for this page"), ("born", "Date of birth for this page")):
        if asked[what] == "-":
            need_somebody(f"give --{what} with a text")
            asked[what] = click.prompt(question, default="", show_default=False)
    return page.named(asked["name"], asked["born"])


def _place(file: str | None, force: bool, record: Record) -> Path:
    """Where the page may be written."""
    path = Path(file or _asked_for(record.today())).expanduser()
    refuse_existing(path, True, record.path)
    check_place(path, force or _may_write_over(path))
    return path


def _asked_for(today: date) -> str:
    """The file, asked for if somebody is there to answer."""
    name = usual_name(today)
    if not terminal.somebody_is_there():
        raise click.UsageError(
            f"Name a file that ends in .pdf, .txt or .md, like {name}, or - for text here."
        )
    _say_who_may_see_it()
    asked: str = click.prompt("File for the page", default=name)
    return asked


def _may_write_over(path: Path) -> bool:
    """Ask, if somebody is there to answer."""
    if not path.is_file() or not terminal.somebody_is_there():
        return False
    if click.confirm(f"{path} is there already. Write over it?"):
        return True
    raise CannotWrite(f"{path} was left as it is.")


def _write(page: Page, place: Path | None, look: Print) -> None:
    """Write the page, or print it here; what of her words cannot be printed is said before."""
    for sentence in unprinted(page, place.suffix.lower() if place else ".txt", look):
        terminal.say(sentence)
    if place:
        left_out = write_page(page, place, look)
        click.echo(words.page_written(place))
    else:
        text, left_out = as_text(page, look.ascii)
        click.echo(text, nl=False)
    if left_out:
        terminal.say(words.left_out(left_out))
