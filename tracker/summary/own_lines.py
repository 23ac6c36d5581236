"""Her own lines on the page: as many as there is room for."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from tracker.diary.errors import UnknownValue

WIDTH = 75
"""Letters of a line of the text page, indent and number off."""
WANTS_LINES, CHANGED_LINES = 3, 4


def checked_lines(lines: Sequence[str], room: int, what: str) -> list[str]:
    """The lines without empty ones, if they fit.

    Raises UnknownValue and says how many lines they take.
    """
    kept = [" ".join(line.split()) for line in lines if line.strip()]
    taken = sum(len(textwrap.wrap(line, WIDTH)) for line in kept)
    if taken > room:
        raise UnknownValue(f"{what} takes {taken} lines of the page; there is room for {room}. Shorten it.")
    return kept
