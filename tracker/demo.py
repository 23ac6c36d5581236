"""Two invented years of a relief signaller on the Harrowmere line.

Short sleep before a day lowers its mood: this is put in, and the findings should find it. A wave over
the year is put in as well, which two years are too few to tell from chance. Of two trials ear plugs do
lengthen the sleep, and the other is too short to show what it tries.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from tracker.diary.breaks import Break
from tracker.diary.changes import answer, anxious_change, note_change, shift_change, sleep_change
from tracker.diary.clock import Clock
from tracker.diary.dates import short_day
from tracker.diary.days import Change
from tracker.diary.own_changes import DatedChange
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Level
from tracker.diary.trial import Trial
from tracker.record.change_rows import change_value
from tracker.record.choice_rows import break_value, kind_value
from tracker.record.store import Record
from tracker.record.trial_rows import trial_value

SEED = 1852
LENGTH = 731
"""Days: two whole years, wherever 29 February falls."""
AHEAD = 14
"""Days of rota that are known already."""

ROTA_RUNS = ("EEEEOO", "LLLLOO", "NNNNOOO", "EELLOO", "LLEEOO", "SSSSSOO", "NNNOO", "LLNNOOO", "EEEOO")
KIND_OF = {"E": "early", "L": "late", "N": "night", "S": "standard", "O": "off", "V": "leave"}
LEAVE_FROM = (160, 341, 523)
LEAVE_LENGTH = 12
BREAK_FROM, BREAK_LENGTH = 163, 8
"""Away at the sea in the first year, the record left at home."""
LATE_CATCHING_UP = range(262, 266)
"""Days that are remembered three weeks later."""

RAILWAY_HOURS = {
    "standard": (time(8), time(16)),
    "early": (time(6), time(14)),
    "late": (time(14), time(22)),
    "night": (time(22), time(6)),
}
SLEEP_BEFORE = {"early": 6.1, "late": 7.4, "standard": 7.0, "night": 7.8, "off": 7.8, "leave": 8.0}
"""Usual hours before a day, by its shift."""
BETWEEN_NIGHTS, AFTER_LAST_NIGHT, NIGHT_AFTER_THAT, LATE_THEN_EARLY = 5.8, 4.4, 9.0, 5.2
SPREAD, SPREAD_BY_DAY = 0.9, 1.2
CARRY_OVER = 0.1
GAP, GAP_GROWS, GAP_AFTER_NIGHTS = 0.08, 0.05, 0.31
"""Share of days with a square that was never filled; it grows over the two years."""

EAR_PLUGS_FROM, EAR_PLUGS_PAIRS = 380, 16
EAR_PLUGS_HOURS = 0.9
"""What ear plugs add to a sleep: the planted effect of the first trial."""
NO_COFFEE_FROM, NO_COFFEE_PAIRS = 570, 8

OWN_PAST = 0.6
PER_HOUR = 0.22
"""What an hour more of sleep before the day does to its mood: the planted link."""
USUAL_HOURS = 6.8
DAY_TO_DAY = 0.62
WAVE = 0.16
BRIGHTEST_DAY = 190
MOOD_CUTS = (-1.35, -0.5, 0.45, 1.3)

NOTES = (
    "Points failure at Cawbrook Junction, stayed on until the gang had it moving.",
    "Fog all the way to Selderby Halt, single line working until ten.",
    "Walked the towpath at Wenfold before the late turn. Herons.",
    "New relief roster came. Three boxes in one week again.",
    "The kettle in the box at Selderby gave up. Cold tea.",
    "Choir in Harrowmere, first time since the spring.",
    "Slept on the settee with the curtains open, woken by the post.",
    "Lamp out on the down distant, two hours of talking trains past it.",
    "Long talk with my sister, felt lighter after.",
    "Training day on the new panel at Harrowmere.",
    "Headache until noon.",
    "Coffee after midnight was a mistake.",
    "Cycled to Wenfold and back, wind from the side both ways.",
    "Sheep on the line below Cawbrook, nobody hurt.",
    "Neighbour's roof being mended, no sleep to speak of.",
    "Quiet turn, read half a book.",
    "Forgot the dentist. New appointment in three weeks.",
    "Level crossing gate stuck, forty minutes of apologies.",
    "Baked bread, the first in months.",
    "Changed turns with a mate so that he could go to the wedding.",
    "Snow at Selderby, brushed the points by hand.",
    "Could not settle after the night, mind still on the bell codes.",
    "Allotment with the neighbours, beans are up.",
    "Train of ballast ran four hours late and so did I.",
    "Earplugs help. Bought a better pair.",
    "Rained in at Wenfold, cards with the ganger.",
    "Somebody left flowers in the box. No idea who.",
    "Union meeting went on and on.",
    "Saw the comet from the signal box steps.",
    "Nothing wrong, only flat.",
)
WANTS = (
    "To talk about sleep around nights, and whether the low days go with it.",
    "To know what I could try before the next run of nights.",
)
DATED_CHANGES = {492: "tablets started", 569: "moved to Selderby box"}
"""By their place among the days."""
CHANGED = (
    "Short of sleep after nights for about a year. Gave up choir for a while.",
    "Tried earplugs and no coffee after midnight: a little better. No medicines.",
)


class InventedDay(NamedTuple):
    """A day as it was, before anything of it was kept or forgotten."""

    date: date
    kind: str
    """Id of the shift kind."""
    hours: float
    """Slept before the day, to the quarter hour."""
    mood: int
    """1 to 5."""
    anxious: bool
    after_nights: bool
    """Whether it follows a night shift, or the day after the last one of a run."""


class Sitting(NamedTuple):
    """One time at which something was kept."""

    at: datetime
    """Local wall clock."""
    changes: tuple[Change, ...]
    what: str = ""
    """The action in words, where its answers do not say enough."""


def last_sunday(today: date) -> date:
    """The last Sunday before a day, so that the demo's days are over."""
    return today - timedelta(days=today.weekday() + 1)


def invented_days(last: date) -> list[InventedDay]:
    """The two years that end on a day: the same for the same day, always."""
    dice = random.Random(SEED)  # noqa: S311
    first = last - timedelta(days=LENGTH - 1)
    kinds = _rota(dice)
    days: list[InventedDay] = []
    tried = trials(last)
    spare, mood = 0.0, 0.0
    for place in range(LENGTH):
        day = first + timedelta(days=place)
        usual, spread = usual_sleep(kinds, place)
        spare = CARRY_OVER * spare + dice.gauss(0, spread)
        hours = min(12.0, max(0.0, round(4 * (usual + spare + _ear_plugs(tried, day))) / 4))
        mood = OWN_PAST * mood + PER_HOUR * (hours - USUAL_HOURS) + dice.gauss(0, DAY_TO_DAY)
        level = 1 + sum(mood + _wave(day) > cut for cut in MOOD_CUTS)
        anxious = dice.random() < 0.05 + 0.2 * (level <= 2) + 0.08 * (hours < 5)
        days.append(InventedDay(day, kinds[place], hours, level, anxious, _after_nights(kinds, place)))
    return days


def trials(last: date) -> tuple[Trial, Trial]:
    """Her two trials, both long over: ear plugs, and no coffee after noon."""
    first = last - timedelta(days=LENGTH - 1)
    plugs = Trial(
        "earplugs", "ear plugs", "no ear plugs", "sleep", "higher", first + timedelta(days=EAR_PLUGS_FROM),
        block_days=4, washout=1, pairs=EAR_PLUGS_PAIRS, seed="1852" * 16,
    )  # fmt: skip
    coffee = Trial(
        "coffee", "no coffee after noon", "as usual", "mood", "higher",
        first + timedelta(days=NO_COFFEE_FROM),
        block_days=7, washout=2, pairs=NO_COFFEE_PAIRS, seed="4907" * 16,
    )  # fmt: skip
    return plugs, coffee


def _ear_plugs(tried: tuple[Trial, Trial], day: date) -> float:
    """Hours that the ear plugs add to the sleep before a day."""
    block = tried[0].block_of(day)
    return EAR_PLUGS_HOURS if block and block.arm == "A" else 0.0


def rota_ahead(last: date) -> list[tuple[date, str]]:
    """The days after the last one whose shifts are known already, each with its kind."""
    kinds = _rota(random.Random(SEED))  # noqa: S311
    return [(last + timedelta(days=n + 1), kinds[LENGTH + n]) for n in range(AHEAD)]


def fill(record: Record, last: date) -> None:
    """Keep the two invented years in an empty record, each entry as if at its own time."""
    own = record.clock
    try:
        with record.transaction():
            _begin(record, last)
            for trial in trials(last):
                _sit_down(record, datetime.combine(trial.first - timedelta(days=1), time(20)), own)
                record.choose(trial_value(trial))
            for change in dated_changes(last):
                _sit_down(record, datetime.combine(change.day, time(20)), own)
                record.choose(change_value(change))
            for sitting in sittings(invented_days(last), own):
                _sit_down(record, sitting.at, own)
                record.keep(sitting.changes, sitting.what, source="demo")
    finally:
        record.clock = own


def dated_changes(last: date) -> list[DatedChange]:
    """What she noted as changed in the second year; nothing in the days follows from it."""
    first = last - timedelta(days=LENGTH - 1)
    return [DatedChange(first + timedelta(days=place), words) for place, words in DATED_CHANGES.items()]


def sittings(days: list[InventedDay], clock: Clock) -> list[Sitting]:
    """Everything she kept of the days, in order of time: with gaps, late entries and few notes."""
    dice = random.Random(SEED + 1)  # noqa: S311
    kept = [*_rota_sittings(days, clock), *_note_sittings(days, dice)]
    for place, day in enumerate(days):
        kept += _sittings_of(day, place, dice)
    return sorted(kept, key=lambda sitting: sitting.at)


def railway_kinds() -> dict[str, ShiftKind]:
    """The shift kinds of the line by id."""
    kinds = {kind.id: kind for kind in DEFAULT_KINDS}
    for id, (start, end) in RAILWAY_HOURS.items():
        kinds[id] = kinds[id]._replace(start=start, end=end)
    return kinds


def usual_sleep(kinds: list[str], place: int) -> tuple[float, float]:
    """Usual hours before a day of the rota, and their spread."""
    today, yesterday, before = kinds[place], *(kinds[place - n] if place >= n else "off" for n in (1, 2))
    if yesterday == "night":
        return (BETWEEN_NIGHTS if today == "night" else AFTER_LAST_NIGHT), SPREAD_BY_DAY
    if before == "night":
        return NIGHT_AFTER_THAT, SPREAD
    if yesterday == "late" and today == "early":
        return LATE_THEN_EARLY, SPREAD
    return SLEEP_BEFORE[today], SPREAD


def _rota(dice: random.Random) -> list[str]:
    runs: list[str] = []
    while sum(map(len, runs)) < LENGTH + AHEAD:
        runs.append(dice.choice([run for run in ROTA_RUNS if run not in runs[-2:]]))
    letters = list("".join(runs))
    for start in LEAVE_FROM:
        letters[start : start + LEAVE_LENGTH] = "V" * LEAVE_LENGTH
    return [KIND_OF[letter] for letter in letters]


def _wave(day: date) -> float:
    return WAVE * math.cos(2 * math.pi * (day.timetuple().tm_yday - BRIGHTEST_DAY) / 365.25)


def _after_nights(kinds: list[str], place: int) -> bool:
    return "night" in kinds[max(0, place - 2) : place]


# --- what she kept ------------------------------------------------------------------------------


def _sittings_of(day: InventedDay, place: int, dice: random.Random) -> Iterator[Sitting]:
    """The sittings at which the squares of a day were filled, if they were."""
    gap = GAP_AFTER_NIGHTS if day.after_nights else GAP + GAP_GROWS * place / LENGTH
    chance, which, late = dice.random(), dice.random(), dice.random()
    sleep, mood = _sleep_sittings(day, dice), [_mood_sitting(day, dice)]
    if _is_away(place):
        return
    if place in LATE_CATCHING_UP:
        yield _catching_up(day, LATE_CATCHING_UP.stop + 18 - place, dice)
    elif place in (0, LENGTH - 1) or chance >= gap:
        yield from [*sleep, *mood]
    elif chance >= 0.7 * gap:
        yield from sleep if which < 0.5 else mood
    elif late < 0.25:
        yield _catching_up(day, 3 + int(20 * late), dice)


def _is_away(place: int) -> bool:
    return BREAK_FROM <= place < BREAK_FROM + BREAK_LENGTH


def _catching_up(day: InventedDay, days_after: int, dice: random.Random) -> Sitting:
    return Sitting(_evening(day, days_after, dice), (_sleep(day), *_mood(day)))


def _sleep_sittings(day: InventedDay, dice: random.Random) -> list[Sitting]:
    """One sitting on getting up; now and then `could not say`, or a slip that is put right later."""
    at, slip, exact = _getting_up(day, dice), dice.random(), dice.random() < 0.3
    if slip < 0.007:
        return [Sitting(at, (answer(day.date, "sleep", "could not say"),))]
    right = Sitting(at, (_sleep(day, exact),))
    if slip > 0.02:
        return [right]
    rough = DEFAULT_SLEEP.level_for_hours(min(12.0, day.hours + 1))
    wrong = Sitting(at, (sleep_change(day.date, rough),))
    return [wrong, right._replace(at=at + timedelta(minutes=95))]


def _mood_sitting(day: InventedDay, dice: random.Random) -> Sitting:
    at, could_not_say = _evening(day, 0, dice), dice.random() < 0.015
    if could_not_say:
        return Sitting(at, (answer(day.date, "mood", "could not say"),))
    return Sitting(at, _mood(day))


def _sleep(day: InventedDay, exact: bool = False) -> Change:
    return sleep_change(day.date, DEFAULT_SLEEP.level_for_hours(day.hours), day.hours if exact else None)


def _mood(day: InventedDay) -> tuple[Change, Change]:
    level: Level = DEFAULT_MOOD.levels[day.mood - 1]
    return Change(day.date, "mood", level.id), anxious_change(day.date, day.anxious)


def _getting_up(day: InventedDay, dice: random.Random) -> datetime:
    """When the sleep of a day was kept: on getting up, in the afternoon after a night."""
    hour = {"early": 4, "standard": 6, "late": 8}.get(day.kind, 8)
    if day.after_nights and day.hours < 7:
        hour = 14
    return datetime.combine(day.date, time(hour, 10)) + timedelta(minutes=dice.randrange(45))


def _evening(day: InventedDay, days_after: int, dice: random.Random) -> datetime:
    """When the mood of a day was kept: late in the evening, or coming home from the night."""
    at = time(21, 5)
    if day.kind == "night" and not days_after:
        days_after, at = 1, time(6, 25)
    return datetime.combine(day.date + timedelta(days=days_after), at) + timedelta(minutes=dice.randrange(50))


def _note_sittings(days: list[InventedDay], dice: random.Random) -> Iterator[Sitting]:
    """Each note once, spread over the two years."""
    notes = dice.sample(NOTES, len(NOTES))
    at_home = [day for place, day in enumerate(days) if not _is_away(place)]
    for note, day in zip(notes, dice.sample(at_home, len(notes)), strict=True):
        yield Sitting(datetime.combine(day.date, time(20, 40)), (note_change(day.date, note),))


def _rota_sittings(days: list[InventedDay], clock: Clock) -> Iterator[Sitting]:
    """The rota, four weeks at a time, put in five days before it begins."""
    kinds = railway_kinds()
    known = [(day.date, day.kind) for day in days] + rota_ahead(days[-1].date)
    for start in range(0, len(known), 28):
        part = known[start : start + 28]
        before = timedelta(days=5 if start else 0)
        yield Sitting(
            datetime.combine(part[0][0] - before, time(4, 5)),
            tuple(shift_change(day, kinds[kind], clock) for day, kind in part),
            f"rota from {short_day(part[0][0])}",
        )


# --- into the record ----------------------------------------------------------------------------


def _begin(record: Record, last: date) -> None:
    """Her shift kinds, her lines for the appointment, and the time away."""
    first = last - timedelta(days=LENGTH - 1)
    _sit_down(record, datetime.combine(first, time(4, 1)), record.clock)
    kinds = [kind for kind in railway_kinds().values() if kind.id in RAILWAY_HOURS]
    record.choose({name: value for kind in kinds for name, value in kind_value(kind).items()})
    record.choose({"page.wants": list(WANTS), "page.changed": list(CHANGED)})
    away = first + timedelta(days=BREAK_FROM)
    record.choose(break_value(Break(away, away + timedelta(days=BREAK_LENGTH - 1))))


def _sit_down(record: Record, at: datetime, own: Clock) -> None:
    """Move the record's clock to a moment of the invented years."""
    moment = own.moment(at.date(), at.time())
    record.clock = Clock(now=lambda: moment, zone=own.zone)
