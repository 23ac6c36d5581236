"""A note on the day under the cursor."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Static

from tracker import words
from tracker.diary.dates import short_day
from tracker.record.draft_rows import place_of
from tracker.screens import bindings
from tracker.screens.form_screen import ModalForm, Question


class NoteScreen(ModalForm):
    """A text to type, wrapped as it stands."""

    BINDINGS = bindings.NOTE_OF_A_DAY
    HEADING = "Note"

    def questions(self) -> list[Question]:
        editor = self.editor
        return [Question("note", short_day(editor.state.cursor), editor.state.day.note_text, is_long=True)]

    def preface(self) -> ComposeResult:
        yield Static(words.NO_NAMES_IN_NOTES, classes="preface", markup=False)

    def place(self, question: Question) -> str:
        return place_of(question.name, self.state.cursor)

    def submit(self, answers: dict[str, str]) -> None:
        self.editor.keep_note(answers["note"])
