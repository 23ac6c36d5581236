"""What may be typed at a question in place of its answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from functools import partial

import click

from tracker import words
from tracker.commands.lines import plans
from tracker.commands.lines.fields import (
    CLEAR,
    IN_ORDER_OF_TIME,
    all_that_stands,
    calls,
    changes_of,
    exact_hours,
    what_stands,
)
from tracker.commands.lines.questions import keep_answer, read_key
from tracker.commands.lines.session import Asked, Plan, Session, Turned
from tracker.diary.changes import basis_by_hand, dated_change
from tracker.diary.dates import read_day
from tracker.diary.days import LEFT_OUT_AFTER, Field
from tracker.diary.errors import TrackerError, UnknownValue
from tracker.diary.own_changes import change_on
from tracker.diary.spoken import spoken_date
from tracker.record.change_rows import change_value, no_change_value
from tracker.record.search import found_with, how_many

LINES_READ = 10
"""Notes and changes that are read of those that were found."""
At = Asked | None
"""The question at which something is typed; None between two plans."""
Act = Callable[[Session, At, str], Asked | None]
"""Does what is asked for; gives a question that is to be asked before going on."""


def obeyed(session: Session, at: At, text: str) -> tuple[Asked, ...] | None:
    """What is to be asked first where a text is one of these words, which is done; None where it is none.

    Raises Turned where she goes elsewhere.
    """
    word, _, rest = text.partition(" ")
    act = _act(session, at, word.casefold(), rest)
    if act is None:
        return None
    try:
        first = act(session, at, rest.strip())
    except TrackerError as error:
        session.say(str(error))
        return ()
    return (first,) if first else ()


def _act(session: Session, at: At, word: str, rest: str) -> Act | None:
    is_letter = at and at.field == "shift" and word in [kind.code for kind in session.record.choices().kinds]
    if is_letter or (at and word == CLEAR and not rest):
        return None
    if word in ALONE and not rest:
        return ALONE[word]
    return None if at and at.field == "note" else WITH_MORE.get(word)


def go_to_day(session: Session, text: str) -> Plan:
    """The questions of a day that is named, once it was said what stands."""
    day = read_day(text, session.record.today())
    plan = plans.of_day(session.record, day)
    _say_day(session, day)
    _say_how_late(session, day)
    return plan


def _say_how_late(session: Session, day: date) -> None:
    """Say once that late answers count as remembered, and that those of a day long past are left out."""
    today, late = session.record.today(), (session.record.today() - day).days
    left_out = late > LEFT_OUT_AFTER
    told = "findings" if left_out else "remembered"
    if session.basis or basis_by_hand(day, today) == "at the time" or told in session.told_once:
        return
    session.told_once.add(told)
    session.say(f"What is kept now counts as remembered{', and findings leave it out' if left_out else ''}.")


def _say_day(session: Session, day: date) -> None:
    name = words.sentence(session.called(day))
    click.echo(f"{name}: {all_that_stands(session.record, day) or 'nothing is kept'}.")


def _day_of(session: Session, at: At) -> date:
    return at.day if at else session.record.today()


def _key(session: Session, at: At, _: str) -> None:
    if at is None:
        session.say("A day, or one of the words that help reads.")
        return
    read_key(session, at)
    standing = what_stands(session.record, session.record.day(at.day), (at.field,))
    click.echo(f"{words.sentence(standing)} stands." if standing else "Nothing stands.")


def _take_back(session: Session, at: At, _: str) -> Asked | None:
    """Take the last action back; what it answered here is asked for again before going on.

    One that was not kept here, such as an import or that of another window, only if she means it.
    """
    last = session.record.last_action()
    if last is None:
        session.say("There is nothing to take back.")
        return None
    not_here = f"The last action was not kept here: {last.what}. Take it back?"
    if last.id not in session.kept and not session.is_agreed(not_here):
        session.say(words.NOTHING_CHANGED)
        return None
    session.say(f"Taken back: {session.record.undo().what}.")
    again = session.kept.get(last.id)
    return again if again != at else None


def _bring_back(session: Session, _: At, __: str) -> None:
    session.say(f"Brought back: {session.record.redo().what}.")


def _done(_: Session, __: At, ___: str) -> None:
    raise Turned(Plan())


def _day(session: Session, _: At, text: str) -> None:
    raise Turned(go_to_day(session, text))


def _waiting(session: Session, _: At, __: str) -> None:
    raise Turned(plans.waiting_before(session.record))


def _week(session: Session, at: At, _: str) -> None:
    last = _day_of(session, at)
    for days in range(6, -1, -1):
        _say_day(session, last - timedelta(days=days))


def _find(session: Session, _: At, text: str) -> None:
    if not text:
        raise UnknownValue("find takes a word of a note or a change, like find leave.")
    record = session.record
    found = found_with(record, text)
    click.echo(f"{how_many(found)} {text}{', the newest first' if found[1:] else ''}.")
    for one in found[:LINES_READ]:
        click.echo(f"{spoken_date(one.day, record.today())}: {one.line}")
    if len(found) > LINES_READ:
        session.say(f"And {len(found) - LINES_READ} more before.")


def _change(session: Session, at: At, text: str) -> None:
    day = _day_of(session, at)
    text = text or session.typed(f"What changed {session.on(day)}, or Enter alone for nothing")
    if text.casefold() == CLEAR:
        _clear_change(session, day)
    elif text:
        change = dated_change(day, text, session.record.today())
        session.remember(session.record.choose(change_value(change)))
        session.say("Kept: a change.")


def _clear_change(session: Session, day: date) -> None:
    if change_on(day, session.record.choices().dated_changes) is None:
        raise UnknownValue("There is no change to clear.")
    session.remember(session.record.choose(no_change_value(day)))
    session.say("Kept: change cleared.")


def _clear(session: Session, at: At, text: str) -> None:
    if text.casefold() == "change":
        _clear_change(session, _day_of(session, at))
        return
    field = next((field for field in IN_ORDER_OF_TIME if field == text.casefold()), None)
    if field is None:
        raise UnknownValue(f"clear takes {words.listed([*IN_ORDER_OF_TIME, 'change'])}, one of them.")
    _answer(session, Asked(_day_of(session, at), field), CLEAR)


def _hours(session: Session, at: At, text: str) -> None:
    place = Asked(_day_of(session, at), "sleep")
    keep_answer(session, place, partial(exact_hours, session.record, place.day, text))


def _called(session: Session, at: At, text: str) -> None:
    place = Asked(_day_of(session, at), "shift")
    keep_answer(session, place, partial(calls, session.record, place.day, text))


def _answer(session: Session, place: Asked, text: str) -> None:
    keep_answer(session, place, partial(changes_of, session.record, place, text))


def _field(field: Field) -> Act:
    """Keeps a field of the day at hand, or asks for it where no answer stands behind its name."""

    def act(session: Session, at: At, text: str) -> Asked | None:
        place = Asked(_day_of(session, at), field)
        if not text:
            return place
        _answer(session, place, text)
        return None

    return act


ALONE: Mapping[str, Act] = {
    "k": _key,
    "key": _key,
    "u": _take_back,
    "undo": _take_back,
    "redo": _bring_back,
    "done": _done,
}
"""Words that are none of an answer where they stand alone."""
WITH_MORE: Mapping[str, Act] = {
    "day": _day,
    "w": _waiting,
    "week": _week,
    "find": _find,
    "change": _change,
    CLEAR: _clear,
    "hours": _hours,
    "called": _called,
    **{field: _field(field) for field in IN_ORDER_OF_TIME},
}
"""Words that more may stand behind."""
