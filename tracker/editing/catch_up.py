"""Catching up: a month of one grid is filled in, a key a day, and ends with its sums."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import NamedTuple

from tracker.diary.breaks import in_break
from tracker.diary.dates import MONTHS
from tracker.diary.days import Basis, Field
from tracker.diary.months import each_day, length_of_month
from tracker.diary.scales import Grid, other_grid
from tracker.editing.open_record import OpenRecord
from tracker.editing.state import EditorState, Focus
from tracker.words import counted


class OldColour(NamedTuple):
    """What one colour of an old paper grid meant."""

    level: str | None
    """Id of the level; None: could not say."""
    anxious: bool = False


NO_COLOURS: Mapping[str, OldColour] = MappingProxyType({})


class CatchUpOptions(NamedTuple):
    """How the squares that are put in now came about."""

    basis: Basis | None = None
    """`paper`: written down at the time. None: remembered, where the day is long enough ago."""
    days_later: int = 0
    """1 where the old grid puts a night's sleep under the day on which it began."""
    both: bool = False
    """Whether each month's row of one grid is followed by that of the other."""
    not_anxious: bool = False
    """Whether a mood without the mark means `not anxious`."""
    colours: Mapping[str, OldColour] = NO_COLOURS
    """Key to press, and what that colour of the old grid meant."""

    def shift(self, field: Field) -> int:
        """Days from the old grid's day to ours; only a sleep can lie under another one."""
        return self.days_later if field == "sleep" else 0

    def paper_day(self, day: date, field: Field) -> date:
        """The day of the old grid that stands for one of ours."""
        return day - timedelta(days=self.shift(field))

    def month(self, day: date, field: Field) -> tuple[date, date]:
        """Our first and last day of the old grid's month that holds a day."""
        on_paper = self.paper_day(day, field)
        first = on_paper.replace(day=1)
        last = on_paper.replace(day=length_of_month(on_paper.year, on_paper.month))
        later = timedelta(days=self.shift(field))
        return first + later, last + later


class CatchUp:
    """Knows which day is filled in next, moves the cursor there, and says when a month is full.

    Parameters
    ----------
    state
        Whose cursor is moved; the month under it is begun with.
    """

    def __init__(self, state: EditorState, kept: OpenRecord, options: CatchUpOptions) -> None:
        self._state = state
        self._kept = kept
        self.options = options
        self.month_is_full = False
        """It has come to a month's end."""
        self._first: Grid = state.grid
        """The grid with which each month begins while both are caught up."""
        state.focus = state.grid
        self.begin_month()
        if not self.month_is_full:
            x, space = map(state.sign, ("x", "Space"))
            state.message = f"Catching up {state.focus}: a digit, {x} or {space} goes on to the next day."

    def colour(self, letter: str) -> OldColour | None:
        """What a letter means by the table of old colours, which is that of one grid."""
        return self.options.colours.get(letter) if self._state.focus == self._first else None

    def is_a_colour(self, letter: object) -> bool:
        """Whether a letter is in the table of old colours while a grid is caught up, be it the other one."""
        return letter in self.options.colours and self._state.focus != "shift"

    def run_on(self) -> None:
        """To the next empty day of the month; at its end stop and show the sums."""
        found = self._next_empty(self._state.focus, self._state.cursor + timedelta(days=1))
        if found:
            self._state.cursor = found
        else:
            self._finish_month()

    def begin_month(self) -> None:
        """To the first empty day of the month under the cursor."""
        found = self._first_empty(self._state.focus)
        if found:
            self._state.cursor, self.month_is_full, self._state.message = found, False, ""
        else:
            self._finish_month()

    def _finish_month(self) -> None:
        """Show the sums and what Enter goes on with; nothing is filled in until then."""
        self.month_is_full = True
        follows = self._follows()
        ask = f"Enter: {follows}." if follows else "The next month is still to come. Esc ends catching up."
        if self._state.focus == "shift":
            self._state.message = f"The month's shifts are in. {ask}"
        else:
            self._state.set_message(f"{self._sums()}. {ask}", f"The month is done. {ask}")

    def refuse_answer(self) -> None:
        """Say that an answer after the month's end was not kept."""
        self._finish_month()
        self._state.message = f"Nothing was kept: the month is full. {self._state.message}"

    def next_month(self) -> None:
        """To the other grid of the month where it waits, or to the first empty day of the month after."""
        state = self._state
        if not self._follows():
            self._finish_month()
            return
        if self._other_waits():
            state.focus = other_grid(self._first)
        else:
            state.cursor = self._span(state.focus)[1] + timedelta(days=1)
            if self.options.both and state.focus != "shift":
                state.focus = self._first
        self.begin_month()

    def _follows(self) -> str:
        """What comes after this month of this grid; empty where it is still to come."""
        focus = self._state.focus
        if self._other_waits():
            return f"its {other_grid(self._first)}"
        is_last = focus != "shift" and self._span(focus)[1] >= self._kept.today
        return "" if is_last else "next month"

    def _other_waits(self) -> bool:
        """Whether both grids are caught up and the second one of this month has an empty day."""
        return (
            self.options.both
            and self._state.focus == self._first
            and self._first_empty(other_grid(self._first)) is not None
        )

    def _span(self, focus: Focus) -> tuple[date, date]:
        """The days of the month that is caught up; of remembered ones, none before the record began."""
        cursor, begins = self._state.cursor, self._kept.first_day
        first, last = self.options.month(cursor, focus)
        if begins and self.options.basis != "paper" and first < begins <= cursor:
            first = begins
        return first, last

    def _first_empty(self, focus: Focus) -> date | None:
        return self._next_empty(focus, self._span(focus)[0])

    def _next_empty(self, focus: Focus, first: date) -> date | None:
        """The first day from one on of the month on which nothing stands, outside of breaks."""
        _, last = self._span(focus)
        if focus != "shift":
            last = min(last, self._kept.today)
        days, breaks = self._kept.days, self._kept.choices.breaks
        empty = (
            day
            for day in each_day(first, last)
            if days.on(day).square(focus) is None and not in_break(day, breaks)
        )
        return next(empty, None)

    def _sums(self) -> str:
        """The month's check sums, to hold against the paper.

        `March: 31 of 31 days; digit 5: 4 days, 4: 9, 3: 12, 2: 5, 1: 1, a: 3`
        """
        grid, scale = self._state.grid, self._state.scale
        first, last = self._span(grid)
        days = [self._kept.days.on(day) for day in each_day(first, min(last, self._kept.today))]
        squares = [square for day in days if (square := day.square(grid))]
        counts = [
            (level.mark, sum(square.value == level.id for square in squares))
            for level in reversed(scale.levels)
        ]
        counts.append(("?", sum(not square.is_kept for square in squares)))
        counts.append(("a", sum(grid == "mood" and day.is_anxious is True for day in days)))
        named = [(mark, number) for mark, number in counts if number]
        listed = ", ".join(
            f"{mark}: {number}" if at else f"; digit {mark}: {counted(number, 'day')}"
            for at, (mark, number) in enumerate(named)
        )
        month = MONTHS[self.options.paper_day(first, grid).month - 1]
        return f"{month}: {len(squares)} of {counted(len(days), 'day')}{listed}"
