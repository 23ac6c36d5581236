"""Days as arrays: one place a day, nan where nothing was kept."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Flags: TypeAlias = npt.NDArray[np.bool_]
Counts: TypeAlias = npt.NDArray[np.int64]

OUTCOMES = ("mood", "sleep", "anxious")


@dataclass(frozen=True, eq=False)
class Series:
    """An unbroken run of n days.

    The three series hold numbers that stand for an order only (level, bucket, 0 or 1), with nan for
    a day without an answer. Nothing is ever filled in.
    """

    first: date
    """The day of place 0."""
    mood: Floats
    """(n,) place of the mood level, 1 the lowest."""
    sleep: Floats
    """(n,) place of the sleep bucket, 1 the shortest."""
    anxious: Floats
    """(n,) 1 anxious, 0 not anxious."""
    shift: npt.NDArray[np.str_]
    """(n,) shift kind of the day, "" where none is entered."""
    arm: npt.NDArray[np.str_] | None = None
    """(n,) trial and arm of the day, "" outside trials; None where no trial was ever drawn."""

    def __post_init__(self) -> None:
        """Refuse arrays of different lengths."""
        lengths = {len(self.mood), len(self.sleep), len(self.anxious), len(self.shift)}
        if len(lengths) != 1:
            raise ValueError(f"mood, sleep, anxious and shift must be equally long, not {sorted(lengths)}")

    def __len__(self) -> int:
        """Count the days."""
        return len(self.mood)

    @property
    def last(self) -> date:
        """The day of the last place."""
        return self.first + timedelta(days=len(self) - 1)

    @property
    def dates(self) -> list[date]:
        """The n days in order."""
        start = self.first.toordinal()
        return list(map(date.fromordinal, range(start, start + len(self))))

    @property
    def weekdays(self) -> Counts:
        """(n,) day of the week, 0 for Monday."""
        return (np.arange(len(self)) + self.first.weekday()) % 7

    @property
    def answered(self) -> tuple[str, ...]:
        """What can be judged: the anxious mark only if it was ever set."""
        return tuple(name for name in OUTCOMES if name != "anxious" or (self.anxious == 1).any())

    def values(self, outcome: str) -> Floats:
        """Return the series named `outcome` ("mood", "sleep" or "anxious")."""
        if outcome not in OUTCOMES:
            raise ValueError(f"outcome must be one of {', '.join(OUTCOMES)}, not {outcome!r}")
        values: Floats = getattr(self, outcome)
        return values

    def places(self, first: date, last: date) -> slice:
        """Return the places of the days from `first` to `last`, both included."""
        start = max((first - self.first).days, 0)
        return slice(start, max((last - self.first).days + 1, start))

    def between(self, first: date, last: date) -> Series:
        """Return the days from `first` to `last`, both included, as far as the series has them."""
        return self.at(self.places(first, last))

    def at(self, places: slice) -> Series:
        """Return the days of some places."""
        cut = slice(*places.indices(len(self)))
        return replace(
            self,
            first=self.first + timedelta(days=places.start),
            mood=self.mood[cut],
            sleep=self.sleep[cut],
            anxious=self.anxious[cut],
            shift=self.shift[cut],
            arm=None if self.arm is None else self.arm[cut],
        )

    def trimmed(self) -> Series:
        """Return the days from the first to the last with a mood or a sleep; empty if there is none."""
        kept = np.flatnonzero(~np.isnan(self.mood) | ~np.isnan(self.sleep))
        if not len(kept):
            return self.between(self.first, self.first - timedelta(days=1))
        return self.between(self._day(kept[0]), self._day(kept[-1]))

    def _day(self, place: np.int64) -> date:
        return self.first + timedelta(days=int(place))


def ranks(values: Floats) -> Floats:
    """Return mid-ranks, 1 for the smallest.

    Parameters
    ----------
    values : (m,) array
        Without nan.

    Returns
    -------
    (m,) array
        Equal values share the mean of their places.
    """
    return ranks_of_places(np.unique(values, return_inverse=True)[1])


def ranks_of_places(places: Counts) -> Floats:
    """Return the mid-ranks of (m,) values, each given by its place, from 0, among all that may occur."""
    count = np.bincount(places)
    middle = np.cumsum(count) - (count - 1) / 2
    ranked: Floats = middle[places]
    return ranked


def standard_ranks(values: Floats) -> Floats:
    """Return mid-ranks with mean 0 and variance 1 over the kept days.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day.

    Returns
    -------
    (n,) array
        nan where `values` has it, and everywhere if fewer than two different values are kept.
    """
    out = np.full(len(values), np.nan)
    kept = ~np.isnan(values)
    if not kept.any():
        return out
    ranked = ranks(values[kept])
    spread = ranked.std()
    if spread > 0:
        out[kept] = (ranked - ranked.mean()) / spread
    return out


def enough_variety(values: Floats, others: int = 10) -> bool:
    """Tell whether at least `others` kept days differ from the commonest value."""
    kept = values[~np.isnan(values)]
    if not len(kept):
        return False
    commonest = np.unique(kept, return_counts=True)[1].max()
    return bool(len(kept) - commonest >= others)
