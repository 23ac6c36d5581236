"""One session of plain lines: what is said, what is typed, and what was kept and heard in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

import click

from tracker.diary.answers import begins_earlier
from tracker.diary.days import Basis, Change, Field
from tracker.diary.errors import TrackerError
from tracker.diary.help_lines import note_on
from tracker.diary.help_page import turning_sentences, where_they_hold
from tracker.diary.spoken import spoken, spoken_day
from tracker.record.batch_writer import Batch
from tracker.record.store import Record

QUIT = ("q", "quit")
HELP = ("?", "help")
MAY_BE_TYPED = (
    "At every question you may type:",
    "k, or key: what it takes, and what stands.",
    "Enter alone: leave it as it is.",
    "u, or undo: take the last answer back. redo: bring it back.",
    "sleep, hours, mood, anxious, shift or note, and the answer: keep it for this day, like shift night.",
    "called, and night or two times with a dash between them: when an on-call shift called you.",
    "change, and a few words: what changed on this day, like change tablets started.",
    "clear, and one of these: take it away, like clear mood.",
    "day, and a day: go there, like day monday.",
    "week: hear the seven days that end with this one.",
    "find, and a word: hear the notes and changes that hold it.",
    "w: be asked for the earlier days that wait.",
    "done: no more of this day. q: stop.",
    "A note takes all words as they are, but k, key, u, undo, redo, clear, done, q and help alone.",
)


class Asked(NamedTuple):
    """A question: a field of a day."""

    day: date
    field: Field


class Plan(NamedTuple):
    """Questions to be asked one after another."""

    questions: Iterable[Asked] = ()
    done: str = ""
    """Said when all of them are through and no square is left open."""


class Stopped(Exception):
    """She has done, or nothing more can be typed."""


class Turned(Exception):
    """She wants to be asked something else from here on."""

    def __init__(self, plan: Plan) -> None:
        super().__init__(plan)
        self.plan = plan


@dataclass
class Session:
    """What the questions share, from the first to the last."""

    record: Record
    basis: Basis | None = None
    told_once: set[str] = field(default_factory=set)
    """The keys that were read out already, and what else is said once a session."""
    answered: list[Asked] = field(default_factory=list)
    """What was answered here, also with what stood already."""
    kept: dict[str, Asked | None] = field(default_factory=dict)
    """The ids of the actions that were done here, each with the question that it answered."""

    def say(self, *sentences: str) -> None:
        """Say sentences of the program, a line each, as they are spoken."""
        for sentence in sentences:
            click.echo(spoken(sentence))

    def typed(self, question: str) -> str:
        """What she types, as it stands but for blanks around it; a call for help is answered first.

        Raises Stopped where she stops, or the input has ended.
        """
        while True:
            try:
                text: str = click.prompt(spoken(question), default="", show_default=False).strip()
            except click.Abort:
                click.echo()
                raise Stopped from None
            if text.casefold() in QUIT:
                raise Stopped
            if text.casefold() not in HELP:
                return text
            self._help()

    def is_agreed(self, question: str) -> bool:
        """Whether she says yes to a question; Enter alone is no."""
        return self.typed(f"{question} Type y for yes, or Enter alone for no").casefold() in ("y", "yes")

    def called(self, day: date) -> str:
        """A day as it is called in this session."""
        return spoken_day(day, self.record.today())

    def on(self, day: date) -> str:
        """`today`, `yesterday`, or `on Thursday 12 March`."""
        called = self.called(day)
        return f"on {called}" if " " in called else called

    def keep(self, asked: Asked, changes: Sequence[Change]) -> str:
        """Keep the answer to a question; gives a sentence where the record begins earlier with it."""
        began = self.record.first_day() if asked.day < self.record.today() else None
        basis = self.basis
        batch = self.record.keep(changes, source="command", basis=basis, rebase=basis is not None)
        self.remember(batch, asked)
        self.answered.append(asked)
        return begins_earlier(began, self.record.first_day(), "u")

    def remember(self, batch: Batch | None, asked: Asked | None = None) -> None:
        """Take an action for one that was done here, so that it is taken back without asking."""
        if batch:
            self.kept[batch.id] = asked

    def _help(self) -> None:
        """Where to turn, in her country, which is asked for where it is not known; and what may be typed."""
        self._say_where_to_turn()
        if not self.record.choices().settings.country and self._country_is_kept():
            self._say_where_to_turn()
        self.say(*MAY_BE_TYPED)

    def _say_where_to_turn(self) -> None:
        choices = self.record.choices()
        self.say(f"{where_they_hold('Where to turn', choices)}.")
        for sentence in (*choices.own_help, *turning_sentences(choices)):
            click.echo(sentence)  # numbers to be called are left as they are

    def _country_is_kept(self) -> bool:
        """Whether she names her country."""
        settings = self.record.choices().settings
        while text := self.typed("Your country, for its numbers, or Enter alone for none"):
            try:
                chosen = settings.with_value("country", text)
                self.remember(self.record.keep_settings(chosen))
            except TrackerError as error:
                self.say(str(error))
            else:
                self.say(*filter(None, [note_on(chosen.country)]))
                return True
        return False
