"""Answers as text, of the command line or of a file, and the changes they mean; and changes in words."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial

from tracker.diary.calls import called_in_words
from tracker.diary.changes import answer, anxious_change, shift_change, sleep_change
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.dates import long_day, short_day
from tracker.diary.days import RESTING, Basis, Change, Day, Entry, Field, Square
from tracker.diary.errors import DamagedRecord, UnknownValue
from tracker.diary.rota import kind_for_text
from tracker.diary.scales import COULD_NOT_SAY, Grid, Level, Scale
from tracker.words import HOURS_LIKE, counted

YES = ("yes", "y", "true", "1")
NO = ("no", "n", "false", "0")
RESTS_AS: dict[Basis, str] = {
    "at the time": "kept at the time",
    "remembered": "remembered",
    "paper": "copied from paper",
}
BASIS_IN_WORDS: dict[Basis, str] = {
    "at the time": "at the time",
    "remembered": "remembered",
    "paper": "from paper",
}
ROTAS = {"pattern": "from a pattern", "file": "from a rota file"}
"""Where a shift came from with a whole rota, by what its detail says."""
LENGTH = r"(\d+):([0-5]\d)|(\d+[.,]?\d*|[.,]\d+)"
"""Hours and minutes, or hours as a decimal."""


def read_hours(text: str) -> float:
    """Hours from 0 to 24: `6.5`, `6,5`, `6:30`, `6 h`, or several sleeps added up, `4:30+1.5`.

    Raises UnknownValue for anything else.
    """
    try:
        hours = sum(map(_one_length, text.split("+")))
    except ValueError:
        hours = -1.0
    if not 0 <= hours <= 24:
        raise UnknownValue(f"'{text}' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5.")
    return hours


def _one_length(text: str) -> float:
    found = re.fullmatch(LENGTH, text.strip().casefold().removesuffix("h").strip())
    if not found:
        raise ValueError(text)
    hours, minutes, decimal = found.groups()
    return float(decimal.replace(",", ".")) if decimal else int(hours) + int(minutes) / 60


def mood_answer(day: date, text: str, choices: Choices) -> Change:
    """A mood by its number or label, or `?` for could not say."""
    if text.strip() == COULD_NOT_SAY:
        return answer(day, "mood", "could not say")
    return Change(day, "mood", choices.scales.on("mood", day).level_for_text(text).id)


def sleep_answer(day: date, text: str, choices: Choices) -> Change:
    """A sleep by its label or by hours, which are put into their bucket and not kept; or `?`."""
    if text.strip() == COULD_NOT_SAY:
        return answer(day, "sleep", "could not say")
    scale = choices.scales.on("sleep", day)
    try:
        return sleep_change(day, scale.level_for_hours(read_hours(text)))
    except UnknownValue:
        if text.strip().rstrip("hH ").lstrip("-").replace(".", "", 1).replace(",", "", 1).isdigit():
            raise
        return sleep_change(day, _bucket_named(text, scale))


def _bucket_named(text: str, scale: Scale) -> Level:
    try:
        return scale.level_for_text(text)
    except UnknownValue as error:
        raise UnknownValue(f"{error} Or give hours: {HOURS_LIKE}.") from None


def exact_sleep(day: date, text: str, hours: str, choices: Choices) -> Change:
    """A sleep with its exact hours; its bucket, where one is given, must hold them."""
    exact = read_hours(hours)
    if not text.strip():
        return sleep_change(day, choices.scales.on("sleep", day).level_for_hours(exact), exact)
    change = sleep_answer(day, text, choices)
    if change.state != "kept":
        raise UnknownValue(f"'{text}' and {hours} hours contradict each other; leave one of them out.")
    return sleep_change(day, choices.scales.level(change.value), exact)


def anxious_answer(day: date, text: str) -> Change:
    """The anxious mark by yes or no."""
    word = text.strip().casefold()
    if word not in YES + NO:
        raise UnknownValue(f"anxious takes yes or no, not '{text}'.")
    return anxious_change(day, word in YES)


def shift_answer(day: date, text: str, choices: Choices, clock: Clock) -> Change:
    """A shift by the code or label of its kind."""
    return shift_change(day, kind_for_text(text, choices.kinds), clock)


def level_name(level: Level, grid: Grid) -> str:
    """A level as a sentence names it: `4 good`, `6-7 h`."""
    return f"{level.rank} {level.label}" if grid == "mood" else level.label


def scale_span(scale: Scale) -> str:
    """The days for which a version of levels holds: `from 1 January 2024 to 31 December 2024`."""
    begin = f"from {long_day(scale.from_day)}" if scale.from_day else "from the beginning"
    if scale.is_taken_back:
        return f"{begin}, taken back since"
    return f"{begin} to {long_day(scale.to_day)}" if scale.to_day else begin


def _level_in_words(id: str, grid: Grid, choices: Choices) -> str:
    try:
        return level_name(choices.scales.level(id), grid)
    except DamagedRecord:
        return f"'{id}', of levels not known here"


def in_words(change: Change, choices: Choices, clock: Clock | None = None) -> str:
    """A change as a sentence names it: `mood 4 good`, `not anxious`, `sleep 6-7 h (6.5 hours)`.

    With a clock also at what times on call called her.
    """
    if change.state == "cleared":
        return f"{change.field} cleared"
    if change.state == "could not say":
        return f"{change.field}: could not say"
    return _value_in_words(change.field, change, choices, clock)


def entry_in_words(entry: Entry, choices: Choices, clock: Clock, turned_by: str = "") -> str:
    """When an entry was made, what it says, from where and on what basis; a note in full.

    Parameters
    ----------
    turned_by
        `undo` or `redo`, where one of them made it.
    """
    when = clock.local(entry.recorded_at).strftime("%Y-%m-%d %H:%M")
    is_note = entry.field == "note" and entry.state == "kept"
    what = f"note: {entry.value}" if is_note else in_words(entry.change, choices, clock)
    return f"{when}  {what} ({_origin(entry, turned_by)})"


def _origin(entry: Entry, turned_by: str) -> str:
    if turned_by and entry.state == "cleared":  # nothing stood before, so nobody typed it
        return f"by {turned_by}"
    source = ROTAS.get(entry.detail.get("by", ""), entry.source)
    return f"{source}, {BASIS_IN_WORDS[entry.basis]}{f', brought back by {turned_by}' if turned_by else ''}"


def changes_in_words(changes: Sequence[Change], choices: Choices) -> str:
    """Several changes as one action: `Tue 17 March, mood 4 good, anxious`; of many days how many squares."""
    days = days_in_words(changes)
    if len({change.day for change in changes}) == 1:
        return ", ".join([days, *(in_words(change, choices) for change in changes)])
    return f"{len(changes)} squares, {days}"


def rebased_in_words(changes: Sequence[Change], basis: Basis) -> str:
    """Answers that rest on another basis, as undo names it: `Tue 17 March, 2 squares from paper`."""
    squares = counted(len(changes), "square")
    return f"{days_in_words(changes)}, {squares} {BASIS_IN_WORDS[basis]}"


def counts_as_in_words(squares: int, span: str, basis: Basis) -> str:
    """Squares that were put on another basis: `2 squares of Mon 2 March 2026 count as remembered now.`"""
    verb = "counts" if squares == 1 else "count"
    return f"{counted(squares, 'square')} of {span} {verb} as {RESTS_AS[basis]} now."


def resting_in_words(square: Square, stood: Square | None = None) -> str:
    """What a square rests on, to be said of what was kept: `still from paper`.

    Empty for an answer at the time, where nothing else stood there before.
    """
    is_as_before = stood is not None and stood.basis == square.basis
    if square.basis == "at the time":
        return "at the time" if stood is not None and not is_as_before else ""
    late = f", {counted(square.late_days, 'day')} later" if square.basis == "remembered" else ""
    left_out = ", so findings leave it out" if square.is_left_out else ""
    return f"{'still ' if is_as_before else ''}{BASIS_IN_WORDS[square.basis]}{late}{left_out}"


def kept_in_words(changes: Sequence[Change], before: Day, after: Day, choices: Choices, clock: Clock) -> str:
    """What was kept of a day, what it rests on and what stood there: the same for a key and a command.

    `Kept for Sun 1 March 2026: mood 3 even; still from paper. Before: mood 4 good.`
    """
    day, told = after.date, partial(in_words, choices=choices, clock=clock)
    kept = _kept_and_resting([(told(change), _resting(change, before, after)) for change in changes])
    replaced = [
        told(square.change(day, change.field))
        for change in changes
        if change.state != "cleared"
        and (square := before.square(change.field))
        and _is_replaced(square, after.square(change.field), change, told)
    ]
    stood = f" Before: {', '.join(replaced)}." if replaced else ""
    return f"Kept for {short_day(day)} {day.year}: {kept}.{stood}"


def _resting(change: Change, before: Day, after: Day) -> str | None:
    """What an answer rests on that was kept; None for what findings do not ask it of."""
    square = after.square(change.field) if change.field in RESTING else None
    return resting_in_words(square, before.square(change.field)) if square else None


def _kept_and_resting(kept: Sequence[tuple[str, str | None]]) -> str:
    """Answers, and once behind them what all of them rest on; where that differs, behind each."""
    rest = {resting for _, resting in kept if resting is not None}
    if len(rest) > 1:
        return ", ".join(f"{words} ({resting})" if resting else words for words, resting in kept)
    behind = "".join(f"; {resting}" for resting in rest if resting)
    return ", ".join(words for words, _ in kept) + behind


def _is_replaced(stood: Square, stands: Square | None, change: Change, told: Callable[[Change], str]) -> bool:
    """Whether something is gone of what stood: the value, its hours or calls, not where some were added."""
    if stood.value != change.value or stands is None:
        return True
    now, before = (told(square.change(change.day, change.field)) for square in (stands, stood))
    return not now.startswith(before)


def days_in_words(changes: Sequence[Change]) -> str:
    """The days of some changes: `Tue 17 March`, or `Tue 17 March to Sun 22 March`, or with years."""
    first, last = (pick(change.day for change in changes) for pick in (min, max))
    if first == last:
        return short_day(first)
    named = short_day if first.year == last.year else long_day
    return f"{named(first)} to {named(last)}"


def _value_in_words(field: Field, change: Change, choices: Choices, clock: Clock | None) -> str:
    if field == "mood" or field == "sleep":
        hours = change.detail.get("hours")
        exact = f" ({hours:g} hours)" if hours is not None else ""
        return f"{field} {_level_in_words(change.value, field, choices)}{exact}"
    if field == "anxious":
        return "anxious" if change.value == "yes" else "not anxious"
    if field == "shift":
        kind = choices.kinds_by_id.get(change.value)
        called = called_in_words(change.detail, clock)
        return f"shift {kind.label if kind else change.value}{f' ({called})' if called else ''}"
    return "a note"


def begins_earlier(began: date | None, begins: date | None, back: str) -> str:
    """Said where the record begins earlier than it began, for a slip of the year moves every verdict day.

    Empty where it does not; `back` takes the last action back.
    """
    if began is None or begins is None or begins >= began:
        return ""
    return f"The record now begins on {long_day(begins)}; {back} takes it back."
