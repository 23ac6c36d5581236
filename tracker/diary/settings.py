"""The settings: each is described in one row, from which it is read, shown and offered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from tracker.diary.clock import DAY_CHANGE_HOUR
from tracker.diary.dates import WEEKDAYS, weekday_for_text
from tracker.diary.errors import UnknownValue
from tracker.words import listed

MARKS = ("digits", "shapes", "ascii")
HEMISPHERES = ("north", "south", "equator")
NONE = "none"
"""How a setting that is empty is written and read."""
YES, NO = "yes", "no"
YES_WORDS = (YES, "y", "true", "1", "on")
NO_WORDS = (NO, "n", "false", "0", "off")

Option = tuple[str, str]
"""A value as it is typed, and the words for it."""
YES_NO: Sequence[Option] = ((YES, YES), (NO, NO))


class Settings(NamedTuple):
    """A person's settings, each with its default."""

    country: str = ""
    """Whose help lines are shown; empty: the general text."""
    first_weekday: int = 0
    """0 is Monday."""
    day_change_hour: int = DAY_CHANGE_HOUR
    """Local hour at which a day begins, 0 to 12."""
    theme: str = "wenfold-dusk"
    marks: str = "digits"
    fills: bool = True
    """Whether squares have colours at all."""
    not_anxious: bool = True
    """Whether keeping a mood also notes `not anxious` where nothing is noted."""
    hemisphere: str = "north"
    latitude: int | None = None
    """Whole degrees, south negative."""
    short_sleep: int = 6
    """Hours under which a sleep counts as short."""
    works_shifts: bool = True
    """Whether findings set days beside each other only where their shifts are entered."""
    changes: bool = False
    """Whether her dated changes stand on the page: what was started is hers to tell."""
    lines: bool = False
    """Whether bare `tracker` opens as plain questions."""
    hide: bool = False
    """Whether the app opens with both grids hidden."""

    def with_value(self, name: str, text: str) -> Settings:
        """The settings with one value read from text.

        Raises UnknownValue for a name or a value that does not exist.
        """
        value: Any = setting(name).value_of(text)
        return self._replace(**{name: value})

    def text_of(self, name: str) -> str:
        """One value as a person reads it and `with_value` takes it.

        Raises UnknownValue for a name that does not exist.
        """
        setting(name)
        value = getattr(self, name)
        if name == "first_weekday":
            return WEEKDAYS[value]
        if isinstance(value, bool):
            return YES if value else NO
        return NONE if value in (None, "") else str(value)


class Setting(NamedTuple):
    """One setting, as every place that shows, offers or takes it describes it."""

    name: str
    label: str
    help: str
    takes: str
    """What may be typed, to stand behind the name in a refusal."""
    read: Callable[[str], object]
    """The value meant by a text; raises ValueError for one that means none."""
    offered: Callable[[], Sequence[Option]] = tuple
    """What there is to choose from; nothing where it is typed, or where others know it."""

    def value_of(self, text: str) -> object:
        """The value meant by a text.

        Raises UnknownValue for one that means none.
        """
        try:
            return self.read(text.strip())
        except ValueError:
            raise UnknownValue(f"{self.name} takes {self.takes}, not '{text.strip()}'.") from None


def setting(name: str) -> Setting:
    """The description of a setting.

    Raises UnknownValue for a name that does not exist.
    """
    try:
        return SETTINGS[name]
    except KeyError:
        names = ", ".join(SETTINGS)
        raise UnknownValue(f"There is no setting '{name}'; there are: {names}.") from None


def again_in_words(before: Settings, after: Settings) -> str:
    """What counts again once a choice is taken back or brought back, to stand behind what undo names.

    `; it is wenfold-dusk again`, of several `; again theme wenfold-dusk and marks digits`; empty where no
    setting is another.
    """
    others = [name for name in SETTINGS if getattr(before, name) != getattr(after, name)]
    if len(others) == 1:
        return f"; it is {after.text_of(others[0])} again"
    again = listed([f"{name.replace('_', ' ')} {after.text_of(name)}" for name in others])
    return f"; again {again}" if again else ""


def _number(name: str, label: str, help: str, *, low: int, high: int, shown: str = "") -> Setting:
    """A setting that is a whole number; each one is offered in the form `shown`, if there is one."""

    def read(text: str) -> int:
        if not low <= (value := int(text)) <= high:
            raise ValueError(text)
        return value

    def offered() -> Sequence[Option]:
        return [(str(number), shown.format(number)) for number in range(low, high + 1)] if shown else ()

    return Setting(name, label, help, f"a whole number from {low} to {high}", read, offered)


def _yes_no(name: str, label: str, help: str, options: Sequence[Option] = YES_NO) -> Setting:
    return Setting(name, label, help, "yes or no", _yes_or_no, lambda: options)


def _yes_or_no(text: str) -> bool:
    word = text.casefold()
    if word not in YES_WORDS + NO_WORDS:
        raise ValueError(text)
    return word in YES_WORDS


def _one_of(name: str, label: str, help: str, words: Sequence[str]) -> Setting:
    def offered() -> Sequence[Option]:
        return [(word, "ASCII" if word == "ascii" else word) for word in words]

    return Setting(
        name,
        label,
        help,
        f"one of {', '.join(words)}",
        lambda text: words[words.index(text.casefold())],
        offered,
    )


def _weekday(text: str) -> int:
    found = weekday_for_text(text)
    if found is None:
        raise ValueError(text)
    return found


def _country(text: str) -> str:
    from tracker.diary.countries import read_country  # not wanted where the app opens

    return read_country(text)


def _countries() -> list[str]:
    from tracker.diary.help_lines import HELP_LINES  # not wanted where the app opens

    return [row.country for row in HELP_LINES]


def _or_none(row: Setting) -> Setting:
    """The same, which may also stay empty."""
    return row._replace(read=lambda text: None if text in ("", NONE) else row.read(text))


_ROWS = (
    Setting(
        "country",
        "Country",
        "Whose lines stand under 'where to turn'. It never leaves this computer.",
        "the name of a country",
        _country,
        lambda: [(NONE, "none of these"), *((country, country) for country in _countries())],
    ),
    Setting(
        "first_weekday",
        "First day of the week",
        "The first column of the month.",
        "the name of a day",
        _weekday,
        lambda: [(day, day.capitalize()) for day in WEEKDAYS],
    ),
    _number(
        "day_change_hour",
        "The day begins at",
        "What is pressed before this hour belongs to the day before. Whoever works nights only may like 12.",
        low=0,
        high=12,
        shown="{:02}:00",
    ),
    Setting(
        "theme",
        "Theme",
        "The colours of the squares. 'Lamps' has the most contrast.",
        "the name of a theme",
        str,
    ),
    _one_of(
        "marks",
        "Marks",
        "What stands in a square: the digit that is pressed, a shape that grows with the level, or ASCII "
        "only, for terminals whose signs do not line up.",
        MARKS,
    ),
    _yes_no(
        "fills",
        "Colours in squares",
        "Without them a square shows its mark alone.",
    ),
    _yes_no(
        "not_anxious",
        "Without the anxious mark",
        "An anxious day is marked. This says whether a mood without the mark counts as 'not anxious'.",
        ((YES, "a day was not anxious"), (NO, "nothing is noted either way")),
    ),
    _one_of("hemisphere", "Hemisphere", "For the names of the seasons.", HEMISPHERES),
    _or_none(
        _number(
            "latitude",
            "Latitude",
            "Whole degrees, south with a minus; for the length of daylight. May stay empty.",
            low=-90,
            high=90,
        )
    ),
    _number(
        "short_sleep",
        "A short sleep is under",
        "Hours under which the page and the findings count a sleep as short.",
        low=1,
        high=12,
        shown="{} h",
    ),
    _yes_no("works_shifts", "I work shifts", "Findings then use only days whose shifts are entered."),
    _yes_no("changes", "My changes on the page", "Whether the page for the GP shows your dated changes."),
    _yes_no("lines", "Open as plain questions", "Whether bare tracker asks in lines, without a picture."),
    _yes_no("hide", "Open with hidden grids", "Whether the app opens without its grids."),
)
SETTINGS: Mapping[str, Setting] = {row.name: row for row in _ROWS}
"""Every setting by its name, in the order in which they are asked."""
