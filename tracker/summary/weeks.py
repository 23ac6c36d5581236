"""Seven days a row: every square of the last weeks by its digit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from tracker.cells import named_in
from tracker.diary.breaks import in_break
from tracker.diary.days import Day, Square
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import Level, Scale
from tracker.summary.level_marks import Levels
from tracker.summary.page_data import PageData
from tracker.summary.page_model import (
    BREAK,
    COULD_NOT_SAY,
    NOTHING,
    OTHER_SHIFT,
    DaySquares,
    KeyLine,
    Mark,
    Week,
    Weeks,
    brief,
)

WEEKS = 14
LONGEST_KEY_LABEL = 18
"""Letters; a longer label stands in the key in its short form, and whole in how to read the page."""


def weeks(ground: PageData) -> Weeks:
    """The last days of the period, seven a row, the last row ending with it."""
    number = min(WEEKS, -(-((ground.last - ground.first).days + 1) // 7))
    rows = tuple(_week(ground, ground.last - timedelta(days=7 * n - 1)) for n in range(number, 0, -1))
    mood = ground.levels.versions("mood", _days_of(ground, rows))
    sleep = ground.levels.versions("sleep", _days_of(ground, rows))
    return Weeks(
        rows=rows,
        mood_head=_mood_head(mood),
        sleep_head=_sleep_head(sleep),
        with_shifts=ground.with_shifts,
        signs=_signs(ground, rows),
        mood_key=_key(mood[-1]),
        sleep_key=_key(sleep[-1]),
        key_tells_hours=len(sleep) == 1 and all(map(_tells_hours, sleep[-1].levels[1:])),
    )


def _tells_hours(level: Level) -> bool:
    """Whether the bound of a bucket stands in its label, as in all but those of her own words."""
    return f"{level.to_hours or level.from_hours:g}" in _key_label(level)


def _key(scale: Scale) -> tuple[KeyLine, ...]:
    lines = [
        KeyLine(Mark(level.mark, place, len(scale.levels)), _key_label(level))
        for place, level in enumerate(scale.levels)
    ]
    return tuple(reversed(lines))


def _key_label(level: Level) -> str:
    return named_in(LONGEST_KEY_LABEL, level.label, level.short)


def _days_of(ground: PageData, rows: Iterable[Week]) -> list[Day]:
    return [ground.days.get(at.day, Day(at.day)) for row in rows for at in row.days if at]


def _week(ground: PageData, first: date) -> Week:
    dates = [first + timedelta(days=n) for n in range(7)]
    return Week(first, tuple(_day_squares(ground, at) if at >= ground.first else None for at in dates))


def _day_squares(ground: PageData, at: date) -> DaySquares:
    day = ground.days.get(at, Day(at))
    away = in_break(at, ground.choices.breaks)
    return DaySquares(
        at,
        mark_of(ground.levels, day.mood, away),
        bool(day.is_anxious),
        mark_of(ground.levels, day.sleep, away),
        _shift_code(ground, day),
    )


def mark_of(levels: Levels, square: Square | None, away: bool) -> Mark:
    """What stands in a square: its level's digit, or the sign for none."""
    placed = levels.of(square)
    if placed:
        return Mark(placed.level.mark, placed.place, len(placed.scale.levels))
    if square and square.state == "could not say":
        return Mark(COULD_NOT_SAY)
    return Mark(BREAK if away else NOTHING)


def _shift_code(ground: PageData, day: Day) -> str:
    kind = ground.choices.kinds_by_id.get(day.shift_kind)
    if kind is None:
        return NOTHING
    return kind.code if _may_be_named(ground, kind.id) else OTHER_SHIFT


def _may_be_named(ground: PageData, kind_id: str) -> bool:
    return bool(ground.wishes.shifts) or kind_id in {kind.id for kind in DEFAULT_KINDS}


def _mood_head(scales: Sequence[Scale]) -> str:
    if len(scales) > 1:
        return "mood, 1 the lowest level"
    lowest, highest = scales[0].levels[0], scales[0].levels[-1]
    return f"mood, {lowest.mark} {brief(lowest.label)} to {highest.mark} {brief(highest.label)}"


def _sleep_head(scales: Sequence[Scale]) -> str:
    """What the digits of sleep stand for, by the bucket in the middle, the short one and the open one."""
    head = "hours I think I slept"
    if len(scales) > 1:
        return f"{head} (buckets of hours, changed on the way)"
    levels = scales[0].levels
    middle = levels[len(levels) // 2]
    told = [
        f"{middle.mark}: from {middle.from_hours:g} to under {middle.to_hours:g}",
        f"{levels[1].mark}: under {levels[1].to_hours:g}",
        f"{levels[-1].mark}: {levels[-1].from_hours:g} or more",
    ]
    return f"{head} ({'; '.join(told)})"


def _signs(ground: PageData, rows: Iterable[Week]) -> tuple[str, ...]:
    """The key: every sign of the rows but the levels."""
    squares = [at for row in rows for at in row.days if at]
    signs = {mark.sign for at in squares for mark in (at.mood, at.sleep)}
    codes = {at.shift for at in squares}
    named = [
        f"{kind.code} {kind.label}"
        for kind in ground.choices.kinds
        if kind.code in codes and _may_be_named(ground, kind.id)
    ]
    told = [
        ("a anxious", any(at.anxious for at in squares)),
        (f"{NOTHING} nothing kept", NOTHING in signs),
        (f"{COULD_NOT_SAY} could not say", COULD_NOT_SAY in signs),
        (f"{BREAK} a break", BREAK in signs),
        *((name, ground.with_shifts) for name in named),
        (f"{OTHER_SHIFT} other shift", ground.with_shifts and OTHER_SHIFT in codes),
    ]
    return tuple(sign for sign, is_there in told if is_there)
