"""`tracker trial`."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from datetime import date, timedelta

import click

from tracker import words
from tracker.commands import terminal
from tracker.commands.shared import agreed, open_record, typed_day
from tracker.diary.dates import long_day
from tracker.diary.errors import TrackerError, WrongTrial
from tracker.diary.trial import FORMS, HOPED, SEED_BYTES, Outcome, Trial, check_plan, form_of, running
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
@click.option("--pairs", type=int, help="Pairs of blocks.")
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
    """Plan a trial: says how long it takes and what it could show, then draws the order and keeps it."""
    record = open_record(ctx, "begin")
    today = record.today()
    _refuse_a_second(record, today)
    _say_what_is_never_tried()
    form = form_of(int(block or _ask_length()))
    looked_at = _outcome(outcome or _ask(f"Looking at ({', '.join(HOPED)})", "sleep"))
    trial = Trial(
        id=secrets.token_hex(8),
        tried=(tried or _ask("What you try, in your own words")).strip(),
        usual=(usual or _ask("What you compare it with", "as usual")).strip(),
        outcome=looked_at,
        direction=HOPED[looked_at],
        first=typed_day(first, record, ahead=True) if first else today + timedelta(days=1),
        block_days=form.days,
        washout=form.washout,
        pairs=pairs or int(_ask("Pairs of blocks", str(form.advised_pairs))),
        seed=secrets.token_hex(SEED_BYTES),
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
    """Mark a day as not done as planned; it stays where the lot put it, and is counted without it beside."""
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
    """Leave a trial early: then there are only counts, no verdict, and it is counted among those begun."""
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
    today, trials = record.today(), record.choices().trials
    if not trials:
        click.echo("No trial was planned; tracker trial plan begins one.")
    for trial in trials:
        _echo(_told(record, trial, today))
        click.echo()
    _echo([*_begun(trials, today), words.CAUTION])


def _told(record: Record, trial: Trial, today: date) -> list[str]:
    from tracker.analysis.trial_wording import plan_in_words, present_block, result_in_words
    from tracker.analysis.trials import foretell, judge

    choices, days = record.choices(), list(record.days().values())
    result = judge(trial, days, choices.scales, today, choices.trials)
    if result.stage in ("ended", "stopped"):
        foretold = (
            foretell(trial, days, choices.scales, trial.first) if result.verdict == "not shown" else None
        )
        return [*plan_in_words(trial)[:2], *result_in_words(result, foretold)]
    return [*plan_in_words(trial), *present_block(trial, today), words.TRIAL_STOP]


def _begun(trials: Iterable[Trial], today: date) -> list[str]:
    from tracker.analysis.trial_wording import begun_in_words

    return list(filter(None, [begun_in_words(trials, today)]))


def _tell_what_it_could_show(record: Record, trial: Trial, today: date) -> None:
    """Say how long a plan takes and what it could show; raises WrongTrial where that is nothing."""
    from tracker.analysis.trial_wording import foretold_in_words, plan_in_words
    from tracker.analysis.trials import foretell

    choices = record.choices()
    check_plan(trial, today, choices.trials)
    foretold = foretell(trial, record.days().values(), choices.scales, today)
    _echo([*plan_in_words(trial), *foretold_in_words(foretold, trial), words.CAUTION])
    if foretold and foretold.is_hopeless:
        raise WrongTrial("Nothing was drawn: by your own record such a trial could hardly show anything.")


def _refuse_a_second(record: Record, today: date) -> None:
    going_on = running(record.choices().trials, today)
    if going_on:
        raise WrongTrial(f"A trial is going on to {long_day(going_on.last)}; tracker trial stop leaves it.")


def _say_what_is_never_tried() -> None:
    _echo([*words.TRIAL_NEVER, words.TRIAL_NOT_WHILE_UNWELL, words.TRIAL_STOP])


def _ask_length() -> str:
    for form in FORMS:
        click.echo(f"{form.days}: the effect is gone {form.fades}; {form.advised_pairs} pairs are advised.")
    return _ask(f"Days of a block ({', '.join(LENGTHS)})", LENGTHS[2])


def _ask(question: str, default: str | None = None) -> str:
    if not terminal.somebody_is_there():
        raise WrongTrial(f"'{question}' is not answered; tracker trial plan --help names the options.")
    answer: str = click.prompt(question, default=default)
    return answer


def _outcome(text: str) -> Outcome:
    found = next((outcome for outcome in HOPED if outcome == text.strip().casefold()), None)
    if found is None:
        raise WrongTrial(f"A trial looks at {words.listed(list(HOPED))}, not at '{text}'.")
    return found


def _confirmed(question: str) -> bool:
    return terminal.somebody_is_there() and click.confirm(f"{question}?")


def _echo(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(line)
