"""Everything about one day as questions, and the changes that the answers mean."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.diary.answers import exact_sleep, read_hours
from tracker.diary.changes import answer, anxious_change, note_change, shift_change
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import NO_HOURS, Change, Day, Square
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import Grid, Scale, Scales
from tracker.screens.form import Form, Question

NOTHING, UNSAID = "", "?"


def day_questions(day: Day, choices: Choices) -> list[Question]:
    """The questions, answered as the day stands."""
    hours = "" if day.hours is None else f"{day.hours:g}"
    anxious = {None: NOTHING, True: "yes", False: "no"}[day.is_anxious]
    kinds = [(kind.id, f"{kind.label} ({kind.code})") for kind in choices.kinds]
    return [
        _grid_question("mood", day, choices),
        _grid_question("sleep", day, choices),
        Question(
            "hours",
            "Exact hours slept",
            hours,
            help="May stay empty; they choose the bucket, and another bucket takes them out.",
        ),
        Question("anxious", "Anxious", anxious, [(NOTHING, "not noted"), ("yes", "yes"), ("no", "no")]),
        Question("shift", "Shift", day.shift_kind, [(NOTHING, "none entered"), *kinds]),
        Question("note", "Note", day.note_text),
    ]


def _grid_question(grid: Grid, day: Day, choices: Choices) -> Question:
    levels = choices.scales.on(grid, day.date).levels
    options = [(level.id, f"{level.mark}  {level.label}") for level in reversed(levels)]
    value = _value(day.square(grid))
    if value not in (NOTHING, UNSAID, *(level.id for level in levels)):
        options.insert(0, (value, choices.scales.level(value).label))
    return Question(
        grid, grid.capitalize(), value, [(NOTHING, "nothing kept"), *options, (UNSAID, "?  could not say")]
    )


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
    if "shift" in new:
        kind = choices.kinds_by_id.get(new["shift"])
        cleared = answer(day.date, "shift", "cleared")
        changes.append(shift_change(day.date, kind, clock) if kind else cleared)
    if "note" in new:
        changes.append(note_change(day.date, new["note"]))
    return changes


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
    """Two questions of the sleep that never contradict each other on the form."""

    def __init__(self, form: Form, scale: Scale, scales: Scales) -> None:
        self._bucket, self._hours = form.question("sleep"), form.question("hours")
        self._scale, self._scales = scale, scales
        self._seen = self._chosen, self._typed = self._bucket.answer, self._hours.answer
        """The bucket that was chosen by hand, and the hours that were typed."""

    def follow(self) -> str:
        """After a change of one let the other agree with it; says where that took something away."""
        bucket, hours = self._seen
        said = ""
        if self._hours.answer != hours:
            self._typed = self._hours.answer
            self._bucket.put(self._bucket_of(self._typed) or self._chosen)
        elif self._bucket.answer != bucket:
            self._chosen = self._bucket.answer
            self._hours.put(self._typed if self._holds(self._chosen) else "")
            if hours and not self._hours.answer:
                said = f"The exact hours, {hours}, are taken out: they belong to another bucket."
        self._seen = self._bucket.answer, self._hours.answer
        return said

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
