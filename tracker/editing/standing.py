"""Where a person stands, and what stands there: the record as the screens look at it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from tracker import words
from tracker.diary.dates import short_day
from tracker.diary.days import Day
from tracker.diary.errors import TrackerError
from tracker.diary.rota import night_dates
from tracker.diary.scales import Grid, Scale
from tracker.diary.settings import Settings
from tracker.diary.waiting import SquareKey, Waiting
from tracker.editing.day_cache import DayCache
from tracker.grids.descriptions import spoken_rota
from tracker.grids.squares import GridData
from tracker.record.store import Record

Stop = Literal["mood", "sleep", "shift"]
"""Where keys go: a grid, or the shifts."""
NOON = 12


class Standing:
    """The cursor, the grid in focus, and the record under them."""

    def __init__(self, record: Record) -> None:
        record.changed_elsewhere()
        self.record = record
        self.days = DayCache(record)
        self.choices = record.choices()
        self.first = record.first_day()
        self.version = 0
        """Counts changes of the record, so that what was computed from it can be kept until the next."""
        self.cursor = self.today
        self.focus: Stop = "mood"
        self.hidden = self.settings.hide
        self.message = ""
        """What the last key did, or why it did nothing; empty: nothing to say."""
        self._counted: dict[tuple[date, date], int] = {}
        """Squares that wait in spans of days, as far as they were counted."""

    # --- what stands -----------------------------------------------------------------------------

    @property
    def today(self) -> date:
        """The day that is going on."""
        return self.record.clock.today(self.choices.settings.day_change_hour)

    @property
    def last_open_day(self) -> date:
        """The last day that may be kept now."""
        return self.record.clock.last_open_day(self.choices.settings.day_change_hour)

    @property
    def waiting(self) -> Waiting:
        """Which squares wait."""
        return Waiting(self.days, self.first, self.today, self.choices.breaks)

    @property
    def grid_data(self) -> GridData:
        """All of it, as the grids draw it."""
        return GridData(self.waiting, self.choices.scales, self.choices.kinds_by_id, self.hidden)

    @property
    def settings(self) -> Settings:
        """Her settings as they stand."""
        return self.choices.settings

    @property
    def day(self) -> Day:
        """The day under the cursor."""
        return self.days.on(self.cursor)

    @property
    def grid(self) -> Grid:
        """The grid in focus; mood while the shifts are."""
        return "sleep" if self.focus == "sleep" else "mood"

    @property
    def place(self) -> SquareKey:
        """The square under the cursor."""
        return SquareKey(self.cursor, self.grid)

    @property
    def scale(self) -> Scale:
        """The levels that hold on the day under the cursor."""
        return self.choices.scales.on(self.grid, self.cursor)

    def asked(self) -> str:
        """The question that the square under the cursor stands for; empty where it does not wait."""
        if self.focus == "shift" or self.hidden or not self.waiting.waits(self.place):
            return ""
        after_a_night = self._is_night(self.cursor - timedelta(days=1))
        if self.focus == "sleep":
            return self._after_a_night() if after_a_night else words.SLEEP_ASKED
        if self.cursor == self.today and self.record.clock.local(self.record.clock.now()).hour < NOON:
            return f"{words.MOOD_ASKED} ({words.MOOD_AT_THE_END})"
        if self._is_night(self.cursor):
            return f"{self.cursor:%A}, the day of your night shift. {words.MOOD_ASKED}"
        return words.MOOD_ASKED

    def _after_a_night(self) -> str:
        if self.cursor == self.today:
            return words.AFTER_A_NIGHT
        return words.after_an_earlier_night(short_day(self.cursor))

    def rota(self) -> str:
        """The nights and quick returns of the month under the cursor."""
        return spoken_rota(self.grid_data, self.cursor.year, self.cursor.month, self.record.clock)

    def waiting_before(self) -> int:
        """How many squares wait before yesterday."""
        return sum(map(self._waiting_in, self.waiting.older_spans()))

    def _waiting_in(self, span: tuple[date, date]) -> int:
        if span not in self._counted:
            self._counted[span] = self.record.unanswered(*span)
        return self._counted[span]

    def _is_night(self, day: date) -> bool:
        return bool(night_dates([self.days.on(day)], self.choices.kinds_by_id, self.record.clock))

    def set_message(self, sentence: str, hidden: str) -> None:
        """Say what was done; while the grids are hidden, without what it was."""
        self.message = hidden if self.hidden else sentence

    # --- looking again ---

    def refresh(self) -> bool:
        """Take up what another copy of the program has written; whether there was anything."""
        try:
            changed = self.record.changed_elsewhere()
            if changed:
                self.reload()
        except TrackerError as error:
            self.message = str(error)
            return True
        return changed

    def read_again(self, days: set[date]) -> None:
        """Take up what was kept of a few days."""
        self.days.read_again(days)
        for span in [(first, last) for first, last in self._counted if any(first <= d <= last for d in days)]:
            del self._counted[span]
        self.version += 1
        self.choices = self.record.choices()
        if self.first is None or min(days) <= self.first:
            self.first = self.record.first_day()

    def reload(self) -> None:
        """Read everything anew: the days, the choices, the first day."""
        self.days.invalidate()
        self._counted.clear()
        self.version += 1
        self.choices = self.record.choices()
        self.first = self.record.first_day()
