"""Levels, buckets, shift kinds, breaks, and her own lines to turn to."""

from __future__ import annotations

from tracker import words
from tracker.desk.desk import Desk
from tracker.diary.dates import long_day
from tracker.screens.form import Question
from tracker.screens.form_screen import KEEP, LEAVE_IT, FormScreen
from tracker.screens.key_commands import Command
from tracker.screens.more_settings_form import more_questions, more_values, other_levels


class MoreSettingsScreen(FormScreen):
    """Lines of text, kept together with Enter."""

    COMMANDS_HERE = (Command(("up", "down"), "up down", "walk", "Walk the rows"), KEEP, LEAVE_IT)
    HEADING = "Levels, shifts, someone to turn to, breaks"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._asked_about: dict[str, str] = {}
        """Answers that would begin other levels, of which she was asked whether she means it."""

    def questions(self) -> list[Question]:
        return more_questions(self.desk.choices)

    def take(self, answers: dict[str, str]) -> None:
        desk = self.desk
        values = more_values(desk.choices, answers, desk.today, desk.record.was_kept)
        changed = other_levels(desk.choices, answers)
        if changed and answers != self._asked_about:
            self._asked_about = answers
            self.trouble = words.other_levels(words.listed(changed), long_day(desk.today))
        elif values and not desk.choose(values, words.KEPT_FROM_NOW_ON):
            self.trouble = desk.said
