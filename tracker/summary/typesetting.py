"""A layout and what stands in it as a tagged PDF with its fonts, whatever letters she writes in."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

import typst

from tracker.summary.page_model import UNSHOWN_SIGN

Json = Any
BEYOND_ASCII = re.compile(r"[^ -~\n]")
TRIAL = b"""#set document(title: "letters")
#set text(font: "Libertinus Serif")
#for letter in json(bytes(sys.inputs.data)) { par(letter) }"""


@dataclass(frozen=True, slots=True)
class Letters:
    """How the letters of a text can be printed on this computer."""

    with_system_fonts: bool = False
    """Whether the fonts that are shipped are too few."""
    unshown: frozenset[str] = frozenset()
    """Letters that no font shows."""

    def shown(self, data: Json) -> Json:
        """The data with a question mark for every letter that no font shows."""
        return each_text(data, lambda text: "".join(UNSHOWN_SIGN if c in self.unshown else c for c in text))


def letters_in(data: Json) -> Letters:
    """Find the fonts for all texts of the data: those that are shipped, else also those of the computer."""
    found: set[str] = set()
    each_text(data, lambda text: found.update(BEYOND_ASCII.findall(text)))
    if not _unshown(sorted(found), with_system_fonts=False):
        return Letters()
    return Letters(True, frozenset(_unshown(sorted(found), with_system_fonts=True)))


def each_text(data: Json, change: Callable[[str], object]) -> Json:
    """The data with a change made to every text in it."""
    if isinstance(data, str):
        return change(data)
    if isinstance(data, dict):
        return {key: each_text(value, change) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [each_text(value, change) for value in data]
    return data


def _unshown(letters: Sequence[str], with_system_fonts: bool) -> list[str]:
    """The letters that no font shows, by halves."""
    if not letters or _can_be_shown(letters, with_system_fonts):
        return []
    if len(letters) == 1:
        return list(letters)
    half = len(letters) // 2
    return [*_unshown(letters[:half], with_system_fonts), *_unshown(letters[half:], with_system_fonts)]


def _can_be_shown(letters: Sequence[str], with_system_fonts: bool) -> bool:
    try:
        _compile(TRIAL, letters, 0, with_system_fonts)
    except typst.TypstError:
        return False
    return True


def typeset(layout: str, data: Json, made: date, letters: Letters) -> bytes:
    """The PDF of a layout's data; the same data and day give the same bytes where no fonts differ."""
    source = resources.files("tracker.summary").joinpath(layout).read_bytes()
    noon = int(datetime.combine(made, time(12), UTC).timestamp())
    return _compile(source, letters.shown(data), noon, letters.with_system_fonts)


def _compile(source: bytes, data: Json, timestamp: int, with_system_fonts: bool) -> bytes:
    pdf = typst.compile(
        source,
        sys_inputs={"data": json.dumps(data, allow_nan=False)},
        pdf_standards=["ua-1"],
        ignore_system_fonts=not with_system_fonts,
        timestamp=timestamp,
    )
    if not isinstance(pdf, bytes):
        raise TypeError("a PDF is one file")
    return pdf
