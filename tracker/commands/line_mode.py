"""Plain questions, line by line: for screen readers, and for whoever likes lines better than squares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta

import click

from tracker import words
from tracker.diary.answers import in_words, sleep_answer
from tracker.diary.changes import answer, anxious_change, check_day, mood_changes, sleep_change
from tracker.diary.dates import read_day, short_day
from tracker.diary.days import Basis, Change, Field, Square
from tracker.diary.errors import TrackerError, UnknownValue
from tracker.diary.rota import night_dates
from tracker.diary.scales import Grid, Level, Scale
from tracker.diary.waiting import SquareKey, Waiting, order_of_asking
from tracker.record.store import Record

HOW = (
    "x: could not say. Enter alone: not now. k: this key again.",
    "u: take the last answer back. q: stop.",
)
QUIT = ("q", "quit")
UNDO = ("u", "undo")
SHOWS_THE_KEY = ("k", "key", "?", "help")
"""A `?` asks for help on every screen, so here it is no answer, though files and options take it for one."""
DAYS = "yesterday, mon to sun, 2026-03-12"
ASKED: tuple[Grid, ...] = ("sleep", "mood")
SAID: tuple[Field, ...] = ("sleep", "mood", "anxious", "shift", "note")
"""The fields of a day in the order of time."""


def ask_in_lines(record: Record) -> None:
    """Ask for what waits of yesterday and today, say what stands, and let her correct or add other days.

    These lines are all that a person has who sees no squares, so they never end before she says so.
    """
    if record.is_empty():
        for line in (*words.WHAT_THIS_IS, words.CAUTION):
            click.echo(line)
    questions = Questions(record)
    if _ask_what_waits(questions):
        for line in _near_days(record):
            click.echo(line)
        while day := _another_day(questions):
            places = [SquareKey(day, grid) for grid in ASKED]
            if not _ask_for(questions, places, f"{_named(record, day)} is kept."):
                break
    click.echo(words.WHERE_TO_TURN_HINT)


def ask(record: Record) -> None:
    """Ask for what waits of yesterday and today, and count what waits before."""
    _ask_what_waits(Questions(record))


def ask_days(record: Record, days: Iterable[date], basis: Basis | None) -> None:
    """Ask for the squares of some days that hold nothing, sleep before mood."""
    places = (
        SquareKey(day, grid)
        for day in days
        for grid in ASKED
        if _square(record, SquareKey(day, grid)) is None
    )
    _ask_for(Questions(record, basis), places, "All is kept.")


def _ask_what_waits(questions: Questions) -> bool:
    """Whether she goes on."""
    record = questions.record
    waiting = _waiting(record)
    places = (place for place in order_of_asking(record.today()) if _waiting(record).waits(place))
    goes_on = _ask_for(questions, places, words.NOTHING_WAITS)
    older = sum(record.unanswered(*span) for span in waiting.older_spans())
    if older:
        verb = "waits" if older == 1 else "wait"
        click.echo(f"{words.counted(older, 'earlier square')} {verb}; tracker put --from DAY asks for them.")
    return goes_on


def _ask_for(questions: Questions, places: Iterable[SquareKey], done: str) -> bool:
    """Ask for one square after another until they are through or she stops; each answer is kept at once.

    Returns whether she goes on.
    """
    asked = []
    for place in places:
        asked.append(place)
        if not questions.about(place):
            click.echo("Stopped. What was kept stands.")
            return False
    left_open = [place for place in asked if _square(questions.record, place) is None]
    click.echo(f"{words.counted(len(left_open), 'square')} left open." if left_open else done)
    return True


def _square(record: Record, place: SquareKey) -> Square | None:
    return record.day(place.day).square(place.grid)


def _near_days(record: Record) -> Iterator[str]:
    """What stands of yesterday and today: `Today, Tue 17 March: sleep 6-7 h, mood 4 good, not anxious.`"""
    today = record.today()
    for day in record.days(today - timedelta(days=1), today).values():
        squares = [(field, square) for field in SAID if (square := day.square(field))]
        said = [_said(day.date, field, square, record) for field, square in squares]
        yield f"{_named(record, day.date)}: {', '.join(said)}."


def _said(day: date, field: Field, square: Square, record: Record) -> str:
    return in_words(square.change(day, field), record.choices())


def _another_day(questions: Questions) -> date | None:
    """The day that she names; None where she has done. Here too an answer can be taken back."""
    record = questions.record
    while True:
        text = _answered(f"A day to correct or to add ({DAYS}; Enter alone: none)")
        if not text or text in QUIT:
            return None
        if text in UNDO:
            if not questions.ask_again():
                return None
            continue
        try:
            day = read_day(text, record.today())
            hour = record.choices().settings.day_change_hour
            check_day(day, "mood", record.clock.last_open_day(hour))
        except TrackerError as error:
            click.echo(str(error))
        else:
            return day


def _answered(question: str) -> str | None:
    """What she types, in small letters; None where the input has ended."""
    try:
        answer: str = click.prompt(question, default="", show_default=False)
    except click.Abort:
        click.echo()
        return None
    return answer.strip().casefold()


def _means_it(what: str) -> bool:
    """Whether she takes back what she may not have in mind: an import of yesterday, or of another window."""
    question = f"The last action was not kept here: {what}. Take it back (y: yes; Enter alone: no)"
    agreed = _answered(question) in ("y", "yes")
    if not agreed:
        click.echo(words.NOTHING_CHANGED)
    return agreed


def _named(record: Record, day: date) -> str:
    near = {0: "Today, ", 1: "Yesterday, "}.get((record.today() - day).days, "")
    return f"{near}{short_day(day)}"


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
    _kept: dict[str, SquareKey] = field(default_factory=dict)
    """The squares that she answered here, by the ids of these actions."""
    _key_shown: str = ""

    def about(self, place: SquareKey) -> bool:
        """Ask until there is an answer; whether she goes on."""
        self._introduce(place)
        while True:
            text = _answered(self._prompt(place))
            if text is None or text in QUIT:
                return False
            if text in UNDO:
                if not self.ask_again(before=place):
                    return False
            elif self._understood(place, text):
                return True

    def ask_again(self, before: SquareKey | None = None) -> bool:
        """Take the last action back and ask again for the square that it answered; whether she goes on.

        What she types next is meant for the square that she takes back, so that is asked for first.
        """
        taken = self._take_back()
        if taken is None or taken == before:
            return True
        goes_on = self.about(taken)
        if goes_on and before:
            self._introduce(before)
        return goes_on

    def _understood(self, place: SquareKey, text: str) -> bool:
        """Whether the square is through with."""
        if not text:
            return True
        if text in SHOWS_THE_KEY:
            self._say_key(place)
            return False
        try:
            self._keep(place, text)
        except TrackerError as error:
            click.echo(str(error))
            return False
        return True

    def _keep(self, place: SquareKey, text: str) -> None:
        changes = _answer(self.record, place, text)
        batch = self.record.keep(changes, source="command", basis=self.basis)
        if batch:
            self._kept[batch.id] = place
        choices = self.record.choices()
        click.echo(f"Kept: {', '.join(in_words(change, choices) for change in changes)}.")

    def _take_back(self) -> SquareKey | None:
        """Take the last action back; one that was not kept here, only if she means it.

        Returns the square that she answered here with it.
        """
        last = self.record.last_action()
        if last is None:
            click.echo("There is nothing to take back.")
        elif last.id in self._kept or _means_it(last.what):
            click.echo(f"Taken back: {self.record.undo().what}.")
            return self._kept.get(last.id)
        return None

    def _introduce(self, place: SquareKey) -> None:
        if self._key_shown != place.grid:
            self._say_key(place)
        if place.grid == "sleep" and _after_a_night(self.record, place.day):
            is_today = place.day == self.record.today()
            earlier = words.after_an_earlier_night(short_day(place.day))
            click.echo(words.AFTER_A_NIGHT if is_today else earlier)

    def _say_key(self, place: SquareKey) -> None:
        self._key_shown = place.grid
        click.echo(words.SLEEP_ASKED if place.grid == "sleep" else words.MOOD_ASKED)
        for level in _scale(self.record, place).levels:
            click.echo(f"  {' or '.join(level.keys)}: {_meaning(level)}")
        if place.grid == "sleep":
            click.echo(f"  Or hours: {words.HOURS_LIKE}.")
        else:
            click.echo(f"  With a behind it, like 3a: anxious, {words.ANXIOUS_HELP}.")
        for line in HOW:
            click.echo(f"  {line}")

    def _prompt(self, place: SquareKey) -> str:
        square = _square(self.record, place)
        is_early = self.record.clock.local(self.record.clock.now()).hour < 12
        aside = ""
        if square:
            aside = f" ({_said(place.day, place.grid, square, self.record)} stands; Enter alone leaves it)"
        elif is_early and place == SquareKey(self.record.today(), "mood"):
            aside = f" ({words.MOOD_AT_THE_END})"
        day = _named(self.record, place.day)
        return f"{place.grid.capitalize()} of {day[0].lower() + day[1:] if ', ' in day else day}{aside}"


def _scale(record: Record, place: SquareKey) -> Scale:
    return record.choices().scales.on(place.grid, place.day)


def _meaning(level: Level) -> str:
    return f"{level.label}, {level.help}" if level.help else level.spoken


def _answer(record: Record, place: SquareKey, text: str) -> list[Change]:
    """The changes that an answer means: a digit of the key, `x`, a label, or hours."""
    if text == "x":
        return [answer(place.day, place.grid, "could not say")]
    try:
        return [_sleep(record, place, text)] if place.grid == "sleep" else _mood(record, place, text)
    except UnknownValue:
        raise UnknownValue(f"'{text}' is no answer here; there are: {_keys(record, place)}.") from None


def _keys(record: Record, place: SquareKey) -> str:
    """Every answer with what it means, in one line."""
    keys = [f"{' or '.join(level.keys)} = {level.label}" for level in _scale(record, place).levels]
    more = ["hours like 6.5"] if place.grid == "sleep" else ["an a behind the digit = anxious"]
    return "; ".join([*keys, *more, "x = could not say"])


def _sleep(record: Record, place: SquareKey, text: str) -> Change:
    level = _scale(record, place).level_for_key(text)
    if level:
        return sleep_change(place.day, level)
    return sleep_answer(place.day, text, record.choices())


def _mood(record: Record, place: SquareKey, text: str) -> list[Change]:
    anxious = len(text) == 2 and text[0].isdigit() and text[1] == "a"
    level = _scale(record, place).level_for_text(text[0] if anxious else text)
    if anxious:
        return [Change(place.day, "mood", level.id), anxious_change(place.day, True)]
    return mood_changes(record.day(place.day), level, record.choices())


def _after_a_night(record: Record, day: date) -> bool:
    before = day - timedelta(days=1)
    nights = night_dates(record.days(before, before).values(), record.choices().kinds_by_id, record.clock)
    return before in nights
