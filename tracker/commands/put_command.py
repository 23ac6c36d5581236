"""`tracker put`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.shared import need_somebody, open_record, tell_earlier_beginning, typed_day, typed_days
from tracker.diary.answers import (
    RESTS_AS,
    anxious_answer,
    counts_as_in_words,
    exact_sleep,
    kept_in_words,
    mood_answer,
    shift_answer,
    sleep_answer,
)
from tracker.diary.calls import shift_with_calls
from tracker.diary.changes import answer, mood_changes, note_change
from tracker.diary.dates import long_day, short_day
from tracker.diary.days import FIELDS, Basis, Change, Field
from tracker.diary.errors import UnknownValue
from tracker.record.store import Record

EXAMPLES = """\b
Examples:
  tracker put --sleep 6 --mood 4
  tracker put yesterday --mood good --anxious no --shift night
  tracker put 12 march --hours 6.5 --note "Swapped the late turn."
  tracker put yesterday --shift c --called 01:00-04:30
  tracker put --from mon --to yesterday
  tracker put 1 march to 31 march --paper
"""


@click.command("put", epilog=EXAMPLES)
@click.argument("day", nargs=-1)
@click.option("--mood", metavar="LEVEL", help="Number or label of the level; ? for could not say.")
@click.option("--sleep", metavar="BUCKET", help="Hours slept, put into their bucket, or its label; or ?.")
@click.option("--hours", metavar="N", help="Exact hours slept, kept as they are.")
@click.option("--anxious", metavar="yes|no", help="Whether the day is marked anxious.")
@click.option("--shift", metavar="KIND", help="Code or label of the shift that starts on the day.")
@click.option(
    "--called",
    multiple=True,
    metavar="FROM-TO",
    help="When on call called you: 01:00-04:30, night, or no.",
)
@click.option("--note", metavar="TEXT", help=words.NO_NAMES_IN_NOTES)
@click.option("--clear", multiple=True, type=click.Choice(FIELDS), help="Take a field away again.")
@click.option("--from", "first", metavar="DAY", help="Ask day by day, from this one ...")
@click.option("--to", "last", metavar="DAY", help="... to this one (today, if it is left out).")
@click.option("--paper", "basis", flag_value="paper", help="Copied from a record made at the time.")
@click.option("--remembered", "basis", flag_value="remembered", help="Written down from memory.")
@click.option("--at-the-time", "basis", flag_value="at the time", help="Kept at the time, typed later.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    day: tuple[str, ...],
    first: str | None,
    last: str | None,
    basis: Basis | None,
    clear: tuple[Field, ...],
    called: tuple[str, ...],
    **answers: str | None,
) -> None:
    """Keep a day; without options the squares that wait are asked for in plain lines.

    DAY is today (if left out), yesterday, mon to sun, 3 days ago, or a date like 17 March or 2026-03-17.
    With a DAY, or two with 'to' between, and one of the last three options alone, what is kept already
    counts as that from now on.
    """
    given = {name: text for name, text in answers.items() if text is not None}
    given |= {"called": ", ".join(called)} if called else {}
    if first or last:
        if day or given or clear:
            raise click.UsageError("--from and --to ask day by day; leave DAY and the values out.")
        need_somebody("tracker import takes many days from a file")
        _ask_days(open_record(ctx, "begin"), first or last or "", last or "today", basis)
    elif given or clear:
        keeps_something = any(given.values())  # an empty note clears, and where nothing stands nothing begins
        record = open_record(ctx, "begin" if keeps_something else "refuse")
        _put(record, typed_day(" ".join(day), record), given, clear, basis)
    elif basis and day:
        _rest_on(ctx, day, basis)
    else:
        from tracker.commands.lines.conversation import ask_in_lines

        need_somebody("tracker put with --mood or --sleep keeps a day without asking")
        record = open_record(ctx, "begin")
        ask_in_lines(record, basis, " ".join(day))


def _put(
    record: Record, day: date, given: dict[str, str], clear: tuple[Field, ...], basis: Basis | None
) -> None:
    changes = list(_changes(record, day, given, clear))
    before = record.day(day)
    began = record.first_day() if day < record.today() else None
    batch = record.keep(changes, source="command", basis=basis, rebase=basis is not None)
    if batch is None:
        click.echo(f"{short_day(day)} {day.year} stood so already; nothing was written.")
        return
    click.echo(kept_in_words(changes, before, record.day(day), record.choices(), record.clock))
    tell_earlier_beginning(record, began)


def _rest_on(ctx: click.Context, days: Sequence[str], basis: Basis) -> None:
    """Let what is kept of some days rest on another basis, and ask for the squares of one that still wait."""
    is_there = terminal.somebody_is_there()
    record = open_record(ctx, "begin" if is_there else "refuse")
    first, last = typed_days(days, record)
    span = f"{short_day(first)} {first.year}" if last is None else f"{long_day(first)} to {long_day(last)}"
    stands = record.answered_days(first, last or first) > 0
    waits = is_there and last is None and record.unanswered(first, first) > 0
    if not (stands or waits):
        raise UnknownValue(f"Nothing is kept of {span}, so nothing of it can count as {RESTS_AS[basis]}.")
    if stands and (not waits or click.confirm(f"Is what {span} holds already {RESTS_AS[basis]} too?")):
        _rebase(record, first, last or first, span, basis)
    if waits:
        from tracker.commands.lines.conversation import ask_in_lines

        ask_in_lines(record, basis, " ".join(days))


def _rebase(record: Record, first: date, last: date, span: str, basis: Basis) -> None:
    began = record.first_day()
    batch = record.rebase(first, last, basis, "command")
    if batch is None:
        click.echo(f"All that {span} holds counts as {RESTS_AS[basis]} already; nothing was written.")
        return
    click.echo(f"{counts_as_in_words(batch.changes, span, basis)} tracker undo takes it back.")
    tell_earlier_beginning(record, began)


def _changes(record: Record, day: date, given: dict[str, str], clear: tuple[Field, ...]) -> Iterator[Change]:
    choices = record.choices()
    if "mood" in given:
        mood = mood_answer(day, given["mood"], choices)
        yield mood
        if "anxious" not in given and "anxious" not in clear and mood.state == "kept":
            yield from mood_changes(record.day(day), choices.scales.level(mood.value), choices)[1:]
    if "hours" in given:
        yield exact_sleep(day, given.get("sleep", ""), given["hours"], choices)
    elif "sleep" in given:
        yield sleep_answer(day, given["sleep"], choices)
    if "anxious" in given:
        yield anxious_answer(day, given["anxious"])
    if "shift" in given or "called" in given:
        shift = shift_answer(day, given["shift"], choices, record.clock) if "shift" in given else None
        yield shift_with_calls(record.day(day), shift, given.get("called"), choices, record.clock)
    if "note" in given:
        yield note_change(day, given["note"])
    for field in clear:
        if field in given:
            raise click.UsageError(f"--{field} and --clear {field} contradict each other.")
        yield answer(day, field, "cleared")


def _ask_days(record: Record, first: str, last: str, basis: Basis | None) -> None:
    from tracker.commands.lines.conversation import ask_days
    from tracker.diary.months import each_day

    begin, end = typed_day(first, record), min(typed_day(last, record), record.today())
    if end < begin:
        raise UnknownValue(f"There is no day from {long_day(begin)} to {long_day(end)} to be kept.")
    ask_days(record, each_day(begin, end), basis)
