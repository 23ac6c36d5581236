"""Whether choices that come from outside are such as the program makes itself."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from tracker.diary.changes import check_text, dated_change
from tracker.diary.dates import within_reach
from tracker.diary.errors import TrackerError, UnknownValue
from tracker.diary.rota import WORKS, checked_kind
from tracker.diary.scales import DEFAULT_SCALES, Scale, checked, mood_scale, sleep_scale
from tracker.diary.settings import SETTINGS, Settings
from tracker.diary.trial import Trial, check_plan
from tracker.record.batch_writer import Json
from tracker.record.choice_rows import break_from, kind_from, scale_from
from tracker.record.trial_rows import trials_from

NAMES_OF_OTHERS = ("country", "theme")
"""Settings that name something which may be there in one version or on one computer alone."""
TRIAL = set(Trial._fields) - {"stopped", "missed"}
"""What stands in the row of a trial."""
LONGEST_LINE, MOST_LINES = 500, 20
"""Characters of a line of her own, and lines of a kind."""


def check_choice(name: str, value: Json) -> None:
    """Raise UnknownValue or WrongScale for a choice that this program would not have written."""
    first, _, rest = name.partition(".")
    check = _CHECKS.get(first)
    if check is None:
        raise UnknownValue(f"'{name}' is nothing that can be decided.")
    try:
        for text in _texts_in([name, value]):
            check_text(text, f"'{first}'")
        check(rest, value)
    except TrackerError:
        raise
    except (AttributeError, IndexError, KeyError, OverflowError, TypeError, ValueError):
        raise UnknownValue(f"'{name}' has a value that it cannot have.") from None


def _texts_in(value: Json) -> list[str]:
    if isinstance(value, str):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return [text for part in inner for text in _texts_in(part)]


def _setting(name: str, value: Json) -> None:
    if name not in SETTINGS:
        raise UnknownValue(f"There is no setting '{name}'.")
    if name in NAMES_OF_OTHERS:
        _line(value)
        return
    text = Settings()._replace(**{name: value}).text_of(name)
    read = getattr(Settings().with_value(name, text), name)
    if (type(read), read) != (type(value), value):
        raise ValueError(name)


def _scale(id: str, value: Json) -> None:
    scale = scale_from(value)
    if scale.id != id or _without_words(scale) != _without_words(_made_again(scale)):
        raise ValueError(id)
    for level in checked(scale).levels:
        for word in (level.short, level.spoken, level.help):
            _line(word)


def _made_again(scale: Scale) -> Scale:
    """The version that the program makes of the same days and levels."""
    for default in DEFAULT_SCALES.versions:
        if scale.id == default.id:
            return default
    if scale.grid == "mood":
        return mood_scale([level.label for level in scale.levels], scale.from_day, scale.to_day)
    return sleep_scale(
        [float(level.from_hours or 0) for level in scale.levels[1:]], scale.from_day, scale.to_day
    )


def _without_words(scale: Scale) -> Scale:
    """What does not change when levels are called otherwise."""
    plain = [level._replace(label="", short="", spoken="", help="") for level in scale.levels]
    return scale._replace(levels=tuple(plain))


def _kind(id: str, value: Json) -> None:
    kind = checked_kind(kind_from(value), ())
    if kind.id != id or kind.work not in WORKS or (kind.start is None) != (kind.end is None):
        raise ValueError(id)


def _break(first: str, value: Json) -> None:
    span = break_from(value)
    within_reach(span.from_day)
    if span.from_day != date.fromisoformat(first) or (
        span.to_day and within_reach(span.to_day) < span.from_day
    ):
        raise ValueError(first)


def _trial(rest: str, value: Json) -> None:
    id, _, part = rest.partition(".")
    if part.startswith("missed."):
        _day(part.removeprefix("missed."))
        if value is not True:
            raise ValueError(rest)
    elif part == "stopped":
        _day(value)
    else:
        (trial,) = trials_from({f"trial.{rest}": value})
        within_reach(trial.last)
        if part or trial.id != id or set(value) != TRIAL or not re.fullmatch(r"[0-9a-f]{64}", trial.seed):
            raise ValueError(rest)
        check_plan(trial, trial.first - timedelta(days=1))


def _day(text: str) -> None:
    if within_reach(date.fromisoformat(text)).isoformat() != text:
        raise ValueError(text)


def _change(day: str, value: Json) -> None:
    _day(day)
    if dated_change(date.fromisoformat(day), value, date.fromisoformat(day)).words != value:
        raise ValueError(day)


def _lines(name: str, value: Json) -> None:
    if not isinstance(value, list) or len(value) > MOST_LINES:
        raise ValueError(name)
    for line in value:
        _line(line)


def _event(name: str, value: Json) -> None:
    _line(name)
    _line(value)


def _line(value: Json) -> None:
    if not isinstance(value, str) or len(value) > LONGEST_LINE:
        raise ValueError


def _last_answers(name: str, value: Json) -> None:
    if name != "last" or not isinstance(value, dict) or len(value) > MOST_LINES:
        raise ValueError(name)
    for part in (*value, *value.values()):
        _line(part)


def _identity(name: str, value: Json) -> None:
    if name != "id" or not re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", value):
        raise ValueError(name)


_CHECKS: dict[str, Callable[[str, Json], None]] = {
    "setting": _setting,
    "scale": _scale,
    "kind": _kind,
    "break": _break,
    "page": _lines,
    "help": _lines,
    "event": _event,
    "change": _change,
    "trial": _trial,
    "catch_up": _last_answers,
    "record": _identity,
}
"""By the first part of its name, what a choice may be."""
