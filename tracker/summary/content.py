"""What the page for the appointment says, from plain values.

Her own words come first, then counts, then what the diary shows and does not. Counts only, each with what
it is out of; never a mean, never a percentage alone.
"""

from __future__ import annotations

import calendar
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date

from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import LATE_AFTER, Day, Square
from tracker.diary.scales import Scale
from tracker.summary.figures import after_nights, figures, year
from tracker.summary.page_data import PageData, PageOptions, ground_of, usual_period
from tracker.summary.page_model import NO_GUESS, NOT_KEPT, Page, Said, brief
from tracker.summary.weeks import weeks
from tracker.words import counted

VERSIONS_TOLD = 2


def page_of(
    days: Mapping[date, Day],
    choices: Choices,
    wishes: PageOptions,
    today: date,
    clock: Clock,
    cancelled: Callable[[], bool] = lambda: False,
) -> Page:
    """The page of a record, with what its findings say as of the last day of the period.

    While today's mood waits the period ends yesterday, and the findings speak as of today.

    Raises tracker.analysis.findings.Left when it is cancelled.
    """
    from tracker.analysis.findings import find
    from tracker.summary.findings_text import said_by

    usual = usual_period(days, today)[1]
    last = wishes.period[1] if wishes.period else usual
    findings = find(
        days.values(), choices, as_of=today if last == usual else last, clock=clock, cancelled=cancelled
    )
    return make_page(days, choices, said_by(findings), today, clock, wishes)


def make_page(
    days: Mapping[date, Day],
    choices: Choices,
    said: Said,
    today: date,
    clock: Clock,
    wishes: PageOptions | None = None,
) -> Page:
    """The page for the appointment.

    Parameters
    ----------
    days
        All the days of the record; the year by months reaches beyond the period.
    said
        What the findings say.
    today
        The day on which the page is made.
    """
    ground = ground_of(days, choices, wishes or PageOptions(), today, clock)
    return Page(
        made=today,
        first=ground.first,
        last=ground.last,
        wants=choices.page_lines.wants,
        changed=choices.page_lines.changed,
        figures=figures(ground),
        said=said,
        complete=completeness(ground),
        weeks=weeks(ground),
        year=year(ground),
        after_nights=after_nights(ground),
        notes=notes(ground),
        reading=reading(ground),
    )


def completeness(ground: PageData) -> tuple[str, ...]:
    """How much was kept, when it was entered, and where the gaps fall."""
    days = ground.period
    mood, sleep = ground.counter.mood_kept(days), ground.counter.sleep_kept(days)
    sentences = [
        f"Of {counted(len(days), 'day')}: mood kept on {mood.number}, sleep on {sleep.number}.",
        _could_not_say(days),
        *_lateness(days),
        _where_gaps_fall(ground, days),
        _away(ground),
        NO_GUESS,
    ]
    return tuple(sentence for sentence in sentences if sentence)


def _squares(days: Iterable[Day]) -> list[Square]:
    return [square for day in days for square in (day.mood, day.sleep) if square]


def _could_not_say(days: Iterable[Day]) -> str:
    number = sum(square.state == "could not say" for square in _squares(days))
    return f"{counted(number, 'answer')} 'could not say'." if number else ""


def _lateness(days: Iterable[Day]) -> list[str]:
    squares = _squares(days)
    late = sum(square.basis == "remembered" for square in squares)
    paper = sum(square.basis == "paper" for square in squares)
    copied = [f"{counted(paper, 'entry', 'entries')} copied from paper kept at the time."] if paper else []
    made = f"{counted(late, 'entry', 'entries')} made over {LATE_AFTER} days late."
    return [made if late else f"No entry made over {LATE_AFTER} days late.", *copied]


def _where_gaps_fall(ground: PageData, days: Iterable[Day]) -> str:
    gaps = [day for day in days if day.mood is None]
    if not gaps or not ground.with_shifts:
        return ""
    near = sum(ground.counter.is_at_a_night(day) for day in gaps)
    verb = "was" if near == 1 else "were"
    return (
        f"Of the {counted(len(gaps), 'day')} without mood, {near} {verb} a night shift or the day after one."
    )


def _away(ground: PageData) -> str:
    away = (ground.last - ground.first).days + 1 - len(ground.period)
    return f"{counted(away, 'day')} of a marked break not counted." if away else ""


def notes(ground: PageData) -> tuple[str, ...]:
    """The notes of the days she picked."""
    picked = sorted({at for at in ground.wishes.note_days if at in ground.days})
    return tuple(
        f"{at.day} {calendar.month_abbr[at.month]}: {text}"
        for at in picked
        if (text := " ".join(ground.days[at].note_text.split()))
    )


def reading(ground: PageData) -> tuple[str, ...]:
    """How to read the page."""
    return (
        _levels_told(ground.mood_scales),
        "Sleep is the hours I think I slept up to getting up that day, day-sleeps and naps included; "
        "people tend to put this too high.",
        "Two things that go together need not be cause and effect.",
        NOT_KEPT,
    )


def _levels_told(scales: Sequence[Scale]) -> str:
    """The levels in her own words: of two versions both, of more the newest."""
    told = [", ".join(f"{level.mark} {brief(level.label)}" for level in scale.levels) for scale in scales]
    if len(told) > VERSIONS_TOLD:
        return f"My levels, changed {len(told) - 1} times, at last: {told[-1]}."
    return f"My levels: {'; later '.join(told)}."
