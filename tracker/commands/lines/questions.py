"""One question by ear: its key, which is read once a session, its words, and keeping the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker import words
from tracker.commands.lines.fields import follows_a_night, key_name, key_of, said
from tracker.commands.lines.session import Asked, Session
from tracker.diary.days import Change
from tracker.diary.errors import TrackerError
from tracker.diary.spoken import spoken_date

HOW = (
    "Enter alone: not now. k: this key again. u: take the last answer back. q: stop.",
    "A question mark, or help: where to turn, and all that may be typed.",
)
HOW_BESIDE_LETTERS = (
    "The letters above are shifts here: key reads this again, undo takes the last answer back."
)


def keep_answer(session: Session, at: Asked, read: Callable[[], Sequence[Change]]) -> None:
    """Keep an answer that can be read; what is wrong with it is said."""
    try:
        changes = read()
        moved = session.keep(at, changes)
    except TrackerError as error:
        session.say(str(error))
    else:
        session.say(f"Kept: {said(session.record, changes)}.", *filter(None, [moved]))


def read_key(session: Session, at: Asked) -> None:
    """Read what a question takes; how questions are answered at all with the first one alone."""
    session.say(*key_of(session.record, at))
    if at.field == "shift":
        session.say(HOW_BESIDE_LETTERS)
    if "how" not in session.told_once:
        session.say(*HOW)
    session.told_once |= {"how", key_name(session.record, at)}


def introduce(session: Session, at: Asked) -> None:
    """Read a key the first time, and say which sleep is meant after a night."""
    if key_name(session.record, at) not in session.told_once:
        read_key(session, at)
    if at.field == "sleep" and follows_a_night(session.record, at.day):
        today = session.record.today()
        earlier = words.after_an_earlier_night(spoken_date(at.day, today))
        session.say(words.AFTER_A_NIGHT if at.day == today else earlier)


def question(session: Session, at: Asked) -> str:
    """The words of a question: `Sleep of yesterday`."""
    day = session.called(at.day)
    if at.field == "anxious":
        return f"Anxious {session.on(at.day)}"
    clock = session.record.clock
    is_early = clock.local(clock.now()).hour < 12 and at == Asked(session.record.today(), "mood")
    return f"{at.field.capitalize()} of {day}{f', {words.MOOD_AT_THE_END}' if is_early else ''}"
