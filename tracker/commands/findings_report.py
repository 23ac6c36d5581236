"""Findings as text of at most 80 columns, the caution first."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tracker import words

if TYPE_CHECKING:
    from tracker.analysis.results import Findings, Statement, Topic

WIDTH = 80
VERDICT_WIDTH = 18
HEADS: dict[Topic, str] = {
    "lags": "WHAT GOES WITH WHAT",
    "shifts": "KINDS OF SHIFT",
    "weekdays": "WEEKDAYS",
    "seasons": "TIME OF YEAR",
    "record": "WHAT LIMITS ALL THIS",
}


def findings_lines(findings: Findings, *, numbers: bool) -> Iterator[str]:
    """The findings line by line; `numbers` adds every table."""
    yield words.CAUTION
    yield ""
    yield from _wrapped(findings.standing())
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
    from tracker.analysis.number_tables import tables_behind

    for topic in HEADS:
        for title, *lines in tables_behind(findings, topic):
            yield from ("", title, *(f"  {line}" for line in lines))
