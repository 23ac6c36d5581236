"""What may be done when: which actions belong to a mode alone, and which it would refuse.

Several modes can hold at once: while catching up the grids may be hidden, or the keys go to the shifts.
"""

from __future__ import annotations

from collections.abc import Mapping, Set
from typing import Literal

Mode = Literal[
    "after a 1", "after a 1, catching up", "shift letter", "shifts", "catching up", "month full", "hidden",
    "to come",
]  # fmt: skip

AWAITING: frozenset[Mode] = frozenset({"after a 1", "after a 1, catching up", "shift letter"})
"""A second key is awaited; any other action ends that and is done."""
LETTERS: frozenset[Mode] = frozenset({"shift letter", "shifts"})

ONLY_IN: Mapping[str, Set[Mode]] = {
    "ten_hours": {"after a 1"},
    "one_hour": {"after a 1", "after a 1, catching up"},
    "leave_it": AWAITING,
    "shift": LETTERS,
    "no_shift": LETTERS,
    "leave_shifts": {"shifts"},
    "colour": {"catching up"},
    "skip": {"catching up"},
    "next_month": {"month full"},
    "end_catching_up": {"catching up"},
    "show_grids": {"hidden"},
}
"""The modes in which an action can be done; any other can be done in all of them."""

REFUSED_IN: Mapping[str, Set[Mode]] = {
    "digit": {"shifts", "month full", "to come"},
    "anxious": {"to come"},
    "could_not_say": {"shifts", "month full", "to come"},
    "colour": {"month full"},
    "skip": {"month full"},
    "hide": {"hidden"},
}
"""The modes in which an action only says why nothing is kept: its key stays, the foot does not offer it."""

ANSWERS = frozenset({"digit", "anxious", "could_not_say", "colour", "skip"})
"""Actions that answer a square while catching up."""


def allowed(modes: Set[Mode], action: str) -> bool:
    """Whether an action can be done as things stand."""
    return action not in ONLY_IN or not ONLY_IN[action].isdisjoint(modes)


def offered(modes: Set[Mode], action: str) -> bool:
    """Whether the foot names it: while a second key is awaited, its answers alone."""
    if modes & AWAITING:
        return not ONLY_IN.get(action, frozenset()).isdisjoint(modes & AWAITING)
    return allowed(modes, action) and REFUSED_IN.get(action, frozenset()).isdisjoint(modes)
