"""The one place where findings are made, out of the days of a diary and nothing else."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from tracker import words
from tracker.analysis import wording
from tracker.analysis.adjust import Design
from tracker.analysis.describe import FEWEST_DAYS as FEWEST_FOR_A_MEDIAN
from tracker.analysis.describe import actual_quartiles
from tracker.analysis.groups import By, GroupTest, Labels, group_tests
from tracker.analysis.lags import (
    AFTER,
    FEWEST_FREEDOM,
    LAGS,
    ZERO,
    LagTable,
    Prepared,
    Verdict,
    compare,
    covariates,
    lag_table,
    pairs_at,
    prepare,
)
from tracker.analysis.looks import EARLY, FIRST_GROUPS, Looks, group_level, link_looks, season_looks
from tracker.analysis.pairs import count_agreement
from tracker.analysis.reading import Gaps, Kept, Reading, count_gaps, count_kept, read, without_remembered
from tracker.analysis.results import (
    TOPICS,
    Course,
    Findings,
    GroupFinding,
    LagFinding,
    LagRow,
    Statement,
    Topic,
)
from tracker.analysis.rota_runs import NIGHTS, QUICK, UNHURRIED
from tracker.analysis.seasons import YearlyTest, day_of_year, yearly_test
from tracker.analysis.series import OUTCOMES, Flags, Floats, Series
from tracker.analysis.statements import (
    MANY,
    describe_record,
    group_statements,
    lag_statements,
    record_statements,
    season_beside,
    season_statements,
    waiting_text,
)
from tracker.analysis.tables import Tables, named_groups, run_labels
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.errors import WrongDay

COMPARED = ("mood", "anxious")
"""What is set against sleep."""
GRACE = timedelta(days=14)
"""Days at the end without a mood or sleep on which the rota still counts."""

Progress = Callable[[int, int, str], None]
"""Told the steps done, all steps, and what comes next."""


class Left(Exception):
    """Raised inside `find` when the one who asked has gone away."""


@dataclass(frozen=True)
class Span:
    """The days that a page rests on."""

    first: date
    last: date
    """The verdict day, or the last day asked for where nothing is judged."""
    until: date
    """Last day of the tables, which are live."""
    looks: Looks
    season_looks: Looks
    chosen: bool

    @property
    def judged(self) -> bool:
        """Whether a verdict day has passed and the days were not picked by hand."""
        return self.looks.last is not None and not self.chosen

    @property
    def group_level(self) -> float:
        """Level of the group tests; of those that are only described, that of a long record."""
        days = (self.last - self.first).days + 1
        return group_level(days if self.judged else 2 * FIRST_GROUPS)

    @property
    def groups_from(self) -> date | None:
        """Day from which groups are judged, None if that has come."""
        day = self.first + timedelta(days=FIRST_GROUPS - 1)
        return day if self.judged and day > self.last else None


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
        Scales, shift kinds, breaks and settings.
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
    span = _span(reading, as_of, chosen)
    kept, gaps = count_kept(reading, span.first, span.last), count_gaps(reading, span.first, span.last)
    steps.next("lags")
    lags = _lags(reading, span, kept) if "lags" in topics else ()
    steps.next("shifts")
    groups = _groups(reading, span, choices, topics)
    steps.next("seasons")
    courses = _courses(reading, span) if "seasons" in topics else ()
    steps.next("tables")
    tables = Tables(reading, span.first, span.until, choices)
    seasons = tables.seasons() if "seasons" in topics else ()
    said = [
        *(statement for lag in lags for statement in lag_statements(lag)),
        *group_statements(groups if span.judged else (), span.groups_from),
        *season_statements(courses),
        *season_beside(seasons, courses),
    ]
    return Findings(
        caution=words.CAUTION,
        as_of=as_of,
        verdict_day=span.looks.last if span.judged else None,
        next_verdict_day=span.looks.next,
        first=span.first,
        last=span.last,
        chosen=span.chosen,
        kept=kept,
        gaps=gaps,
        names={"mood": reading.mood.names, "sleep": reading.sleep.names},
        lags=lags,
        season_verdict_day=None if span.chosen else span.season_looks.last,
        next_season_verdict_day=span.season_looks.next,
        months=tables.months() if "seasons" in topics else (),
        seasons=seasons,
        courses=courses,
        years=tables.years() if "seasons" in topics else (),
        shifts=tables.shifts() if "shifts" in topics else (),
        runs=tables.runs() if "shifts" in topics else (),
        weekdays=tables.weekdays() if "weekdays" in topics else (),
        groups=groups,
        statements=(
            *_opening(span, as_of),
            *said,
            *_meaning(said),
            *_limits(reading, span, kept, gaps, works_shifts=choices.settings.works_shifts),
        ),
    )


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


def _span(reading: Reading, as_of: date, chosen: tuple[date | None, date | None] | None) -> Span:
    first = reading.series.first
    looks, yearly = link_looks(first, as_of), season_looks(first, as_of)
    if chosen is not None:
        start, end = max(chosen[0] or first, first), min(chosen[1] or as_of, as_of)
        if start > end:
            raise WrongDay(
                f"No day lies between {start} and {end}: the record begins on {first} and is looked at up to "
                f"{as_of}; choose other days."
            )
        return Span(start, end, end, looks, yearly, chosen=True)
    return Span(first, looks.last or as_of, reading.last or first, looks, yearly, chosen=False)


def _empty(reading: Reading, as_of: date) -> Findings:
    kept, gaps = count_kept(reading, as_of, as_of), count_gaps(reading, as_of, as_of)
    return Findings(
        caution=words.CAUTION,
        as_of=as_of,
        verdict_day=None,
        next_verdict_day=None,
        first=None,
        last=None,
        chosen=False,
        kept=kept,
        gaps=gaps,
        names={"mood": reading.mood.names, "sleep": reading.sleep.names},
        lags=(),
        season_verdict_day=None,
        next_season_verdict_day=None,
        months=(),
        seasons=(),
        courses=(),
        years=(),
        shifts=(),
        runs=(),
        weekdays=(),
        groups=(),
        statements=tuple(
            describe_record(text)
            for text in (
                wording.nothing_kept(EARLY[0]),
                wording.left_out_days(reading.outside) if reading.outside else "",
            )
            if text
        ),
    )


def _opening(span: Span, as_of: date) -> list[Statement]:
    if span.chosen:
        return [describe_record(wording.DESCRIBED_ONLY)]
    return [] if span.judged else [describe_record(waiting_text(as_of, span.looks.next))]


def _meaning(said: Sequence[Statement]) -> list[Statement]:
    """Say once what `not shown` means, where something is not shown."""
    hidden = any(statement.verdict == "not shown" for statement in said)
    return [describe_record(wording.NOT_SHOWN_MEANS)] if hidden else []


def _limits(reading: Reading, span: Span, kept: Kept, gaps: Gaps, *, works_shifts: bool) -> list[Statement]:
    series = reading.series.between(span.first, span.last)
    used = ~np.isnan(series.mood) | ~np.isnan(series.sleep)
    entered = int(np.count_nonzero(used & (series.shift != "")))
    return record_statements(kept, gaps, len(series), entered, works_shifts=works_shifts)


# --- lags -----------------------------------------------------------------------------------------


def _lags(reading: Reading, span: Span, kept: Kept) -> tuple[LagFinding, ...]:
    series = reading.series.between(span.first, span.last).trimmed()
    design = covariates(series)
    sleep = prepare(series.sleep, design)
    again = _without_memory(reading, span, kept)
    return tuple(_lag_finding(series, design, sleep, outcome, span, again) for outcome in COMPARED)


def _without_memory(reading: Reading, span: Span, kept: Kept) -> Series | None:
    """Return the series without remembered days, if those are over a tenth of the days used."""
    used = kept.mood + kept.sleep - kept.both
    if not span.judged or kept.remembered <= MANY * used:
        return None
    return without_remembered(reading).between(span.first, span.last).trimmed()


def _lag_finding(
    series: Series, design: Design, sleep: Prepared, outcome: str, span: Span, again: Series | None
) -> LagFinding:
    table = compare(sleep, prepare(series.values(outcome), design))
    shift = ("shift",) if (series.shift != "").any() else ()
    return LagFinding(
        outcome=outcome,
        verdict=table.verdict if span.judged else None,
        verdict_without_remembered=lag_table(again, outcome).verdict if again is not None else None,
        first=table.first if span.judged else None,
        strongest=table.strongest if span.judged else None,
        adjusted_for=("weekday", *shift, "slow change"),
        in_a_hundred=_in_a_hundred(series, outcome, table) if span.judged else None,
        needed=_needed(table, sleep),
        rows=tuple(_lag_row(table, place, judged=span.judged) for place in range(len(LAGS))),
    )


def _needed(table: LagTable, sleep: Prepared) -> int:
    """Return about how many more days with both entries a test needs; 0 if it is not days that lack."""
    if not sleep.rank:
        return max(EARLY[0] // 2 - int(table.pairs[ZERO]), 0)
    lacking = FEWEST_FREEDOM - float(min(table.freedom[ZERO], table.freedom[AFTER]))
    return max(math.ceil(lacking), 0)


def _in_a_hundred(series: Series, outcome: str, table: LagTable) -> int | None:
    """Count pairs of days at the strongest lag, if shown and if the plain count points the same way."""
    if table.verdict != "shown" or table.strongest is None:
        return None
    sleep, values = pairs_at(series.sleep, series.values(outcome), table.strongest)
    pairs = count_agreement(sleep, -values if outcome == "anxious" else values)
    adjusted = table.adjusted[table.strongest == LAGS][0] * (-1 if outcome == "anxious" else 1)
    return pairs.in_a_hundred if pairs.gamma * adjusted > 0 else None


def _lag_row(table: LagTable, place: int, *, judged: bool) -> LagRow:
    p = _plain(table.p_holm[place])
    return LagRow(
        lag=int(LAGS[place]),
        pairs=int(table.pairs[place]),
        unadjusted=_plain(table.unadjusted[place]),
        unadjusted_low=_plain(table.unadjusted_interval.low[place]),
        unadjusted_high=_plain(table.unadjusted_interval.high[place]),
        adjusted=_plain(table.adjusted[place]),
        beyond_own_past=_plain(table.beyond_own_past[place]),
        low=_plain(table.interval.low[place]),
        high=_plain(table.interval.high[place]),
        smallest=_plain(table.smallest[place]),
        p=p if judged else None,
        verdict=_row_verdict(p, claimed=bool(table.claimed[place])) if judged else None,
    )


def _row_verdict(p: float | None, *, claimed: bool) -> Verdict:
    if p is None:
        return "too little kept"
    return "shown" if claimed else "not shown"


def _plain(value: float) -> float | None:
    return None if np.isnan(value) else float(value)


# --- shift kinds and weekdays ---------------------------------------------------------------------


def _groups(
    reading: Reading, span: Span, choices: Choices, topics: Collection[Topic]
) -> tuple[GroupFinding, ...]:
    """Compare groups up to the verdict day; what was never answered is not asked about."""
    end = min(span.last, (reading.last or span.last) + GRACE)
    series = reading.series.between(span.first, end)
    runs = run_labels(reading, series) if "shifts" in topics else {}
    entered = bool((series.shift != "").any())
    tests = group_tests(
        series,
        _answered(series),
        level=span.group_level,
        shifts="shifts" in topics and (entered or choices.settings.works_shifts),
        weekdays="weekdays" in topics,
        runs=runs,
    )
    labels = {kind.id: kind.label for kind in choices.kinds}
    judged = span.judged and span.group_level > 0
    return tuple(_group_finding(series, test, labels, runs, judged=judged) for test in tests)


def _answered(series: Series) -> tuple[str, ...]:
    """Return what is judged: the anxious mark only if it was ever set."""
    return tuple(name for name in OUTCOMES if name != "anxious" or (series.anxious == 1).any())


def _group_finding(
    series: Series, test: GroupTest, labels: dict[str, str], runs: dict[By, Labels], *, judged: bool
) -> GroupFinding:
    lowest, highest = "", ""
    if test.outcome != "anxious":
        groups = _groups_of(series, test.by, labels, runs)
        lowest, highest = _extremes(series.values(test.outcome), groups)
    return GroupFinding(
        outcome=test.outcome,
        by=test.by,
        days=test.days,
        p=_plain(test.p_holm) if judged else None,
        smallest=_plain(test.smallest),
        verdict=test.verdict if judged else None,
        too_regular=test.too_regular,
        lowest=lowest,
        highest=highest,
    )


def _groups_of(
    series: Series, by: By, labels: dict[str, str], runs: dict[By, Labels]
) -> list[tuple[str, Flags]]:
    names = {"night of a run": NIGHTS, "quick return": (QUICK, UNHURRIED)}.get(by)
    return [(name, runs[by] == name) for name in names] if names else named_groups(series, by, labels)


def _extremes(values: Floats, groups: list[tuple[str, Flags]]) -> tuple[str, str]:
    """Return the groups with the lowest and the highest median, empty if all medians are equal."""
    medians = {}
    for name, days in groups:
        kept = values[days & ~np.isnan(values)]
        if len(kept) >= FEWEST_FOR_A_MEDIAN:
            medians[name] = actual_quartiles(kept)[1]
    low, high = min(medians.values(), default=0), max(medians.values(), default=0)
    if low == high:
        return "", ""
    lowest, highest = ([name for name, m in medians.items() if m == end] for end in (low, high))
    return words.listed(lowest), words.listed(highest)


# --- time of year ---------------------------------------------------------------------------------


def _courses(reading: Reading, span: Span) -> tuple[Course, ...]:
    judged = span.season_looks.last is not None and not span.chosen
    last = span.season_looks.last if judged else None
    series = reading.series.between(span.first, last or span.until)
    tests = {name: yearly_test(series.values(name), series.first) for name in _answered(series)}
    return tuple(_course(outcome, test, judged=judged) for outcome, test in tests.items())


def _course(outcome: str, test: YearlyTest, *, judged: bool) -> Course:
    return Course(
        outcome=outcome,
        years=test.years,
        verdict=test.verdict if judged else None,
        p=_plain(test.p) if judged else None,
        amplitude=test.wave.amplitude if test.wave else None,
        peak=day_of_year(test.wave.peak) if test.wave else None,
        peak_within=None if np.isnan(test.peak_within) or not judged else math.ceil(test.peak_within),
        peaks=tuple(day_of_year(wave.peak) for wave in test.each),
        smallest=_plain(test.smallest) if judged else None,
    )
