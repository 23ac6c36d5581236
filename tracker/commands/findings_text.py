"""Findings as text of at most 80 columns, the caution first."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tracker import words
from tracker.analysis import wording

if TYPE_CHECKING:
    from tracker.analysis.describe import Row
    from tracker.analysis.results import Course, Findings, GroupFinding, LagFinding, LagRow, Statement

WIDTH = 80
VERDICT_WIDTH = 18
HEADS = {
    "lags": "WHAT GOES WITH WHAT",
    "shifts": "KINDS OF SHIFT",
    "weekdays": "WEEKDAYS",
    "seasons": "TIME OF YEAR",
    "record": "WHAT LIMITS ALL THIS",
}
OUTCOMES = {"mood": "mood", "sleep": "sleep", "anxious": "anxious mark"}


def findings_lines(findings: Findings, *, numbers: bool) -> Iterator[str]:
    """The findings line by line; `numbers` adds every table."""
    yield words.CAUTION
    yield ""
    yield from _wrapped(findings.standing("Next verdicts on", "They rest on "))
    statements = _said(findings)
    for topic, head in HEADS.items():
        said = [statement for statement in statements if statement.topic == topic]
        if said:
            yield from ("", head)
        for statement in said:
            indent = VERDICT_WIDTH if statement.verdict else 2
            yield from _wrapped(statement.text, statement.verdict or "", indent)
            if numbers and statement.numbers:
                yield from _wrapped(f"({statement.numbers})", "", indent)
    yield from ("", "HOW TO READ THIS", *_beside(statements), *words.CAUSE)
    if numbers:
        yield from _tables(findings)
    else:
        yield from ("", "Every number behind this: tracker findings --numbers, or --json.")
    yield from ("", *_wrapped(words.WHERE_TO_TURN_HINT))


def _said(findings: Findings) -> list[Statement]:
    """The statements, with mood, sleep and the anxious mark in one where no group is shown."""
    from tracker.analysis.statements import group_statements

    topics = ("shifts", "weekdays")
    if not any(group.verdict for group in findings.groups):
        return list(findings.statements)
    others = [statement for statement in findings.statements if statement.topic not in topics]
    return [*others, *group_statements(findings.groups, together=True)]


def _beside(statements: Sequence[Statement]) -> Iterator[str]:
    """What holds for several statements, once."""
    already = {statement.text for statement in statements}
    beside = dict.fromkeys(text for statement in statements for text in statement.beside)
    yield from _wrapped(" ".join(text for text in beside if text not in already))


def _wrapped(text: str, margin: str = "", indent: int = 0) -> list[str]:
    head = f"  {margin}".ljust(indent) if indent else ""
    return textwrap.wrap(
        text, WIDTH, initial_indent=head, subsequent_indent=" " * indent, break_on_hyphens=False
    )


def _tables(findings: Findings) -> Iterator[str]:
    for lag in findings.lags:
        yield from ("", *_lag_table(lag))
    if findings.groups:
        yield from ("", *_group_table(findings.groups))
    if findings.courses:
        yield from ("", *_course_table(findings.courses))
    tables = [
        ("Months", findings.months),
        ("Seasons", findings.seasons),
        ("Years", findings.years),
        ("Kinds of shift", findings.shifts),
        ("Runs of nights and quick returns", findings.runs),
        ("Weekdays", findings.weekdays),
    ]
    for title, rows in tables:
        for outcome in ("mood", "sleep"):
            chosen = [row for row in rows if row.outcome == outcome]
            if chosen:
                yield from ("", *_row_table(title, outcome, findings.names[outcome], chosen))


def _lag_table(lag: LagFinding) -> Iterator[str]:
    yield f"{OUTCOMES[lag.outcome].capitalize()} and sleep: rank correlations"
    yield f"  {'':25}{'pairs':>5}{'plain':>7}{'adj.':>7}{'own':>7}  {'95 %':^14}{'p':>8}"
    for row in lag.rows:
        yield f"  {_lag_name(row.lag):25}{row.pairs:5}{_numbers_of(row)}{_star(row.verdict)}"
    yield from _wrapped(
        f"plain: as the days stand; adj.: {words.listed(list(lag.adjusted_for))} taken out; own: also the "
        "own past of both, with its interval; p: after Holm for 15 lags; *: shown.",
        indent=2,
    )


def _lag_name(lag: int) -> str:
    """`the sleep before`, `2 days before that`, `second sleep after`."""
    return wording.lag_name(lag).removeprefix("the ") if lag not in (0, -1) else wording.lag_name(lag)


def _numbers_of(row: LagRow) -> str:
    interval = f"{_effect(row.low)} to {_effect(row.high)}" if row.low is not None else "-"
    effects = (row.unadjusted, row.adjusted, row.beyond_own_past)
    return (
        "".join(f"{_effect(effect):>7}" for effect in effects)
        + f"  {interval:^14}{wording.chance_in_a_table(row.p):>8}"
    )


def _group_table(groups: Sequence[GroupFinding]) -> Iterator[str]:
    yield "Kinds of shift and weekdays: permutation tests"
    yield f"  {'':14}{'by':26}{'days':>6}{'p':>8}{'smallest share':>17}"
    for group in groups:
        share = "-" if group.smallest is None else f"{100 * group.smallest:.0f} %"
        p = wording.chance_in_a_table(group.p)
        yield (
            f"  {OUTCOMES[group.outcome]:14}{group.by:26}{group.days:6}{p:>8}{share:>17}"
            f"{_star(group.verdict)}"
        )
    yield from _wrapped(
        "p: after Holm over these tests; smallest share: of the differences between days, what groups must "
        "account for to be shown; *: shown.",
        indent=2,
    )


def _course_table(courses: Sequence[Course]) -> Iterator[str]:
    yield "Time of year: yearly waves, in steps of the scale"
    yield f"  {'':14}{'years':>6}{'height':>8}{'peak':>8}{'p':>8}{'smallest height':>17}"
    for course in courses:
        peak = f"{course.peak[1]:02d}-{course.peak[0]:02d}" if course.peak else "-"
        yield (
            f"  {OUTCOMES[course.outcome]:14}{course.years:6}{_effect(course.amplitude):>8}{peak:>8}"
            f"{wording.chance_in_a_table(course.p):>8}{_effect(course.smallest):>17}{_star(course.verdict)}"
        )
    yield from _wrapped("peak: day-month of the highest point; *: shown.", indent=2)


def _row_table(title: str, outcome: str, names: Sequence[str], rows: Sequence[Row]) -> Iterator[str]:
    yield f"{title}: days of each {'level of mood' if outcome == 'mood' else 'bucket of sleep'}"
    heads = [str(place) for place in range(1, len(names) + 1)]
    longest = max(len(str(count)) for row in rows for count in row.counts)
    wide = max(longest + 1, 4)
    room = WIDTH - 18 - wide * len(heads)
    yield f"  {'':{room}}{'kept':>9} {'middle':>6}{''.join(f'{head:>{wide}}' for head in heads)}"
    for row in rows:
        middle = "-" if row.median is None else heads[row.median - 1]
        counts = "".join(f"{count:{wide}}" for count in row.counts)
        few = "<" if row.few_kept else " "
        yield f"  {row.name:{room}.{room}}{f'{row.kept}/{row.days}':>9}{few}{middle:>6}{counts}"
    key = ", ".join(f"{place} {name}" for place, name in zip(heads, names, strict=True))
    yield from _wrapped(f"<: under half kept.{f' {key}.' if outcome == 'sleep' else ''}", indent=2)


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:.2f}"


def _star(verdict: str | None) -> str:
    return " *" if verdict == "shown" else ""
