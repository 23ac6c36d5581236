"""Counts in columns: two weeks beside twelve, the year by months, nights beside other days."""

from __future__ import annotations

import calendar
from collections.abc import Callable, Sequence
from datetime import timedelta

from tracker.diary.days import Day
from tracker.diary.months import last_of_month
from tracker.diary.scales import Level
from tracker.summary.counting import Count, Counter
from tracker.summary.level_marks import at_the_ends
from tracker.summary.page_data import BEFORE, RECENT, PageData, months_to
from tracker.summary.page_model import FEWEST_OF_MONTH, NOTHING, TOO_LITTLE, PageRow, Table

FEWEST_TO_COMPARE = 10

CellText = Callable[[Sequence[Day]], str]


def figures(ground: PageData) -> Table:
    """Counts of the last 14 days beside those of the days before."""
    cut = max(ground.first, ground.last - timedelta(days=RECENT - 1))
    columns = [(ground.between(cut, ground.last), RECENT)]
    heads = [_last_days((ground.last - cut).days + 1)]
    if earlier := (cut - ground.first).days:
        columns.append((ground.between(ground.first, cut - timedelta(days=1)), earlier))
        heads.append(_days_before(earlier))
    rows = [
        PageRow(label, tuple(cell(days) if enough(days, length) else TOO_LITTLE for days, length in columns))
        for label, cell, enough in _figure_lines(ground)
    ]
    return Table(tuple(heads), tuple(rows))


def _last_days(number: int) -> str:
    return "the last day" if number == 1 else f"last {number} days"


def _days_before(number: int) -> str:
    if number == BEFORE:
        return f"the {BEFORE // 7} weeks before"
    return "the day before" if number == 1 else f"the {number} days before"


Enough = Callable[[Sequence[Day], int], bool]


def _figure_lines(ground: PageData) -> list[tuple[str, CellText, Enough]]:
    """Each line's label, its cell, and whether enough days were kept for one."""
    count = ground.counter

    def mood(days: Sequence[Day], length: int) -> bool:
        return 2 * count.mood_kept(days).number >= length

    def sleep(days: Sequence[Day], length: int) -> bool:
        return 2 * count.sleep_kept(days).number >= length

    def always(days: Sequence[Day], length: int) -> bool:
        return True

    lines: list[tuple[str, CellText, Enough]] = [
        ("mood kept", lambda days: str(count.mood_kept(days)), always),
        (low_label(ground), lambda days: str(count.low(days)), mood),
        (high_label(ground), lambda days: str(count.high(days)), mood),
        ("marked anxious", lambda days: _of_noted(count.anxious(days), count.mood_kept(days)), mood),
    ]
    if count.bound:
        lines.append((f"slept under {count.bound:g} hours", lambda days: str(count.short(days)), sleep))
    if ground.with_shifts:
        lines += [
            ("night shifts worked", lambda days: str(count.nights_worked(days)), always),
            ("less than 11 hours between shifts", lambda days: str(count.quick_returns(days)), always),
        ]
    return lines


def _of_noted(anxious: Count, mood: Count) -> str:
    """Days marked, of those with a yes or a no; where a mood has neither, that must not read as all days."""
    if not anxious.of:
        return "not noted"
    return f"{anxious} noted" if anxious.of < mood.number else str(anxious)


def low_label(ground: PageData) -> str:
    """The lowest levels in her own words, if all days were kept under the same ones."""
    scales = ground.mood_scales
    if len(scales) > 1:
        return "one of the lowest levels"
    return _levels_label(list(reversed(scales[0].levels[: at_the_ends(len(scales[0].levels))])))


def high_label(ground: PageData) -> str:
    """The highest levels in her own words, if all days were kept under the same ones."""
    scales = ground.mood_scales
    if len(scales) > 1:
        return "one of the highest levels"
    return _levels_label(list(scales[0].levels[-at_the_ends(len(scales[0].levels)) :]))


def _levels_label(levels: Sequence[Level]) -> str:
    words = " or ".join(level.label for level in levels)
    marks = ", ".join(sorted(level.mark for level in levels))
    return f"{words} ({'level' if len(levels) == 1 else 'levels'} {marks})"


def year(ground: PageData) -> Table | None:
    """Counts by months; None while fewer than two months have anything."""
    count = ground.counter
    firsts = months_to(ground.last)
    months = [ground.between(first, min(last_of_month(first), ground.last)) for first in firsts]
    if sum(count.is_kept(days) for days in months) < 2:
        return None
    lines: list[tuple[str, CellText]] = [
        ("mood kept", lambda days: _of_month(count.mood_kept(days).number, count.mood_kept(days).number)),
        (low_label(ground), lambda days: _of_month(count.low(days).number, count.low(days).of)),
    ]
    if count.bound:
        short = f"slept under {count.bound:g} h"
        lines.append((short, lambda days: _of_month(count.short(days).number, count.short(days).of)))
    if ground.with_shifts:
        lines.append(("night shifts", lambda days: _nights(count, days)))
    heads = tuple(calendar.month_abbr[first.month] for first in firsts)
    return Table(heads, tuple(PageRow(label, tuple(map(cell, months))) for label, cell in lines))


def _of_month(number: int, kept: int) -> str:
    """A month's count; in brackets where it rests on few days, a dot where it rests on none."""
    if not kept:
        return NOTHING
    return f"({number})" if kept < FEWEST_OF_MONTH else str(number)


def _nights(count: Counter, days: Sequence[Day]) -> str:
    return str(count.nights_worked(days)) if count.is_kept(days) else NOTHING


def after_nights(ground: PageData) -> tuple[str, ...]:
    """Short sleep on days after a night shift and on others, if both have enough."""
    count = ground.counter
    after = [day for day in ground.period if count.is_after_a_night(day)]
    other = [day for day in ground.period if not count.is_after_a_night(day)]
    short, otherwise = count.short(after), count.short(other)
    if not count.bound or min(short.of, otherwise.of) < FEWEST_TO_COMPARE:
        return ()
    return (f"Slept under {count.bound:g} hours: {short} days after a night shift, {otherwise} other days.",)
