"""Two groups of days side by side, and which comparisons have too few days."""

from __future__ import annotations

from datetime import timedelta

from tracker.analysis.counts import Comparison, SideBySide, side_by_side
from tracker.diary.days import Day
from tracker.summary.page_data import PageData
from tracker.summary.page_model import Pair, Side

NAMES = {
    ("low", "short sleep"): "low after short sleep",
    ("low", "night shift"): "low after nights",
    ("anxious", "short sleep"): "anxious after short sleep",
    ("short sleep", "night shift"): "sleep after nights",
    ("short sleep", "low day"): "sleep after low days",
    ("short sleep", "anxious day"): "sleep after anxious days",
}
NONE_AT_ALL = "Fewer than 10 days on one side of every comparison: none is made."


def counted_pairs(data: PageData) -> SideBySide:
    """The days of the period side by side; of the day before it only the shift counts."""
    eve = data.on(data.first - timedelta(days=1))
    days = [Day(eve.date, shift=eve.shift), *data.period]
    return side_by_side(days, data.choices.scales, data.limit, data.rota.nights)


def pairs(data: PageData, found: SideBySide) -> tuple[Pair, ...]:
    """The comparisons with enough days on both sides."""
    return tuple(_pair(data, found, one) for one in _asked(data, found) if not one.is_few)


def left_out(data: PageData, found: SideBySide) -> str:
    """Which comparisons have too few days, in a sentence; empty where none has."""
    asked = _asked(data, found)
    few = [NAMES[one.outcome, one.after] for one in asked if one.is_few]
    if len(few) == len(asked):
        return NONE_AT_ALL
    return f"Fewer than 10 days on one side, so left out: {', '.join(few)}." if few else ""


def _asked(data: PageData, found: SideBySide) -> list[Comparison]:
    return [one for one in found.comparisons if data.with_shifts or one.after != "night shift"]


def _pair(data: PageData, found: SideBySide, one: Comparison) -> Pair:
    low = " or ".join(level.label for level in reversed(found.low_levels))
    digits = ", ".join(level.mark for level in found.low_levels)
    levels = f"level{'s' if len(found.low_levels) > 1 else ''} {digits}"
    hours = f"{data.limit:g} h"
    outcome, plain = {
        "low": (low, levels),
        "anxious": ("marked anxious", ""),
        "short sleep": (f"slept under {hours}", ""),
    }[one.outcome]
    there, elsewhere = {
        "short sleep": (f"after a sleep under {hours}", f"after {hours} or more"),
        "night shift": ("after a night shift", "other days"),
        "low day": (f"after {low} days", "after other days"),
        "anxious day": ("after anxious days", "after other days"),
    }[one.after]
    after_levels = f"after days on {levels}" if one.after == "low day" else ""
    sides = Side(there, str(one.there), after_levels), Side(elsewhere, str(one.elsewhere))
    return Pair(outcome, sides, plain)
