"""Everything about one day: what stands, to be changed here, and the history of every square."""

from __future__ import annotations

from collections.abc import Sequence

from tracker import words
from tracker.diary.answers import entry_in_words, in_words
from tracker.diary.clock import from_stamp
from tracker.diary.dates import short_day
from tracker.editing.editor import Editor
from tracker.grids.canvas import CellStyle
from tracker.screens.day_form import HoursAndBucket, day_changes, day_questions
from tracker.screens.form import Question
from tracker.screens.form_screen import FormScreen


class DayScreen(FormScreen):
    """One day as a form, with every entry that was ever made of it."""

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.HEADING = f"{short_day(editor.state.cursor)} {editor.state.cursor.year}{shift_times(editor)}"
        self._sleep = HoursAndBucket(
            self.form, editor.kept.choices.scales.on("sleep", editor.state.cursor), editor.kept.choices.scales
        )
        self._history = history_in_words(editor)

    def questions(self) -> list[Question]:
        return day_questions(self.editor.state.day, self.editor.kept.choices)

    def take(self, answers: dict[str, str]) -> None:
        editor = self.editor
        changes = day_changes(
            editor.state.day, answers, self.changes, editor.kept.choices, editor.kept.record.clock
        )
        named = ", ".join(in_words(change, editor.kept.choices) for change in changes)
        editor.keep_answers(changes, named)

    def changed(self) -> None:
        self.error = self._sleep.follow()

    def below(self, room: int) -> Sequence[tuple[str, CellStyle]]:
        lines = self._history or ["nothing was ever kept"]
        unseen = max(len(lines) - max(room - 1, 0), 0)
        head = "History"
        if unseen:
            head += f", {words.counted(unseen, 'earlier entry', 'earlier entries')} not shown"
        return [(head, self.palette.title), *((line, self.palette.quiet) for line in lines[unseen:])]


def history_in_words(editor: Editor) -> list[str]:
    """Every entry that was ever made of the day under the cursor, the oldest first."""
    record, turned_by = editor.kept.record, editor.kept.record.turned_by(editor.state.cursor)
    return [
        entry_in_words(entry, editor.kept.choices, record.clock, turned_by.get(entry.batch, ""))
        for entry in record.history(editor.state.cursor)
    ]


def shift_times(editor: Editor) -> str:
    """The times of the day's shift, as they were kept."""
    shift = editor.state.day.shift
    if shift is None or not shift.detail.get("end"):
        return ""
    clock = editor.kept.record.clock
    start, end = (clock.local(from_stamp(shift.detail[at])) for at in ("start", "end"))
    kind = editor.kept.choices.kinds_by_id.get(shift.value)
    label = kind.label if kind else shift.value
    return f"   {label} {start:%H:%M} to {end:%H:%M}"
