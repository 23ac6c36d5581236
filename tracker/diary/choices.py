"""Everything a person decides that is not a day: settings, breaks, lines for the appointment."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any, NamedTuple

from tracker.diary.clock import DAY_CHANGE_HOUR
from tracker.diary.dates import WEEKDAYS, weekday_for_text
from tracker.diary.errors import UnknownValue
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind
from tracker.diary.scales import DEFAULT_SCALES, Scales
from tracker.words import listed

MARKS = ("digits", "shapes", "ascii")
HEMISPHERES = ("north", "south", "equator")


class Settings(NamedTuple):
    """A person's settings, each with its default."""

    country: str = ""
    """Whose help lines are shown; empty: the general text."""
    first_weekday: int = 0
    """0 is Monday."""
    day_change_hour: int = DAY_CHANGE_HOUR
    """Local hour at which a day begins, 0 to 12."""
    hemisphere: str = "north"
    latitude: int | None = None
    """Whole degrees, south negative."""
    theme: str = "wenfold-dusk"
    marks: str = "digits"
    fills: bool = True
    """Whether squares have colours at all."""
    not_anxious: bool = True
    """Whether keeping a mood also notes `not anxious` where nothing is noted."""
    lines: bool = False
    """Whether bare `tracker` opens as plain questions."""
    short_sleep: int = 6
    """Hours under which the page counts a sleep as short."""
    works_shifts: bool = True
    """Whether findings say so when the rota is not entered."""
    hide: bool = False
    """Whether the app opens with both grids hidden."""

    def with_value(self, name: str, text: str) -> Settings:
        """The settings with one value read from text.

        Raises UnknownValue for a name or a value that does not exist.
        """
        _check_name(name)
        return self._replace(**{name: _READERS[name](text.strip())})

    def text_of(self, name: str) -> str:
        """One value as a person reads it and `with_value` takes it.

        Raises UnknownValue for a name that does not exist.
        """
        _check_name(name)
        value = getattr(self, name)
        if name == "first_weekday":
            return WEEKDAYS[value]
        if isinstance(value, bool):
            return "yes" if value else "no"
        return "none" if value in (None, "") else str(value)


SETTING_NAMES = Settings._fields


def again_in_words(before: Settings, after: Settings) -> str:
    """What counts again once a choice is taken back or brought back, to stand behind what undo names.

    `; it is wenfold-dusk again`, of several `; again theme wenfold-dusk and marks digits`; empty where no
    setting is another.
    """
    others = [name for name in SETTING_NAMES if getattr(before, name) != getattr(after, name)]
    if len(others) == 1:
        return f"; it is {after.text_of(others[0])} again"
    again = listed([f"{name.replace('_', ' ')} {after.text_of(name)}" for name in others])
    return f"; again {again}" if again else ""


def _check_name(name: str) -> None:
    if name not in SETTING_NAMES:
        raise UnknownValue(f"There is no setting '{name}'; there are: {', '.join(SETTING_NAMES)}.")


def _number(name: str, low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        try:
            value = int(text)
        except ValueError:
            value = low - 1
        if not low <= value <= high:
            raise UnknownValue(f"{name} takes a whole number from {low} to {high}, not '{text}'.")
        return value

    return read


def _yes_no(name: str) -> Callable[[str], bool]:
    def read(text: str) -> bool:
        word = text.casefold()
        if word in ("yes", "y", "true", "1", "on"):
            return True
        if word in ("no", "n", "false", "0", "off"):
            return False
        raise UnknownValue(f"{name} takes yes or no, not '{text}'.")

    return read


def _one_of(name: str, words: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text.casefold() not in words:
            raise UnknownValue(f"{name} takes one of {', '.join(words)}, not '{text}'.")
        return text.casefold()

    return read


def _weekday(text: str) -> int:
    found = weekday_for_text(text)
    if found is None:
        raise UnknownValue(f"first_weekday takes the name of a day, not '{text}'.")
    return found


def _latitude(text: str) -> int | None:
    return None if text in ("", "none") else _number("latitude", -90, 90)(text)


_READERS: Mapping[str, Callable[[str], Any]] = {
    "country": str,
    "first_weekday": _weekday,
    "day_change_hour": _number("day_change_hour", 0, 12),
    "hemisphere": _one_of("hemisphere", HEMISPHERES),
    "latitude": _latitude,
    "theme": str,
    "marks": _one_of("marks", MARKS),
    "fills": _yes_no("fills"),
    "not_anxious": _yes_no("not_anxious"),
    "lines": _yes_no("lines"),
    "short_sleep": _number("short_sleep", 1, 12),
    "works_shifts": _yes_no("works_shifts"),
    "hide": _yes_no("hide"),
}


class Break(NamedTuple):
    """A marked time of not keeping."""

    from_day: date
    to_day: date | None = None
    """Last day of it; None: still going on."""

    def holds(self, day: date) -> bool:
        """Whether a day lies in it."""
        return self.from_day <= day and (self.to_day is None or day <= self.to_day)


def in_break(day: date, breaks: tuple[Break, ...]) -> bool:
    """Whether a day lies in a marked break."""
    return any(span.holds(day) for span in breaks)


class PageLines(NamedTuple):
    """Her own lines for the appointment."""

    wants: tuple[str, ...] = ()
    """What she would like from the appointment; at most 3."""
    changed: tuple[str, ...] = ()
    """What has changed, since when, what it keeps her from, what she tried; at most 4."""


class Choices(NamedTuple):
    """All that a person has decided, as it stands."""

    settings: Settings = Settings()
    scales: Scales = DEFAULT_SCALES
    kinds: tuple[ShiftKind, ...] = DEFAULT_KINDS
    breaks: tuple[Break, ...] = ()
    page_lines: PageLines = PageLines()
    own_help: tuple[str, ...] = ()
    """Her own lines to turn to, shown first."""
    event_kinds: Mapping[str, str] = MappingProxyType({})
    """Names of events in calendar files, each with the shift kind it stands for; empty: none."""

    @property
    def kinds_by_id(self) -> dict[str, ShiftKind]:
        """The shift kinds by what an entry holds."""
        return {kind.id: kind for kind in self.kinds}
