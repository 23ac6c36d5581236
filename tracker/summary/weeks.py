"""Day by day: every square of the last weeks by its digit, five calendar weeks a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from tracker.cells import named_in
from tracker.diary.breaks import in_break
from tracker.diary.dates import MONTHS
from tracker.diary.months import column, each_day
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import GRIDS, Grid, Level, Scale
from tracker.summary.level_marks import VERSIONS_TOLD, mark_of
from tracker.summary.page_data import PageData
from tracker.summary.page_model import NOTHING, DaySquares, Key, KeyLine, Mark, Strip, Week
from tracker.summary.thresholds import DAYS_OF_TWO_COLUMNS

WEEKS_A_ROW, ROWS = 5, 3
LONGEST_KEY_LABEL = 18
"""Letters; a longer label stands in the key in its short form."""
HEADS: dict[Grid, str] = {"mood": "mood", "sleep": "hours I think I slept"}
NO_SHIFT = "no shift entered"


def strip(data: PageData) -> Strip:
    """The last days of the period, at most fifteen calendar weeks; the last row ends with the period."""
    letters = {change.day: chr(ord("A") + place) for place, change in enumerate(data.changes)}
    weeks = list(_weeks(data, letters))[-WEEKS_A_ROW * ROWS :]
    rows = tuple(tuple(weeks[at : at + WEEKS_A_ROW]) for at in range(0, len(weeks), WEEKS_A_ROW))
    days = [data.on(at.day) for week in weeks for at in week.days if at]
    versions = {grid: data.levels.versions(grid, days) for grid in GRIDS}
    named = {kind.code: kind.label for day in days if (kind := data.kind(day))}
    ordered = [*(kind.code for kind in data.choices.kinds), *named]
    return Strip(
        rows=rows,
        with_shifts=data.with_shifts,
        keys=tuple(key for grid in GRIDS for key in _keys(data, grid, versions[grid])),
        earlier_levels=any(len(used) > VERSIONS_TOLD for used in versions.values()),
        shift_names=tuple((code, named[code]) for code in dict.fromkeys(ordered) if code in named),
        change_words={letters[change.day]: _change(letters[change.day], change) for change in data.changes},
    )


def _change(letter: str, change: DatedChange) -> str:
    """`B 14 September: tablets started`."""
    return f"{letter} {change.day.day} {MONTHS[change.day.month - 1]}: {change.words}"


def _weeks(data: PageData, letters: dict[date, str]) -> Iterator[Week]:
    first = data.first - timedelta(days=column(data.first, data.choices.settings.first_weekday))
    for monday in each_day(first, data.last):
        if (monday - first).days % 7 == 0:
            dates = [monday + timedelta(days=n) for n in range(7)]
            yield Week(
                monday,
                tuple(
                    _day_squares(data, at, letters) if data.first <= at <= data.last else None for at in dates
                ),
            )


def _day_squares(data: PageData, at: date, letters: dict[date, str]) -> DaySquares:
    day, away = data.on(at), in_break(at, data.choices.breaks)
    kind = data.kind(day)
    has_recent = (data.last - data.first).days + 1 >= DAYS_OF_TWO_COLUMNS
    return DaySquares(
        at,
        mark_of(data.levels, day.mood, away),
        bool(day.is_anxious),
        mark_of(data.levels, day.sleep, away),
        shift=kind.code if kind else NOTHING,
        shift_name=kind.label if kind else NO_SHIFT,
        is_night=at in data.rota.nights,
        is_recent=has_recent and at >= data.recent,
        change=letters.get(at, ""),
        new_levels=frozenset(grid for grid in GRIDS if at > data.first and _begins(data, grid, at)),
    )


def _begins(data: PageData, grid: Grid, at: date) -> bool:
    """Whether other levels hold from a day on."""
    scales = data.choices.scales
    return scales.on(grid, at).id != scales.on(grid, at - timedelta(days=1)).id


def _keys(data: PageData, grid: Grid, used: Sequence[Scale]) -> Iterator[Key]:
    told = used[-VERSIONS_TOLD:]
    for place, scale in enumerate(told):
        yield Key(grid, f"{HEADS[grid]}{_when(told, place)}", tuple(_key_lines(scale)))


def _when(told: Sequence[Scale], place: int) -> str:
    """` to 10 October`, or ` from 11 October`; nothing for levels that never changed."""
    if len(told) < VERSIONS_TOLD:
        return ""
    begins = told[1].from_day or date.min
    day = begins if place else begins - timedelta(days=1)
    return f" {'from' if place else 'to'} {day.day} {MONTHS[day.month - 1]}"


def _key_lines(scale: Scale) -> Iterator[KeyLine]:
    for place, level in enumerate(scale.levels):
        yield KeyLine(Mark(level.mark, place, len(scale.levels)), _key_label(level))


def _key_label(level: Level) -> str:
    return named_in(LONGEST_KEY_LABEL, level.label, level.short)
