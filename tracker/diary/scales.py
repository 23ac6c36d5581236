"""Ordered levels of the two grids, and which set of levels holds on which day."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable
from datetime import date
from functools import cached_property
from typing import Literal, NamedTuple

from tracker.diary.errors import DamagedRecord, UnknownValue, WrongScale

Grid = Literal["mood", "sleep"]
"""The two fields that are drawn as grids."""

COULD_NOT_SAY = "?"
"""The answer that is no level."""
GRIDS: tuple[Grid, Grid] = ("mood", "sleep")
FEWEST_AND_MOST = {"mood": (3, 7), "sleep": (4, 10)}
LONGEST_WORD = 80
"""Letters of the word for a level; longer ones would crowd out what stands beside them."""


def other_grid(grid: Grid) -> Grid:
    """The grid beside one."""
    return "mood" if grid == "sleep" else "sleep"


class Level(NamedTuple):
    """One ordered value of a grid: a mood level or a bucket of hours."""

    id: str
    """What an entry holds; never shown, never reused for another meaning."""
    rank: int
    """Place in the order, lowest first: mood from 1, sleep from 0."""
    label: str
    """The person's own word, as in the key."""
    short: str
    """At most nine letters, for the narrow key."""
    keys: tuple[str, ...]
    """The digits that set it; the first is its mark."""
    spoken: str
    """For sentences and screen readers."""
    help: str = ""
    """What the level means, said once."""
    from_hours: float | None = None
    """Lower bound in hours, itself in the bucket; None for a mood."""
    to_hours: float | None = None
    """Upper bound in hours, itself not in the bucket; None for a mood and for the open top."""

    @property
    def mark(self) -> str:
        """The digit that stands in the square: the one that is pressed."""
        return self.keys[0]

    def holds(self, hours: float) -> bool:
        """Whether so many hours lie in this bucket; the bucket `none` holds exactly 0."""
        if self.from_hours is None:
            return False
        if self.to_hours == 0 or hours == 0:
            return self.to_hours == hours
        return self.from_hours <= hours and (self.to_hours is None or hours < self.to_hours)


class Scale(NamedTuple):
    """One version of the levels of a grid, and the days for which it holds."""

    id: str
    """Names the version; the default versions have the same id in every record."""
    grid: Grid
    levels: tuple[Level, ...]
    """Lowest first."""
    from_day: date | None = None
    """First day of the version; None: from the beginning."""
    to_day: date | None = None
    """Last day of a closed past span; None: until a later version begins."""

    @property
    def is_taken_back(self) -> bool:
        """Whether it holds for no day, and stands only for the squares that were kept with it."""
        return self.to_day == date.min

    def overlaps(self, other: Scale) -> bool:
        """Whether two closed spans have a day in common."""
        if self.to_day is None or other.to_day is None:
            return False
        return (self.from_day or date.min) <= other.to_day and (other.from_day or date.min) <= self.to_day

    def level_for_key(self, key: str) -> Level | None:
        """The level that a digit sets, or None."""
        return next((level for level in self.levels if key in level.keys), None)

    def level_for_hours(self, hours: float) -> Level:
        """The bucket of so many hours.

        Raises UnknownValue for hours outside 0 to 24 or a scale without hours.
        """
        if not 0 <= hours <= 24:
            raise UnknownValue(f"{hours:g} hours is not a length of sleep; give 0 to 24.")
        found = next((level for level in self.levels if level.holds(hours)), None)
        if found is None:
            raise UnknownValue(f"No bucket of sleep holds {hours:g} hours.")
        return found

    def level_for_text(self, text: str) -> Level:
        """The level meant by a number (mood) or a label, in either case.

        Raises UnknownValue and names the levels there are.
        """
        wanted = text.strip().casefold()
        for level in self.levels:
            if wanted in (level.label.casefold(), level.short.casefold()):
                return level
            if self.grid == "mood" and wanted == str(level.rank):
                return level
        names = ", ".join(
            f"{level.rank} {level.label}" if self.grid == "mood" else level.label for level in self.levels
        )
        raise UnknownValue(f"'{text}' is no level of {self.grid}; there are: {names}.")


class Placed(NamedTuple):
    """A level among those of its version."""

    scale: Scale
    place: int
    """From 0, lowest first."""

    @property
    def level(self) -> Level:
        """The level itself."""
        return self.scale.levels[self.place]


class Scales:
    """Every version of the levels of both grids; made once, never changed."""

    def __init__(self, versions: tuple[Scale, ...]) -> None:
        self.versions = versions
        """Oldest first; a later one wins where two hold for a day."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Scales) and self.versions == other.versions

    def __hash__(self) -> int:
        return hash(self.versions)

    def of(self, grid: Grid) -> tuple[Scale, ...]:
        """The versions of one grid, oldest first; also those that were taken back."""
        return tuple(scale for scale in self.versions if scale.grid == grid)

    def on(self, grid: Grid, day: date) -> Scale:
        """The version that holds on a day."""
        versions = self.of(grid)
        fitting = [
            scale
            for scale in versions
            if (scale.from_day is None or scale.from_day <= day)
            and (scale.to_day is None or day <= scale.to_day)
        ]
        return fitting[-1] if fitting else versions[0]

    def newest(self, grid: Grid) -> Scale:
        """The version that holds from now on."""
        return [scale for scale in self.of(grid) if scale.to_day is None][-1]

    @cached_property
    def _placed(self) -> dict[str, Placed]:
        return {
            level.id: Placed(scale, place)
            for scale in self.versions
            for place, level in enumerate(scale.levels)
        }

    def placed(self, level_id: str) -> Placed:
        """A level with its version and its place there.

        Raises DamagedRecord if no version has it.
        """
        found = self._placed.get(level_id)
        if found is None:
            raise DamagedRecord(
                f"The record holds the level '{level_id}', which no scale of it has; run tracker check."
            )
        return found

    def level(self, id: str) -> Level:
        """The level with an id, whatever its version; raises as `placed` does."""
        return self.placed(id).level

    def used(self, grid: Grid, level_ids: Collection[str]) -> tuple[Scale, ...]:
        """The versions of a grid to which some levels belong, oldest first."""
        return tuple(scale for scale in self.of(grid) if any(level.id in level_ids for level in scale.levels))


def taken_back(scale: Scale) -> Scale:
    """The version as one that holds for no day; squares kept with it keep their meaning."""
    return scale._replace(to_day=date.min)


def _mood(rank: int, label: str, help: str) -> Level:
    return Level(
        f"mood5-{rank}", rank, label, label[:9], (str(rank),), f"mood level {rank} of 5, {label}", help
    )


def _sleep(
    rank: int, label: str, short: str, keys: str, spoken: str, from_hours: float, to_hours: float | None
) -> Level:
    return Level(
        f"sleep8-{rank}",
        rank,
        label,
        short,
        tuple(keys),
        spoken,
        from_hours=from_hours,
        to_hours=to_hours,
    )


DEFAULT_MOOD = Scale(
    "mood5",
    "mood",
    (
        _mood(1, "very low", "hard to get through the day"),
        _mood(2, "low", "heavy for much of it"),
        _mood(3, "even", "neither low nor good"),
        _mood(4, "good", "good for most of it"),
        _mood(5, "very good", "as good as I know"),
    ),
)

DEFAULT_SLEEP = Scale(
    "sleep8",
    "sleep",
    (
        _sleep(0, "none", "none", "0", "no sleep", 0, 0),
        _sleep(1, "under 3 h", "< 3 h", "2", "some, but under 3 hours", 0, 3),
        _sleep(2, "3-4 h", "3-4 h", "3", "3 to under 4 hours", 3, 4),
        _sleep(3, "4-5 h", "4-5 h", "4", "4 to under 5 hours", 4, 5),
        _sleep(4, "5-6 h", "5-6 h", "5", "5 to under 6 hours", 5, 6),
        _sleep(5, "6-7 h", "6-7 h", "6", "6 to under 7 hours", 6, 7),
        _sleep(6, "7-8 h", "7-8 h", "7", "7 to under 8 hours", 7, 8),
        _sleep(7, "8 h or more", "8 h +", "89", "8 hours or more", 8, None),
    ),
)

DEFAULT_SCALES = Scales((DEFAULT_MOOD, DEFAULT_SLEEP))


def renamed(scale: Scale, labels: dict[int, str]) -> Scale:
    """The same version with new words for some ranks; squares keep their meaning."""
    levels = tuple(
        level._replace(label=labels[level.rank], short=labels[level.rank][:9])
        if level.rank in labels
        else level
        for level in scale.levels
    )
    return checked(scale._replace(levels=levels))


def mood_scale(labels: Iterable[str], from_day: date | None, to_day: date | None = None) -> Scale:
    """A version of mood with other levels, lowest first.

    Raises WrongScale for fewer than 3 or more than 7 levels, or labels that cannot be told apart.
    """
    words = [word.strip() for word in labels]
    id = _version_id("mood", len(words), from_day, to_day)
    levels = tuple(
        Level(
            f"{id}/{rank}", rank, word, word[:9], (str(rank),), f"mood level {rank} of {len(words)}, {word}"
        )
        for rank, word in enumerate(words, start=1)
    )
    return checked(Scale(id, "mood", levels, from_day, to_day))


def sleep_scale(bounds: Iterable[float], from_day: date | None, to_day: date | None = None) -> Scale:
    """A version of sleep: `none`, then a bucket between each two bounds, the last one open.

    Parameters
    ----------
    bounds
        Hours at which a bucket begins, rising; the first is 0.

    Raises
    ------
    WrongScale
        For bounds that do not rise from 0, or fewer than 4 or more than 10 buckets.
    """
    edges = [float(bound) for bound in bounds]
    if not edges or edges[0] != 0:
        raise WrongScale("The buckets leave a gap: the first must begin at 0 hours.")
    for low, high in itertools.pairwise(edges):
        if high <= low:
            raise WrongScale(
                f"The buckets overlap at {high:g} hours: each bound must be larger than the last."
            )
    if any((edge * 4) % 1 for edge in edges):
        raise WrongScale("The buckets begin at full hours, halves or quarters, like 4 or 4.5.")
    if edges[-1] > 24:
        raise WrongScale(f"A bucket from {edges[-1]:g} hours is longer than a day.")
    id = _version_id("sleep", len(edges) + 1, from_day, to_day)
    return checked(Scale(id, "sleep", _buckets(id, edges), from_day, to_day))


def read_bounds(text: str) -> list[float]:
    """The hours at which buckets begin, from `0 4 6 8` or `0, 4, 6, 8`.

    Raises WrongScale for anything that is no number.
    """
    try:
        return [float(part) for part in text.replace(",", " ").split()]
    except ValueError:
        raise WrongScale(f"'{text}' are no hours; write them like 0 4 6 8.") from None


def _version_id(grid: Grid, levels: int, from_day: date | None, to_day: date | None) -> str:
    """The id of a version, the same in two records that make the same one for the same days."""
    return f"{grid}{levels}-{from_day or 'start'}" + (f"-{to_day}" if to_day else "")


def _buckets(id: str, edges: list[float]) -> tuple[Level, ...]:
    spans: list[tuple[float, float | None]] = [(0, 0), *zip(edges, [*edges[1:], None], strict=True)]
    digits = _digits(edges)
    return tuple(
        Level(
            f"{id}/{rank}",
            rank,
            *_bucket_names(low, high),
            keys=(digits[rank],),
            spoken=_bucket_spoken(low, high),
            from_hours=low,
            to_hours=high,
        )
        for rank, (low, high) in enumerate(spans)
    )


def _digits(edges: list[float]) -> list[str]:
    """Full hours of the lower bound, or the rank where two buckets would share a digit."""
    second = max(1, int(edges[1]) - 1) if len(edges) > 1 else 1
    hours = ["0", str(second), *(str(int(edge)) for edge in edges[1:])]
    if len(set(hours)) == len(hours) and all(len(digit) == 1 for digit in hours):
        return hours
    return [str(rank) for rank in range(len(edges) + 1)]


def _bucket_names(low: float, high: float | None) -> tuple[str, str]:
    if high is None:
        return f"{low:g} h or more", f"{low:g} h +"
    if high == 0:
        return "none", "none"
    if low == 0:
        return f"under {high:g} h", f"< {high:g} h"
    return f"{low:g}-{high:g} h", f"{low:g}-{high:g} h"


def _bucket_spoken(low: float, high: float | None) -> str:
    if high is None:
        return f"{low:g} hours or more"
    if high == 0:
        return "no sleep"
    return f"some, but under {high:g} hours" if low == 0 else f"{low:g} to under {high:g} hours"


def _reads_as_number(label: str) -> bool:
    try:
        float(label.replace(",", "."))
    except ValueError:
        # A word of a script whose numerals are letters is a word.
        return label.isnumeric() and not label.isalpha()
    return True


def _check_word(grid: Grid, label: str) -> None:
    if not label:
        raise WrongScale(f"A level of {grid} has no name.")
    if len(label) > LONGEST_WORD:
        raise WrongScale(
            f"The word for a level has at most {LONGEST_WORD} letters; '{label[:12]}...' has {len(label)}."
        )
    if label == COULD_NOT_SAY:
        raise WrongScale(f"'{label}' means 'could not say'; give the level of {grid} a word.")
    if _reads_as_number(label):
        raise WrongScale(f"'{label}' reads as a number; give the level of {grid} a word.")


def checked(scale: Scale) -> Scale:
    """The scale itself, if it can serve.

    Raises WrongScale with the reason if it cannot.
    """
    fewest, most = FEWEST_AND_MOST[scale.grid]
    if not fewest <= len(scale.levels) <= most:
        raise WrongScale(f"{scale.grid} takes {fewest} to {most} levels; these are {len(scale.levels)}.")
    labels = [level.label.casefold() for level in scale.levels]
    for label in labels:
        _check_word(scale.grid, label)
        if labels.count(label) > 1:
            raise WrongScale(f"Two levels of {scale.grid} are called '{label}'.")
    if scale.from_day and scale.to_day and scale.to_day < scale.from_day:
        raise WrongScale(f"The levels would end on {scale.to_day}, before they begin on {scale.from_day}.")
    return scale
