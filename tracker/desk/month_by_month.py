"""Running through the days of a month while catching up, and from one month to the next."""

from __future__ import annotations

from datetime import date, timedelta

from tracker.desk.catching_up import CatchingUp, OldColour, next_empty, sums
from tracker.desk.keeper import Keeper
from tracker.diary.months import each_day
from tracker.diary.scales import Grid
from tracker.record.store import Record


class MonthByMonth(Keeper):
    """Knows which day is filled in next, and when a month is done."""

    def __init__(self, record: Record) -> None:
        super().__init__(record)
        self.month_is_done = False
        """Catching up has come to a month's end."""
        self._caught_first: Grid = "mood"
        """The grid with which each month begins while both are caught up."""

    def catch_up(self, how: CatchingUp) -> None:
        """Begin to fill in the month under the cursor, a key a day."""
        self.catching_up = how
        self.focus = self._caught_first = self.grid
        self._first_of_month()
        if not self.month_is_done:
            self.said = f"Catching up {self.focus}: a digit, x or Space goes on to the next day."

    def stop_catching_up(self) -> None:
        """Go back to a day at a time."""
        self.catching_up, self.month_is_done = None, False
        self.said = "Catching up is over."

    def hush(self) -> None:
        """Take the last sentence back; the sums of a month that is done stay until it is left."""
        if not self.month_is_done:
            self.said = ""

    def sums(self) -> str:
        """The sums of the month that is caught up, to hold against the paper."""
        first, last = self._span()
        days = [self.days.on(day) for day in each_day(first, min(last, self.today))]
        return sums(days, self.scale, first - timedelta(days=self._shift()), len(days))

    def _colour(self, key: str) -> OldColour | None:
        """What a key means by the table of old colours, which is that of one grid."""
        if self.catching_up is None or self.focus != self._caught_first:
            return None
        return self.catching_up.colours.get(key)

    def _shift(self) -> int:
        return self.catching_up.shift(self.focus) if self.catching_up else 0

    def _span(self) -> tuple[date, date]:
        """The days of the month that is caught up; of remembered ones, none before the record began."""
        how = self.catching_up or CatchingUp()
        first, last = how.month(self.cursor, self.focus)
        if self.first and how.basis != "paper" and first < self.first <= self.cursor:
            first = self.first
        return first, last

    def _run_on(self) -> None:
        """To the next empty day of the month; at its end stop and show the sums."""
        found = self._next_empty(self.cursor + timedelta(days=1))
        if found:
            self.cursor = found
        else:
            self._finish_month()

    def _next_empty(self, first: date) -> date | None:
        _, last = self._span()
        if self.focus != "shift":
            last = min(last, self.today)
        return next_empty(self.days, self.choices.breaks, self.focus, first, last)

    def _first_of_month(self) -> None:
        first, _ = self._span()
        found = self._next_empty(first)
        if found:
            self.cursor, self.month_is_done, self.said = found, False, ""
        else:
            self._finish_month()

    def _finish_month(self) -> None:
        if self._goes_on_in_the_other_grid():
            return
        self.month_is_done = True
        if self.focus == "shift":
            self.said = "The month's shifts are in. Enter: next month."
        else:
            self._say(f"{self.sums()}. Enter: next month.", "The month is done. Enter: next month.")

    def _goes_on_in_the_other_grid(self) -> bool:
        if not (self.catching_up and self.catching_up.both and self.focus == self._caught_first):
            return False
        counted, self.focus = self.sums(), other_grid(self._caught_first)
        found = self._next_empty(self._span()[0])
        if found is None:
            self.focus = self._caught_first
            return False
        self.cursor, self.month_is_done = found, False
        self._say(f"{counted}. Now {self.focus}.", f"Now {self.focus}.")
        return True

    def _next_month(self) -> None:
        _, last = self._span()
        if last >= self.today and self.focus != "shift":
            self.said = "The next month is still to come. Esc ends catching up."
            return
        self.cursor, self.month_is_done = last + timedelta(days=1), False
        if self.catching_up and self.catching_up.both and self.focus != "shift":
            self.focus = self._caught_first
        self._first_of_month()


def other_grid(grid: Grid) -> Grid:
    """The grid beside one."""
    return "mood" if grid == "sleep" else "sleep"
