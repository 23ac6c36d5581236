"""The page for the appointment: its parts, in their order. How it looks is decided elsewhere."""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal, Self

from tracker.cells import begun
from tracker.diary.dates import long_day
from tracker.diary.months import weekday_names

TITLE = "Mood and sleep, from my own diary"
WANTS_HEAD = "What I would like from today"
CHANGED_HEAD = "What has changed, since when, what it keeps me from, what I have tried"
CHANGED_HINT = "since when; what it stops; tried; medicines; coffee, alcohol; nights a month"
FIGURES_HEAD = "In figures"
SAID_HEAD = "What the diary shows, and does not"
COMPLETE_HEAD = "How complete this is"
WEEKS_HEAD = "Seven days a row"
YEAR_HEAD = "The year"
READING_HEAD = "How to read it"
NOTES_HEAD = "Notes"
TOO_LITTLE = "too little kept"
NO_GUESS = "No missing day has been filled in by guess."
NOT_KEPT = "Not kept: bedtimes, wakings, coffee, alcohol, medicines."

NOTHING, BREAK, COULD_NOT_SAY, OTHER_SHIFT = ".", "-", "?", "x"
"""Signs in the small squares: nothing kept, a marked break, could not say, a shift that is not named."""

FEWEST_OF_MONTH = 15
"""Days kept under which a month's count stands in brackets."""
IN_BRACKETS = f"( ) under {FEWEST_OF_MONTH} kept"
LONGEST_LABEL = 30
"""Letters of a label of hers where it stands among others."""
UNSHOWN_SIGN = "?"
UNSHOWN = f"In my own words {UNSHOWN_SIGN} stands for a letter that cannot be shown here."

BLANKS, FEWEST_BLANKS = 3, 2
"""Ruled lines to write on, where she has put no words of her own."""
FEWEST_WEEKS, FEWEST_STATEMENTS = 2, 1
Part = Literal["notes", "after_nights", "year"]
LEAST_FIRST: Mapping[Part, str] = {
    "notes": "the notes",
    "after_nights": "sleep after nights",
    "year": "the year by months",
}
"""What goes when the page is too full, in this order, each with its name."""


@dataclass(frozen=True, slots=True)
class Said:
    """What the findings say, in sentences for the page."""

    statements: tuple[str, ...]
    as_of: date
    next_on: date | None = None
    """Day on which findings speak next."""


@dataclass(frozen=True, slots=True)
class PageRow:
    """A line of a table."""

    label: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Counts in columns."""

    heads: tuple[str, ...]
    rows: tuple[PageRow, ...]

    @property
    def has_brackets(self) -> bool:
        """Whether a count rests on so few days that it stands in brackets."""
        return any(cell.startswith("(") for row in self.rows for cell in row.cells)


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
    """One day in the rows of seven."""

    day: date
    mood: Mark
    anxious: bool
    sleep: Mark
    shift: str
    """Code of its kind, or the sign for nothing."""


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days; None before the first day."""

    first: date
    days: tuple[DaySquares | None, ...]


@dataclass(frozen=True, slots=True)
class KeyLine:
    """A level with what it stands for."""

    mark: Mark
    label: str


@dataclass(frozen=True, slots=True)
class Weeks:
    """The rows of seven days, and what explains them."""

    rows: tuple[Week, ...]
    mood_head: str
    sleep_head: str
    with_shifts: bool
    signs: tuple[str, ...]
    """Every sign that stands in them but the digits, each with its meaning."""
    mood_key: tuple[KeyLine, ...]
    """Every level, the highest first."""
    sleep_key: tuple[KeyLine, ...]
    key_tells_hours: bool
    """Whether the key of sleep says all that its head does."""

    @property
    def weekdays(self) -> tuple[str, ...]:
        """The names of the columns, two letters each."""
        return tuple(weekday_names(self.rows[-1].first.weekday()))


@dataclass(frozen=True, slots=True)
class Page:
    """Everything that stands on the page, in this order."""

    made: date
    first: date
    last: date
    wants: tuple[str, ...]
    changed: tuple[str, ...]
    figures: Table
    said: Said
    complete: tuple[str, ...]
    weeks: Weeks
    year: Table | None
    after_nights: tuple[str, ...]
    notes: tuple[str, ...]
    reading: tuple[str, ...]
    blanks: int = BLANKS

    def without(self, part: Part) -> Self:
        """The page with a part left out."""
        left_out: dict[str, Any] = {part: None if part == "year" else ()}
        return replace(self, **left_out)

    def has(self, part: Part) -> bool:
        """Whether a part stands on the page."""
        return bool(getattr(self, part))

    @property
    def signs(self) -> tuple[str, ...]:
        """Every sign in the rows and in the year, each with its meaning."""
        return (*self.weeks.signs, *((IN_BRACKETS,) if self.year and self.year.has_brackets else ()))

    @property
    def own_words(self) -> tuple[str, ...]:
        """Everything on the page in which letters of any language may stand."""
        return (*self.wants, *self.changed, *self.notes, *self.reading, *self.signs)

    def with_letters_unshown(self) -> Self:
        """The page with a sentence on letters that could not be shown."""
        return replace(self, reading=(*self.reading, UNSHOWN))

    @property
    def period(self) -> str:
        """First and last day in words."""
        return f"{long_day(self.first)} to {long_day(self.last)}"

    @property
    def verdict_days(self) -> str:
        """As of when the findings speak, and when they speak next."""
        following = f", next on {brief_day(self.said.next_on)}" if self.said.next_on else ""
        return f"as of {brief_day(self.said.as_of)}{following}"


def brief_day(day: date) -> str:
    """`17 Mar 2026`."""
    return f"{day.day} {calendar.month_abbr[day.month]} {day.year}"


def brief(label: str) -> str:
    """A label of at most so many letters as leave room for the others."""
    return begun(label, LONGEST_LABEL)


def fitting_label(label: str, width: int) -> str:
    """A label in so many letters: whole, without its brackets, what stands in the brackets, or cut."""
    words, _, bracket = label.partition(" (")
    shorter = (label, words, bracket.rstrip(")"))
    return next((text for text in shorter if text and len(text) <= width), label[:width])


def slimmed(page: Page) -> Iterator[tuple[Page, tuple[str, ...]]]:
    """The page whole, then with less and less on it, each with the names of what was left out."""
    left_out: list[str] = []
    yield page, ()
    page = replace(page, blanks=FEWEST_BLANKS)
    yield page, ()
    for part, name in LEAST_FIRST.items():
        if page.has(part):
            page = page.without(part)
            left_out.append(name)
            yield page, tuple(left_out)
    left_out.append("")
    for number in range(len(page.weeks.rows) - 1, FEWEST_WEEKS - 1, -1):
        page = replace(page, weeks=replace(page.weeks, rows=page.weeks.rows[-number:]))
        left_out[-1] = f"all but the last {number} rows of seven days"
        yield page, tuple(left_out)
    for number in range(len(page.said.statements) - 1, FEWEST_STATEMENTS - 1, -1):
        said = page.said.statements
        page = replace(page, said=replace(page.said, statements=(*said[: number - 1], said[-1])))
        yield page, (*left_out, "some findings")
