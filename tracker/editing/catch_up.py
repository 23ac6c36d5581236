"""Running through the days of a month while catching up, and from one month to the next."""

from __future__ import annotations

from datetime import date, timedelta

from tracker.diary.months import each_day
from tracker.diary.scales import Grid, other_grid
from tracker.editing.catch_up_options import CatchUpOptions, OldColour, next_empty, sums
from tracker.editing.standing import Standing


class CatchUp:
    """Knows which day is filled in next, moves the cursor there, and says when a month is done.

    Parameters
    ----------
    at
        Whose cursor is moved; the month under it is begun with.
    how
        How the squares came about.
    """

    def __init__(self, at: Standing, how: CatchUpOptions) -> None:
        self._at = at
        self.how = how
        self.month_is_done = False
        """It has come to a month's end."""
        self._first: Grid = at.grid
        """The grid with which each month begins while both are caught up."""
        at.focus = at.grid
        self.begin_month()
        if not self.month_is_done:
            at.message = f"Catching up {at.focus}: a digit, x or Space goes on to the next day."

    def colour(self, key: str) -> OldColour | None:
        """What a key means by the table of old colours, which is that of one grid."""
        return self.how.colours.get(key) if self._at.focus == self._first else None

    def is_a_colour(self, key: str) -> bool:
        """Whether a key is in the table of old colours while a grid is caught up, be it the other one."""
        return key in self.how.colours and self._at.focus != "shift"

    def sums(self) -> str:
        """The sums of the month that is caught up, to hold against the paper."""
        at, (first, last) = self._at, self._span()
        days = [at.days.on(day) for day in each_day(first, min(last, at.today))]
        month = first - timedelta(days=self.how.shift(at.focus))
        return sums(days, at.scale, month, len(days))

    def run_on(self) -> None:
        """To the next empty day of the month; at its end stop and show the sums."""
        found = self._next_empty(self._at.cursor + timedelta(days=1))
        if found:
            self._at.cursor = found
        else:
            self.finish_month()

    def begin_month(self) -> None:
        """To the first empty day of the month under the cursor."""
        found = self._next_empty(self._span()[0])
        if found:
            self._at.cursor, self.month_is_done, self._at.message = found, False, ""
        else:
            self.finish_month()

    def finish_month(self) -> None:
        """Go on in the other grid where both are caught up, else show the sums and wait for Enter."""
        if self._goes_on_in_the_other_grid():
            return
        self.month_is_done = True
        if self._at.focus == "shift":
            self._at.message = "The month's shifts are in. Enter: next month."
        else:
            self._at.set_message(
                f"{self.sums()}. Enter: next month.", "The month is done. Enter: next month."
            )

    def refuse_answer(self) -> None:
        """Say that an answer after the month's end was not kept."""
        self.finish_month()
        if self.month_is_done:
            self._at.message = f"Nothing was kept: the month is full. {self._at.message}"

    def next_month(self) -> None:
        """To the first empty day of the month after; none is to come."""
        at, (_, last) = self._at, self._span()
        if last >= at.today and at.focus != "shift":
            at.message = "The next month is still to come. Esc ends catching up."
            return
        at.cursor, self.month_is_done = last + timedelta(days=1), False
        if self.how.both and at.focus != "shift":
            at.focus = self._first
        self.begin_month()

    def _span(self) -> tuple[date, date]:
        """The days of the month that is caught up; of remembered ones, none before the record began."""
        at = self._at
        first, last = self.how.month(at.cursor, at.focus)
        if at.first and self.how.basis != "paper" and first < at.first <= at.cursor:
            first = at.first
        return first, last

    def _next_empty(self, first: date) -> date | None:
        at, (_, last) = self._at, self._span()
        if at.focus != "shift":
            last = min(last, at.today)
        return next_empty(at.days, at.choices.breaks, at.focus, first, last)

    def _goes_on_in_the_other_grid(self) -> bool:
        at = self._at
        if not (self.how.both and at.focus == self._first):
            return False
        counted, at.focus = self.sums(), other_grid(self._first)
        found = self._next_empty(self._span()[0])
        if found is None:
            at.focus = self._first
            return False
        at.cursor, self.month_is_done = found, False
        at.set_message(f"{counted}. Now {at.focus}.", f"Now {at.focus}.")
        return True
