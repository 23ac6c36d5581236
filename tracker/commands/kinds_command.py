"""`tracker kinds`."""

from __future__ import annotations

import click

from tracker.commands.printed_tables import print_table
from tracker.commands.shared import open_record
from tracker.diary.errors import UnknownValue
from tracker.diary.kind_text import WORK_IN_WORDS, hours_text, kind_text, with_hours
from tracker.diary.rota import WORKS, ShiftKind, Work, checked_kind, new_kind
from tracker.record.choice_rows import kind_value

EXAMPLES = """\b
Examples:
  tracker kinds
  tracker kinds r --label "relief turn" --hours 06:00-14:00
  tracker kinds n --hours 22:00-06:00
  tracker kinds c --work yes
"""


@click.command("kinds", epilog=EXAMPLES)
@click.argument("code", required=False)
@click.option("--label", help="The word for it.")
@click.option("--hours", metavar="START-END", help="Usual hours, like 22:00-06:00; none to take them away.")
@click.option(
    "--work",
    type=click.Choice(WORKS),
    is_flag=False,
    flag_value="yes",
    help="Whether it is work; on call: only while you are called.",
)
@click.option("--no-work", is_flag=True, help="The same as --work no.")
@click.option("--code", "new_code", metavar="LETTER", help="Another letter for it.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    code: str | None,
    label: str | None,
    hours: str | None,
    work: Work | None,
    no_work: bool,
    new_code: str | None,
) -> None:
    """Show the kinds of shifts, change the one with a CODE, or add one.

    Shifts that were kept before stay as they were kept, with their hours.
    """
    work = "no" if no_work else work
    changes_nothing = (label, hours, work, new_code) == (None, None, None, None)
    record = open_record(ctx, "refuse" if changes_nothing else "begin")
    kinds = record.choices().kinds
    if code is None:
        print_table([_cells(kind) for kind in kinds])
        return
    old = next((kind for kind in kinds if kind.code.casefold() == code.casefold()), None)
    if old and changes_nothing:
        click.echo(f"{old.code} {kind_text(old)}")
        return
    if old is None and label is None:
        raise UnknownValue(f"There is no kind '{code}'; --label adds it.")
    kind = old or new_kind(code, label or "", kinds)
    kind = kind._replace(
        code=(new_code or kind.code).casefold(),
        label=label or kind.label,
        work=work or kind.work,
    )
    if hours is not None:
        kind = with_hours(kind, hours)
    checked_kind(kind, kinds)
    record.choose(kind_value(kind), f"kind of shift {kind.label}")
    click.echo(f"{'Changed' if old else 'Added'}: {kind.code} {kind_text(kind)}")


def _cells(kind: ShiftKind) -> tuple[str, ...]:
    return kind.code, kind.label, hours_text(kind), WORK_IN_WORDS[kind.work]
