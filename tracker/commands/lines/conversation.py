"""Plain questions, line by line: for screen readers, and for whoever likes lines better than squares."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from functools import partial

import click

from tracker import words
from tracker.commands.lines import plans
from tracker.commands.lines.fields import all_that_stands, changes_of
from tracker.commands.lines.questions import introduce, keep_answer, question
from tracker.commands.lines.session import Asked, Plan, Session, Stopped, Turned
from tracker.commands.lines.typed_words import go_to_day, obeyed
from tracker.diary.days import Basis
from tracker.diary.errors import TrackerError
from tracker.diary.scales import GRIDS
from tracker.diary.spoken import spoken_date
from tracker.record.store import Record

ANOTHER_DAY = "Another day"
HOW_ANOTHER = ", like yesterday or 12 March, or Enter alone to end"
"""Said the first time alone."""


def ask_in_lines(record: Record, basis: Basis | None = None, day: str = "") -> None:
    """Ask for a day that is named, else for what waits of yesterday and today; then for other days.

    These lines are all that a person has who sees no squares, so they never end before she says so.
    """
    session = Session(record, basis)
    if record.is_empty():
        session.say(*words.WHAT_THIS_IS, words.CAUTION)
    session.say(f"Today is {spoken_date(record.today(), record.today())}.")
    if day:
        plan = go_to_day(session, day)
    else:
        _say_near_days(session)
        plan = plans.waiting_now(record)
    _converse(session, plan)
    session.say(words.WHERE_TO_TURN_HINT)


def ask_days(record: Record, days: Iterable[date], basis: Basis | None) -> None:
    """Ask for the squares of some days that hold nothing, sleep before mood; then it ends."""
    _converse(Session(record, basis), plans.of_days(record, days), ends=True)


def _converse(session: Session, plan: Plan, ends: bool = False) -> None:
    """Carry out one plan after another; `ends`: the first one alone, if she asks for no other."""
    following: Plan | None = plan
    try:
        while following is not None:
            try:
                _ask_all(session, following)
                following = None if ends else _next_plan(session)
            except Turned as turned:
                following, ends = turned.plan, False
    except Stopped:
        click.echo("Stopped. What was kept stands.")


def _ask_all(session: Session, plan: Plan) -> None:
    """Ask every question of a plan; says at the end what was left open."""
    asked = []
    for at in plan.questions:
        asked.append(at)
        _ask(session, at)
    left = [at for at in asked if at.field in GRIDS and not session.record.day(at.day).square(at.field)]
    if left or plan.done:
        session.say(f"{words.counted(len(left), 'square')} left open." if left else plan.done)


def _ask(session: Session, at: Asked) -> None:
    """Ask one question until there is an answer, or none is wanted."""
    introduce(session, at)
    while text := session.typed(question(session, at)):
        before = len(session.answered)
        if not _is_obeyed(session, at, text):
            keep_answer(session, at, partial(changes_of, session.record, at, text))
        if at in session.answered[before:]:
            return


def _is_obeyed(session: Session, at: Asked | None, text: str) -> bool:
    """Whether a text was no answer but a word that is done, and what that asks for first was asked."""
    follows = obeyed(session, at, text)
    for first in follows or ():
        _ask(session, first)
    return follows is not None


def _next_plan(session: Session) -> Plan | None:
    """What she wants to be asked next; None: nothing. The earlier days that wait are named once."""
    is_first = "days" not in session.told_once
    if is_first and (waiting := plans.days_that_wait(session.record)):
        session.say(waiting)
    session.told_once.add("days")
    while text := session.typed(f"{ANOTHER_DAY}{HOW_ANOTHER if is_first else ''}"):
        is_first = False
        if _is_obeyed(session, None, text):
            continue
        try:
            return go_to_day(session, text)
        except TrackerError as error:
            session.say(str(error))
    return None


def _say_near_days(session: Session) -> None:
    """What stands of yesterday and today, where anything does; nothing aloud where squares open hidden."""
    if session.record.choices().settings.hide:
        return
    today = session.record.today()
    for day in (today - timedelta(days=1), today):
        if standing := all_that_stands(session.record, day):
            click.echo(f"{words.sentence(session.called(day))}: {standing}.")
