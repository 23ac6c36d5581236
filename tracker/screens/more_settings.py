"""Levels, buckets, shift kinds, breaks, and her own lines to turn to."""

from __future__ import annotations

from tracker.screens.commands import Command
from tracker.screens.form import Question
from tracker.screens.form_screen import KEEP, LEAVE_IT, FormScreen
from tracker.screens.more_settings_form import more_questions, more_values


class MoreSettingsScreen(FormScreen):
    """Lines of text, kept together with Enter."""

    COMMANDS_HERE = (Command(("up", "down"), "up down", "walk", "Walk the rows"), KEEP, LEAVE_IT)
    HEADING = "Levels, shifts, breaks, my own lines"

    def questions(self) -> list[Question]:
        return more_questions(self.desk.choices)

    def take(self, answers: dict[str, str]) -> None:
        desk = self.desk
        values = more_values(desk.choices, answers, desk.today, desk.record.was_kept)
        if values:
            desk.choose(values, "Kept; it holds from now on.")
