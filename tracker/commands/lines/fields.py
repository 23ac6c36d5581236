"""The fields of a day as they are asked for by ear: what may be typed, and what an answer means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from tracker import words
from tracker.commands.lines.session import Asked
from tracker.diary.answers import anxious_answer, exact_sleep, in_words, shift_answer, sleep_answer
from tracker.diary.calls import called_answer
from tracker.diary.changes import answer, anxious_change, mood_changes, note_change, sleep_change
from tracker.diary.days import Change, Day, Field
from tracker.diary.errors import UnknownValue
from tracker.diary.own_changes import change_on
from tracker.diary.rota import night_dates
from tracker.diary.scales import GRIDS, Grid, Level, Scale
from tracker.diary.spoken import spoken
from tracker.diary.trial import told_arm
from tracker.record.store import Record

IN_ORDER_OF_TIME: tuple[Field, ...] = ("sleep", "mood", "anxious", "shift", "note")
UNSAID = ("x", "?")
CLEAR = "clear"


def key_name(record: Record, asked: Asked) -> str:
    """What tells the key of a question from another: of a grid its levels, which may change from a day on."""
    return _scale(record, asked).id if asked.field in GRIDS else asked.field


def key_of(record: Record, asked: Asked) -> Iterator[str]:
    """What may be typed as an answer, a line each."""
    if asked.field in GRIDS:
        yield words.SLEEP_ASKED if asked.field == "sleep" else words.MOOD_ASKED
        for level in _scale(record, asked).levels:
            yield f"{' or '.join(level.keys)}: {_meaning(level)}."
        if asked.field == "sleep":
            yield "Or hours, like 6.5 or 6:30, with a plus between two sleeps."
        else:
            yield f"With an a behind it, like 3a: anxious, {words.ANXIOUS_HELP}."
        yield "x: could not say."
    elif asked.field == "anxious":
        yield f"Anxious means {words.ANXIOUS_HELP}. y: yes. n: no."
    elif asked.field == "shift":
        yield "The shift that starts on the day."
        for kind in record.choices().kinds:
            yield f"{kind.code}: {kind.label}."
    else:
        yield f"A line in your own words; it takes the place of a note that stands. {words.NO_NAMES_IN_NOTES}"


def _meaning(level: Level) -> str:
    return f"{level.label}, {level.help}" if level.help else level.spoken


def changes_of(record: Record, asked: Asked, text: str) -> list[Change]:
    """The changes that an answer means.

    Raises UnknownValue, or WrongDay, where it means none.
    """
    if text.casefold() == CLEAR:
        return [_cleared(record, asked)]
    choices = record.choices()
    if asked.field in GRIDS and text.casefold() in UNSAID:
        return [answer(asked.day, asked.field, "could not say")]
    if asked.field == "sleep":
        return [_sleep(record, asked, text)]
    if asked.field == "mood":
        return _mood(record, asked, text.casefold())
    if asked.field == "anxious":
        return [anxious_answer(asked.day, text)]
    if asked.field == "shift":
        return [shift_answer(asked.day, text, choices, record.clock)]
    return [note_change(asked.day, text)]


def exact_hours(record: Record, day: date, text: str) -> list[Change]:
    """A sleep by its hours, which are kept as they are."""
    return [exact_sleep(day, "", text, record.choices())]


def calls(record: Record, day: date, text: str) -> list[Change]:
    """What an on-call shift was worked for."""
    return [called_answer(record.day(day), text, record.choices(), record.clock)]


def _cleared(record: Record, asked: Asked) -> Change:
    if record.day(asked.day).square(asked.field) is None:
        raise UnknownValue(f"There is no {asked.field} to clear.")
    return answer(asked.day, asked.field, "cleared")


def _sleep(record: Record, asked: Asked, text: str) -> Change:
    level = _scale(record, asked).level_for_key(text)
    try:
        return sleep_change(asked.day, level) if level else sleep_answer(asked.day, text, record.choices())
    except UnknownValue:
        raise _no_answer(text) from None


def _mood(record: Record, asked: Asked, text: str) -> list[Change]:
    anxious = len(text) == 2 and text[0].isdigit() and text[1] == "a"
    try:
        level = _scale(record, asked).level_for_text(text[0] if anxious else text)
    except UnknownValue:
        raise _no_answer(text) from None
    if anxious:
        return [Change(asked.day, "mood", level.id), anxious_change(asked.day, True)]
    return mood_changes(record.day(asked.day), level, record.choices())


def _no_answer(text: str) -> UnknownValue:
    return UnknownValue(f"'{text}' is no answer here; k reads those that are.")


def _scale(record: Record, asked: Asked) -> Scale:
    grid: Grid = "sleep" if asked.field == "sleep" else "mood"
    return record.choices().scales.on(grid, asked.day)


def said(record: Record, changes: Sequence[Change]) -> str:
    """An answer as it is repeated to her; a `not anxious` that comes with every mood is not."""
    told = [change for change in changes if len(changes) == 1 or change.value != "no"]
    return spoken(", ".join(in_words(change, record.choices()) for change in told))


def what_stands(record: Record, day: Day, fields: tuple[Field, ...] = IN_ORDER_OF_TIME) -> str:
    """What is kept of a day in the order of time; of a note its words, and nothing of a day not anxious."""
    parts = []
    for field in fields:
        square = day.square(field)
        if square is None or (field == "anxious" and not day.is_anxious and len(fields) > 1):
            continue
        change = square.change(day.date, field)
        parts.append(f"note: {day.note_text.rstrip('.')}" if field == "note" else said(record, [change]))
    return ", ".join(parts)


def all_that_stands(record: Record, day: date) -> str:
    """What is kept of a day, what changed on it, and what a trial has her do on it."""
    choices = record.choices()
    change, arm = change_on(day, choices.dated_changes), told_arm(choices.trials, day, record.today())
    named = {"change": change.words if change else "", "trial": arm}
    kept = what_stands(record, record.day(day))
    return ", ".join(filter(None, [kept, *(f"{name}: {text}" for name, text in named.items() if text)]))


def follows_a_night(record: Record, day: date) -> bool:
    """Whether a night shift began on the evening before a day."""
    before = day - timedelta(days=1)
    nights = night_dates(record.days(before, before).values(), record.choices().kinds_by_id, record.clock)
    return before in nights
