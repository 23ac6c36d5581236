"""Counts in columns: two weeks beside twelve, the same weeks a year before, and the year by months."""

from __future__ import annotations

import calendar
from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.analysis.counts import Count
from tracker.diary.days import Day
from tracker.diary.low_and_short import is_short, low_levels
from tracker.diary.months import last_of_month, same_day
from tracker.diary.scales import Level, Scale
from tracker.summary.level_marks import VERSIONS_TOLD
from tracker.summary.page_data import PageData, is_kept, months_to
from tracker.summary.page_model import DOES_NOT_HOLD, NOTHING, Block, Part, Row, Table
from tracker.summary.thresholds import (
    BEFORE,
    DAYS_OF_A_YEAR_BEFORE,
    DAYS_OF_TWO_COLUMNS,
    FEWEST_OF_MONTH,
    LONGEST_BESIDE_A_YEAR_BEFORE,
    MONTHS_OF_A_YEAR,
    RECENT,
    in_brackets,
    is_enough,
)

Days = Sequence[Day]
Cell = Callable[[Days], str]


class Column(NamedTuple):
    """Days that are counted together."""

    head: str
    days: Days
    """Without the empty ones of marked breaks."""


class Line(NamedTuple):
    """A row before it is counted."""

    label: str
    cell: Cell
    block: Block
    plain: str = ""
    part: Part | None = None


# --- what is counted ------------------------------------------------------------------------------


def mood_kept(days: Days) -> Count:
    """Days with a mood."""
    return Count(sum(day.mood is not None and day.mood.is_kept for day in days), len(days))


def sleep_kept(days: Days) -> Count:
    """Days with a sleep."""
    return Count(sum(day.sleep is not None and day.sleep.is_kept for day in days), len(days))


def anxious(days: Days) -> Count:
    """Days marked anxious, of those with a yes or a no."""
    noted = [day.is_anxious for day in days if day.is_anxious is not None]
    return Count(sum(noted), len(noted))


def short(data: PageData, days: Days) -> Count:
    """Days with a short sleep before them, of those whose sleep can tell."""
    known = [is_short(day, data.choices.scales, data.limit) for day in days]
    return Count(sum(map(bool, known)), sum(one is not None for one in known))


def at_an_end(data: PageData, days: Days, scale: Scale, lowest: bool) -> Count:
    """Days on the lowest or the highest levels of a version, of those with a mood on it."""
    ids = {level.id for level in ends_of(scale, lowest)}
    kept = [day.mood.value for day in days if day.mood and _is_on(data, day, scale)]
    return Count(sum(value in ids for value in kept), len(kept))


def _is_on(data: PageData, day: Day, scale: Scale) -> bool:
    placed = data.levels.of(day.mood)
    return placed is not None and placed.scale.id == scale.id


def ends_of(scale: Scale, lowest: bool) -> Sequence[Level]:
    """The levels at one end of a version, lowest first: two, of three levels one."""
    number = len(low_levels(scale))
    return scale.levels[:number] if lowest else scale.levels[-number:]


# --- columns ----------------------------------------------------------------------------------------


def columns(data: PageData) -> list[Column]:
    """The last 14 days beside those before, and beside the same weeks a year before where these are kept."""
    length = (data.last - data.first).days + 1
    if length < DAYS_OF_TWO_COLUMNS:
        head = "the last day" if length == 1 else f"all {length} days"
        return [Column(head, data.period)]
    earlier = length - RECENT
    before = f"{BEFORE // 7} weeks before" if earlier == BEFORE else f"{earlier} days before"
    found = [
        Column(f"last {RECENT} days", data.between(data.recent, data.last)),
        Column(before, data.between(data.first, data.recent - timedelta(days=1))),
    ]
    return [*found, *_a_year_before(data, length)]


def _a_year_before(data: PageData, length: int) -> list[Column]:
    if not DAYS_OF_A_YEAR_BEFORE <= length <= LONGEST_BESIDE_A_YEAR_BEFORE:
        return []
    first, last = same_day(data.first, -12), same_day(data.last, -12)
    days = data.between(first, last)
    if max(2 * mood_kept(days).number, 2 * sleep_kept(days).number) < len(days) or not days:
        return []
    years = str(last.year) if first.year == last.year else f"{first.year}/{last.year % 100:02}"
    return [Column(f"same weeks, {years}", days)]


# --- in figures -------------------------------------------------------------------------------------


def figures(data: PageData, listed: Sequence[Column]) -> Table:
    """Counts of each column, always with what they are out of."""
    days = [day for column in listed for day in column.days]
    lines = [*_mood_lines(data, days), *_sleep_lines(data, days), *_shift_lines(data)]
    rows = (
        Row(line.label, tuple(line.cell(column.days) for column in listed), line.block, line.plain, line.part)
        for line in lines
    )
    return Table(tuple(column.head for column in listed), tuple(rows))


def _mood_lines(data: PageData, days: Days) -> list[Line]:
    return [
        Line("mood kept", lambda some: str(mood_kept(some)), "mood"),
        *level_lines(data, days, _end_cell, lowest=True),
        *level_lines(data, days, _end_cell, lowest=False),
        Line("marked anxious", lambda some: _of(anxious(some), some, "not noted"), "mood"),
    ]


EndCell = Callable[[PageData, Days, Scale, bool], str]


def level_lines(
    data: PageData, days: Days, cell: EndCell, *, lowest: bool, brief: bool = False
) -> list[Line]:
    """A line for the levels at one end; after a change of levels one for each of the newest two versions.

    Parameters
    ----------
    brief
        Whether the digits are left out of the label.
    """
    scales = data.levels.versions("mood", days)[-VERSIONS_TOLD:]
    part: Part | None = None if lowest else "highest levels"
    told = [
        (scale, *(_own_label(scale, lowest, brief) if len(scales) == 1 else _version_label(scale, lowest)))
        for scale in scales
    ]
    return [
        Line(label, _counted_on(data, scale, cell, lowest), "mood", plain, part)
        for scale, label, plain in told
    ]


def _counted_on(data: PageData, scale: Scale, cell: EndCell, lowest: bool) -> Cell:
    return lambda days: cell(data, days, scale, lowest)


def _own_label(scale: Scale, lowest: bool, brief: bool) -> tuple[str, str]:
    """`low or very low (1, 2)`, and what to call it where its letters cannot be shown."""
    words = end_label(scale, lowest)
    digits = _digits(scale, lowest)
    plain = f"level{'s' if ',' in digits else ''} {digits}"
    return words if brief else f"{words} ({digits})", plain


def _version_label(scale: Scale, lowest: bool) -> tuple[str, str]:
    """`lowest two of 5: 1, 2`."""
    number = "" if len(ends_of(scale, lowest)) == 1 else " two"
    label = f"{'lowest' if lowest else 'highest'}{number} of {len(scale.levels)}: {_digits(scale, lowest)}"
    return label, label


def end_label(scale: Scale, lowest: bool) -> str:
    """The lowest or the highest levels in her own words, the outermost last."""
    levels = ends_of(scale, lowest)
    return " or ".join(level.label for level in (reversed(levels) if lowest else levels))


def _digits(scale: Scale, lowest: bool) -> str:
    return ", ".join(level.mark for level in ends_of(scale, lowest))


def _end_cell(data: PageData, days: Days, scale: Scale, lowest: bool) -> str:
    count = at_an_end(data, days, scale, lowest)
    held = [day for day in days if data.levels.holds(scale, day.date)]
    if not held and not count.of:
        return DOES_NOT_HOLD
    return _of(count, held)


def _of(count: Count, days: Days, none: str = "none kept") -> str:
    return in_brackets(count, len(days)) if count.of else none


def _sleep_lines(data: PageData, days: Days) -> list[Line]:
    bounds = data.levels.shared_bounds(days)
    reach = Line(
        "at least half the sleeps", lambda some: _half_reach(data, some, bounds), "sleep", part="half"
    )
    return [
        Line("sleep kept", lambda some: str(sleep_kept(some)), "sleep"),
        Line(f"slept under {data.limit:g} h", lambda some: _of(short(data, some), some), "sleep"),
        *([reach] if bounds else []),
    ]


def _half_reach(data: PageData, days: Days, bounds: Sequence[float]) -> str:
    """The largest bound that half of the kept sleeps or more reach."""
    begins = [placed.level.from_hours or 0.0 for day in days if (placed := data.levels.of(day.sleep))]
    if not begins:
        return "none kept"
    reached = [bound for bound in bounds if 2 * sum(at >= bound for at in begins) >= len(begins)]
    told = f"{reached[-1]:g} h or more" if reached else f"under {bounds[0]:g} h"
    return told if is_enough(len(begins), len(days)) else f"({told})"


def _shift_lines(data: PageData) -> list[Line]:
    if not data.with_shifts:
        return []
    nights, quick = data.past_nights, data.rota.quick
    return [
        Line("night shifts on the rota", lambda days: _on_the_rota(days, nights), "shifts"),
        Line(
            "under 11 h between shifts",
            lambda days: _on_the_rota(days, quick),
            "shifts",
            part="quick returns",
        ),
        *_on_call_lines(data),
    ]


def _on_the_rota(days: Days, dates: Iterable[date]) -> str:
    """So many of some dates; where no shift is entered nobody knows."""
    return str(len({day.date for day in days} & set(dates))) if _has_shifts(days) else DOES_NOT_HOLD


def _has_shifts(days: Days) -> bool:
    return any(day.shift_kind for day in days)


def _on_call_lines(data: PageData) -> list[Line]:
    on_call = {
        at
        for at, day in data.days.items()
        if at < data.today
        and (kind := data.choices.kinds_by_id.get(day.shift_kind)) is not None
        and kind.is_on_call
    }
    if not any(data.first <= at <= data.last for at in on_call):
        return []

    def cell(days: Days) -> str:
        called = _on_the_rota(days, on_call & data.past_nights)
        return f"{_on_the_rota(days, on_call)}, {called}" if _has_shifts(days) else called

    return [Line("on call, called at night", cell, "shifts")]


# --- the year ---------------------------------------------------------------------------------------


def year(data: PageData) -> Table | None:
    """Counts by months; None while fewer than two months before the period were kept well."""
    firsts = months_to(data.last)
    months = [data.between(first, min(last_of_month(first), data.last)) for first in firsts]
    well_kept = sum(
        last_of_month(first) < data.first and sum(map(is_kept, days)) >= FEWEST_OF_MONTH
        for first, days in zip(firsts, months, strict=True)
    )
    if well_kept < MONTHS_OF_A_YEAR:
        return None
    begin = next(place for place, days in enumerate(months) if any(map(is_kept, days)))
    firsts, months = firsts[begin:], months[begin:]
    rows = (
        Row(line.label, tuple(map(line.cell, months)), line.block, line.plain)
        for line in _year_lines(data, months)
    )
    return Table(tuple(_month_head(first, first == firsts[0]) for first in firsts), tuple(rows))


def _month_head(first: date, is_first: bool) -> str:
    """A month; the first one and January with their year above."""
    name = calendar.month_abbr[first.month]
    return f"{first.year}\n{name}" if is_first or first.month == 1 else name


def _year_lines(data: PageData, months: Sequence[Days]) -> list[Line]:
    days = [day for month in months for day in month]
    nights = data.past_nights
    lines = [
        Line("mood kept", lambda some: _of_month(mood_kept(some).number, mood_kept(some).number), "mood"),
        *level_lines(data, days, _end_of_month, lowest=True, brief=True),
        Line("anxious", lambda some: _of_month(*anxious(some)), "mood"),
        Line("sleep kept", lambda some: _of_month(sleep_kept(some).number, sleep_kept(some).number), "sleep"),
        Line(f"under {data.limit:g} h", lambda some: _of_month(*short(data, some)), "sleep"),
    ]
    night_line = Line("night shifts", lambda some: _on_the_rota(some, nights), "shifts")
    return [*lines, night_line] if data.with_shifts else lines


def _end_of_month(data: PageData, days: Days, scale: Scale, lowest: bool) -> str:
    count = at_an_end(data, days, scale, lowest)
    if not count.of and not any(data.levels.holds(scale, day.date) for day in days):
        return DOES_NOT_HOLD
    return _of_month(*count)


def _of_month(number: int, kept: int) -> str:
    """A month's count; in brackets where it rests on few days, a dot where it rests on none."""
    if not kept:
        return NOTHING
    return f"({number})" if kept < FEWEST_OF_MONTH else str(number)
