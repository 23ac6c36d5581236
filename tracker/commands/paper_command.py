"""`tracker paper`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tracker.commands.shared import open_record
from tracker.diary.dates import read_month
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import GRIDS, Grid
from tracker.record.files import refuse_existing
from tracker.words import counted

if TYPE_CHECKING:
    from tracker.summary.paper_layout import PaperName

PAPER_NAMES = ("a4", "a5", "letter")
EXAMPLES = """\b
Examples:
  tracker paper year.pdf
  tracker paper march.pdf --month 2026-03 --grid mood --filled
  tracker paper dots.pdf --pitch 3.5 --dots 4.2,6
  tracker paper notebook.pdf --paper a5
"""


@click.command("paper", epilog=EXAMPLES)
@click.argument("file", metavar="FILE.pdf", type=click.Path(path_type=Path))
@click.option("--year", type=click.IntRange(1900, 2199), help="A year; else this one.")
@click.option("--month", metavar="MONTH", help="One month, like 2026-03 or march, instead of a year.")
@click.option("--grid", type=click.Choice(GRIDS), help="One grid; else both.")
@click.option("--filled", is_flag=True, help="With what is kept; else blank squares.")
@click.option(
    "--pitch",
    type=float,
    help="Millimetres of a square, 2 to 10, else 5; of a month to 20, else as fits.",
)
@click.option("--dots", metavar="X,Y", help="Where one of your dots lies: mm from the left and upper edge.")
@click.option("--grey", is_flag=True, help="Greys instead of colours.")
@click.option("--paper", "paper", type=click.Choice(list(PAPER_NAMES), case_sensitive=False), help="Else A4.")
@click.option("--letter", is_flag=True, help="The same as --paper letter.")
@click.option(
    "--turned/--not-turned", default=None, help="Months in columns, or in rows; else as the paper has room."
)
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    file: Path,
    year: int | None,
    month: str | None,
    grid: Grid | None,
    filled: bool,
    pitch: float | None,
    dots: str | None,
    grey: bool,
    paper: PaperName | None,
    letter: bool,
    turned: bool | None,
    force: bool,
) -> None:
    """Print grids for a paper notebook, to the millimetre, with cut marks and a ruler to check the printer.

    Squares fall on your own dots: measure where one dot lies and say so with --dots.
    """
    from tracker.summary.paper import write_paper
    from tracker.summary.paper_layout import Wanted

    _refuse_contradictions(year, month, paper, letter, turned)
    record = open_record(ctx, "refuse" if filled else "empty")
    _check_place(file, force, record.path)
    first = read_month(month, record.today()) if month else None
    wanted = Wanted(
        year=first.year if first else year or record.today().year,
        month=first.month if first else None,
        grids=(grid,) if grid else GRIDS,
        pitch=pitch,
        dots=_dots(dots),
        filled=filled,
        grey=grey,
        paper=paper or ("letter" if letter else "a4"),
        turned=turned,
    )
    number = write_paper(file, wanted, record.days() if filled else {}, record.choices(), record.today())
    click.echo(
        f"{counted(number, 'sheet')} in {file}. Print at 100 %, not fitted to the page; measure the ruler."
    )


def _refuse_contradictions(
    year: int | None, month: str | None, paper: PaperName | None, letter: bool, turned: bool | None
) -> None:
    if letter and paper not in (None, "letter"):
        raise click.UsageError("Give --paper or --letter, not both.")
    if month and turned is not None:
        raise click.UsageError("A month has weeks in rows; leave --turned out.")
    if year and month:
        raise click.UsageError("Give --year or --month, not both.")


def _check_place(file: Path, force: bool, record: Path) -> None:
    if file.suffix.lower() != ".pdf":
        raise UnknownValue(f"{file} is no PDF by its name; end it in .pdf.")
    refuse_existing(file, force, record)


def _dots(text: str | None) -> tuple[float, float] | None:
    if text is None:
        return None
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise UnknownValue(f"'{text}' is no place of a dot; give two numbers of mm, like 4.2,6.") from None
    if not (0 <= x <= 300 and 0 <= y <= 300):
        raise UnknownValue(f"A dot at {x:g},{y:g} mm lies off the paper; give 0 to 300 each way.")
    return x, y
