"""Where she stands at the grids: the cursor, where keys go, what the last one did, and what is asked."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Literal

from tracker import words
from tracker.diary.dates import short_day
from tracker.diary.days import Day
from tracker.diary.rota import night_dates
from tracker.diary.scales import Grid, Scale
from tracker.diary.waiting import SquareKey
from tracker.editing.open_record import OpenRecord
from tracker.grids.descriptions import spoken_rota
from tracker.grids.squares import GridData

Focus = Literal["mood", "sleep", "shift"]
"""Where keys go: a grid, or the shifts."""
NOON = 12


class EditorState:
    """The cursor on an open record, with what stands under it."""

    def __init__(self, kept: OpenRecord, sign: Callable[[str], str]) -> None:
        self._kept = kept
        self.sign = sign
        """How a key is written; she may press others than the built-in ones."""
        self.cursor = kept.today
        self.focus: Focus = "mood"
        self.hidden = kept.settings.hide
        self.awaiting: Literal["", "hours", "shift"] = ""
        """What the next key belongs to: the hours after a `1`, or the letter of a shift."""
        self.message = ""
        """What the last key did, or why it did nothing; empty: nothing to say."""

    def set_message(self, sentence: str, hidden: str) -> None:
        """Say what was done; while the grids are hidden, without what it was."""
        self.message = hidden if self.hidden else sentence

    @property
    def day(self) -> Day:
        """The day under the cursor."""
        return self._kept.days.on(self.cursor)

    @property
    def grid(self) -> Grid:
        """The grid in focus; mood while the shifts are."""
        return "sleep" if self.focus == "sleep" else "mood"

    @property
    def square(self) -> SquareKey:
        """The square under the cursor."""
        return SquareKey(self.cursor, self.grid)

    @property
    def scale(self) -> Scale:
        """The levels that hold on the day under the cursor."""
        return self._kept.choices.scales.on(self.grid, self.cursor)

    @property
    def grid_data(self) -> GridData:
        """All of it, as the grids draw it."""
        kept = self._kept
        return GridData(
            kept.waiting,
            kept.choices.scales,
            kept.choices.kinds_by_id,
            self.hidden,
            {change.day: change.words for change in kept.choices.dated_changes},
            short_limit=kept.settings.short_sleep,
            clock=kept.record.clock,
            trials=kept.choices.trials,
        )

    def rota(self) -> str:
        """The nights and quick returns of the month under the cursor."""
        return spoken_rota(self.grid_data, self.cursor.year, self.cursor.month, self._kept.record.clock)

    def asked(self) -> str:
        """The question that the square under the cursor stands for; empty where it does not wait."""
        if self.focus == "shift" or self.hidden or not self._kept.waiting.waits(self.square):
            return ""
        after_a_night = self._is_night(self.cursor - timedelta(days=1))
        if self.focus == "sleep":
            return self._after_a_night() if after_a_night else words.SLEEP_ASKED
        clock = self._kept.record.clock
        if self.cursor == self._kept.today and clock.local(clock.now()).hour < NOON:
            return f"{words.MOOD_ASKED} ({words.MOOD_AT_THE_END})"
        if self._is_night(self.cursor):
            return f"{self.cursor:%A}, the day of your night shift. {words.MOOD_ASKED}"
        return words.MOOD_ASKED

    def _after_a_night(self) -> str:
        if self.cursor == self._kept.today:
            return words.AFTER_A_NIGHT
        return words.after_an_earlier_night(short_day(self.cursor))

    def _is_night(self, day: date) -> bool:
        kept = self._kept
        return bool(night_dates([kept.days.on(day)], kept.choices.kinds_by_id, kept.record.clock))
