"""The days of the strip in words, for those who listen to the page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.diary.dates import MONTHS, long_day
from tracker.summary.page_model import BREAK, COULD_NOT_SAY, NOTHING, DaySquares, Mark, Strip, Week

SIGNS = {NOTHING: "nothing kept", BREAK: "a break", COULD_NOT_SAY: "could not say"}


def alt_text(strip: Strip) -> str:
    """Week by week what stands in the squares, then her changes and other levels with their dates."""
    days = strip.days
    first, last = days[0].day, days[-1].day
    begins = f"{first.day} {MONTHS[first.month - 1]}" if first.year == last.year else long_day(first)
    weeks = (_week(week, strip.with_shifts) for row in strip.rows for week in row)
    return " ".join(
        [f"Day by day, {begins} to {long_day(last)}.", *weeks, *_other_levels(days), *_changes(strip)]
    )


def _week(week: Week, with_shifts: bool) -> str:
    days = [day for day in week.days if day]
    parts = [
        f"sleep {_listed(_said(day.sleep) for day in days)}",
        f"mood {_listed(_mood(day) for day in days)}",
        *([f"shifts {_listed(_shift(day) for day in days)}"] if with_shifts else []),
    ]
    begins = week.begins
    return f"Week of {begins.day} {MONTHS[begins.month - 1]}: {'; '.join(parts)}."


def _listed(said: Iterable[str]) -> str:
    return ", ".join(said)


def _said(mark: Mark) -> str:
    return SIGNS.get(mark.sign, mark.sign) if not mark.of else mark.sign


def _mood(day: DaySquares) -> str:
    return _said(day.mood) + (" anxious" if day.anxious else "")


def _shift(day: DaySquares) -> str:
    is_told = day.is_night and "night" not in day.shift_name
    return f"{day.shift_name}, a night" if is_told else day.shift_name


def _other_levels(days: Iterable[DaySquares]) -> Iterator[str]:
    for day in days:
        for grid in sorted(day.new_levels):
            yield f"Other levels of {grid} from {long_day(day.day)}."


def _changes(strip: Strip) -> Iterator[str]:
    if strip.changes:
        yield f"My changes: {'; '.join(strip.changes)}."
