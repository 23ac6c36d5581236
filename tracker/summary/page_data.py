"""What a page is counted from: the days, her choices, and the period."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.errors import TrackerError, WrongDay
from tracker.diary.months import month_after
from tracker.diary.rota import rota_of
from tracker.diary.scales import Scale
from tracker.summary.counting import Counter, days_between
from tracker.summary.level_marks import Levels

RECENT, BEFORE = 14, 84
"""Days of the two columns of figures."""
MONTHS = 12


@dataclass(frozen=True, slots=True)
class PageOptions:
    """What a person decides about one page."""

    period: tuple[date, date] | None = None
    """First and last day; None: the 14 weeks that end today."""
    note_days: tuple[date, ...] = ()
    """Days whose notes go on the page."""
    shifts: bool | None = None
    """Whether shifts are shown. None: yes, but kinds of her own only as `x`: their names may tell where."""


def usual_period(days: Mapping[date, Day], today: date) -> tuple[date, date]:
    """The 14 weeks that end today, or yesterday while today's mood waits; not before the first day."""
    here = days.get(today)
    last = today if here and here.mood else today - timedelta(days=1)
    last = max(last, min(_kept(days, today), default=last))
    return _first_before(days, last), last


def _first_before(days: Mapping[date, Day], last: date) -> date:
    return max(min(_kept(days, last), default=last), last - timedelta(days=RECENT + BEFORE - 1))


def _kept(days: Mapping[date, Day], last: date) -> list[date]:
    """The days up to the last one with a mood or a sleep, or an answer that neither can be said."""
    return [at for at, day in days.items() if at <= last and day.is_answered]


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
    wishes: PageOptions
    first: date
    last: date
    levels: Levels
    counter: Counter
    with_shifts: bool

    def between(self, first: date, last: date) -> list[Day]:
        """The days from first to last, without the empty ones of marked breaks."""
        return days_between(self.days, first, last, self.choices.breaks)

    @property
    def period(self) -> list[Day]:
        """The days of the period, without the empty ones of marked breaks."""
        return self.between(self.first, self.last)

    @property
    def mood_scales(self) -> list[Scale]:
        """The versions of mood under which the period was kept."""
        return self.levels.versions("mood", self.period)


def ground_of(
    days: Mapping[date, Day], choices: Choices, wishes: PageOptions, today: date, clock: Clock
) -> PageData:
    """Choose the period and make the days ready for counting."""
    first, last = wishes.period or usual_period(days, today)
    levels = Levels(choices.scales)
    counted_days = [day for at, day in days.items() if min(first, months_to(last)[0]) <= at <= last]
    with_shifts = wishes.shifts is not False and any(
        day.shift_kind for day in counted_days if day.date >= first
    )
    rota = rota_of(days.values() if with_shifts else (), choices.kinds_by_id, clock)
    counter = Counter(
        levels,
        frozenset(rota.nights),
        frozenset(rota.quick),
        levels.bound(choices.settings.short_sleep, counted_days),
        today,
    )
    return PageData(days, choices, wishes, first, last, levels, counter, with_shifts)


def months_to(last: date) -> list[date]:
    """The first days of the twelve months that end with that of a day, oldest first."""
    return [date(*month_after(last.year, last.month, -back), 1) for back in reversed(range(MONTHS))]
