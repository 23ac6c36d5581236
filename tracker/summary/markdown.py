"""The page as Markdown: the same parts, for pasting into a message or a note."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tracker import words
from tracker.diary.dates import long_day
from tracker.summary.page_model import (
    CHANGED_HEAD,
    CHANGED_HINT,
    COMPLETE_HEAD,
    FIGURES_HEAD,
    NOTES_HEAD,
    READING_HEAD,
    SAID_HEAD,
    TITLE,
    WANTS_HEAD,
    WEEKS_HEAD,
    YEAR_HEAD,
    DaySquares,
    Page,
    Table,
    Weeks,
    brief_day,
)

_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~])")
_AT_THE_START = re.compile(r"^(\d+)([.)])|^([-+])(?=\s)")


def as_markdown(page: Page) -> str:
    """The whole page; nothing is left out for want of room."""
    return "\n\n".join(_blocks(page)) + "\n"


def _blocks(page: Page) -> Iterator[str]:
    yield f"# {TITLE}"
    yield f"Made {long_day(page.made)}"
    yield words.CAUTION
    yield f"## {WANTS_HEAD}"
    yield "\n".join(f"{number}. {_plain(want)}" for number, want in enumerate(page.wants, 1)) or "1. ..."
    yield f"## {CHANGED_HEAD}"
    yield _list(page.changed) or f"({CHANGED_HINT})"
    yield f"## {FIGURES_HEAD}"
    yield _table(page.figures)
    yield from page.after_nights
    yield f"## {SAID_HEAD} ({page.verdict_days})"
    yield _list(page.said.statements)
    yield f"## {COMPLETE_HEAD}: {page.period}"
    yield " ".join(page.complete)
    yield f"## {WEEKS_HEAD}"
    yield _plain(f"{page.weeks.mood_head}; {page.weeks.sleep_head}")
    yield _weeks(page.weeks)
    yield _plain("; ".join(page.signs))
    if page.year:
        yield f"## {YEAR_HEAD}"
        yield _table(page.year)
    if page.notes:
        yield f"## {NOTES_HEAD}"
        yield _list(page.notes)
    yield f"## {READING_HEAD}"
    yield _plain(" ".join(page.reading))


def _plain(text: str) -> str:
    """Text in which no sign is taken for layout."""
    escaped = _SIGNS.sub(r"\\\1", " ".join(text.split()))
    return _AT_THE_START.sub(lambda found: f"{found[1] or ''}\\{found[2] or found[3]}", escaped)


def _list(lines: Iterable[str]) -> str:
    return "\n".join(f"- {_plain(line)}" for line in lines)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _table(table: Table) -> str:
    head = [_row(["", *table.heads]), _row(["---"] * (len(table.heads) + 1))]
    return "\n".join([*head, *(_row([_plain(row.label), *row.cells]) for row in table.rows)])


def _weeks(weeks: Weeks) -> str:
    heads = ["from", *weeks.weekdays, "sleep", *(["shift"] if weeks.with_shifts else [])]
    lines = [_row(heads), _row(["---"] * len(heads))]
    for week in weeks.rows:
        cells = [brief_day(week.first), *(_mood(day) for day in week.days)]
        cells.append(" ".join(day.sleep.sign for day in week.days if day))
        if weeks.with_shifts:
            cells.append(" ".join(day.shift for day in week.days if day))
        lines.append(_row(cells))
    return "\n".join(lines)


def _mood(day: DaySquares | None) -> str:
    return (day.mood.sign + ("a" if day.anxious else "")) if day else ""
