"""Keeping, and taking back: each call is one durable action, or a sentence that says why not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from tracker import words
from tracker.diary.answers import begins_earlier
from tracker.diary.breaks import Break, added, ended, in_break
from tracker.diary.changes import note_change
from tracker.diary.choices import Choices
from tracker.diary.dates import short_day
from tracker.diary.days import Basis, Change
from tracker.diary.errors import TrackerError
from tracker.diary.scales import GRIDS
from tracker.diary.settings import Settings
from tracker.editing.catch_up import CatchUp
from tracker.editing.standing import Standing
from tracker.record.batch_writer import Batch
from tracker.record.store import Record


class Keeper(Standing):
    """Keeps answers, choices and settings, and knows where each was given."""

    def __init__(self, record: Record) -> None:
        super().__init__(record)
        self.catching_up: CatchUp | None = None
        self._began: date | None = self.first
        """The first day of the record before the last action."""

    # --- answers ---

    def keep_note(self, text: str) -> bool:
        """Keep the note of the day under the cursor; an empty one takes it away."""
        return self.keep_answers([note_change(self.cursor, text)], "note")

    def keep_answers(self, changes: list[Change], answer: str) -> bool:
        """Keep several answers of the day under the cursor as one action; False where they cannot be."""
        kept = not changes or self._keep(changes)
        if kept and changes:
            self._say_kept(self.cursor, answer)
        return kept

    def _keep(self, changes: list[Change]) -> bool:
        """Keep changes durably; says why and gives False where they cannot be kept."""
        self._began = self.first
        try:
            self.record.keep(changes, basis=self._basis(changes))
        except TrackerError as error:
            self.message = str(error)
            return False
        self.read_again({change.day for change in changes})
        return True

    def _say_kept(self, day: date, answer: str) -> None:
        """Say what was kept, and where the record begins if that has moved: the verdict days move with it."""
        moved = begins_earlier(self._began, self.first, "u")
        note = f" {moved}" if moved else ""
        self.set_message(f"Kept: {short_day(day)}, {answer}.{note}", f"Kept.{note}")

    def _basis(self, changes: Iterable[Change]) -> Basis | None:
        if self.catching_up is None or any(change.field in ("shift", "note") for change in changes):
            return None
        return self.catching_up.how.basis

    def _choices_for_mood(self) -> Choices:
        if self.catching_up is None:
            return self.choices
        settings = self.settings._replace(not_anxious=self.catching_up.how.not_anxious)
        return self.choices._replace(settings=settings)

    def _is_open(self, day: date | None = None) -> bool:
        """Whether a square of the day may be kept yet; says why not."""
        wanted = day or self.cursor
        if wanted > self.last_open_day:
            self.message = words.still_to_come(short_day(wanted))
        return wanted <= self.last_open_day

    # --- choices ---

    def mark_break(self) -> None:
        """Begin a break on this day, or end the one that holds it: the day is kept again."""
        day, stand = self.cursor, self.choices.breaks
        if not in_break(day, stand):
            breaks = added(stand, Break(day))
            message = self._break_begun(next(span for span in breaks if span.from_day == day))
        else:
            breaks = ended(stand, day)
            is_gone = day in [span.from_day for span in stand]
            message = f"The break from {short_day(day)} is taken away." if is_gone else ""
            message = message or f"The break ends before {short_day(day)}."
        if self._decide(lambda: self.record.keep_breaks(breaks)):
            self.message = message

    def _break_begun(self, span: Break) -> str:
        until = f" to {short_day(span.to_day)}, before the next one" if span.to_day else ""
        ends = "" if span.to_day else " Keep a square, or press b, to end it."
        stay = words.squares_in_a_break(self.record.answered_days(*span))
        return f"A break from {short_day(span.from_day)}{until}: nothing waits in it.{stay}{ends}"

    def choose(self, values: dict[str, object], said: str, what: str = "") -> bool:
        """Keep choices as one action, and say so; says why and gives False where they cannot be kept.

        Undo names them by `what`, or if it is empty by what they are.
        """
        kept = self._decide(lambda: self.record.choose(values, what))
        self.message = said if kept else self.message
        return kept

    def keep_settings(self, settings: Settings) -> bool:
        """Keep settings, which hold at once; says why and gives False where they cannot be kept."""
        said = words.KEPT_FROM_NOW_ON if settings != self.settings else ""
        kept = self._decide(lambda: self.record.keep_settings(settings))
        self.message = said if kept else self.message
        return kept

    def _decide(self, deed: Callable[[], object]) -> bool:
        try:
            deed()
        except TrackerError as error:
            self.message = str(error)
            return False
        self.reload()
        return True

    # --- taking back ---

    def undo(self) -> None:
        """Take the last action back and stand where it was done."""
        self._turn(self.record.undo, "Taken back")

    def redo(self) -> None:
        """Bring the action back that was taken back last."""
        self._turn(self.record.redo, "Brought back")

    def _turn(self, deed: Callable[[], Batch], said: str) -> None:
        try:
            batch = deed()
        except TrackerError as error:
            self.message = str(error)
            return
        self.reload()
        self.set_message(f"{said}: {batch.what}.", f"{said}.")
        self.cursor = batch.day or self.cursor
        grids = [grid for grid in GRIDS if (self.cursor, grid) in batch.squares]
        if grids and self.focus not in ("shift", *grids):
            self.focus = grids[0]
