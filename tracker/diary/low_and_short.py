"""Which moods count as low and which sleeps as short, wherever days are counted."""

from __future__ import annotations

from tracker.diary.days import Day
from tracker.diary.scales import Level, Scale, Scales


def low_levels(scale: Scale) -> tuple[Level, ...]:
    """The levels of mood that count as low: the two lowest, of three the lowest."""
    return scale.levels[: 1 if len(scale.levels) == 3 else 2]


def short_levels(scale: Scale, limit: float) -> tuple[Level, ...]:
    """The buckets that lie wholly under so many hours."""
    return tuple(level for level in scale.levels if level.to_hours is not None and level.to_hours <= limit)


def is_low(day: Day, scales: Scales) -> bool | None:
    """Whether the mood of a day is low; None where none is kept."""
    if day.mood is None or not day.mood.is_kept:
        return None
    scale, place = scales.placed(day.mood.value)
    return place < len(low_levels(scale))


def is_short(day: Day, scales: Scales, limit: float) -> bool | None:
    """Whether the sleep of a day was under so many hours.

    Exact hours decide where they are kept, else the bucket; None where no sleep is kept, or its bucket
    reaches across the limit.
    """
    if day.sleep is None or not day.sleep.is_kept:
        return None
    if (hours := day.hours) is not None:
        return hours < limit
    level = scales.level(day.sleep.value)
    if level.to_hours is not None and level.to_hours <= limit:
        return True
    return None if level.from_hours is None or level.from_hours < limit else False
