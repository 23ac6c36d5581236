"""Plain questions, line by line: for screen readers, and for whoever likes lines better than squares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import click

from tracker import words
from tracker.diary import keeping
from tracker.diary.answers import in_words, sleep_answer
from tracker.diary.asking import Place, Waiting, order_of_asking
from tracker.diary.dates import short_day
from tracker.diary.days import Basis, Change
from tracker.diary.errors import TrackerError
from tracker.diary.rota import night_dates
from tracker.diary.scales import Level, Scale
from tracker.record.store import Record

HOW = (
    "x: could not say. Enter alone: not now. k: this key again.",
    "u: take the last answer back. q: stop.",
)


def ask_in_lines(record: Record) -> None:
    """Ask for the squares of yesterday and today that wait, in the order of time."""
    if record.is_empty():
        for line in (*words.WHAT_THIS_IS, words.CAUTION):
            click.echo(line)
    ask(record)
    click.echo(words.WHERE_TO_TURN_HINT)


def ask(record: Record) -> None:
    """Ask for what waits of yesterday and today, and count what waits before."""
    waiting = _waiting(record)
    ask_for(record, (place for place in order_of_asking(record.today()) if _waiting(record).waits(place)))
    older = sum(record.unanswered(*span) for span in waiting.older_spans())
    if older:
        verb = "waits" if older == 1 else "wait"
        click.echo(f"{words.counted(older, 'earlier square')} {verb}; tracker put --from DAY asks for them.")


def open_places(record: Record, days: Iterable[date]) -> Iterator[Place]:
    """The squares of some days that hold nothing, sleep before mood."""
    for day in days:
        for grid in ("sleep", "mood"):
            if record.day(day).square(grid) is None:
                yield Place(day, grid)


def ask_for(record: Record, places: Iterable[Place], basis: Basis | None = None) -> None:
    """Ask for one square after another until they are through or she stops; each answer is kept at once."""
    questions = Questions(record, basis)
    asked = []
    for place in places:
        asked.append(place)
        if not questions.about(place):
            click.echo("Stopped. What was kept stands.")
            return
    left_open = [place for place in asked if record.day(place.day).square(place.grid) is None]
    click.echo(f"{words.counted(len(left_open), 'square')} left open." if left_open else "All is kept.")


def _waiting(record: Record) -> Waiting:
    """What waits of yesterday and today; the days before are counted by the record."""
    today = record.today()
    days = record.days(today - timedelta(days=1), today)
    return Waiting(days, record.first_day(), today, record.choices().breaks)


@dataclass
class Questions:
    """Asks about one square at a time and keeps the answer."""

    record: Record
    basis: Basis | None = None
    _answers: int = 0
    _key_shown: str = ""

    def about(self, place: Place) -> bool:
        """Ask until there is an answer; whether she goes on."""
        self._introduce(place)
        while True:
            try:
                text = click.prompt(self._prompt(place), default="", show_default=False).strip().casefold()
            except click.Abort:
                click.echo()
                return False
            if text in ("q", "quit"):
                return False
            if self._understood(place, text):
                return True

    def _understood(self, place: Place, text: str) -> bool:
        """Whether the square is through with."""
        if not text:
            return True
        if text in ("k", "key"):
            self._say_key(place)
            return False
        if text in ("u", "undo"):
            self._undo()
            return False
        try:
            self._keep(place, text)
        except TrackerError as error:
            click.echo(str(error))
            return False
        return True

    def _keep(self, place: Place, text: str) -> None:
        changes = _answer(self.record, place, text)
        if self.record.keep(changes, source="command", basis=self.basis):
            self._answers += 1
        choices = self.record.choices()
        click.echo(f"Kept: {', '.join(in_words(change, choices) for change in changes)}.")

    def _undo(self) -> None:
        if not self._answers:
            click.echo("There is no answer to take back.")
            return
        self._answers -= 1
        click.echo(f"Taken back: {self.record.undo().what}.")

    def _introduce(self, place: Place) -> None:
        if self._key_shown != place.grid:
            self._say_key(place)
        if place.grid == "sleep" and _after_a_night(self.record, place.day):
            click.echo(words.AFTER_A_NIGHT)

    def _say_key(self, place: Place) -> None:
        self._key_shown = place.grid
        click.echo(words.SLEEP_ASKED if place.grid == "sleep" else words.MOOD_ASKED)
        for level in _scale(self.record, place).levels:
            click.echo(f"  {' or '.join(level.keys)}: {_meaning(level)}")
        if place.grid == "mood":
            click.echo(f"  With a behind it, like 3a: anxious, {words.ANXIOUS_HELP}.")
        for line in HOW:
            click.echo(f"  {line}")

    def _prompt(self, place: Place) -> str:
        today = self.record.today()
        near = {0: "today, ", 1: "yesterday, "}.get((today - place.day).days, "")
        early = place == Place(today, "mood") and self.record.clock.local(self.record.clock.now()).hour < 12
        end = f" ({words.MOOD_AT_THE_END})" if early else ""
        return f"{place.grid.capitalize()} of {near}{short_day(place.day)}{end}"


def _scale(record: Record, place: Place) -> Scale:
    return record.choices().scales.on(place.grid, place.day)


def _meaning(level: Level) -> str:
    return f"{level.label}, {level.help}" if level.help else level.spoken


def _answer(record: Record, place: Place, text: str) -> list[Change]:
    """The changes that an answer means: a digit of the key, `x`, a label, or hours."""
    if text in ("x", "?"):
        return [keeping.answer(place.day, place.grid, "could not say")]
    if place.grid == "sleep":
        return [_sleep(record, place, text)]
    return _mood(record, place, text)


def _sleep(record: Record, place: Place, text: str) -> Change:
    level = _scale(record, place).level_for_key(text)
    if level:
        return keeping.sleep_change(place.day, level)
    return sleep_answer(place.day, text, record.choices())


def _mood(record: Record, place: Place, text: str) -> list[Change]:
    anxious = len(text) == 2 and text[0].isdigit() and text[1] == "a"
    level = _scale(record, place).level_for_text(text[0] if anxious else text)
    if anxious:
        return [Change(place.day, "mood", level.id), keeping.anxious_change(place.day, True)]
    return keeping.mood_changes(record.day(place.day), level, record.choices())


def _after_a_night(record: Record, day: date) -> bool:
    before = day - timedelta(days=1)
    nights = night_dates(record.days(before, before).values(), record.choices().kinds_by_id, record.clock)
    return before in nights
