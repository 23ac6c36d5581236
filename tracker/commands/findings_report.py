"""Findings as text of at most 80 columns, the caution first."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import click

from tracker import words
from tracker.analysis.number_tables import NumberTable, tables_behind
from tracker.commands.printed_tables import print_table
from tracker.diary.spoken import spoken

if TYPE_CHECKING:
    from tracker.analysis.results import Findings, Statement, Topic

WIDTH = 80
VERDICT_WIDTH = 18
HEADS: dict[Topic, str] = {
    "lags": "WHAT GOES WITH WHAT",
    "counts": "COUNTED SIDE BY SIDE",
    "shifts": "KINDS OF SHIFT",
    "weekdays": "WEEKDAYS",
    "seasons": "TIME OF YEAR",
    "changes": "BEFORE AND AFTER YOUR CHANGES",
    "record": "ABOUT THE DAYS",
}


def print_findings(findings: Findings, *, numbers: bool) -> None:
    """Print the findings; `numbers` adds every table."""
    for line in _lines(findings, numbers=numbers):
        click.echo(line)
    if numbers:
        for topic in HEADS:
            for table in tables_behind(findings, topic):
                _print_numbers(table)
    click.echo("\n".join(("", *_wrapped(words.WHERE_TO_TURN_HINT))))


def say_findings(findings: Findings) -> None:
    """Say the findings for those who listen: whole sentences, without a column, the caution first."""
    from tracker.analysis.statements import told_together

    statements = told_together(findings)
    lines = [words.CAUTION, findings.standing()]
    for topic, head in HEADS.items():
        said = [statement for statement in statements if statement.topic == topic]
        lines += [f"{head.capitalize()}.", *map(_spoken_statement, said)] if said else []
    lines += ["How to read this.", _text_beside(statements), " ".join(words.CAUSE), words.WHERE_TO_TURN_HINT]
    for line in filter(None, lines):
        click.echo(spoken(line))


def _spoken_statement(statement: Statement) -> str:
    verdict = f"{words.sentence(statement.verdict)}: " if statement.verdict else ""
    return f"{verdict}{statement.text}"


def _lines(findings: Findings, *, numbers: bool) -> Iterator[str]:
    yield words.CAUTION
    yield ""
    yield from _wrapped(findings.standing())
    from tracker.analysis.statements import told_together

    statements = told_together(findings)
    for topic, head in HEADS.items():
        said = [statement for statement in statements if statement.topic == topic]
        if said:
            yield from ("", head)
        for statement in said:
            indent = VERDICT_WIDTH if statement.verdict else 2
            yield from _wrapped(statement.text, statement.verdict or "", indent)
            if numbers and statement.numbers:
                yield from _wrapped(f"({statement.numbers})", "", indent)
    yield from ("", "HOW TO READ THIS", *_wrapped(_text_beside(statements)), *words.CAUSE)
    if not numbers:
        yield from ("", "Every number behind this: tracker findings --numbers, or --json.")


def _text_beside(statements: Sequence[Statement]) -> str:
    """What holds for several statements, once."""
    already = {statement.text for statement in statements}
    beside = dict.fromkeys(text for statement in statements for text in statement.beside)
    return " ".join(text for text in beside if text not in already)


def _wrapped(text: str, margin: str = "", indent: int = 0) -> list[str]:
    head = f"  {margin}".ljust(indent) if indent else ""
    return textwrap.wrap(
        text, WIDTH, initial_indent=head, subsequent_indent=" " * indent, break_on_hyphens=False
    )


def _print_numbers(table: NumberTable) -> None:
    for line in ("", table.title, *_wrapped(table.warning, indent=2)):
        click.echo(line)
    print_table(table.rows, table.head, numbers=range(1, len(table.head)), indent=2)
    for line in _wrapped(table.how_to_read, indent=2):
        click.echo(line)
