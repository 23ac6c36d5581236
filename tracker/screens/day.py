"""Everything about one day: what stands, to be changed here, and the history of every square."""

from __future__ import annotations

from collections.abc import Sequence

from tracker import words
from tracker.desk.desk import Desk
from tracker.diary.answers import entry_in_words, in_words
from tracker.diary.clock import from_stamp
from tracker.diary.dates import short_day
from tracker.grids.picture import Look
from tracker.screens.day_form import HoursAndBucket, day_changes, day_questions
from tracker.screens.form import Question
from tracker.screens.form_screen import FormScreen


class DayScreen(FormScreen):
    """One day as a form, with every entry that was ever made of it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.HEADING = f"{short_day(desk.cursor)} {desk.cursor.year}{shift_times(desk)}"
        self._sleep = HoursAndBucket(
            self.form, desk.choices.scales.on("sleep", desk.cursor), desk.choices.scales
        )
        self._history = history_in_words(desk)

    def questions(self) -> list[Question]:
        return day_questions(self.desk.day, self.desk.choices)

    def take(self, answers: dict[str, str]) -> None:
        desk = self.desk
        changes = day_changes(desk.day, answers, self.changes, desk.choices, desk.record.clock)
        named = ", ".join(in_words(change, desk.choices) for change in changes)
        if not desk.keep_answers(changes, named):
            self.trouble = desk.said

    def changed(self) -> None:
        self.trouble = self._sleep.follow()

    def below(self, room: int) -> Sequence[tuple[str, Look]]:
        lines = self._history or ["nothing was ever kept"]
        unseen = max(len(lines) - max(room - 1, 0), 0)
        head = "History"
        if unseen:
            head += f", {words.counted(unseen, 'earlier entry', 'earlier entries')} not shown"
        return [(head, self.palette.title), *((line, self.palette.quiet) for line in lines[unseen:])]


def history_in_words(desk: Desk) -> list[str]:
    """Every entry that was ever made of the day under the cursor, the oldest first."""
    record, turned_by = desk.record, desk.record.turned_by(desk.cursor)
    return [
        entry_in_words(entry, desk.choices, record.clock, turned_by.get(entry.batch, ""))
        for entry in record.history(desk.cursor)
    ]


def shift_times(desk: Desk) -> str:
    """The times of the day's shift, as they were kept."""
    shift = desk.day.shift
    if shift is None or not shift.detail.get("end"):
        return ""
    clock = desk.record.clock
    start, end = (clock.local(from_stamp(shift.detail[at])) for at in ("start", "end"))
    kind = desk.choices.kinds_by_id.get(shift.value)
    label = kind.label if kind else shift.value
    return f"   {label} {start:%H:%M} to {end:%H:%M}"
