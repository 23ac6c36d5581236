"""A session of plain lines as it is heard: every line, a question with what was typed behind it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.commands.conftest import Run
from tracker.commands import terminal
from tracker.record.store import Record

Hear = Callable[..., list[str]]
Kept = Callable[[], Record]

SLEEP_KEY = [
    "Hours asleep, every sleep since you last got up added together.",
    "0: no sleep.",
    "2: some, but under 3 hours.",
    "3: 3 to under 4 hours.",
    "4: 4 to under 5 hours.",
    "5: 5 to under 6 hours.",
    "6: 6 to under 7 hours.",
    "7: 7 to under 8 hours.",
    "8 or 9: 8 hours or more.",
    "Or hours, like 6.5 or 6:30, with a plus between two sleeps.",
    "x: could not say.",
]
MOOD_KEY = [
    "How was this day, taken as a whole?",
    "1: very low, hard to get through the day.",
    "2: low, heavy for much of it.",
    "3: even, neither low nor good.",
    "4: good, good for most of it.",
    "5: very good, as good as I know.",
    "With an a behind it, like 3a: anxious, uneasy or unsettled for a good part of the day.",
    "x: could not say.",
]
HOW = [
    "Enter alone: not now. k: this key again. u: take the last answer back. q: stop.",
    "A question mark, or help: where to turn, and all that may be typed.",
]
SHIFT_KEY = [
    "The shift that starts on the day.",
    "s: standard day.",
    "e: early.",
    "l: late.",
    "d: long day.",
    "n: night.",
    "c: on call.",
    "o: off.",
    "v: leave.",
    "k: sick.",
    "The letters above are shifts here: key reads this again, undo takes the last answer back.",
]
OTHER_KEYS = [
    "Anxious means uneasy or unsettled for a good part of the day. y: yes. n: no.",
    "A line in your own words; it takes the place of a note that stands. "
    "No patients' names or details in notes.",
]
KEYS = [*SLEEP_KEY, *MOOD_KEY, *HOW, *SHIFT_KEY, *OTHER_KEYS]
END = "If you feel unsafe, or want someone to talk to: tracker help, or a question mark in the app."
NEXT = "Another day, like yesterday or 12 March, or Enter alone to end:"
AGAIN = "Another day:"
"""The same, from the second time on."""


@pytest.fixture(autouse=True)
def _somebody_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terminal, "somebody_is_there", lambda: True)


@pytest.fixture
def hear(run: Run) -> Hear:
    """What is heard of `tracker put` when some lines are typed, without the keys and the last line."""

    def heard(*typed: str, arguments: tuple[str, ...] = ()) -> list[str]:
        result = run("put", *arguments, typed="".join(f"{line}\n" for line in typed))
        assert result.exit_code == 0, result.stderr
        lines = [line.rstrip() for line in result.output.splitlines()]
        return [line for line in lines if line not in (*KEYS, END)]

    return heard
