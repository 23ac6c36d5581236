"""Records of many invented years, the same every time, for whatever is to be measured on them.

python -m tests.benchmarks.many_years RECORD YEARS
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from tracker.diary.changes import anxious_change, note_change, shift_change, sleep_change
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP
from tracker.record.store import Record

SEED = 1852
YEAR = timedelta(days=365.25)
KINDS = {kind.code: kind for kind in DEFAULT_KINDS}
RUNS = ("eeeoo", "lllloo", "nnnnooo", "eelloo", "sssssoo", "nnooo", "ddoo")
NEVER_KEPT = 0.08
"""Share of squares that were never filled."""
NOTE_EVERY = 20
USUAL_HOURS, AFTER_A_NIGHT = 7.0, 5.2
MOOD_CUTS = (-1.35, -0.5, 0.45, 1.3)
CLOCK = Clock(zone=UTC)


@dataclass(frozen=True, slots=True)
class Sitting:
    """What was kept at one moment, as one action."""

    at: datetime
    changes: tuple[Change, ...]


def sittings(first: date, last: date) -> Iterator[Sitting]:
    """Everything kept of the days from first to last: a rota, sleep on getting up, mood in the evening."""
    dice = random.Random(SEED)  # noqa: S311
    night, mood = False, 0.0
    for day, kind in zip(_each(first, last), _rota(dice), strict=False):
        yield Sitting(_at(day, 5), (shift_change(day, KINDS[kind], CLOCK),))
        hours = min(12.0, max(0.0, dice.gauss(AFTER_A_NIGHT if night else USUAL_HOURS, 1.1)))
        mood = 0.6 * mood + 0.2 * (hours - USUAL_HOURS) + dice.gauss(0, 0.7)
        if dice.random() > NEVER_KEPT:
            yield Sitting(_at(day, 8), (sleep_change(day, DEFAULT_SLEEP.level_for_hours(hours)),))
        if dice.random() > NEVER_KEPT:
            level = DEFAULT_MOOD.levels[sum(mood > cut for cut in MOOD_CUTS)]
            anxious = anxious_change(day, dice.random() < 0.15)
            yield Sitting(_at(day, 21), (Change(day, "mood", level.id), anxious))
        if dice.randrange(NOTE_EVERY) == 0:
            yield Sitting(_at(day, 22), (note_change(day, "Points failure at Cawbrook Junction."),))
        night = kind == "n"


def _each(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(days=n) for n in range((last - first).days + 1))


def _rota(dice: random.Random) -> Iterator[str]:
    while True:
        yield from dice.choice(RUNS)


def _at(day: date, hour: int) -> datetime:
    return datetime.combine(day, time(hour, day.toordinal() * 7 % 60), UTC)


def _standing_at(moment: datetime) -> Clock:
    return Clock(now=lambda: moment, zone=UTC)


def fill(path: Path, years: int, last: date) -> None:
    """Make a record of so many years that end on a day; each action stands at its own moment."""
    with Record.open(path) as record, record.transaction():
        for sitting in sittings(last - years * YEAR + timedelta(days=1), last):
            record.clock = _standing_at(sitting.at)
            what = f"{sitting.changes[0].day}, {sitting.changes[0].field}"
            record.keep(sitting.changes, what, basis="at the time", standing=Day, checked=True)


if __name__ == "__main__":
    fill(Path(sys.argv[1]), int(sys.argv[2]), Clock().today() - timedelta(days=1))
