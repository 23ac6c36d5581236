"""A note on the day under the cursor."""

from __future__ import annotations

from collections.abc import Sequence

from tracker import words
from tracker.diary.dates import short_day
from tracker.grids.canvas import CellStyle
from tracker.screens.form import Question
from tracker.screens.form_screen import LEAVE_IT, FormScreen
from tracker.screens.key_commands import Command
from tracker.screens.lines import wrapped

KEEP_NOTE = Command(("enter",), "Enter", "keep", "Keep the note; an empty one takes it away")


class NoteScreen(FormScreen):
    """One line to type in."""

    COMMANDS_HERE = (KEEP_NOTE, LEAVE_IT)
    HEADING = "Note"

    def questions(self) -> list[Question]:
        return [Question("note", short_day(self.editor.state.cursor), self.editor.state.day.note_text)]

    def preface(self) -> Sequence[tuple[str, CellStyle]]:
        return [(words.NO_NAMES_IN_NOTES, self.palette.quiet)]

    def below(self, room: int) -> Sequence[tuple[str, CellStyle]]:
        """The note as a whole, where the row above shows only its end."""
        rows = wrapped(self.form.answers()["note"], self.size.width - 2)
        if len(rows) == 1 or room < 2:
            return ()
        return [("", self.palette.text), *((row, self.palette.quiet) for row in rows[1 - room :])]

    def take(self, answers: dict[str, str]) -> None:
        self.editor.keep_note(answers["note"])
