"""What a reader of the figures has to know: days since the last entry, gaps, nights to come, other levels."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from tracker import words
from tracker.analysis.counts import Count, SideBySide
from tracker.diary.dates import MONTHS
from tracker.diary.rota import runs
from tracker.summary.figures import Column, mood_kept, sleep_kept
from tracker.summary.level_marks import VERSIONS_TOLD
from tracker.summary.page_data import PageData, is_kept
from tracker.summary.page_model import Table
from tracker.summary.thresholds import SHIFTS_ENTERED, UNEVEN

IN_BRACKETS = "( ) fewer than 7 days, or under half of them, kept."
COLUMNS_DIFFER = "The columns differ much in days kept; blank days may have been unlike the others."
AHEAD, RUNS_AHEAD = timedelta(days=28), 3


def remarks(data: PageData, columns: Sequence[Column], figures: Table, found: SideBySide) -> tuple[str, ...]:
    """The sentences under the figures, each only where it is so."""
    sentences = [
        _last_kept(data),
        IN_BRACKETS if figures.has_brackets else "",
        COLUMNS_DIFFER if _differ_much(columns) else "",
        _across_the_limit(data, found),
        _shifts_entered(data),
        _next_nights(data),
        _other_levels(data, columns),
    ]
    return tuple(filter(None, sentences))


def _last_kept(data: PageData) -> str:
    last = max((day.date for day in data.period if is_kept(day)), default=data.last)
    blank = len(data.between(last + timedelta(days=1), data.last))
    return f"Last day kept: {_day(last)}; {words.counted(blank, 'day')} blank since." if blank else ""


def _day(at: date) -> str:
    return f"{at.day} {MONTHS[at.month - 1]}"


def _differ_much(columns: Sequence[Column]) -> bool:
    if len(columns) < 2:
        return False
    recent, before = (column.days for column in columns[:2])
    shares = ((_share(kept(recent)), _share(kept(before))) for kept in (mood_kept, sleep_kept))
    return any(abs(one - other) > UNEVEN for one, other in shares)


def _share(count: Count) -> float:
    return count.number / count.of if count.of else 0.0


def _across_the_limit(data: PageData, found: SideBySide) -> str:
    number = len(found.across)
    if not number:
        return ""
    return f"{words.counted(number, 'sleep')} noted in hours across {data.limit:g} h, in neither count."


def _shifts_entered(data: PageData) -> str:
    days = data.period
    entered = sum(bool(day.shift_kind) for day in days)
    if not data.with_shifts or entered >= SHIFTS_ENTERED * len(days):
        return ""
    return f"Shifts are entered on {entered} of {words.counted(len(days), 'day')}."


def _next_nights(data: PageData) -> str:
    coming = [at for at in data.rota.nights if data.today < at <= data.today + AHEAD]
    spans = runs(coming)[:RUNS_AHEAD]
    told = words.listed([_span(first, last) for first, last in spans])
    return f"Next nights on the rota: {told}." if told else ""


def _span(first: date, last: date) -> str:
    """`1 to 4 December`, `30 November to 2 December`, `4 December`."""
    if first == last:
        return _day(last)
    return f"{first.day if first.month == last.month else _day(first)} to {_day(last)}"


def _other_levels(data: PageData, columns: Sequence[Column]) -> str:
    used = data.levels.versions("mood", [day for column in columns for day in column.days])
    if len(used) < VERSIONS_TOLD:
        return ""
    before, since = used[-2:]
    begins = since.from_day or data.first
    when = _day(begins) if begins.year == data.last.year else f"{_day(begins)} {begins.year}"
    return (
        f"My mood levels are others since {when}: {len(before.levels)} before, {len(since.levels)} since. "
        "Each is counted by itself; do not compare them."
    )
