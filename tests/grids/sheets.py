"""Small sheets to draw."""

from collections.abc import Iterable, Mapping
from datetime import UTC, date, timedelta

from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_SCALES, Scales
from tracker.diary.waiting import Waiting
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Marks, Palette
from tracker.grids.squares import NO_CHANGES, GridData
from tracker.grids.themes import DEFAULT_THEME, Colours, load_theme

UNSAID = Square("", "could not say")
FIRST, TODAY = date(2026, 1, 1), date(2026, 10, 20)


def day(
    on: date,
    mood: int | None = None,
    sleep: int | None = None,
    anxious: bool | None = None,
    shift: str = "",
    note: str = "",
    scales: Scales = DEFAULT_SCALES,
) -> Day:
    """A day with levels by their places, from 0; -1 stands for `could not say`."""

    def level(grid: str, place: int | None) -> Square | None:
        if place is None or place < 0:
            return None if place is None else UNSAID
        return Square(scales.newest("mood" if grid == "mood" else "sleep").levels[place].id)

    return Day(
        on,
        mood=level("mood", mood),
        sleep=level("sleep", sleep),
        anxious=None if anxious is None else Square("yes" if anxious else "no"),
        shift=Square(shift) if shift else None,
        note=Square(note) if note else None,
    )


def grid_data(
    days: Iterable[Day] = (),
    today: date = TODAY,
    first: date | None = FIRST,
    breaks: tuple[Break, ...] = (),
    scales: Scales = DEFAULT_SCALES,
    hidden: bool = False,
    changes: Mapping[date, str] = NO_CHANGES,
) -> GridData:
    kinds = {kind.id: kind for kind in DEFAULT_KINDS}
    waiting = Waiting({kept.date: kept for kept in days}, first, today, breaks)
    return GridData(waiting, scales, kinds, hidden, changes, clock=Clock(zone=UTC))


def wave(last: date = TODAY, first: date = FIRST, scales: Scales = DEFAULT_SCALES) -> list[Day]:
    """Days whose levels walk up and down; now and then one waits or could not be said."""
    moods, sleeps = (len(scales.newest(grid).levels) for grid in ("mood", "sleep"))
    shifts = ["early", "early", "late", "night", "night", "off", ""]
    return [
        day(
            first + timedelta(days=at),
            mood=_step(at, 17, 5, moods),
            sleep=_step(at, 23, 3, sleeps),
            anxious=at % 11 == 4,
            shift=shifts[at % 7],
            scales=scales,
        )
        for at in range((last - first).days + 1)
    ]


def _step(at: int, rest: int, stride: int, levels: int) -> int | None:
    if at % rest == rest - 1:
        return None
    return -1 if at % rest == rest // 2 else at // stride % levels


def seen(canvas: Canvas) -> list[list[tuple[str, bool]]]:
    """What of a canvas is seen without colour: text, and whether it is in reverse video."""
    return [[(text, style.reverse) for text, style in canvas.row(y)] for y in range(canvas.height)]


def palette(
    colours: Colours = "none", marks: Marks = "digits", theme: str = DEFAULT_THEME, with_fills: bool = True
) -> Palette:
    return Palette(load_theme(theme), colours, marks, with_fills)
