"""The page as plain text: at most 60 lines of 80 columns, ASCII, for a printer, a fax or an e-mail."""

from __future__ import annotations

import textwrap
import unicodedata
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
    UNSHOWN_SIGN,
    WANTS_HEAD,
    WEEKS_HEAD,
    YEAR_HEAD,
    DaySquares,
    Page,
    PageRow,
    Week,
    brief_day,
    fitting_label,
    slimmed,
)

WIDTH, LINES = 80, 60
MARKS = ("Mn", "Me", "Cf")
"""Accents, and what only steers how letters are joined."""
RULE = "-" * WIDTH
BLANK = "  " + "_" * (WIDTH - 2)
LABEL, COLUMN = 39, 22
MONTH_LABEL, MONTH = 20, 5
MOOD_AT, SLEEP_AT, SHIFT_AT = 18, 50, 66

_PLAIN = str.maketrans(
    {
        "ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "œ": "oe", "ł": "l", "đ": "d",
        "’": "'", "‘": "'", "“": '"', "”": '"', "–": "-", "—": "-", "…": "...", "•": "*", "⁄": "/",
    }
)  # fmt: skip


def as_ascii(text: str) -> str:
    """The text in ASCII: accents go, and a letter without likeness becomes a question mark."""
    return "".join(map(_likeness, unicodedata.normalize("NFC", text)))


def _likeness(letter: str) -> str:
    plain = unicodedata.normalize("NFKD", letter).translate(_PLAIN)
    likeness = "".join(part for part in plain if unicodedata.category(part) not in MARKS)
    return likeness if likeness.isascii() and likeness.isprintable() else UNSHOWN_SIGN


def loses_letters(text: str) -> bool:
    """Whether a letter of the text has no likeness in ASCII."""
    return as_ascii(text).count(UNSHOWN_SIGN) > unicodedata.normalize("NFKD", text).count(UNSHOWN_SIGN)


def as_text(page: Page) -> tuple[str, tuple[str, ...]]:
    """The page in at most 60 lines, and the names of what was left out to fit it in."""
    if any(map(loses_letters, page.own_words)):
        page = page.with_letters_unshown()
    tried = [(list(_lines(slim)), left_out) for slim, left_out in slimmed(page)]
    lines, left_out = next((one for one in tried if len(one[0]) <= LINES), tried[-1])
    return "\n".join(lines[:LINES]) + "\n", left_out


def _lines(page: Page) -> Iterator[str]:
    yield from _top(page)
    yield from _own_words(page)
    yield RULE
    yield from _figures(page)
    yield _head(SAID_HEAD, page.verdict_days)
    yield from _wrapped(" ".join(page.said.statements))
    yield _head(COMPLETE_HEAD, page.period)
    yield from _wrapped(" ".join(page.complete))
    yield from _weeks(page)
    yield from _year(page)
    if page.notes:
        yield _head(NOTES_HEAD)
        for note in page.notes:
            yield from _wrapped(note)
    yield from _paragraph(f"{READING_HEAD.upper()}  {' '.join(page.reading)}")


def _top(page: Page) -> Iterator[str]:
    yield _head(TITLE, f"made {long_day(page.made)}")
    yield "Name (optional) ____________________________  Born (optional) __________________"
    yield words.CAUTION


def _own_words(page: Page) -> Iterator[str]:
    yield _head(WANTS_HEAD)
    for number, want in enumerate(page.wants, start=1):
        yield from _wrapped(f"{number}. {want}")
    yield from [] if page.wants else [BLANK] * page.blanks
    yield _head(CHANGED_HEAD)
    for line in page.changed:
        yield from _wrapped(line)
    yield from [] if page.changed else [f"  ({CHANGED_HINT})", *[BLANK] * page.blanks]


def _figures(page: Page) -> Iterator[str]:
    yield FIGURES_HEAD.upper().ljust(LABEL) + _in_columns(page.figures.heads)
    for row in page.figures.rows:
        yield f"  {_label(row, LABEL - 3)}".ljust(LABEL) + _in_columns(row.cells)
    for line in page.after_nights:
        yield from _wrapped(line)


def _in_columns(cells: Iterable[str]) -> str:
    return "".join(cell.ljust(COLUMN) for cell in cells).rstrip()


def _label(row: PageRow, width: int) -> str:
    """A row's label, or what stands in its brackets where that alone has letters of this alphabet."""
    _, _, bracket = row.label.partition(" (")
    readable = bracket.rstrip(")") if bracket and loses_letters(row.label) else row.label
    return fitting_label(as_ascii(readable), width)


def _weeks(page: Page) -> Iterator[str]:
    weeks = page.weeks
    mood = as_ascii(weeks.mood_head)
    if len(mood) >= SLEEP_AT - MOOD_AT or loses_letters(weeks.mood_head):
        mood = "mood"
    yield _at(WEEKS_HEAD.upper(), mood, "hours slept", "shift" if weeks.with_shifts else "")
    letters = " ".join(name[0] for name in weeks.weekdays)
    names = " ".join(weeks.weekdays)
    yield _at("  from", names, letters, letters if weeks.with_shifts else "")
    for row in weeks.rows:
        yield _week(row, weeks.with_shifts)
    yield from _wrapped(weeks.sleep_head)
    yield from _unbroken(page.signs)


def _week(row: Week, with_shifts: bool) -> str:
    moods = " ".join(_mood(day) for day in row.days)
    sleeps = " ".join(day.sleep.sign if day else " " for day in row.days)
    shifts = " ".join(day.shift if day else " " for day in row.days) if with_shifts else ""
    return _at(f"  {brief_day(row.first)}", moods, sleeps, shifts)


def _mood(day: DaySquares | None) -> str:
    return (day.mood.sign + ("a" if day.anxious else " ")) if day else "  "


def _at(first: str, mood: str, sleep: str, shift: str) -> str:
    """Four texts at their columns."""
    line = first.ljust(MOOD_AT) + mood
    return f"{f'{line:<{SLEEP_AT}}{sleep}':<{SHIFT_AT}}{shift}".rstrip()


def _year(page: Page) -> Iterator[str]:
    if page.year is None:
        return
    yield YEAR_HEAD.upper().ljust(MONTH_LABEL) + "".join(head.rjust(MONTH) for head in page.year.heads)
    for row in page.year.rows:
        label = f"  {_label(row, MONTH_LABEL - 2)}".ljust(MONTH_LABEL)
        yield label + "".join(cell.rjust(MONTH) for cell in row.cells)


def _head(head: str, right: str = "") -> str:
    """A head in capitals, with something at the right edge."""
    return f"{head.upper()}{right:>{WIDTH - len(head)}}".rstrip()


def _wrapped(text: str) -> list[str]:
    return _paragraph(text, "  ")


def _unbroken(signs: Iterable[str]) -> list[str]:
    """The signs of the key side by side, none of them torn apart at the end of a line."""
    lines = [""]
    for sign in map(as_ascii, signs):
        longer = f"{lines[-1]}  {sign}" if lines[-1] else f"  {sign[: WIDTH - 2]}"
        lines[-1:] = [longer] if len(longer) <= WIDTH else [lines[-1], f"  {sign[: WIDTH - 2]}"]
    return [line for line in lines if line]


def _paragraph(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(as_ascii(text), WIDTH, initial_indent=indent, subsequent_indent=indent)
