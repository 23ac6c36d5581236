"""Levels, buckets, shift kinds, breaks, and her own lines to turn to."""

from __future__ import annotations

from tracker import words
from tracker.diary.dates import long_day
from tracker.editing.editor import Editor
from tracker.screens.form import Question
from tracker.screens.form_screen import KEEP, LEAVE_IT, FormScreen
from tracker.screens.key_commands import Command
from tracker.screens.levels_form import more_questions, more_values, other_levels


class MoreSettingsScreen(FormScreen):
    """Lines of text, kept together with Enter."""

    COMMANDS_HERE = (Command(("up", "down"), "up down", "walk", "Walk the rows"), KEEP, LEAVE_IT)
    HEADING = "Levels, shifts, someone to turn to, breaks"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._asked_about: dict[str, str] = {}
        """Answers that would begin other levels, of which she was asked whether she means it."""

    def questions(self) -> list[Question]:
        return more_questions(self.editor.kept.choices)

    def take(self, answers: dict[str, str]) -> None:
        editor = self.editor
        values = more_values(editor.kept.choices, answers, editor.kept.today, editor.kept.record.was_kept)
        changed = other_levels(editor.kept.choices, answers)
        if changed and answers != self._asked_about:
            self._asked_about = answers
            self.error = words.other_levels(words.listed(changed), long_day(editor.kept.today))
        elif values:
            editor.choose(values, words.KEPT_FROM_NOW_ON)
