"""Which script a letter belongs to, and which way a line runs."""

from __future__ import annotations

import unicodedata

SCRIPTS = {
    "CJK": "Chinese", "Hiragana": "Japanese", "Katakana": "Japanese", "Hangul": "Korean",
    "Myanmar": "Burmese",
}  # fmt: skip
"""What a script is called, where the letter's own name says it otherwise."""


def script_of(letter: str) -> str:
    """The script of a letter, by the name that Unicode gives it."""
    if unicodedata.category(letter) in ("So", "Sk", "Cn", "Cc"):
        return "signs"
    first = unicodedata.name(letter, "signs").split()[0].capitalize()
    return SCRIPTS.get(first.upper(), SCRIPTS.get(first, first))


def is_right_to_left(text: str) -> bool:
    """Whether a line runs from right to left: its first strong letter does (Unicode UAX #9)."""
    strong = (unicodedata.bidirectional(letter) for letter in text)
    return next((kind in ("R", "AL") for kind in strong if kind in ("L", "R", "AL")), False)
