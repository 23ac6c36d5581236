"""Levels and buckets as places in one order, also where a record has several versions of a scale."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from tracker.diary.scales import Grid, Level, Scale, Scales

FEWEST_SHARED = 4
"""Classes that two versions of the buckets must share to be compared."""

Cut: TypeAlias = tuple[float, bool]
"""Hours at which a bucket begins, and whether that very length lies below it."""


class Order(NamedTuple):
    """The classes of one series, lowest first."""

    names: tuple[str, ...]
    """What each place is called: the number of a mood level, the label of a bucket."""
    place: Mapping[str, int]
    """Place of each level id, 1 the lowest; an id that is not here cannot be compared and is left out."""


def order_of(grid: Grid, scales: Scales, used: Collection[str], as_of: date) -> Order:
    """Return the order in which the levels of a grid are compared.

    Levels of mood are compared within the newest version only. Buckets of several versions fall into the
    coarsest classes whose bounds all of them share; if those are fewer than four, only the newest counts.

    Parameters
    ----------
    grid : "mood" or "sleep"
    scales : Scales
        Every version.
    used : collection of str
        Level ids that occur.
    as_of : date
        A version that begins later is not yet the newest.
    """
    newest = _newest(grid, scales, as_of)
    versions = scales.used(grid, used)
    if grid == "mood":
        return Order(tuple(str(level.rank) for level in newest.levels), _places(newest))
    if all(version == newest for version in versions):
        return Order(tuple(level.label for level in newest.levels), _places(newest))
    return _shared(versions, newest)


def _newest(grid: Grid, scales: Scales, as_of: date) -> Scale:
    open_ended = [scale for scale in scales.of(grid) if scale.to_day is None]
    begun = [scale for scale in open_ended if scale.from_day is None or scale.from_day <= as_of]
    return (begun or open_ended)[-1]


def _places(scale: Scale) -> dict[str, int]:
    return {level.id: place for place, level in enumerate(scale.levels, start=1)}


def _shared(versions: Sequence[Scale], newest: Scale) -> Order:
    cuts = sorted(set[Cut].intersection(*({_cut(level) for level in v.levels[1:]} for v in versions)))
    if len(cuts) + 1 < FEWEST_SHARED:
        return Order(tuple(level.label for level in newest.levels), _places(newest))
    place = {level.id: _place(level, cuts) for version in versions for level in version.levels}
    return Order(tuple(_class_names(cuts)), place)


def _cut(level: Level) -> Cut:
    hours = level.from_hours or 0.0
    return hours, hours == 0


def _place(level: Level, cuts: list[Cut]) -> int:
    begins = (0.0, False) if level.to_hours == 0 else _cut(level)
    return 1 + sum(cut <= begins for cut in cuts)


def _class_names(cuts: list[Cut]) -> list[str]:
    first = "none" if cuts[0] == (0, True) else f"under {cuts[0][0]:g} h"
    between = [f"under {b:g} h" if a == 0 else f"{a:g}-{b:g} h" for (a, _), (b, _) in pairwise(cuts)]
    return [first, *between, f"{cuts[-1][0]:g} h or more"]
