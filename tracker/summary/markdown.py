"""The page as Markdown: the same parts, for pasting into a message or a note."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tracker import words
from tracker.diary.dates import long_day
from tracker.summary.page_model import (
    AS_THEY_STAND,
    BORN,
    CHANGED_HEAD,
    CHANGED_HINT,
    DAYS_HEAD,
    FIGURES_HEAD,
    NAME,
    NOTES_HEAD,
    READING_HEAD,
    SIDE_BY_SIDE_HEAD,
    TITLE,
    TRIED_HEAD,
    WANTS_HEAD,
    YEAR_HEAD,
    Key,
    Page,
    Table,
)
from tracker.summary.text import strip_lines

_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~])")
_AT_THE_START = re.compile(r"^(\d+)([.)])|^([-+])(?=\s)")


def as_markdown(page: Page) -> str:
    """The whole page; nothing is left out for want of room."""
    return "\n\n".join(filter(None, _blocks(page))) + "\n"


def _blocks(page: Page) -> Iterator[str]:
    yield f"# {TITLE}"
    yield f"Made {long_day(page.made)}"
    yield "; ".join(f"{what} {_plain(text)}" for what, text in ((NAME, page.name), (BORN, page.born)) if text)
    yield words.CAUTION
    yield f"## {WANTS_HEAD}"
    yield "\n".join(f"{number}. {_plain(want)}" for number, want in enumerate(page.wants, 1)) or "1. ..."
    yield f"## {CHANGED_HEAD}"
    yield _list(page.changed) or f"({CHANGED_HINT})"
    yield f"## {FIGURES_HEAD}: {page.period}"
    yield _table(page.figures)
    yield _list(page.remarks)
    yield f"## {SIDE_BY_SIDE_HEAD}, {AS_THEY_STAND}"
    yield _pairs(page)
    yield _plain(page.left_out)
    yield f"## {page.tested.head}{f' ({page.tested.right})' if page.tested.right else ''}"
    yield _list(page.tested.statements)
    if page.tried:
        yield f"## {TRIED_HEAD}"
        yield _plain(page.tried)
    yield f"## {DAYS_HEAD}"
    yield "\n".join(["```", *(line.text for line in strip_lines(page.strip)), "```"])
    yield from _explained(page)
    if page.notes:
        yield f"## {NOTES_HEAD}"
        yield _list(page.notes)
    if page.year:
        yield f"## {YEAR_HEAD}"
        yield _table(page.year)
    yield f"## {READING_HEAD}"
    yield " ".join(page.complete)
    yield page.reading


def _explained(page: Page) -> Iterator[str]:
    """What the digits and the signs of the days stand for."""
    strip = page.strip
    for key in strip.keys:
        yield _plain(_key(key))
    yield _plain("; ".join(strip.signs_of_text))
    if strip.changes:
        yield _plain(f"My changes: {'; '.join(strip.changes)}.")


def _key(key: Key) -> str:
    return f"{key.title}: {', '.join(f'{line.mark.sign} {line.label}' for line in key.lines)}"


def _plain(text: str) -> str:
    """Text in which no sign is taken for layout."""
    escaped = _SIGNS.sub(r"\\\1", " ".join(text.split()))
    return _AT_THE_START.sub(lambda found: f"{found[1] or ''}\\{found[2] or found[3]}", escaped)


def _list(lines: Iterable[str]) -> str:
    return "\n".join(f"- {_plain(line)}" for line in lines)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _table(table: Table) -> str:
    heads = [head.replace("\n", " ") for head in table.heads]
    head = [_row(["", *heads]), _row(["---"] * (len(heads) + 1))]
    return "\n".join([*head, *(_row([_plain(row.label), *row.cells]) for row in table.rows)])


def _pairs(page: Page) -> str:
    return _list(
        f"{pair.outcome}: {'; '.join(f'{side.label} {side.count}' for side in pair.sides)}"
        for pair in page.pairs
    )
