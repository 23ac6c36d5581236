"""The numbers behind findings as tables, the same for the command and for the screen.

Correlations have a sign and two decimals, p-values two digits; a dash stands where too little is kept, a star
where something is shown.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from tracker import words
from tracker.analysis import wording
from tracker.analysis.counts import Count, SideBySide
from tracker.analysis.counts_wording import sleep_class
from tracker.analysis.day_to_day import LowRun
from tracker.analysis.describe import GroupRow
from tracker.analysis.results import Course, Findings, GroupFinding, LagFinding, LagRow, Topic
from tracker.cells import cut, padded, text_width
from tracker.diary.dates import MONTHS, long_day

WIDTH = 78
"""Cells in a line: a terminal of eighty with a margin on both sides."""


class NumberTable(NamedTuple):
    """Rows of cells under their heads: the first column names a row, the others are numbers."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    how_to_read: str
    """What the columns and their signs mean."""
    warning: str = ""
    """What must be known before a number is read; empty where there is nothing."""

    def lines(self) -> list[str]:
        """The table as lines of text that fit into `WIDTH` cells, the title first."""
        above, below = _wrapped(self.warning), _wrapped(self.how_to_read)
        return [self.title, *above, *_aligned(self.head, self.rows), *below]

    @property
    def width(self) -> int:
        """Cells that its columns take with one on either side of each."""
        return sum(2 + max(map(text_width, cells)) for cells in zip(self.head, *self.rows, strict=True))

    def listed(self, width: int) -> Iterator[str]:
        """Each row as lines of text, every number behind its name, where columns have no room."""
        for called, *numbers in self.rows:
            named = (
                f"{name.strip()} {number.strip()}"
                for name, number in zip(self.head[1:], numbers, strict=True)
            )
            told = ", ".join(text.strip() for text in named if text.strip())
            yield from textwrap.wrap(called, width)
            yield from textwrap.wrap(told, width, initial_indent="  ", subsequent_indent="  ")


def tables_behind(findings: Findings, topic: Topic, outcome: str = "") -> Iterator[NumberTable]:
    """Return the tables that a topic rests on.

    Parameters
    ----------
    outcome : str
        Only those of one outcome; the marks of anxious days are counted beside the moods.
    """
    wanted = (outcome,) if outcome else tuple(wording.OUTCOMES)
    if topic == "counts" and findings.counts:
        yield from (_after_sleeps(findings.counts), _sleeps_after(findings.counts))
    if topic == "record" and findings.day_to_day and findings.day_to_day.runs:
        yield _runs(findings.day_to_day.runs)
    if topic == "lags":
        yield from (_lags(findings, lag) for lag in findings.lags if lag.outcome in wanted)
        return
    groups = [group for group in findings.groups if group.topic == topic and group.outcome in wanted]
    if groups:
        yield _groups(groups)
    courses = [course for course in findings.courses if topic == "seasons" and course.outcome in wanted]
    if courses:
        yield _courses(courses)
    for title, rows in _counted_rows(findings, topic):
        for of in ("mood", "sleep"):
            chosen = [row for row in rows if row.outcome == of]
            if chosen and ("mood" if outcome == "anxious" else outcome or of) == of:
                note = f" {wording.COUNTED_RUNS}" if rows is findings.runs else ""
                yield _counts(title, chosen, findings.names[of], note)


def _after_sleeps(counts: SideBySide) -> NumberTable:
    low = words.listed([str(level.rank) for level in counts.low_levels])
    return NumberTable(
        "Days after sleeps of each length",
        ("", "low ", "expected", "anxious "),
        tuple(
            (
                sleep_class(row.sleep, counts.limit, counts.long_from),
                _count(row.low),
                "-" if row.expected is None else f"{row.expected:.1f}",
                _count(row.anxious),
            )
            for row in counts.after_sleep
        ),
        f"low: mood at {low}, of days with a mood; expected: low days, from the shifts of those days; "
        "anxious: of days noted; <: fewer than 10 days. Counted, not judged.",
    )


def _sleeps_after(counts: SideBySide) -> NumberTable:
    names = [sleep_class(row.sleep, counts.limit, counts.long_from) for row in counts.after_sleep]
    return NumberTable(
        "Sleeps after days of each kind",
        ("", "sleeps ", *names),
        tuple(
            (f"{row.day} day", f"{row.of}{'<' if row.is_few else ' '}", *map(str, row.sleeps.values()))
            for row in counts.sleep_after
        ),
        "<: fewer than 10 days. Counted, not judged.",
    )


def _runs(runs: Sequence[LowRun]) -> NumberTable:
    return NumberTable(
        "Runs of 3 or more low days",
        ("", "days", "kept", ""),
        tuple(
            (f"{run.first} to {run.last}", str(run.days), str(run.kept), "open" if run.is_open else "")
            for run in runs
        ),
        "open: touches days not kept, and may have been longer. One day not kept ends no run.",
    )


def _count(count: Count) -> str:
    return f"{count.number}/{count.of}{'<' if count.is_few else ' '}"


def _counted_rows(findings: Findings, topic: Topic) -> list[tuple[str, tuple[GroupRow, ...]]]:
    return {
        "seasons": [
            ("Months", findings.months),
            ("Seasons", findings.seasons),
            ("Years", findings.years),
        ],
        "shifts": [
            ("Kinds of shift", findings.shifts),
            ("Runs of nights and quick returns", findings.runs),
        ],
        "weekdays": [("Weekdays", findings.weekdays)],
    }.get(topic, [])


def _lags(findings: Findings, lag: LagFinding) -> NumberTable:
    """Return the correlations; before the first verdict the pairs of days alone, which nobody can misread."""
    title = f"{_name(lag.outcome).capitalize()} and sleep"
    labels = [wording.what_comes_first(row.lag, lag.outcome) for row in lag.rows]
    if findings.waits and findings.next_verdict_day:
        pairs = tuple((label, str(row.pairs)) for label, row in zip(labels, lag.rows, strict=True))
        why = wording.no_correlations_yet(long_day(findings.next_verdict_day))
        return NumberTable(f"{title}: pairs of days", ("", "pairs"), pairs, "", why)
    return NumberTable(
        f"{title}: rank correlations",
        ("", "pairs", "plain", "adj.", "own", "95 %     ", "p", ""),
        tuple((label, *_correlations(row)) for label, row in zip(labels, lag.rows, strict=True)),
        f"plain: as the days stand; adj.: {words.listed(list(lag.adjusted_for))} taken out; own: the own "
        f"past of both too, with its interval; p: after weighted Holm over the lags{_limit(lag.level)}; -: "
        "too little kept; *: shown.",
        wording.BY_CHANCE_AS_MUCH if findings.chosen else "",
    )


def _correlations(row: LagRow) -> list[str]:
    interval = f"{_signed(row.low)} to {_signed(row.high)}" if row.low is not None else "-"
    effects = (row.unadjusted, row.adjusted, row.beyond_own_past)
    p = wording.chance_in_a_table(row.p)
    return [str(row.pairs), *map(_signed, effects), interval, p, _star(row.verdict)]


def _groups(groups: Sequence[GroupFinding]) -> NumberTable:
    return NumberTable(
        "Groups of days: permutation tests",
        ("", "days", "p", "alone", "smallest share", ""),
        tuple(row for group in groups for row in _group(group)),
        f"p: after Holm over the page{_limit(groups[0].level)}; alone: p with the other day's shift taken "
        "out, named up to 0.01; smallest share: of the differences between days, what groups must account "
        "for to be shown; -: not tested; *: shown.",
    )


def _group(group: GroupFinding) -> Iterator[tuple[str, ...]]:
    """The row of a verdict, and of kinds of shift a row for the day and one for the day before."""
    smallest = "-" if group.smallest is None else f"{100 * group.smallest:.0f} %"
    p = wording.chance_in_a_table(group.p)
    yield (f"{_name(group.outcome)} by {group.by}", str(group.days), p, "", smallest, _star(group.verdict))
    for which, p_of in group.p_of.items():
        alone = wording.chance_in_a_table(group.p_beyond.get(which))
        named = "*" if which in group.named else ""
        yield (f"  by that of the {which}", "", wording.chance_in_a_table(p_of), alone, "", named)


def _limit(level: float | None) -> str:
    return "" if level is None else f", shown up to {level:g}"


def _courses(courses: Sequence[Course]) -> NumberTable:
    rows = tuple(
        (
            _name(course.outcome),
            str(course.years),
            _height(course.amplitude),
            f"{course.peak[1]} {MONTHS[course.peak[0] - 1]}" if course.peak else "-",
            wording.chance_in_a_table(course.p),
            _height(course.smallest),
            _star(course.verdict),
        )
        for course in courses
    )
    return NumberTable(
        "Time of year: yearly waves, in steps of the scale",
        ("", "years", "height", "peak", "p", "smallest height", ""),
        rows,
        "height: above the middle; peak: its day; -: too little kept; *: shown.",
    )


def _counts(title: str, rows: Sequence[GroupRow], names: Sequence[str], note: str) -> NumberTable:
    mood = rows[0].outcome == "mood"
    places = [str(place) for place in range(1, len(names) + 1)]
    levels = ", ".join(f"{place} = {name}" for place, name in zip(places, names, strict=True))
    counted = tuple(
        (
            row.name,
            f"{row.kept}/{row.days}{'<' if row.few_kept else ' '}",
            "-" if row.median is None else str(row.median),
            *map(str, row.counts),
            *([f"{row.anxious}/{row.anxious_noted}"] if mood else []),
        )
        for row in rows
    )
    return NumberTable(
        f"{title}: days of each {'level of mood' if mood else 'bucket of sleep'}",
        ("", "kept ", "middle", *places, *(["anxious"] if mood else [])),
        counted,
        "kept: of the days there were, <: under half; middle: half the kept days are at or under it."
        + (f" {levels}." if list(names) != places else "")
        + note,
    )


def _aligned(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Return rows under their heads: what they are called on the left, and cut where there is no room."""
    called, *columns = (max(map(text_width, cells)) for cells in zip(head, *rows, strict=True))
    gap = 2 if called + sum(columns) + 2 * len(columns) <= WIDTH else 1
    called = min(called, WIDTH - sum(columns) - gap * len(columns))
    lines = []
    for name, *cells in [head, *rows]:
        numbers = (f"{cell:>{wide + gap}}" for cell, wide in zip(cells, columns, strict=True))
        lines.append(f"{padded(cut(name, called), called)}{''.join(numbers)}".rstrip())
    return lines


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, break_on_hyphens=False)


def _name(outcome: str) -> str:
    return wording.OUTCOMES[outcome].removeprefix("the ")


def _signed(value: float | None) -> str:
    return "-" if value is None else f"{value:+z.2f}"


def _height(value: float | None) -> str:
    return "-" if value is None else f"{value:.2f}"


def _star(verdict: str | None) -> str:
    return "*" if verdict == "shown" else ""
