"""Everything about one day as questions, and the changes that the answers mean."""

from __future__ import annotations

from tracker.diary import keeping
from tracker.diary.answers import exact_sleep
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Square
from tracker.diary.scales import Grid
from tracker.screens.form import Question

NOTHING, UNSAID = "", "?"


def day_questions(day: Day, choices: Choices) -> list[Question]:
    """The questions, answered as the day stands."""
    hours = "" if day.hours is None else f"{day.hours:g}"
    anxious = {None: NOTHING, True: "yes", False: "no"}[day.is_anxious]
    kinds = [(kind.id, f"{kind.label} ({kind.code})") for kind in choices.kinds]
    return [
        _grid_question("mood", day, choices),
        _grid_question("sleep", day, choices),
        Question("hours", "Exact hours slept", hours, help="May stay empty; they choose the bucket."),
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


def day_changes(day: Day, answers: dict[str, str], choices: Choices, clock: Clock) -> list[Change]:
    """What the answers change of a day.

    Raises UnknownValue for hours that are none, or that do not lie in the chosen bucket.
    """
    stood = {question.name: question.answer for question in day_questions(day, choices)}
    new = {name: answer for name, answer in answers.items() if answer != stood[name]}
    changes = []
    if "mood" in new:
        changes.append(_level_change(day, "mood", new["mood"]))
    if "sleep" in new or "hours" in new:
        changes.append(_sleep_change(day, new, answers, choices))
    if "anxious" in new:
        changes.append(keeping.anxious_change(day.date, {"yes": True, "no": False}.get(new["anxious"])))
    if "shift" in new:
        kind = choices.kinds_by_id.get(new["shift"])
        cleared = keeping.answer(day.date, "shift", "cleared")
        changes.append(keeping.shift_change(day.date, kind, clock) if kind else cleared)
    if "note" in new:
        changes.append(keeping.note_change(day.date, new["note"]))
    return changes


def _level_change(day: Day, grid: Grid, value: str) -> Change:
    if value in (NOTHING, UNSAID):
        return keeping.answer(day.date, grid, "could not say" if value else "cleared")
    return Change(day.date, grid, value)


def _sleep_change(day: Day, new: dict[str, str], answers: dict[str, str], choices: Choices) -> Change:
    """Hours that are typed choose the bucket; a bucket that is chosen alone drops the hours."""
    if "hours" in new and answers["hours"]:
        chosen = (
            choices.scales.level(new["sleep"]).label if new.get("sleep") not in (None, "", UNSAID) else ""
        )
        return exact_sleep(day.date, chosen, answers["hours"], choices)
    return _level_change(day, "sleep", answers["sleep"])
