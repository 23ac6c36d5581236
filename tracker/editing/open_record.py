"""The open record as the screens see it: its days, choices and counts, remembered until they change."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from typing import TypeVar

from tracker import words
from tracker.diary.days import Basis, Change, Day
from tracker.diary.errors import UnwritableRecord
from tracker.diary.scales import GRIDS
from tracker.diary.settings import Settings
from tracker.diary.waiting import Waiting
from tracker.editing.day_cache import DayCache
from tracker.record import draft_rows
from tracker.record.store import Record

Written = TypeVar("Written")


class OpenRecord:
    """A record with what was read of it; whatever is kept is durable when a call returns.

    Every call that writes raises what the record raises, and then nothing is kept.
    """

    def __init__(self, record: Record) -> None:
        record.changed_elsewhere()
        self.record = record
        self.days = DayCache(record)
        self.choices = record.choices()
        self.first_day = record.first_day()
        """The first day with an answer that findings use; None where there is none."""
        self.version = 0
        """Counts changes of the record, so that what was computed from it can be kept until the next."""
        self._counted: dict[tuple[date, date], int] = {}
        """Squares that wait in spans of days, as far as they were counted."""

    # --- reading ---------------------------------------------------------------------------------

    @property
    def settings(self) -> Settings:
        """Her settings as they stand."""
        return self.choices.settings

    @property
    def today(self) -> date:
        """The day that is going on."""
        return self.record.clock.today(self.settings.day_change_hour)

    @property
    def last_open_day(self) -> date:
        """The last day that may be kept now."""
        return self.record.clock.last_open_day(self.settings.day_change_hour)

    @property
    def waiting(self) -> Waiting:
        """Which squares wait."""
        return Waiting(self.days, self.first_day, self.today, self.choices.breaks)

    def waiting_before(self) -> int:
        """How many squares wait before yesterday."""
        return sum(map(self._waiting_in, self.waiting.older_spans()))

    def _waiting_in(self, span: tuple[date, date]) -> int:
        if span not in self._counted:
            self._counted[span] = self.record.unanswered(*span)
        return self._counted[span]

    def refresh(self) -> bool:
        """Take up what another copy of the program has written; whether there was anything."""
        changed = self.record.changed_elsewhere()
        if changed:
            self.reload()
        return changed

    def reload(self) -> None:
        """Read everything anew: the days, the choices, the first day."""
        self.days.invalidate()
        self._counted.clear()
        self.version += 1
        self.choices = self.record.choices()
        self.first_day = self.record.first_day()

    # --- writing ---------------------------------------------------------------------------------

    def save(
        self,
        changes: Iterable[Change],
        basis: Basis | None = None,
        *,
        rebase: bool = False,
        choices: Mapping[str, object] | None = None,
    ) -> None:
        """Keep changes of days as one action, and choices with them: see `Record.keep`."""
        batch = self.record.keep(changes, basis=basis, standing=self.days.on, rebase=rebase, choices=choices)
        self._take_up(batch.days if batch else {})

    def _take_up(self, days: Mapping[date, Day]) -> None:
        """Remember a few days as they stand after they were kept."""
        for day, what in days.items():
            answered = _empty_squares(self.days.on(day)) - _empty_squares(what)
            for first, last in self._counted:
                self._counted[first, last] -= answered if first <= day <= last else 0
        self.days.update(days)
        self.version += 1
        self.choices = self.record.choices()
        counting = {day for day, what in days.items() if what.counts and day <= self.today}
        if self.first_day in days.keys() - counting:
            self.first_day = self.record.first_day()
        elif counting:
            self.first_day = min(self.first_day or date.max, *counting)

    def write(self, act: Callable[[Record], Written]) -> Written:
        """Write something other than answers, and read everything anew."""
        written = act(self.record)
        self.reload()
        return written

    @contextmanager
    def as_one(self) -> Iterator[None]:
        """All that is written inside is durable at the end, or none of it; then all is read anew."""
        try:
            with self.record.transaction():
                yield
        except BaseException:
            self.reload()
            raise

    # --- what is typed and not kept -----------------------------------------------------------------

    def drafts(self, places: Iterable[str]) -> dict[str, str]:
        """What waits at some places; raises DamagedRecord where it cannot be read."""
        return draft_rows.drafts_at(self.record.db, places)

    def day_with_draft(self) -> date | None:
        """The last day at which something waits; raises DamagedRecord where that cannot be read."""
        return draft_rows.last_day(self.record.db)

    def keep_drafts(self, texts: Mapping[str, str], instead_of: Mapping[str, str]) -> None:
        """Let texts wait at their places instead of those that one held there, empty ones no longer.

        Raises UnwritableRecord where no record was begun, which none is for this alone, or where what waits
        was typed in another window since.
        """
        if self.record.is_empty():
            raise UnwritableRecord(words.NO_RECORD_FOR_DRAFTS)
        with self.record.transaction():
            for place, text in self.drafts(texts).items():
                if text not in (instead_of.get(place), texts[place]):
                    raise UnwritableRecord(words.TYPED_ELSEWHERE)
            draft_rows.write(self.record.db, texts)

    def forget_drafts(self, texts: Mapping[str, str]) -> None:
        """Let these wait no more at their places; inside `as_one`, with what is kept instead."""
        with self.record.transaction():
            draft_rows.forget(self.record.db, texts)


def _empty_squares(day: Day) -> int:
    return sum(day.square(grid) is None for grid in GRIDS)
