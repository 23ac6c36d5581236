"""What a new rota would do, and what was kept of it, in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date

from tracker import words
from tracker.diary.answers import days_in_words
from tracker.diary.choices import Choices
from tracker.diary.days import Change, Square
from tracker.diary.rota_plan import RotaPlan


def plan_in_words(plan: RotaPlan, choices: Choices, span: tuple[date, date]) -> list[str]:
    """How many days would be new, changed or left as they are, and how many shifts of each kind come in."""
    label = _labels(choices)
    counts = Counter(label[change.value] for change in plan.changes if change.state == "kept")
    leave = f", {len(plan.on_leave)} of leave that stay" if plan.on_leave else ""
    by_hand = words.counted(len(plan.by_hand), "set by hand that stays", "set by hand that stay")
    line = (
        f"{len(plan.new)} new, {len(plan.changed)} changed, {plan.same} as they stand, "
        f"{by_hand}{leave}; {span[0]} to {span[1]}."
    )
    named = ", ".join(f"{name} {count}" for name, count in counts.most_common())
    return [line, *([f"  {named}"] if named else [])]


def changed_in_words(plan: RotaPlan, choices: Choices) -> list[str]:
    """Over which shifts that stand the rota would be laid, a line each."""
    label = _labels(choices)
    return [_becomes(square, change, label) for square, change in plan.changed]


def staying_in_words(plan: RotaPlan, choices: Choices) -> list[str]:
    """Which shifts stay where the rota has another, a line each."""
    label = _labels(choices)
    return [_stays(square, change, label) for square, change in [*plan.by_hand, *plan.on_leave]]


def kept_rota_in_words(plan: RotaPlan) -> str:
    """What was kept: `Kept 4 shifts; 1 was taken away.`; of names alone that they are known from now on."""
    if not plan.changes:
        return "No shift was changed; what the names mean is kept."
    gone = sum(change.state == "cleared" for change in plan.changes)
    taken = f"; {gone} {'was' if gone == 1 else 'were'} taken away" if gone else ""
    return f"Kept {words.counted(len(plan.changes) - gone, 'shift')}{taken}."


def named_for_undo(rota: str, plan: RotaPlan) -> str:
    """The laying of a rota as undo names it: `rota of L L N N, Mon 1 March to Wed 31 March`."""
    return f"rota of {rota}, {days_in_words(plan.changes)}" if plan.changes else f"rota of {rota}"


def _becomes(square: Square, change: Change, label: Mapping[str, str]) -> str:
    new, old = _shift_named(change, label), _shift_named(square, label)
    return f"  {change.day}: {old} becomes {new}{' at other hours' if new == old else ''}"


def _stays(square: Square, change: Change, label: Mapping[str, str]) -> str:
    return f"  {change.day}: {_shift_named(square, label)} stays; the rota has {_shift_named(change, label)}"


def _shift_named(shift: Square | Change, label: Mapping[str, str]) -> str:
    if shift.state == "cleared":
        return "no shift"
    return label.get(shift.value, shift.value or "could not say")


def _labels(choices: Choices) -> Mapping[str, str]:
    return {kind.id: kind.label for kind in choices.kinds}
