"""What a page is counted from: the days, her choices, and the period."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.diary.breaks import in_break
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.errors import TrackerError, WrongDay
from tracker.diary.months import each_day, month_after
from tracker.diary.own_changes import DatedChange, changes_within
from tracker.diary.rota import Rota, ShiftKind, rota_of
from tracker.summary.level_marks import Levels
from tracker.summary.shift_names import on_the_page
from tracker.summary.thresholds import BEFORE, RECENT

MONTHS = 12
CHANGES_TOLD = 6


@dataclass(frozen=True, slots=True)
class PageOptions:
    """What a person decides about one page."""

    period: tuple[date, date] | None = None
    """First and last day; None: the 14 weeks that end today."""
    note_days: tuple[date, ...] = ()
    """Days whose notes go on the page."""
    shifts: bool | None = None
    """Whether shifts are shown. None: yes, but kinds of her own only as `x`: their names may tell where."""
    changes: bool | None = None
    """Whether her dated changes are shown. None: as the setting says."""
    trial: bool = False
    """Whether the newest trial that has ended is told of."""


def is_kept(day: Day) -> bool:
    """Whether a day was kept: a mood, a sleep, a yes or no to anxious, or that one of them cannot be said."""
    return day.is_answered or day.anxious is not None


def usual_period(days: Mapping[date, Day], today: date) -> tuple[date, date]:
    """The 14 weeks that end today, or yesterday while today's mood waits; not before the first day."""
    here = days.get(today)
    last = today if here and here.mood else today - timedelta(days=1)
    last = max(last, min(_kept(days, today), default=last))
    return _first_before(days, last), last


def _first_before(days: Mapping[date, Day], last: date) -> date:
    return max(min(_kept(days, last), default=last), last - timedelta(days=RECENT + BEFORE - 1))


def _kept(days: Mapping[date, Day], last: date) -> list[date]:
    """The kept days up to the last one."""
    return [at for at, day in days.items() if at <= last and is_kept(day)]


def chosen_period(
    days: Mapping[date, Day], first: date | None, last: date | None, today: date
) -> tuple[date, date]:
    """The first and last day of a page; where one is not chosen, as usual.

    Raises WrongDay for a period that is turned round, still to come, or in which nothing is kept, and
    TrackerError where nothing is kept at all.
    """
    usual = usual_period(days, today)[1]
    period = (first or _first_before(days, last or usual), last or usual)
    if period[0] > period[1]:
        raise WrongDay(
            f"The page would begin on {period[0]}, after it ends on {period[1]}; change one of them."
        )
    if period[1] > today:
        raise WrongDay(f"{period[1]} is still to come; the page can end today at the latest.")
    if not _kept(days, today):
        raise TrackerError("Nothing is kept yet, so there is no page to write; tracker put keeps a day.")
    if not any(at >= period[0] for at in _kept(days, period[1])):
        raise WrongDay(
            f"Nothing is kept from {period[0]} to {period[1]}, so there is no page to write; "
            "choose other days."
        )
    return period


@dataclass(frozen=True, slots=True)
class PageData:
    """What the parts of one page are counted from."""

    days: Mapping[date, Day]
    choices: Choices
    options: PageOptions
    first: date
    last: date
    today: date
    levels: Levels
    rota: Rota
    """Empty where no shifts are on the page."""
    with_shifts: bool

    def between(self, first: date, last: date) -> list[Day]:
        """The days from first to last, empty ones too; of a marked break only what is kept in it."""
        all_days = (self.on(at) for at in each_day(first, last))
        return [day for day in all_days if is_kept(day) or not in_break(day.date, self.choices.breaks)]

    def on(self, at: date) -> Day:
        """A day, empty where nothing stands."""
        return self.days.get(at) or Day(at)

    @property
    def period(self) -> list[Day]:
        """The days of the period, without the empty ones of marked breaks."""
        return self.between(self.first, self.last)

    @property
    def changes(self) -> list[DatedChange]:
        """Her newest changes of the period, where she wants them on the page."""
        chosen = self.options.changes
        if not (self.choices.settings.changes if chosen is None else chosen):
            return []
        return changes_within(self.first, self.last, self.choices.dated_changes)[-CHANGES_TOLD:]

    @property
    def recent(self) -> date:
        """The first of the last two weeks."""
        return max(self.first, self.last - timedelta(days=RECENT - 1))

    @property
    def limit(self) -> float:
        """Hours under which a sleep counts as short."""
        return self.choices.settings.short_sleep

    @property
    def past_nights(self) -> frozenset[date]:
        """Nights of the rota up to yesterday: that of today is still to come."""
        return frozenset(at for at in self.rota.nights if at < self.today)

    def kind(self, day: Day) -> ShiftKind | None:
        """The kind of a day's shift, as it may be named on the page."""
        kind = self.choices.kinds_by_id.get(day.shift_kind) if self.with_shifts else None
        return on_the_page(kind, self.options.shifts is True) if kind else None

    def is_at_a_night(self, day: Day) -> bool:
        """Whether the day has a night or is the day after one."""
        return day.date in self.rota.nights or day.date - timedelta(days=1) in self.rota.nights


def page_data(
    days: Mapping[date, Day], choices: Choices, options: PageOptions, today: date, clock: Clock
) -> PageData:
    """Choose the period and make the days ready for counting."""
    first, last = options.period or usual_period(days, today)
    in_period = (day for at, day in days.items() if first <= at <= last)
    with_shifts = options.shifts is not False and any(day.shift_kind for day in in_period)
    rota = rota_of(days.values() if with_shifts else (), choices.kinds_by_id, clock)
    return PageData(days, choices, options, first, last, today, Levels(choices.scales), rota, with_shifts)


def months_to(last: date) -> list[date]:
    """The first days of the twelve months that end with that of a day, oldest first."""
    return [date(*month_after(last.year, last.month, -back), 1) for back in reversed(range(MONTHS))]
