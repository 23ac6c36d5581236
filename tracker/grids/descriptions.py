"""Days, months and years in words, for the line under the grids and for those who listen.

Levels are named and counted; nothing is averaged.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta

from tracker.diary.calls import called_in_words
from tracker.diary.clock import Clock
from tracker.diary.dates import MONTHS, long_day, month_name, short_day
from tracker.diary.months import days_of_month, days_of_year
from tracker.diary.rota import QUICK_RETURN_HOURS, rota_of, runs
from tracker.diary.scales import GRIDS, Grid, Level
from tracker.diary.trial import told_arm
from tracker.diary.waiting import SquareKey
from tracker.grids.squares import GridData
from tracker.words import SLEEP_BEFORE, counted


def spoken_day(
    grid_data: GridData,
    day: date,
    with_note: bool = False,
    grids: tuple[Grid, ...] = GRIDS,
    brief: bool = False,
    among_others: bool = False,
) -> str:
    """A day in one line: `Tue 17 March: mood level 4 good, sleep 5-6 h (the sleep before), night shift`.

    Parameters
    ----------
    with_note
        Whether the note itself is said, or only that there is one.
    brief
        Without the words that stand over the grids anyway.
    among_others
        Whether days are told one after another: then nothing is said of one that was not anxious.
    """
    if grid_data.hidden:
        return f"{short_day(day)}: hidden"
    parts = [_square_in_words(grid_data, SquareKey(day, grid), brief) for grid in grids]
    parts += [_shift_in_words(grid_data, day), _anxious_in_words(grid_data, day, among_others)]
    parts.append(f"trial: {arm}" if (arm := told_arm(grid_data.trials, day, grid_data.today)) else "")
    note = " ".join(grid_data.day(day).note_text.split())
    parts.append((f"note: {note}" if with_note else "note") if note else "")
    return f"{short_day(day)}: {', '.join(part for part in parts if part) or 'before the first day'}"


def _square_in_words(grid_data: GridData, place: SquareKey, brief: bool) -> str:
    level = grid_data.level(place)
    if level is None:
        state = grid_data.state(place)
        return "" if state == "before the first day" else f"{place.grid} {state}"
    if place.grid == "mood":
        return (
            f"mood {level.rank} {level.label}" if brief else f"mood {level_in_words('mood', level, comma='')}"
        )
    hours = grid_data.day(place.day).hours
    asides = [f"{hours:g} h"] if hours is not None else []
    asides += [] if brief else [SLEEP_BEFORE]
    return f"sleep {level.label}" + (f" ({', '.join(asides)})" if asides else "")


def level_in_words(grid: Grid, level: Level, comma: str = ",") -> str:
    """A level by its name: `level 4, good` or `5-6 h`."""
    return f"level {level.rank}{comma} {level.label}" if grid == "mood" else level.label


def _shift_in_words(grid_data: GridData, day: date) -> str:
    shift, kind = grid_data.day(day).shift, grid_data.kinds.get(grid_data.day(day).shift_kind)
    if shift is None or kind is None:
        return ""
    named = f"{kind.label} shift" if kind.work != "no" and " " not in kind.label else kind.label
    return ", ".join(filter(None, [named, called_in_words(shift.detail)]))


def _anxious_in_words(grid_data: GridData, day: date, among_others: bool) -> str:
    said_otherwise = "" if among_others else "not anxious"
    return {None: "", True: "anxious", False: said_otherwise}[grid_data.day(day).is_anxious]


def spoken_month(grid_data: GridData, year: int, month: int, grids: tuple[Grid, ...] = GRIDS) -> list[str]:
    """A month in lines: what is kept of it, then each day on which something could be or was kept."""
    return _spoken_days(grid_data, month_name(date(year, month, 1)), days_of_month(year, month), grids)


def spoken_week(grid_data: GridData, first: date, grids: tuple[Grid, ...] = GRIDS) -> list[str]:
    """Seven days in lines, in the same way."""
    days = [first + timedelta(days=at) for at in range(7)]
    return _spoken_days(grid_data, dates_in_words(days[0], days[-1]), days, grids)


def _spoken_days(grid_data: GridData, name: str, days: Sequence[date], grids: tuple[Grid, ...]) -> list[str]:
    told = [day for day in days if day in grid_data.waiting.days or grid_data.possible([day])]
    which_sleep = [f"The sleep of a day is {SLEEP_BEFORE}."] if "sleep" in grids and told else []
    return [
        *spoken_span(grid_data, name, days, grids),
        *which_sleep,
        *(spoken_day(grid_data, day, grids=grids, brief=True, among_others=True) for day in told),
    ]


def spoken_rota(grid_data: GridData, year: int, month: int, clock: Clock) -> str:
    """The nights and quick returns of a month: `November: night shifts on 1, 16-18.`"""
    days = days_of_month(year, month)
    with_eve = [grid_data.day(day) for day in (days[0] - timedelta(days=1), *days)]
    rota = rota_of(with_eve, grid_data.kinds, clock)
    found = {"night shifts": rota.nights, f"quick returns (under {QUICK_RETURN_HOURS:g} h)": rota.quick}
    listed = {name: _days_in_figures(day for day in dates if day in days) for name, dates in found.items()}
    parts = [f"{name} on {dates}" for name, dates in listed.items() if dates]
    return f"{MONTHS[month - 1]}: {'; '.join(parts)}." if parts and not grid_data.hidden else ""


def _days_in_figures(days: Iterable[date]) -> str:
    spans = runs(days)
    return ", ".join(f"{first.day}-{last.day}" if last > first else f"{first.day}" for first, last in spans)


def spoken_year(grid_data: GridData, year: int, grids: tuple[Grid, ...] = GRIDS) -> list[str]:
    """A year in lines: what is kept of it, then a line for each month and grid with something in it."""
    lines = spoken_span(grid_data, str(year), days_of_year(year), grids)
    for month in range(1, 13):
        days = grid_data.possible(days_of_month(year, month))
        lines += [
            f"{MONTHS[month - 1]}, {grid}: {_kept_and_commonest(grid_data, grid, days)}."
            for grid in grids
            if days
        ]
    return lines


def spoken_span(
    grid_data: GridData, name: str, days: Sequence[date], grids: tuple[Grid, ...] = GRIDS
) -> list[str]:
    """What is kept of some days: how many, the commonest level, the longest run of waiting squares."""
    possible = grid_data.possible(days)
    if not possible:
        return [f"{name}: no day on which something could have been kept."]
    lines = [f"{name}, {grid}: {spoken_grid(grid_data, grid, days)}" for grid in grids]
    noted = [day for day in possible if grid_data.day(day).is_anxious is not None]
    anxious = [day for day in noted if grid_data.day(day).is_anxious]
    if noted:
        lines.append(f"{name}, anxious: {len(anxious)} of {counted(len(noted), 'noted day')}.")
    return lines


def spoken_grid(grid_data: GridData, grid: Grid, days: Sequence[date]) -> str:
    """One grid over some days in a line, without the name of the grid."""
    possible = grid_data.possible(days)
    return f"{_kept_and_commonest(grid_data, grid, possible)}; {_longest_wait(grid_data, grid, possible)}."


def _kept_and_commonest(grid_data: GridData, grid: Grid, days: Sequence[date]) -> str:
    kept = grid_data.kept(grid, days)
    line = f"kept on {len(kept)} of {counted(len(days), 'day')}"
    if unsaid := sum(grid_data.state(SquareKey(day, grid)) == "could not say" for day in days):
        line += f", could not say on {unsaid}"
    return f"{line}; most often {commonest(grid_data, grid, kept)}" if kept else line


def commonest(grid_data: GridData, grid: Grid, kept: Iterable[date]) -> str:
    """The level that was kept most often, or all that share the first place, with the number of days."""
    counts = Counter(level for day in kept if (level := grid_data.level(SquareKey(day, grid))) is not None)
    most = max(counts.values())
    names = [
        level_in_words(grid, level)
        for level in sorted(counts, key=lambda level: level.rank)
        if counts[level] == most
    ]
    return f"{' and '.join(names)} ({counted(most, 'day')}{' each' if len(names) > 1 else ''})"


def _longest_wait(grid_data: GridData, grid: Grid, days: Sequence[date]) -> str:
    run = _longest_run(grid_data, grid, days)
    if run is None:
        return "no square waits"
    length = counted((run[1] - run[0]).days + 1, "day")
    return f"longest run of waiting squares {length}, {dates_in_words(*run)}"


def _longest_run(grid_data: GridData, grid: Grid, days: Sequence[date]) -> tuple[date, date] | None:
    """The longest run of waiting squares; of several as long, the latest."""
    runs = _waiting_runs(grid_data, grid, days)
    return max(runs, key=lambda run: (run[1] - run[0], run[0]), default=None)


def _waiting_runs(grid_data: GridData, grid: Grid, days: Iterable[date]) -> Iterator[tuple[date, date]]:
    run: list[date] = []
    for day in days:
        if grid_data.state(SquareKey(day, grid)) != "waiting":
            continue
        if run and day - run[-1] > timedelta(days=1):
            yield run[0], run[-1]
            run = []
        run.append(day)
    if run:
        yield run[0], run[-1]


def dates_in_words(first: date, last: date) -> str:
    """A span of dates: `4 March 2026`, `4 to 6 March 2026`, `30 April to 2 May 2026`."""
    if first == last:
        return long_day(last)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} to {long_day(last)}"
    if first.year == last.year:
        return f"{first.day} {MONTHS[first.month - 1]} to {long_day(last)}"
    return f"{long_day(first)} to {long_day(last)}"
