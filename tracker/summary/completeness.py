"""How much was kept, when it was entered, where the gaps fall, and how to read the page."""

from __future__ import annotations

from collections.abc import Iterable

from tracker import words
from tracker.diary.days import LATE_AFTER, Day, Square
from tracker.summary.figures import mood_kept, sleep_kept
from tracker.summary.page_data import PageData
from tracker.summary.page_model import NO_GUESS

READING = (
    "Sleep stands under the day I got up, naps added, before that day's mood; a night where it begins. "
    "Hours are as noted, not measured: many note too many, poor sleepers often too few; on a low morning the "
    "night can look shorter, which alone can tie the two. Two things that go together need not be cause and "
    "effect. Not kept: bedtimes, wakings, coffee, alcohol, medicines."
)
NIGHT_WHERE_IT_BEGINS = "; a night where it begins"


def completeness(data: PageData) -> tuple[str, ...]:
    """How much was kept, and when it was entered."""
    sentences = [
        _kept(data),
        _could_not_say(data.period),
        *_lateness(data.period),
        _away(data),
        NO_GUESS,
    ]
    return tuple(filter(None, sentences))


def reading(data: PageData) -> str:
    """How to read the page; of nights nothing where none stand on it."""
    return READING if data.with_shifts else READING.replace(NIGHT_WHERE_IT_BEGINS, "")


def _kept(data: PageData) -> str:
    days = data.period
    mood, sleep = mood_kept(days), sleep_kept(days)
    return (
        f"Of {words.counted(len(days), 'day')} mood is kept on {mood.number}{_at_nights(data, days)}, "
        f"sleep on {sleep.number}."
    )


def _at_nights(data: PageData, days: Iterable[Day]) -> str:
    """` (19 of 27 at or after nights, 63 of 71 others)`; nothing where there are none."""
    if not data.rota.nights:
        return ""
    near, others = ([day for day in days if data.is_at_a_night(day) is at] for at in (True, False))
    if not (near and others):
        return ""
    return f" ({mood_kept(near)} at or after nights, {mood_kept(others)} others)"


def _squares(days: Iterable[Day]) -> list[Square]:
    return [square for day in days for square in (day.mood, day.sleep) if square]


def _could_not_say(days: Iterable[Day]) -> str:
    number = sum(square.state == "could not say" for square in _squares(days))
    return f"{words.counted(number, 'answer')} 'could not say'." if number else ""


def _lateness(days: Iterable[Day]) -> list[str]:
    squares = _squares(days)
    late = sum(square.basis == "remembered" for square in squares)
    paper = sum(square.basis == "paper" for square in squares)
    said = f"{words.counted(late, 'entry', 'entries')} over {LATE_AFTER} days late."
    copied = [f"{words.counted(paper, 'entry', 'entries')} copied from paper kept at the time."]
    return [said if late else f"No entry over {LATE_AFTER} days late.", *(copied if paper else [])]


def _away(data: PageData) -> str:
    away = (data.last - data.first).days + 1 - len(data.period)
    return f"{words.counted(away, 'day')} of a marked break not counted." if away else ""
