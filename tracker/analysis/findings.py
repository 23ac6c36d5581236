"""All findings of a record on one day, out of the days of a diary and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from tracker import words
from tracker.analysis import wording
from tracker.analysis.counts import Classes, SideBySide, side_by_side
from tracker.analysis.counts_statements import (
    change_statements,
    day_to_day_statements,
    side_by_side_statements,
)
from tracker.analysis.course_findings import course_findings
from tracker.analysis.dated_changes import BeforeAfter, before_and_after
from tracker.analysis.day_to_day import DayToDay, day_to_day
from tracker.analysis.group_findings import group_findings
from tracker.analysis.link_findings import link_findings
from tracker.analysis.reading import Kept, Reading, count_gaps, count_kept, read
from tracker.analysis.results import TOPICS, Findings, Statement, Topic
from tracker.analysis.span import Span, span_of
from tracker.analysis.statements import (
    describe_record,
    group_statements,
    lag_statements,
    record_statements,
    season_beside,
    season_statements,
    waiting_text,
)
from tracker.analysis.tables import Tables
from tracker.analysis.verdict_days import EARLY
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day

Progress = Callable[[int, int, str], None]
"""Told the steps done, all steps, and what comes next."""


class Left(Exception):
    """Raised inside `find` when the one who asked has gone away."""


def find(
    days: Iterable[Day],
    choices: Choices,
    *,
    as_of: date,
    clock: Clock | None = None,
    chosen: tuple[date | None, date | None] | None = None,
    topics: Collection[Topic] = TOPICS,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Findings:
    """Make the findings of a record as they stand on a day.

    Nothing is stored and nothing is drawn by lot: the same days and the same `as_of` give the same findings.

    Parameters
    ----------
    days : iterable of Day
        Every day that has something, in order of time; days after `as_of` are not looked at.
    choices : Choices
        Scales, shift kinds, breaks, settings, and dated changes, around each of which days are counted.
    as_of : date
        The day that is asked about; verdicts are those of the last verdict day up to it.
    clock : Clock, optional
        Tells which shifts are nights.
    chosen : (date or None, date or None), optional
        First and last day picked by hand; such days are described, and every p and verdict is None.
    topics : collection of str
        Of "lags", "seasons", "shifts", "weekdays".
    progress, cancelled : callables, optional
        Told before every step, and asked whether to stop.

    Raises
    ------
    WrongDay
        If the chosen days end before they begin.
    Left
        If `cancelled` says so.
    """
    steps = _Steps(topics, progress, cancelled)
    reading = read(days, choices, as_of, clock or Clock())
    if reading.last is None:
        return _empty(reading, as_of)
    span = span_of(reading, as_of, chosen)
    kept = count_kept(reading, span.first, span.last)
    steps.next("lags")
    works_shifts = choices.settings.works_shifts
    links, keeping = ((), ()) if "lags" not in topics else link_findings(reading, span, kept, works_shifts)
    steps.next("shifts")
    groups = group_findings(reading, span, choices, topics)
    steps.next("seasons")
    courses = course_findings(reading, span) if "seasons" in topics else ()
    steps.next("tables")
    counted = _counted(reading, span, as_of, kept, choices, topics)
    found = replace(counted, lags=links, keeping=keeping, groups=groups, courses=courses)
    said = _said(found, span)
    about = _about(reading, found)
    limits = _limits(reading, span, found, works_shifts=works_shifts)
    return replace(found, statements=(*_opening(span, as_of), *said, *_meaning(said), *about, *limits))


class _Steps:
    """Tells how far it is, and stops when nobody waits any more."""

    NAMES = ("lags", "shifts", "seasons", "tables")

    def __init__(
        self,
        topics: Collection[Topic],
        progress: Progress | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        unknown = sorted(set(topics) - set(TOPICS))
        if unknown:
            raise ValueError(f"topics must be among {', '.join(TOPICS)}, not {unknown[0]!r}")
        self._progress = progress
        self._cancelled = cancelled

    def next(self, name: str) -> None:
        if self._cancelled and self._cancelled():
            raise Left
        if self._progress:
            self._progress(self.NAMES.index(name), len(self.NAMES), name)


def _empty(reading: Reading, as_of: date) -> Findings:
    texts = [wording.nothing_kept(EARLY[0], left_out=reading.outside > 0)]
    if reading.outside:
        texts.append(wording.left_out_days(reading.outside))
    return Findings(
        caution=words.CAUTION,
        as_of=as_of,
        first=None,
        last=None,
        kept=count_kept(reading, as_of, as_of),
        gaps=count_gaps(reading, as_of, as_of),
        names=_names(reading),
        statements=tuple(map(describe_record, texts)),
    )


def _counted(
    reading: Reading,
    span: Span,
    as_of: date,
    kept: Kept,
    choices: Choices,
    topics: Collection[Topic],
) -> Findings:
    """Return the days and what was kept of them, before anything is judged or said."""
    tables = Tables(reading, span.first, span.until, choices)
    yearly, of_shifts = "seasons" in topics, "shifts" in topics
    return Findings(
        caution=words.CAUTION,
        as_of=as_of,
        verdict_day=span.looks.last if span.judged else None,
        next_verdict_day=span.looks.next,
        waits=span.looks.last is None,
        wait_for_next=_kept_days(reading, span.looks.last, as_of) if span.judged else 0,
        season_verdict_day=None if span.chosen else span.season_looks.last,
        next_season_verdict_day=span.season_looks.next,
        first=span.first,
        last=span.last,
        chosen=span.chosen,
        kept=kept,
        gaps=count_gaps(reading, span.first, span.last),
        names=_names(reading),
        counts=_side_by_side(reading, span, choices) if "lags" in topics else None,
        day_to_day=_day_to_day(reading, span, choices) if "lags" in topics else None,
        changes=_around(reading, as_of, choices),
        months=tables.months() if yearly else (),
        seasons=tables.seasons() if yearly else (),
        years=tables.years() if yearly else (),
        shifts=tables.shifts() if of_shifts else (),
        runs=tables.runs() if of_shifts else (),
        weekdays=tables.weekdays() if "weekdays" in topics else (),
        statements=(),
    )


def _kept_days(reading: Reading, after: date | None, until: date) -> int:
    """Count the days with a mood or a sleep after a day."""
    since = count_kept(reading, (after or until) + timedelta(days=1), until)
    return since.mood + since.sleep - since.both


def _side_by_side(reading: Reading, span: Span, choices: Choices) -> SideBySide:
    days = reading.days[reading.series.places(span.first, span.last)]
    return side_by_side(days, choices.scales, choices.settings.short_sleep, reading.rota.nights)


def _day_to_day(reading: Reading, span: Span, choices: Choices) -> DayToDay:
    places = reading.series.places(span.first, span.until)
    days = reading.days[places]
    waiting = {
        name: {day.date for day, waits in zip(days, answers.waits[places].tolist(), strict=True) if waits}
        for name, answers in (("mood", reading.moods), ("sleep", reading.sleeps))
    }
    return day_to_day(days, Classes(days, choices.scales, choices.settings.short_sleep), waiting)


def _around(reading: Reading, as_of: date, choices: Choices) -> tuple[BeforeAfter, ...]:
    """Count around her dates in the whole record, also where days were chosen by hand."""
    if not choices.dated_changes:
        return ()
    classes = Classes(reading.days, choices.scales, choices.settings.short_sleep)
    return before_and_after(
        reading.days, classes, choices.breaks, choices.dated_changes, as_of, reading.rota.nights
    )


def _names(reading: Reading) -> dict[str, tuple[str, ...]]:
    return {"mood": reading.mood.names, "sleep": reading.sleep.names}


def _opening(span: Span, as_of: date) -> list[Statement]:
    if span.chosen:
        return [describe_record(wording.DESCRIBED_ONLY)]
    return [] if span.judged else [describe_record(waiting_text(as_of, span.looks.next))]


def _said(found: Findings, span: Span) -> list[Statement]:
    return [
        *(statement for lag in found.lags for statement in lag_statements(lag)),
        *(side_by_side_statements(found.counts) if found.counts else ()),
        *group_statements(found.groups if span.judged else (), span.groups_from),
        *season_statements(found.courses),
        *season_beside(found.seasons, found.courses),
        *change_statements(found.changes),
    ]


def _about(reading: Reading, found: Findings) -> list[Statement]:
    """Say how the days follow each other."""
    if found.day_to_day is None:
        return []
    years = sorted({day.date.year for day in reading.days if day.mood and day.mood.is_kept})
    return day_to_day_statements(found.day_to_day, found.keeping, years)


def _meaning(said: Sequence[Statement]) -> list[Statement]:
    """Say once what `not shown` means, where something is not shown."""
    hidden = any(statement.verdict == "not shown" for statement in said)
    return [describe_record(wording.NOT_SHOWN_MEANS)] if hidden else []


def _limits(reading: Reading, span: Span, found: Findings, *, works_shifts: bool) -> list[Statement]:
    series = reading.series.between(span.first, span.last)
    used = ~np.isnan(series.mood) | ~np.isnan(series.sleep)
    entered = int(np.count_nonzero(used & (series.shift != "")))
    return record_statements(found.kept, found.gaps, len(series), entered, works_shifts=works_shifts)
