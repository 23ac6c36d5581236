"""`tracker trial`."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import TypeVar

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.shared import agreed, open_record, typed_day
from tracker.diary.dates import long_day
from tracker.diary.errors import TrackerError, WrongTrial
from tracker.diary.trial import (
    FORMS,
    HOPED,
    BlockForm,
    Trial,
    form_of,
    new_lot,
    outcome_named,
    pairs_typed,
    planned,
    running,
)
from tracker.record.store import Record
from tracker.record.trial_rows import trial_missed_value, trial_stopped_value, trial_value

EXAMPLES = """\b
Examples:
  tracker trial
  tracker trial plan
  tracker trial plan --try "ear plugs" --usual "no ear plugs" --outcome sleep --block 4
  tracker trial missed yesterday
  tracker trial stop
"""
LENGTHS = tuple(str(form.days) for form in FORMS)
USUAL_LENGTH = LENGTHS[1]
Answer = TypeVar("Answer")


@click.group("trial", invoke_without_command=True, epilog=EXAMPLES)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Try out on yourself whether something helps, in blocks of days drawn by lot.

    Alone it says what is done today, and of a trial that is over what it has shown. A diary shows what goes
    with what; only a lot can show what does something.
    """
    if ctx.invoked_subcommand is None:
        _show(open_record(ctx, "refuse"))


@command.command("plan", epilog=EXAMPLES)
@click.option("--try", "tried", metavar="WORDS", help="What you try, in your own words.")
@click.option("--usual", metavar="WORDS", help="What you compare it with.")
@click.option("--outcome", type=click.Choice(tuple(HOPED)), help="What it is hoped to make better.")
@click.option("--block", type=click.Choice(LENGTHS), help="Days of a block.")
@click.option("--pairs", type=int, help="Pairs of blocks; else as many as are advised.")
@click.option("--from", "first", metavar="DAY", help="The first day; else tomorrow.")
@click.option("--none-of-these", is_flag=True, help="Says that it is nothing of what is never tried.")
@click.option("--dry-run", is_flag=True, help="Say what the plan could show, and draw nothing.")
@click.option("--yes", is_flag=True, help="Draw it without asking.")
@click.pass_context
def plan(
    ctx: click.Context,
    tried: str | None,
    usual: str | None,
    outcome: str | None,
    block: str | None,
    pairs: int | None,
    first: str | None,
    none_of_these: bool,
    dry_run: bool,
    yes: bool,
) -> None:
    """Plan a trial and draw its order.

    Before anything is drawn it says how long the trial takes and what it could show.
    """
    record = open_record(ctx, "begin")
    today = record.today()
    _refuse_a_second(record, today)
    _say_what_is_never_tried()
    trial = planned(
        tried or _ask("What you try, in your own words", str),
        usual or _ask("What you compare it with", str, "as usual"),
        outcome_named(outcome)
        if outcome
        else _ask(f"Looking at ({', '.join(HOPED)})", outcome_named, "sleep"),
        typed_day(first, record, ahead=True) if first else today + timedelta(days=1),
        (form := form_of(block) if block else _ask_length()).days,
        pairs or _ask("Pairs of blocks", pairs_typed, str(form.advised_pairs)),
        new_lot(),
    )
    _tell_what_it_could_show(record, trial, today)
    if dry_run:
        click.echo("Nothing was drawn, because this was a dry run.")
    elif (none_of_these or _confirmed(words.TRIAL_NONE_OF_THESE)) and agreed(
        "Draw the order and keep it?", yes
    ):
        record.choose(trial_value(trial), "the trial")
        click.echo(
            "The order is drawn and kept; it cannot be changed, only left. tracker trial says what is next."
        )
    else:
        click.echo("Nothing was drawn.")


@command.command("missed")
@click.argument("day", required=False)
@click.option("--off", is_flag=True, help="It was done as planned after all.")
@click.pass_context
def missed(ctx: click.Context, day: str | None, off: bool) -> None:
    """Mark a day as not done as planned.

    It stays where the lot put it; a second count leaves it out.
    """
    record = open_record(ctx, "refuse")
    meant = typed_day(day, record)
    trial = next((one for one in record.choices().trials if one.block_of(meant)), None)
    if trial is None or meant > record.today():
        raise WrongTrial(f"No trial has come to {long_day(meant)}.")
    record.choose(trial_missed_value(trial, meant, not off))
    click.echo(f"{long_day(meant)}: {'done as planned' if off else 'not done as planned'}.")


@command.command("stop")
@click.option("--yes", is_flag=True, help="Stop without asking.")
@click.pass_context
def stop(ctx: click.Context, yes: bool) -> None:
    """Leave a trial early.

    Then there are only counts and no verdict, and it stands among those begun.
    """
    record = open_record(ctx, "refuse")
    trial = running(record.choices().trials, record.today())
    if trial is None:
        raise TrackerError("No trial is going on.")
    if agreed(
        "Leave the trial? Its blocks are then counted, never judged; undo does not bring it back.", yes
    ):
        record.choose(trial_stopped_value(trial, record.today()))
        click.echo("The trial is left. tracker trial shows its counts.")


def _show(record: Record) -> None:
    from tracker.analysis.trial_wording import told

    today, choices, days = record.today(), record.choices(), list(record.days().values())
    if not choices.trials:
        click.echo("No trial was planned; tracker trial plan begins one.")
    for trial in choices.trials:
        _echo([*told(trial, days, choices.scales, today, choices.trials), ""])
    _echo([*_begun(choices.trials, today), words.CAUTION])


def _begun(trials: Iterable[Trial], today: date) -> list[str]:
    from tracker.analysis.trial_wording import begun_in_words

    return list(filter(None, [begun_in_words(trials, today)]))


def _tell_what_it_could_show(record: Record, trial: Trial, today: date) -> None:
    from tracker.analysis.trial_wording import could_show

    _echo([*could_show(trial, record.days().values(), record.choices(), today), words.CAUTION])


def _refuse_a_second(record: Record, today: date) -> None:
    going_on = running(record.choices().trials, today)
    if going_on:
        raise WrongTrial(f"A trial is going on to {long_day(going_on.last)}; tracker trial stop leaves it.")


def _say_what_is_never_tried() -> None:
    _echo([words.TRIAL_NEVER, words.TRIAL_NOT_WHILE_UNWELL, words.TRIAL_STOP])


def _ask_length() -> BlockForm:
    for form in FORMS:
        click.echo(f"{form.days}: the effect is gone {form.fades}; {form.advised_pairs} pairs are advised.")
    return _ask(f"Days of a block ({', '.join(LENGTHS)})", form_of, USUAL_LENGTH)


def _ask(question: str, read: Callable[[str], Answer], default: str | None = None) -> Answer:
    """What is answered, asked again until it can be read; where nobody is there, the default."""
    if not terminal.somebody_is_there():
        if default is None:
            raise WrongTrial(f"'{question}' is not answered; tracker trial plan --help names the options.")
        return read(default)
    while True:
        try:
            return read(click.prompt(question, default=default))
        except WrongTrial as error:
            click.echo(error)


def _confirmed(question: str) -> bool:
    return terminal.somebody_is_there() and click.confirm(f"{question} Is that so?")


def _echo(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(terminal.folded(line))
