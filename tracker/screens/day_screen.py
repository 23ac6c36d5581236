"""Everything about one day: what stands, to be changed here, and the history of every square."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import cast

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.diary.answers import RESTS_AS, entry_in_words, exact_sleep, read_hours
from tracker.diary.calls import called_answer, called_text, shift_with_calls
from tracker.diary.changes import (
    answer,
    anxious_change,
    basis_by_hand,
    note_change,
    shift_change,
)
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock, from_stamp
from tracker.diary.dates import short_day
from tracker.diary.days import NO_HOURS, RESTING, Basis, Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.own_changes import change_on
from tracker.diary.scales import GRIDS, Grid, Scale, Scales
from tracker.editing.editor import Editor
from tracker.grids.descriptions import spoken_day
from tracker.grids.palette import Palette
from tracker.record.draft_rows import place_of
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question
from tracker.screens.widgets.canvas_view import style_of
from tracker.screens.widgets.choice_row import Swatch, SwatchRow

NOTHING, UNSAID = "", "?"
SLIP, MIXED = "", ""
"""A change that leaves the basis as it stands, and answers that do not all rest on the same."""
_BASES: list[tuple[str, str]] = [*RESTS_AS.items()]
_CHANGE_QUESTION = Question(
    "this change",
    "The new answer is",
    SLIP,
    [
        (SLIP, "a slip put right"),
        *((basis, words) for basis, words in _BASES if basis != "at the time"),
    ],
    help="A slip put right counts as the day did before.",
)
CALLED_HELP = (
    "When on call called you: 01:00-04:30, several with commas between, or night. Empty: not called. "
    "Only these hours count as work."
)
WIDE = 120
"""Columns from which the history stands beside the form."""
AROUND = 3
"""Days before and after that are told beside the history."""


class DayScreen(FormScreen):
    """One day as a form, with every entry that was ever made of it."""

    BINDINGS = bindings.DAY

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.HEADING = f"{short_day(editor.state.cursor)} {editor.state.cursor.year}{shift_times(editor)}"
        scales, stands = editor.kept.choices.scales, self.stood
        self._sleep = HoursAndBucket(
            stands["sleep"], stands["hours"], scales.on("sleep", editor.state.cursor), scales
        )

    def questions(self) -> list[Question]:
        rows = self._rows()
        record, choices = self.kept.record, self.kept.choices
        questions = day_questions(self.state.day, choices, self.kept.today, record.clock)
        return [question._replace(row=rows.get(question.name)) for question in questions]

    def _rows(self) -> dict[str, SwatchRow]:
        return swatch_rows(self.state.day.date, self.kept.choices, self.palette)

    def place(self, question: Question) -> str:
        return place_of(question.name, self.state.cursor)

    def submit(self, answers: dict[str, str]) -> None:
        choices, clock = self.kept.choices, self.kept.record.clock
        changes, basis = day_changes(self.state.day, answers, self.changes, choices, clock), self._basis()
        noted = self.changes.get("change")
        if basis and not changes and noted is None:
            self.editor.rest_on(basis)
        else:
            rest = left_to_rest(self.state.day, changes, basis) if "rests on" in self.changes else []
            self.editor.keep_answers([*changes, *rest], basis, noted)

    def _basis(self) -> Basis | None:
        """On what she says that it rests: all that stands, or what she changed; None where she leaves it."""
        said = self.changes.get("rests on") or self.changes.get("this change")
        return cast(Basis, said) if said else None

    def changed(self) -> None:
        answers = self.answers
        bucket, hours, said = self._sleep.agreed(answers["sleep"], answers["hours"])
        self.put("sleep", bucket)
        self.put("hours", hours)
        self._ask_for_calls()
        self._ask_of_the_change()
        self.error = said

    def on_mount(self) -> None:
        self._ask_for_calls()
        self._ask_of_the_change()

    def _ask_for_calls(self) -> None:
        """Ask what an on-call shift was worked for; another shift has no calls."""
        shift, stood = self.answers["shift"], self.stood
        has_calls = bool(stood["called"]) and shift == stood["shift"]
        self.show_question("called", has_calls or takes_calls(shift, self.kept.choices))

    def _ask_of_the_change(self) -> None:
        """Ask what a late change is, unless she says what the whole day rests on; else forget it."""
        if "this change" not in self.stood:
            return
        new = self.changes
        is_asked = "rests on" not in new and is_changed_late(self.state.day, new)
        self.show_question("this change", is_asked)
        if not is_asked:
            self.put("this change", SLIP)

    def below(self) -> ComposeResult:
        lines = history_in_words(self.editor) or ["nothing was ever kept"]
        yield Static("History, the newest first", classes="title", markup=False)
        yield Static(Text("\n".join(reversed(lines))), classes="quiet")
        yield Static("The days around it", classes="title around", markup=False)
        yield Static(Text("\n".join(days_around(self.editor))), classes="quiet around")

    def draw(self, width: int, height: int) -> None:
        super().draw(width, height)
        self.set_class(width >= WIDE, "-wide")
        for name, row in self._rows().items():
            self.show_row(name, row)


def history_in_words(editor: Editor) -> list[str]:
    """Every entry that was ever made of the day under the cursor, the oldest first."""
    record, day = editor.kept.record, editor.state.cursor
    turned_by = record.turned_by(day)
    entries = [
        entry_in_words(entry, editor.kept.choices, record.clock, turned_by.get(entry.batch, ""))
        for entry in record.history(day)
    ]
    changes = [
        f"{record.clock.local(change.recorded_at):%Y-%m-%d %H:%M}  change: {change.words or 'taken away'}"
        for change in record.change_history(day)
    ]
    return sorted([*entries, *changes], key=lambda line: line[:16])


def days_around(editor: Editor) -> list[str]:
    """The days before and after the one under the cursor, in words."""
    day, grid_data = editor.state.cursor, editor.state.grid_data
    around = (day + timedelta(days=step) for step in range(-AROUND, AROUND + 1) if step)
    return [spoken_day(grid_data, day, brief=True, among_others=True) for day in around]


def shift_times(editor: Editor) -> str:
    """The times of the day's shift, as they were kept."""
    shift = editor.state.day.shift
    if shift is None or not shift.detail.get("end"):
        return ""
    clock = editor.kept.record.clock
    start, end = (clock.local(from_stamp(shift.detail[at])) for at in ("start", "end"))
    kind = editor.kept.choices.kinds_by_id.get(shift.value)
    label = kind.label if kind else shift.value
    return f"   {label} {start:%H:%M} to {end:%H:%M}"


def is_changed_late(day: Day, new: Mapping[str, str]) -> bool:
    """Whether an answer of a grid that stood is another one now; one that is taken away rests on nothing."""
    sleep = new.get("sleep", "hours" in new or NOTHING)
    return bool((day.mood and new.get("mood", NOTHING)) or (day.sleep and sleep))


def takes_calls(shift: str, choices: Choices) -> bool:
    """Whether a kind of shift, by its id, is worked only when called."""
    kind = choices.kinds_by_id.get(shift)
    return kind is not None and kind.is_on_call


def left_to_rest(day: Day, changes: Sequence[Change], basis: Basis | None) -> list[Change]:
    """The answers that stand and were not changed, where they rest on something else than `basis`."""
    changed = {change.field for change in changes}
    return [
        square.change(day.date, field)
        for field in RESTING
        if field not in changed and (square := day.square(field)) and square.basis != basis
    ]


def day_questions(day: Day, choices: Choices, today: date, clock: Clock) -> list[Question]:
    """The questions, answered as the day stands."""
    hours = "" if day.hours is None else f"{day.hours:g}"
    anxious = {None: NOTHING, True: "yes", False: "no"}[day.is_anxious]
    noted = change_on(day.date, choices.dated_changes)
    kinds = [(kind.id, kind.label) for kind in choices.kinds]
    return [
        _grid_question("mood", day, choices),
        _grid_question("sleep", day, choices),
        Question(
            "hours",
            "Hours slept",
            hours,
            help="May stay empty; they choose the bucket, and another bucket takes them out.",
        ),
        Question("anxious", "Anxious", anxious, [(NOTHING, "not noted"), ("yes", "yes"), ("no", "no")]),
        *_basis_questions(day, today),
        Question("shift", "Shift", day.shift_kind, [(NOTHING, "none entered"), *kinds]),
        Question("called", "Called", called_text(day.shift, clock), help=CALLED_HELP),
        Question("note", "Note", day.note_text, is_long=True),
        Question(
            "change",
            "Change",
            noted.words if noted else "",
            help="A few words if something of yours changed on this day, such as new job. Days before and "
            "after it are counted side by side and never judged.",
        ),
    ]


def _basis_questions(day: Day, today: date) -> list[Question]:
    """What the answers of the grids rest on, and what a change of them after more than two days is."""
    stand = {field: square for field in RESTING if (square := day.square(field))}
    if not day.is_answered:
        return []
    bases = {square.basis for square in stand.values()}
    mixed = ", ".join(f"{field} {RESTS_AS[square.basis]}" for field, square in stand.items())
    rests_on = Question(
        "rests on",
        "Counts as",
        next(iter(bases)) if len(bases) == 1 else MIXED,
        [*([(MIXED, mixed)] if len(bases) > 1 else []), *_BASES],
        help="What all answers of this day count as. Findings leave out what is remembered after 14 days.",
    )
    if basis_by_hand(day.date, today) == "at the time":
        return [rests_on]
    return [_CHANGE_QUESTION, rests_on]


def _grid_question(grid: Grid, day: Day, choices: Choices) -> Question:
    levels = choices.scales.on(grid, day.date).levels
    options = [(level.id, level.label) for level in reversed(levels)]
    value = _value(day.square(grid))
    if value not in (NOTHING, UNSAID, *(level.id for level in levels)):
        options.insert(0, (value, choices.scales.level(value).label))
    return Question(
        grid, grid.capitalize(), value, [(NOTHING, "nothing kept"), *options, (UNSAID, "could not say")]
    )


def swatch_rows(day: date, choices: Choices, palette: Palette) -> dict[str, SwatchRow]:
    """The options of each choice as they are seen side by side, by the name of its question."""
    bars = ("[", "]") if palette.marks == "ascii" else (palette.signs.left_bar, palette.signs.right_bar)
    kinds = {kind.id: Swatch(kind.code.upper()) for kind in choices.kinds}
    rows: dict[str, dict[str, Swatch]] = {
        **{grid: _levels(choices.scales.on(grid, day), palette) for grid in GRIDS},
        "anxious": {NOTHING: Swatch("not noted"), "yes": Swatch("yes"), "no": Swatch("no")},
        "shift": {NOTHING: Swatch("none"), **kinds},
    }
    return {name: SwatchRow(swatches, bars) for name, swatches in rows.items()}


def _levels(scale: Scale, palette: Palette) -> dict[str, Swatch]:
    """The levels of a grid on their fills, the highest first."""
    swatches = {UNSAID: Swatch(UNSAID)}
    for place, level in enumerate(scale.levels):
        style = style_of(palette.style(palette.fill(scale.grid, place, len(scale.levels)), bold=True))
        swatches[level.id] = Swatch(palette.mark(scale, level), style, level.keys)
    return dict(reversed(swatches.items()))


def _value(square: Square | None) -> str:
    return NOTHING if square is None else square.value if square.is_kept else UNSAID


def day_changes(
    day: Day, answers: Mapping[str, str], new: Mapping[str, str], choices: Choices, clock: Clock
) -> list[Change]:
    """What the answers change of a day.

    Parameters
    ----------
    new
        Those of the answers that are others than stood there.

    Raises UnknownValue for hours that are none.
    """
    changes = []
    if "mood" in new:
        changes.append(_level_change(day, "mood", new["mood"]))
    if "sleep" in new or "hours" in new:
        changes.append(_sleep_change(day, new, answers, choices))
    if "anxious" in new:
        changes.append(anxious_change(day.date, {"yes": True, "no": False}.get(new["anxious"])))
    if "shift" in new or "called" in new:
        changes.append(_shift_change(day, new, answers["called"], choices, clock))
    if "note" in new:
        changes.append(note_change(day.date, new["note"]))
    return changes


def _shift_change(day: Day, new: Mapping[str, str], called: str, choices: Choices, clock: Clock) -> Change:
    """Another shift, or the one that stands; what the form says of calls goes with it where it takes any."""
    if "shift" not in new:
        return called_answer(day, called, choices, clock)
    kind = choices.kinds_by_id.get(new["shift"])
    if kind is None:
        return answer(day.date, "shift", "cleared")
    shift = shift_change(day.date, kind, clock)
    return shift_with_calls(day, shift, called if called and kind.is_on_call else None, choices, clock)


def _level_change(day: Day, grid: Grid, value: str) -> Change:
    if value in (NOTHING, UNSAID):
        return answer(day.date, grid, "could not say" if value else "cleared")
    return Change(day.date, grid, value)


def _sleep_change(day: Day, new: Mapping[str, str], answers: Mapping[str, str], choices: Choices) -> Change:
    """Hours choose the bucket; a bucket alone has no hours, and loses those that stood."""
    if "hours" in new and answers["hours"]:
        return exact_sleep(day.date, "", answers["hours"], choices)
    change = _level_change(day, "sleep", answers["sleep"])
    alone = "sleep" not in new and change.state == "kept"
    return change._replace(detail=NO_HOURS) if alone else change


class HoursAndBucket:
    """The bucket of a sleep and its exact hours, which never contradict each other on the form.

    Parameters
    ----------
    bucket, hours
        As they stand: the id of a level, empty or `?`; and hours as they are typed, or empty.
    """

    def __init__(self, bucket: str, hours: str, scale: Scale, scales: Scales) -> None:
        self._scale, self._scales = scale, scales
        self._seen = self._chosen, self._typed = bucket, hours
        """The bucket that was chosen by hand, and the hours that were typed."""

    def agreed(self, bucket: str, hours: str) -> tuple[str, str, str]:
        """After a change of one both as they agree, and a sentence where that takes something away."""
        before_bucket, before_hours = self._seen
        said = ""
        if hours != before_hours:
            self._typed = hours
            bucket = self._bucket_of(hours) or self._chosen
        elif bucket != before_bucket:
            self._chosen = bucket
            hours = self._typed if self._holds(bucket) else ""
            if before_hours and not hours:
                said = f"The exact hours, {before_hours}, are taken out: they belong to another bucket."
        self._seen = bucket, hours
        return bucket, hours, said

    def _bucket_of(self, hours: str) -> str:
        try:
            return self._scale.level_for_hours(read_hours(hours)).id if hours else ""
        except UnknownValue:
            return ""

    def _holds(self, bucket: str) -> bool:
        """Whether the hours that were typed lie in a bucket."""
        if not self._typed or bucket in (NOTHING, UNSAID):
            return False
        try:
            return self._scales.level(bucket).holds(read_hours(self._typed))
        except UnknownValue:
            return False
