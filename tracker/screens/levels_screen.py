"""Levels, buckets, shift kinds, breaks, and her own lines to turn to, each as a line of text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from tracker import words
from tracker.diary.breaks import Break, Breaks, added
from tracker.diary.choices import Choices
from tracker.diary.dates import long_day, read_day
from tracker.diary.errors import UnknownValue
from tracker.diary.help_lines import OWN_LINES
from tracker.diary.kind_text import kind_text, read_kind
from tracker.diary.rota import ShiftKind, checked_kind, new_kind
from tracker.diary.scales import Scale, mood_scale, read_bounds, renamed, sleep_scale
from tracker.editing.editor import Editor
from tracker.record.choice_rows import WasKept, break_values, kind_value, new_scale_values, scale_value
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question, answers_of

LEVELS_HELP = (
    "The lowest first, parted by commas. As many as now: other words for the same levels. Another number: "
    "other levels from today on; squares keep the level they were given."
)
BUCKETS_HELP = "Hours at which a bucket begins, from 0 up, like 0 4 6 8. Another set holds from today on."
KIND_HELP = "Label, usual hours or none; work, work when called or no work. Days that are kept keep theirs."
NEW_KIND_HELP = "A letter, then the same: r relief turn, 06:00-14:00, work"
OWN_HELP = "A person or a practice, and the number: these lines come first under 'where to turn'."
BREAKS_HELP = "From and to, parted by semicolons: 1 April 2026 to 14 April 2026; 1 May 2026 on"


class MoreSettingsScreen(FormScreen):
    """Lines of text, kept together with Enter."""

    BINDINGS = bindings.FORM
    HEADING = "Levels, shifts, someone to turn to, breaks"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._asked_about: dict[str, str] = {}
        """Answers that would begin other levels, of which she was asked whether she means it."""

    def questions(self) -> list[Question]:
        return more_questions(self.kept.choices)

    def place(self, question: Question) -> str:
        return f"levels.{question.name}"

    def submit(self, answers: dict[str, str]) -> None:
        editor = self.editor
        values = more_values(editor.kept.choices, answers, editor.kept.today, editor.kept.record.was_kept)
        changed = other_levels(editor.kept.choices, answers)
        if changed and answers != self._asked_about:
            self._asked_about = answers
            self.error = words.other_levels(words.listed(changed), long_day(editor.kept.today))
        elif values:
            editor.choose(values, words.KEPT_FROM_NOW_ON)


def more_questions(choices: Choices) -> list[Question]:
    """What can be set with a line of text, as it stands."""
    own = [*choices.own_help, *[""] * OWN_LINES][: max(OWN_LINES, len(choices.own_help))]
    kinds = [
        Question(f"kind {kind.id}", f"Shift {kind.code}", kind_text(kind), help=KIND_HELP)
        for kind in choices.kinds
    ]
    return [
        Question("mood", "Levels of mood", _labels(choices.scales.newest("mood")), help=LEVELS_HELP),
        Question("sleep", "Buckets of sleep", _bounds(choices.scales.newest("sleep")), help=BUCKETS_HELP),
        *kinds,
        Question("new kind", "Another shift", "", help=NEW_KIND_HELP),
        *(
            Question(f"own {at}", f"Someone to turn to {at}", line, help=OWN_HELP)
            for at, line in enumerate(own, 1)
        ),
        Question("breaks", "Breaks", "; ".join(map(break_text, choices.breaks)), help=BREAKS_HELP),
    ]


def _labels(scale: Scale) -> str:
    return ", ".join(level.label for level in scale.levels)


def _bounds(scale: Scale) -> str:
    return " ".join(f"{level.from_hours:g}" for level in scale.levels[1:])


def break_text(span: Break) -> str:
    """`2026-04-01 to 2026-04-14`, or `2026-05-01 on`."""
    return f"{span.from_day} to {span.to_day}" if span.to_day else f"{span.from_day} on"


def more_values(
    choices: Choices, answers: Mapping[str, str], today: date, was_kept: WasKept
) -> dict[str, Any]:
    """The choices that the answers change: name and value.

    Raises WrongScale or UnknownValue for what cannot be.
    """
    stood = answers_of(more_questions(choices))
    new = {name: answer for name, answer in answers.items() if answer != stood.get(name)}
    values: dict[str, Any] = {}
    if "mood" in new:
        values |= _mood_values(choices, [label.strip() for label in new["mood"].split(",")], today, was_kept)
    if "sleep" in new:
        values |= new_scale_values(sleep_scale(read_bounds(new["sleep"]), today), choices.scales, was_kept)
    for kind in _changed_kinds(choices, new):
        values |= kind_value(kind)
    if any(name.startswith("own ") for name in new):
        values["help.own"] = [line for name, line in answers.items() if name.startswith("own ") and line]
    if "breaks" in new:
        values |= _break_values(choices, new["breaks"], today)
    return values


def other_levels(choices: Choices, answers: Mapping[str, str]) -> list[str]:
    """The grids that would have other levels than now, not only other words for them."""
    moods, sleeps = choices.scales.newest("mood"), choices.scales.newest("sleep")
    found = ["mood"] if len(answers["mood"].split(",")) != len(moods.levels) else []
    return [*found, "sleep"] if answers["sleep"] != _bounds(sleeps) else found


def _mood_values(choices: Choices, labels: list[str], today: date, was_kept: WasKept) -> dict[str, Any]:
    scale = choices.scales.newest("mood")
    if len(labels) == len(scale.levels):
        words = {level.rank: label for level, label in zip(scale.levels, labels, strict=True)}
        return scale_value(renamed(scale, words))
    return new_scale_values(mood_scale(labels, today), choices.scales, was_kept)


def _changed_kinds(choices: Choices, new: Mapping[str, str]) -> Iterator[ShiftKind]:
    kinds = {f"kind {kind.id}": kind for kind in choices.kinds}
    for name, text in new.items():
        if name in kinds:
            yield checked_kind(read_kind(kinds[name], text), choices.kinds)
    added = new.get("new kind", "")
    if added:
        code, _, rest = added.partition(" ")
        label = rest.partition(",")[0].strip()
        kind = new_kind(code.casefold(), label, choices.kinds)
        yield checked_kind(read_kind(kind, rest), choices.kinds)


def _break_values(choices: Choices, text: str, today: date) -> dict[str, Any]:
    breaks: Breaks = ()
    read = (_read_break(part.strip(), today) for part in text.split(";") if part.strip())
    for span in sorted(read, key=lambda span: span.from_day):
        breaks = added(breaks, span)
    return break_values(breaks, choices.breaks)


def _read_break(text: str, today: date) -> Break:
    """`1 april to 14 april`, or `1 may on`."""
    first, to, last = text.removesuffix(" on").removeprefix("from ").partition(" to ")
    if bool(to) == text.endswith(" on"):
        raise UnknownValue(f"'{text}' is no break; write 1 April 2026 to 14 April 2026, or 1 May 2026 on.")
    return Break(read_day(first, today), read_day(last, today) if to else None)
