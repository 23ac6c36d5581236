"""The page as plain text: at most 60 lines of 80 columns, for a printer, a fax or an e-mail."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from tracker import words
from tracker.cells import cut, padded, text_width
from tracker.diary.dates import long_day
from tracker.summary.letters import script_of
from tracker.summary.page_model import (
    AS_THEY_STAND,
    BORN,
    CHANGED_HEAD,
    CHANGED_HINT,
    FIGURES_HEAD,
    NAME,
    NOTES_HEAD,
    PART_NAMES,
    READING_HEAD,
    SIDE_BY_SIDE_HEAD,
    TITLE,
    TRIED_HEAD,
    WANTS_HEAD,
    YEAR_HEAD,
    DaySquares,
    Key,
    Page,
    Pair,
    Part,
    Row,
    Side,
    Strip,
    Table,
    Week,
    day_and_month,
    slimmed,
)

WIDTH, LINES = 80, 60
MARKS = ("Mn", "Me", "Cf")
"""Accents, and what only steers how letters are joined."""
INDENT = "  "
BLANK = INDENT + "_" * (WIDTH - len(INDENT))
LABEL = 30
COLUMNS = (14, 17, 19)
"""Columns of the text that the label and each column of figures take."""
MONTH_LABEL, MONTH = 18, 5
STRIP_LABEL, DAY, WEEK = 6, 2, 15
HOURS = "hours I think I slept"
GOES_FIRST: tuple[Part, ...] = tuple(PART_NAMES)
Shown = Callable[[str], str]

_PLAIN = str.maketrans(
    {
        "ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "œ": "oe", "ł": "l", "đ": "d",
        "’": "'", "‘": "'", "“": '"', "”": '"', "–": "-", "—": "-", "…": "...", "•": "*", "⁄": "/",
    }
)  # fmt: skip


def text_heads(page: Page) -> tuple[str, ...]:
    """What the heads in the lines of a page begin with."""
    fixed = (
        TITLE, WANTS_HEAD, CHANGED_HEAD, FIGURES_HEAD, SIDE_BY_SIDE_HEAD, TRIED_HEAD, NOTES_HEAD, YEAR_HEAD,
        READING_HEAD,
    )  # fmt: skip
    return tuple(head.upper() for head in (*fixed, page.tested.head))


def as_ascii(text: str) -> str | None:
    """The text in ASCII: accents go; None where a letter has no likeness."""
    plain = unicodedata.normalize("NFKD", text).translate(_PLAIN)
    likeness = "".join(part for part in plain if unicodedata.category(part) not in MARKS)
    return likeness if likeness.isascii() and likeness.isprintable() else None


def scripts_lost(text: str) -> list[str]:
    """The scripts of the letters of a text that have no likeness in ASCII."""
    return sorted({script_of(letter) for letter in text if as_ascii(letter) is None})


def as_text(page: Page, ascii: bool = False) -> tuple[str, tuple[str, ...]]:
    """The page in at most 60 lines, and the names of what was left out to fit it in.

    Parameters
    ----------
    ascii
        Whether only ASCII may stand in it: accents go, and a line with other letters is left to write on.
    """
    printed = fitted(page, ascii)
    return "\n".join(printed.lines) + "\n", printed.left_out


class FittedPage(NamedTuple):
    """A page as far as it has room in 60 lines."""

    lines: Sequence[str]
    page: Page
    left_out: tuple[str, ...]


def fitted(page: Page, ascii: bool = False) -> FittedPage:
    """The lines of a page, what is left of it so that it fits in, and the names of what is not."""
    lines = _Lines(as_ascii if ascii else str)
    tried = [FittedPage(list(lines.of(slim)), slim, left_out) for slim, left_out in slimmed(page, GOES_FIRST)]
    fits = next((one for one in tried if len(one.lines) <= LINES), tried[-1])
    return fits._replace(lines=fits.lines[:LINES])


class _Lines:
    """Puts the parts of a page into lines."""

    def __init__(self, shown: Callable[[str], str | None]) -> None:
        self._shown = shown
        """What can be shown of a text of hers; None for nothing."""

    def of(self, page: Page) -> Iterator[str]:
        """All lines of a page."""
        yield from self._top(page)
        blocks = [
            self._own_words(page),
            self._figures(page),
            self._pairs(page),
            self._tested(page),
            self._tried(page),
            self._strip(page.strip),
            self._notes(page),
            self._year(page.year),
            self._reading(page),
        ]
        for block in map(list, blocks):
            yield from ["", *block] if block else []

    def _top(self, page: Page) -> Iterator[str]:
        yield _head(TITLE, f"made {long_day(page.made)}")
        name, born = self._shown(page.name), self._shown(page.born)
        yield padded(f"{NAME} {name or 38 * '_'}", 45) + f"{BORN} {born or 30 * '_'}"
        yield words.CAUTION

    def _own_words(self, page: Page) -> Iterator[str]:
        yield _head(WANTS_HEAD)
        for number, want in enumerate(page.wants, start=1):
            yield from self._own_line(want, f"{number}. ")
        yield from [] if page.wants else [BLANK] * page.blanks
        yield _head(CHANGED_HEAD)
        for line in page.changed:
            yield from self._own_line(line)
        yield from [] if page.changed else [f"{INDENT}({CHANGED_HINT})", *[BLANK] * page.blanks]

    def _own_line(self, text: str, before: str = "") -> list[str]:
        shown = self._shown(text)
        return [BLANK] if shown is None else wrapped(f"{before}{shown}")

    # --- counts -----------------------------------------------------------------------------------

    def _figures(self, page: Page) -> Iterator[str]:
        yield padded(FIGURES_HEAD.upper(), LABEL) + _in_columns(page.figures.heads)
        for row in page.figures.rows:
            yield INDENT + padded(self._label(row, LABEL - 3), LABEL - 2) + _in_columns(row.cells)
        yield from wrapped(" ".join(page.remarks))

    def _label(self, row: Row | Pair | Side, width: int) -> str:
        """A label in so many columns, or what to call it instead."""
        label = row.outcome if isinstance(row, Pair) else row.label
        shown = self._shown(label)
        fits = shown is not None and text_width(shown) <= width
        return shown if shown is not None and fits else cut(row.plain or label, width)

    def _pairs(self, page: Page) -> Iterator[str]:
        yield _head(SIDE_BY_SIDE_HEAD, f"{page.period}, {AS_THEY_STAND}")
        counts = [max((len(pair.sides[n].count) for pair in page.pairs), default=0) for n in (0, 1)]
        right = max((len(pair.sides[1].label) for pair in page.pairs), default=0)
        room = WIDTH - len(INDENT) - 1 - counts[0] - 2 - right - 1 - counts[1]
        lefts = [self._left(pair, room) for pair in page.pairs]
        left = max(map(text_width, lefts), default=0)
        for one, pair in zip(lefts, page.pairs, strict=True):
            there, elsewhere = pair.sides
            yield (
                f"{INDENT}{padded(one, left)} {there.count:<{counts[0] + 2}}"
                f"{elsewhere.label:<{right}} {elsewhere.count}"
            )
        yield from wrapped(page.left_out)

    def _left(self, pair: Pair, room: int) -> str:
        """An outcome and the days on which it is counted, in so many columns."""
        own = f"{self._label(pair, room)} {self._label(pair.sides[0], room)}"
        if text_width(own) <= room:
            return own
        return f"{pair.plain or pair.outcome} {pair.sides[0].plain or pair.sides[0].label}"

    def _tested(self, page: Page) -> Iterator[str]:
        yield _head(page.tested.head, page.tested.right)
        yield from wrapped(" ".join(page.tested.statements))

    def _tried(self, page: Page) -> Iterator[str]:
        if page.tried:
            yield _head(TRIED_HEAD)
            yield from self._own_line(page.tried)

    def _year(self, year: Table | None) -> Iterator[str]:
        if year is None:
            return
        heads = [head.split("\n") for head in year.heads]
        years = "".join((head[0] if len(head) > 1 else "").rjust(MONTH) for head in heads)
        yield f"{padded(YEAR_HEAD.upper(), MONTH_LABEL)}{years}".rstrip()
        yield " " * MONTH_LABEL + "".join(head[-1].rjust(MONTH) for head in heads)
        for row in year.rows:
            label = INDENT + padded(self._label(row, MONTH_LABEL - 3), MONTH_LABEL - 2)
            yield label + "".join(cell.rjust(MONTH) for cell in row.cells)

    # --- the days ---------------------------------------------------------------------------------

    def _strip(self, strip: Strip) -> Iterator[str]:
        yield from (line.text for line in strip_lines(strip))
        keys = [self._key(key) for key in strip.keys]
        signs = [self._sign(sign) for sign in strip.signs_of_text]
        yield from _unbroken([*keys, *signs])
        if strip.changes:
            yield from wrapped(f"My changes: {'; '.join(map(self._change, strip.changes))}.")

    def _key(self, key: Key) -> str:
        """`mood 1 very low to 5 very good`, `hours 5 is 5-6 h, 2 under 3 h, 8 h or more`."""
        lines = key.lines
        if key.grid == "mood":
            lowest, highest = (self._key_line(line.mark.sign, line.label) for line in (lines[0], lines[-1]))
            return f"{key.title} {lowest} to {highest}"
        middle, shortest, longest = lines[len(lines) // 2], lines[1], lines[-1]
        told = [self._key_line(line.mark.sign, line.label) for line in (shortest, longest)]
        begins = key.title.replace(HOURS, "hours")
        return f"{begins} {middle.mark.sign} is {', '.join([middle.label, *told])}"

    def _key_line(self, sign: str, label: str) -> str:
        shown = self._shown(label)
        if shown is None:
            return sign
        return shown if shown.startswith(f"{sign} ") else f"{sign} {shown}"

    def _sign(self, sign: str) -> str:
        code, _, meaning = sign.partition(" ")
        return self._key_line(self._shown(code) or code, meaning)

    def _change(self, change: str) -> str:
        return self._shown(change) or change.partition(":")[0]

    # --- the rest ---------------------------------------------------------------------------------

    def _notes(self, page: Page) -> Iterator[str]:
        if page.notes:
            yield _head(NOTES_HEAD)
        for note in page.notes:
            yield from self._own_line(note)

    def _reading(self, page: Page) -> Iterator[str]:
        yield _head(READING_HEAD)
        yield from wrapped(f"{' '.join(page.complete)} {page.reading}")


class StripLine(NamedTuple):
    """A line of the squares of the days."""

    text: str
    name: str = ""
    """`shift`, `sleep` or `mood`; empty: dates, or her changes."""
    days: tuple[tuple[int, DaySquares], ...] = ()
    """The column at which each day begins; it takes `DAY` of them."""


def strip_lines(strip: Strip) -> Iterator[StripLine]:
    """The squares of the days in columns of text: two a day, `|` between the weeks."""
    for row in strip.rows:
        yield StripLine(_dates(row))
        if any(day.change for week in row for day in week.days if day):
            yield StripLine(_across("", row, lambda day: day.change))
        days = tuple(_columns(row))
        if strip.with_shifts:
            shifts = _across("shift", row, lambda day: day.shift.upper() if day.is_night else day.shift)
            yield StripLine(shifts, "shift", days)
        yield StripLine(_across("sleep", row, lambda day: day.sleep.sign), "sleep", days)
        moods = _across("mood", row, lambda day: day.mood.sign + ("a" if day.anxious else ""))
        yield StripLine(moods, "mood", days)


def _across(name: str, row: Sequence[Week], sign: Callable[[DaySquares], str]) -> str:
    weeks = ("".join((sign(day) if day else "").ljust(DAY) for day in week.days) for week in row)
    between = "|" if name else " "
    return f"{name:<{STRIP_LABEL}}{between.join(weeks)}".rstrip()


def _columns(row: Sequence[Week]) -> Iterator[tuple[int, DaySquares]]:
    for place, week in enumerate(row):
        begins = STRIP_LABEL + place * WEEK
        yield from ((begins + number * DAY, day) for number, day in enumerate(week.days) if day)


def _dates(row: Sequence[Week]) -> str:
    """The first date of each week above its first day; of a short week so that it ends with the week."""
    line = ""
    for place, week in enumerate(row):
        begins = STRIP_LABEL + place * WEEK
        date = day_and_month(week.begins)
        missing = sum(day is None for day in week.days[:6])
        column = begins + min(missing * DAY, 7 * DAY - len(date)) if week.days[0] is None else begins
        line = f"{line:<{column}}{date}"
    return line


def _in_columns(cells: Iterable[str]) -> str:
    return "".join(cell.ljust(width) for cell, width in zip(cells, COLUMNS, strict=False)).rstrip()


def _head(head: str, right: str = "") -> str:
    """A head in capitals, with something at the right edge."""
    return f"{head.upper()}{right:>{WIDTH - len(head)}}".rstrip()


def wrapped(text: str) -> list[str]:
    """A text in lines of 80 columns, indented; a word that is longer than a line is cut."""
    width = WIDTH - len(INDENT)
    lines: list[str] = []
    for word in _pieces(text, width):
        if lines and text_width(lines[-1]) + 1 + text_width(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return [INDENT + line for line in lines]


def _unbroken(items: Sequence[str]) -> list[str]:
    """Explanations one after another, none of them torn apart at the end of a line that it fits into."""
    lines: list[str] = []
    for item, end in zip(items, [";"] * (len(items) - 1) + ["."], strict=True):
        whole = f"{item}{end}"
        if lines and text_width(lines[-1]) + 1 + text_width(whole) <= WIDTH:
            lines[-1] += f" {whole}"
        else:
            lines += wrapped(whole)
    return lines


def _pieces(text: str, width: int) -> Iterator[str]:
    """The words of a text, each in pieces that fit into so many columns."""
    for word in text.split():
        rest = word
        while rest:
            yield (piece := cut(rest, width))
            rest = rest[len(piece) :]
