"""The page for the appointment: its parts, in their order. How it looks is decided elsewhere."""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal, Self

from tracker.cells import begun
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import Grid

TITLE = "Mood and sleep, from my own diary"
NAME, BORN = "Name", "Born"
LONGEST_NAME, LONGEST_BORN = 40, 30
WANTS_HEAD = "What I would like from today"
CHANGED_HEAD = "What has changed, since when, what it keeps me from, what I have tried"
CHANGED_HINT = "since when; what it stops; tried; medicines; coffee, alcohol; nights a month"
FIGURES_HEAD = "In figures"
SIDE_BY_SIDE_HEAD, AS_THEY_STAND = "Side by side", "counted as they stand"
DAYS_HEAD = "Day by day"
TRIED_HEAD = "Tried"
NOTES_HEAD = "Notes"
YEAR_HEAD = "The year"
READING_HEAD = "How complete this is, and how to read it"
NO_GUESS = "No missing day has been filled in by guess."

NOTHING, BREAK, COULD_NOT_SAY, OTHER_SHIFT = ".", "–", "?", "x"
"""Signs in the small squares: nothing kept, a marked break, could not say, a shift that is not named."""
DOES_NOT_HOLD = "-"
"""In a table: the levels of the row do not hold there, or no shift is entered."""
CAPITAL = "a capital is a night"
LONGEST_LABEL = 30
"""Letters of a label of hers where it stands among others."""

BLANKS, FEWEST_BLANKS = 3, 2
"""Ruled lines to write on, where she has put no words of her own."""
Part = Literal["notes", "trial", "year", "quick returns", "half", "highest levels", "left out"]
PART_NAMES: Mapping[Part, str] = {
    "notes": "the notes",
    "trial": "the trial",
    "year": "the year",
    "quick returns": "quick returns",
    "half": "what half the sleeps reach",
    "highest levels": "the highest levels",
    "left out": "which comparisons have too few days",
}
"""What goes when the page is too full, in this order, each with its name."""
FIELDS: Mapping[Part, str] = {"notes": "notes", "trial": "tried", "year": "year", "left out": "left_out"}
"""What holds the parts that are no rows of a table."""
Block = Literal["mood", "sleep", "shifts"]


@dataclass(frozen=True, slots=True)
class PageFindings:
    """What was tested on the days, in sentences for the page."""

    statements: tuple[str, ...]
    right: str
    """When it was tested, and when next."""
    with_rota: bool = False
    """Whether the rota was allowed for, or stands on the page."""

    @property
    def head(self) -> str:
        """The head of the part."""
        return "Tested, with the rota allowed for" if self.with_rota else "Tested"


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a table."""

    label: str
    cells: tuple[str, ...]
    block: Block = "mood"
    plain: str = ""
    """What to call it where the letters of its label cannot be shown; empty: its label."""
    part: Part | None = None
    """What it is called where it is left out for want of room."""


@dataclass(frozen=True, slots=True)
class Table:
    """Counts in columns."""

    heads: tuple[str, ...]
    rows: tuple[Row, ...]

    @property
    def has_brackets(self) -> bool:
        """Whether a count rests on so few days that it stands in brackets."""
        return any(cell.startswith("(") for row in self.rows for cell in row.cells)

    def without(self, part: Part) -> Self:
        """The table without the rows of a part."""
        return replace(self, rows=tuple(row for row in self.rows if row.part != part))


@dataclass(frozen=True, slots=True)
class Side:
    """One of two groups of days that are set side by side."""

    label: str
    count: str
    plain: str = ""


@dataclass(frozen=True, slots=True)
class Pair:
    """How often something was so in two groups of days."""

    outcome: str
    sides: tuple[Side, Side]
    plain: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """What stands in a small square."""

    sign: str
    """The digit of the level, or the sign for nothing kept, a break, could not say."""
    place: int = 0
    """Place of the level among those of its version, from 0."""
    of: int = 0
    """How many levels that version has; 0 where no level stands."""


@dataclass(frozen=True, slots=True)
class DaySquares:
    """One day of the strip."""

    day: date
    mood: Mark
    anxious: bool
    sleep: Mark
    shift: str
    """Code of its kind, or the sign for nothing."""
    shift_name: str
    """The kind by its name, or that of a kind that is not named."""
    is_night: bool
    is_recent: bool
    """Whether it is one of the last 14 days that have a column of their own."""
    change: str = ""
    """The letter of a change of hers, if one is dated so."""
    new_levels: frozenset[Grid] = frozenset()
    """The grids whose levels are others from this day on."""


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days from the first weekday on; None for those that are not in the period."""

    first: date
    days: tuple[DaySquares | None, ...]

    @property
    def begins(self) -> date:
        """The first of its days that is in the period."""
        return next(at.day for at in self.days if at)


@dataclass(frozen=True, slots=True)
class KeyLine:
    """A level with what it stands for."""

    mark: Mark
    label: str
    plain: str = ""
    """Nothing: the digit stands alone where the letters of the label cannot be shown."""


@dataclass(frozen=True, slots=True)
class Key:
    """What the digits of one version of a grid stand for, the lowest first."""

    grid: Grid
    title: str
    lines: tuple[KeyLine, ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """The days one by one, five weeks a row, and what explains them."""

    rows: tuple[tuple[Week, ...], ...]
    with_shifts: bool
    keys: tuple[Key, ...]
    earlier_levels: bool
    """Whether levels stand in it that are older than those of the keys."""
    shift_names: tuple[tuple[str, str], ...]
    """Code and name of the kinds of shift, in their order."""
    change_words: Mapping[str, str]
    """Her changes by their letter, each with its date."""

    @property
    def days(self) -> list[DaySquares]:
        """All its days."""
        return [at for row in self.rows for week in row for at in week.days if at]

    @property
    def signs(self) -> tuple[str, ...]:
        """Every sign that stands in it but the digits, each with its meaning."""
        days = self.days
        signs = {mark.sign for at in days for mark in (at.mood, at.sleep)}
        codes = {at.shift for at in days} if self.with_shifts else set()
        told = [
            ("a anxious", any(at.anxious for at in days)),
            (f"{NOTHING} nothing kept", NOTHING in signs),
            (f"{COULD_NOT_SAY} could not say", COULD_NOT_SAY in signs),
            (f"{BREAK} a marked break", BREAK in signs),
            ("earlier levels by their digits", self.earlier_levels),
            *((f"{code} {name}", code in codes) for code, name in self.shift_names),
        ]
        return tuple(sign for sign, is_there in told if is_there)

    @property
    def signs_of_text(self) -> tuple[str, ...]:
        """The same where nights stand as capitals."""
        nights = {at.shift for at in self.days if at.is_night and self.with_shifts}
        always = nights - {at.shift for at in self.days if not at.is_night}
        signs = (sign[:1].upper() + sign[1:] if sign[:2].strip() in always else sign for sign in self.signs)
        return (*signs, *([CAPITAL] if nights - always else []))

    @property
    def changes(self) -> tuple[str, ...]:
        """Her changes among these days, each with its letter and date."""
        return tuple(self.change_words[at.change] for at in self.days if at.change)

    @property
    def weekdays(self) -> tuple[tuple[str, bool], ...]:
        """Names of the columns of a week, and whether each is at the weekend."""
        first = self.rows[0][0].first.weekday()
        return tuple((calendar.day_abbr[(first + n) % 7][0], (first + n) % 7 >= 5) for n in range(7))

    def cut_to(self, rows: int) -> Self:
        """The strip with its newest rows alone."""
        return replace(self, rows=self.rows[-rows:])


@dataclass(frozen=True, slots=True)
class Page:
    """Everything that stands on the page, in this order."""

    made: date
    first: date
    last: date
    wants: tuple[str, ...]
    changed: tuple[str, ...]
    figures: Table
    remarks: tuple[str, ...]
    pairs: tuple[Pair, ...]
    left_out: str
    """Which comparisons have too few days, in a sentence."""
    tested: PageFindings
    tried: str
    """A finished trial; empty where none is told of."""
    strip: Strip
    notes: tuple[str, ...]
    year: Table | None
    complete: tuple[str, ...]
    reading: str
    blanks: int = BLANKS
    name: str = ""
    """Typed for this page and kept nowhere; empty: a line to write on."""
    born: str = ""

    def named(self, name: str, born: str) -> Self:
        """The page with her name and date of birth, as she types them.

        Raises UnknownValue for more letters than there is room for.
        """
        for what, text, longest in (
            ("The name", name, LONGEST_NAME),
            ("The date of birth", born, LONGEST_BORN),
        ):
            if len(text.strip()) > longest:
                raise UnknownValue(f"{what} may have {longest} letters; shorten it.")
        return replace(self, name=" ".join(name.split()), born=" ".join(born.split()))

    def has(self, part: Part) -> bool:
        """Whether a part stands on the page."""
        if part == "left out":
            return bool(self.left_out and self.pairs)
        if part in FIELDS:
            return bool(getattr(self, FIELDS[part]))
        return any(row.part == part for row in self.figures.rows)

    def without(self, part: Part) -> Self:
        """The page with a part left out."""
        if part in ("quick returns", "half", "highest levels"):
            return replace(self, figures=self.figures.without(part))
        empty: dict[str, Any] = {"notes": (), "year": None}
        return replace(self, **{FIELDS[part]: empty.get(part, "")})

    @property
    def own_lines(self) -> tuple[str, ...]:
        """Every line of hers, in which letters of any language may stand."""
        return (
            *self.wants,
            *self.changed,
            self.tried,
            *self.notes,
            *self.strip.changes,
            self.name,
            self.born,
        )

    @property
    def own_labels(self) -> tuple[str, ...]:
        """The labels that may be hers: of levels, and of kinds of shift."""
        rows = [row.label for table in (self.figures, self.year) if table for row in table.rows]
        levels = [line.label for key in self.strip.keys for line in key.lines]
        outcomes = [pair.outcome for pair in self.pairs]
        return (*levels, *rows, *outcomes, *(name for _, name in self.strip.shift_names))

    @property
    def period(self) -> str:
        """First and last day in few words."""
        return span_of_days(self.first, self.last)


def brief_day(day: date) -> str:
    """`17 Mar 2026`."""
    return f"{day_and_month(day)} {day.year}"


def day_and_month(day: date) -> str:
    """`17 Mar`."""
    return f"{day.day} {calendar.month_abbr[day.month]}"


def span_of_days(first: date, last: date) -> str:
    """`22 Aug to 27 Nov 2026`."""
    begins = day_and_month(first) if first.year == last.year else brief_day(first)
    return f"{begins} to {brief_day(last)}"


def brief(label: str) -> str:
    """A label of at most so many letters as leave room for the others."""
    return begun(label, LONGEST_LABEL)


def slimmed(page: Page, parts: Sequence[Part]) -> Iterator[tuple[Page, tuple[str, ...]]]:
    """The page whole, then with less and less on it, each with the names of what was left out.

    Parameters
    ----------
    parts
        What may go, in this order; after it go the oldest weeks, five at a time, and on a page of her longest
        words what the shifts are called and what was tested.
    """
    left_out: list[str] = []
    yield page, ()
    page = replace(page, blanks=FEWEST_BLANKS)
    yield page, ()
    for part in parts:
        if page.has(part):
            page = page.without(part)
            left_out.append(PART_NAMES[part])
            yield page, tuple(left_out)
    for rows in range(len(page.strip.rows) - 1, 0, -1):
        page = replace(page, strip=page.strip.cut_to(rows))
        weeks = sum(map(len, page.strip.rows))
        yield page, (*left_out, f"all but the last {weeks} weeks")
    left_out.append("all but the last weeks")
    if page.strip.shift_names:
        page = replace(page, strip=replace(page.strip, shift_names=()))
        left_out.append("what the letters of shifts stand for")
        yield page, tuple(left_out)
    for number in range(len(page.tested.statements) - 1, 0, -1):
        *shown, rest = page.tested.statements
        page = replace(page, tested=replace(page.tested, statements=(*shown[: number - 1], rest)))
        yield page, (*left_out, "some of what was tested")
