"""Tables of months, seasons, shift kinds and weekdays: what was kept of them, counted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Literal

import numpy as np
import numpy.typing as npt

from tracker.analysis import wording
from tracker.analysis.adjust import day_before
from tracker.analysis.describe import GroupRow, describe
from tracker.analysis.reading import Reading
from tracker.analysis.results import Group
from tracker.analysis.rota_runs import (
    AFTER_NIGHTS,
    NIGHTS,
    QUICK,
    UNHURRIED,
    after_run,
    place_in_run,
    return_of,
)
from tracker.analysis.seasons import Period, months, seasons, years
from tracker.analysis.series import Flags, Series
from tracker.diary.choices import Choices
from tracker.diary.dates import WEEKDAYS

Grouping = Literal["day", "day before", "weekday"]
"""By the shift of the day, by that of the day before, or by the day of the week."""


def named_groups(series: Series, by: Grouping, labels: Mapping[str, str]) -> list[tuple[Group, Flags]]:
    """Return the groups of days that occur, each with its name and its (n,) days.

    Parameters
    ----------
    series : Series
    by : Grouping
    labels : mapping of str to str
        Label of each shift kind, in the person's order; days without a shift belong to no group.
    """
    if by == "weekday":
        days = enumerate(name.capitalize() for name in WEEKDAYS)
        return [(Group(name, name), series.weekdays == number) for number, name in days]
    shift = series.shift if by == "day" else day_before(series.shift)
    return [(Group(kind, labels.get(kind, kind)), shift == kind) for kind in _kinds(shift, labels)]


def _run_groups(reading: Reading, series: Series) -> list[tuple[str, Flags]]:
    """Return the nights of a run, the days after it and the quick returns, each with its (n,) days."""
    night = place_in_run(series.dates, reading.rota.nights)
    after = after_run(series.dates, reading.rota.nights)
    back = return_of(series.dates, reading.rota.working, reading.rota.quick)
    return [
        *((name, night == name) for name in NIGHTS),
        *((name, after == name) for name in AFTER_NIGHTS),
        *((name, back == name) for name in (QUICK, UNHURRIED)),
    ]


def _kinds(shift: npt.NDArray[np.str_], labels: Mapping[str, str]) -> list[str]:
    there = {str(kind) for kind in np.unique(shift)} - {""}
    return [kind for kind in labels if kind in there] + sorted(there - set(labels))


class Tables:
    """The tables of one record from one day to another; each row comes once for mood and once for sleep."""

    def __init__(self, reading: Reading, first: date, last: date, choices: Choices) -> None:
        self._reading = reading
        self._series = reading.series.between(first, last)
        self._names = {"mood": reading.mood.names, "sleep": reading.sleep.names}
        self._hemisphere = choices.settings.hemisphere
        self._labels = {kind.id: kind.label for kind in choices.kinds}

    def months(self) -> tuple[GroupRow, ...]:
        """Return the calendar months."""
        return self._periods(months(self._series.first, self._series.last))

    def years(self) -> tuple[GroupRow, ...]:
        """Return the calendar years."""
        return self._periods(years(self._series.first, self._series.last))

    def seasons(self) -> tuple[GroupRow, ...]:
        """Return the meteorological seasons; near the equator there are none."""
        if self._hemisphere == "equator":
            return ()
        south = self._hemisphere == "south"
        return self._periods(seasons(self._series.first, self._series.last, "south" if south else "north"))

    def shifts(self) -> tuple[GroupRow, ...]:
        """Return the kinds of shift: the days of each, then the days after each."""
        return (
            *self._grouped("day"),
            *self._grouped("day before", wording.DAY_AFTER),
        )

    def runs(self) -> tuple[GroupRow, ...]:
        """Return the nights of a run, the days after it and the quick returns, as far as there are any."""
        groups = _run_groups(self._reading, self._series)
        there = [(name, days) for name, days in groups if days.any()]
        return tuple(row for name, days in there for row in self._rows(name, self._series, days))

    def weekdays(self) -> tuple[GroupRow, ...]:
        """Return Monday to Sunday."""
        return self._grouped("weekday")

    def _grouped(self, by: Grouping, prefix: str = "") -> tuple[GroupRow, ...]:
        groups = named_groups(self._series, by, self._labels)
        return tuple(
            row for group, days in groups for row in self._rows(prefix + group.name, self._series, days)
        )

    def _periods(self, periods: Iterable[Period]) -> tuple[GroupRow, ...]:
        return tuple(row for period in periods for row in self._period(period))

    def _period(self, period: Period) -> list[GroupRow]:
        cut = self._series.between(period.first, period.last)
        return self._rows(period.name, cut, np.ones(len(cut), dtype=bool))

    def _rows(self, name: str, series: Series, days: Flags) -> list[GroupRow]:
        span = (series.first, series.last)
        return [
            describe(name, *span, outcome, days, series.values(outcome), series.anxious, len(levels))
            for outcome, levels in self._names.items()
        ]
