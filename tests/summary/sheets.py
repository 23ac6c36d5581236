"""Small records in a line of digits a week, and what the page needs beside them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from tests.conftest import LONDON, NOW
from tracker.diary.changes import shift_change
from tracker.diary.choices import Choices, PageLines
from tracker.diary.clock import Clock
from tracker.diary.days import Basis, Day, Square, State
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_SCALES, Grid, Scales, mood_scale, sleep_scale
from tracker.summary.content import make_page
from tracker.summary.page_data import PageData, PageOptions, page_data
from tracker.summary.page_model import Page, PageFindings

TODAY = date(2026, 3, 17)
CLOCK = Clock(now=lambda: NOW, zone=LONDON)
CHOICES = Choices()
KINDS = {kind.code: kind for kind in DEFAULT_KINDS}
TESTED = PageFindings(
    ("Not shown: mood and sleep. Only a strong link could have been seen.",),
    "tested 1 Feb 2026, next 1 Aug 2026",
    with_rota=True,
)
LONG_LABELS = Scales(
    (
        mood_scale([f"{number} of seven, a word as long as this one" for number in "ABCDEFG"], None),
        sleep_scale([0, 1, 2.5, 3, 4, 5, 6, 7, 9], None),
    )
)


def keep(
    last: date = TODAY,
    mood: str = "",
    sleep: str = "",
    shifts: str = "",
    anxious: str = "",
    scales: Scales = DEFAULT_SCALES,
) -> dict[date, Day]:
    """Days up to the last one: a digit a level, `?` could not say, `.` nothing; `y`, `n` for anxious."""
    length = max(len(mood), len(sleep), len(shifts))
    first = last - timedelta(days=length - 1)
    days = {}
    for place in range(length):
        at = first + timedelta(days=place)
        found = {
            "mood": level("mood", mood, place, scales, at),
            "sleep": level("sleep", sleep, place, scales, at),
            "anxious": mark({"y": "yes", "n": "no"}.get(anxious[place : place + 1], "")),
            "shift": shift(shifts[place : place + 1], at),
        }
        if any(found.values()):
            days[at] = Day(at, **found)
    return days


def level(grid: Grid, digits: str, place: int, scales: Scales, at: date) -> Square | None:
    digit = digits[place : place + 1]
    if digit == "?":
        return Square("", "could not say")
    found = scales.on(grid, at).level_for_key(digit) if digit not in ("", ".") else None
    return Square(found.id) if found else None


def mark(value: str, state: State = "kept", basis: Basis = "at the time", late: int = 0) -> Square | None:
    return Square(value, state, basis, late_days=late) if value else None


def shift(code: str, at: date) -> Square | None:
    if code not in KINDS:
        return None
    change = shift_change(at, KINDS[code], CLOCK)
    return Square(change.value, detail=change.detail)


def with_late(days: dict[date, Day], at: date, grid: Grid, basis: Basis, late: int) -> dict[date, Day]:
    square = days[at].square(grid)
    assert square is not None
    late_one: Any = {grid: square._replace(basis=basis, late_days=late)}
    return {**days, at: days[at]._replace(**late_one)}


def page(
    days: Mapping[date, Day],
    choices: Choices = CHOICES,
    options: PageOptions | None = None,
    tested: PageFindings = TESTED,
    today: date = TODAY,
) -> Page:
    return make_page(data(days, choices, options, today), tested)


def data(
    days: Mapping[date, Day],
    choices: Choices = CHOICES,
    options: PageOptions | None = None,
    today: date = TODAY,
) -> PageData:
    return page_data(days, choices, options or PageOptions(), today, CLOCK)


def own_words(wants: tuple[str, ...], changed: tuple[str, ...]) -> Choices:
    return CHOICES._replace(page_lines=PageLines(wants, changed))
