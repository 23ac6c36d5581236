"""A layout and what stands in it as a tagged PDF with its fonts, whatever letters she writes in."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

import typst

from tracker.summary.letters import is_right_to_left, script_of

Json = Any
BEYOND_ASCII = re.compile(r"[^ -~]")
LONG_WORD = re.compile(r"\S{40,}")
TRIAL = b"""#let trial = json(bytes(sys.inputs.data))
#set document(title: "letters")
#set text(font: trial.fonts, fallback: trial.fallback)
#for letter in trial.letters { par(letter) }"""
SHIPPED = "Libertinus Serif"
FONTS_FIRST = {
    "Arabic": (
        "Noto Naskh Arabic", "Noto Sans Arabic", "Amiri", "Scheherazade New", "Geeza Pro",
        "Segoe UI", "Arial", "DejaVu Sans",
    ),
    "Devanagari": (
        "Noto Serif Devanagari", "Noto Sans Devanagari", "Lohit Devanagari", "Kohinoor Devanagari",
        "Nirmala UI", "Mangal", "Gargi",
    ),
}  # fmt: skip
"""Fonts of the computer that print a script better than the shipped ones, which have it at a fixed pitch."""


@dataclass(frozen=True, slots=True)
class Letters:
    """How the letters of some texts can be printed on this computer."""

    with_system_fonts: bool = False
    """Whether the fonts that are shipped are too few."""
    unshown: frozenset[str] = frozenset()
    """Letters that no font prints."""
    fonts: tuple[str, ...] = ()
    """Fonts of the computer that come before those that are shipped."""

    def printed(self, text: str) -> Json:
        """A text with its fonts and its direction; none where one of its letters cannot be printed."""
        shown = None if self.unshown.intersection(text) else breakable(text)
        return {"text": shown, "fonts": self.fonts, "rtl": is_right_to_left(text)}

    def scripts_unshown(self, text: str) -> list[str]:
        """The scripts of the letters of a text that cannot be printed."""
        return sorted({script_of(letter) for letter in self.unshown.intersection(text)})


def letters_in(texts: Iterable[str]) -> Letters:
    """Find the fonts for some texts: those that are shipped, else also those of the computer."""
    found = sorted(set(BEYOND_ASCII.findall("".join(texts))))
    fonts = tuple(font for letter_font in _fonts_first(found) for font in letter_font)
    if not fonts and not _unshown(found, with_system_fonts=False):
        return Letters()
    return Letters(True, frozenset(_unshown(found, with_system_fonts=True)), fonts)


def _fonts_first(letters: Sequence[str]) -> list[tuple[str, ...]]:
    """The fonts of the computer to take first, for each script that has some there."""
    found = []
    for script, fonts in FONTS_FIRST.items():
        of_script = [letter for letter in letters if script_of(letter) == script]
        if of_script and _compiles(of_script, fonts, fallback=False, with_system_fonts=True):
            found.append(fonts)
    return found


def _unshown(letters: Sequence[str], with_system_fonts: bool) -> list[str]:
    """The letters that no font prints, by halves."""
    if not letters or _compiles(letters, (SHIPPED,), fallback=True, with_system_fonts=with_system_fonts):
        return []
    if len(letters) == 1:
        return list(letters)
    half = len(letters) // 2
    return [*_unshown(letters[:half], with_system_fonts), *_unshown(letters[half:], with_system_fonts)]


def _compiles(
    letters: Sequence[str], fonts: Sequence[str], *, fallback: bool, with_system_fonts: bool
) -> bool:
    try:
        _compile(TRIAL, {"letters": letters, "fonts": fonts, "fallback": fallback}, 0, with_system_fonts)
    except typst.TypstError:
        return False
    return True


def breakable(text: str) -> str:
    """The text with places to break in words that are longer than any line may be."""
    return LONG_WORD.sub(lambda word: "\u200b".join(textwrap.wrap(word[0], 20)), text)


def typeset(layout: str, data: Json, made: date, letters: Letters) -> bytes:
    """The PDF of a layout's data; the same data and day give the same bytes where no fonts differ."""
    source = resources.files("tracker.summary").joinpath(layout).read_bytes()
    noon = int(datetime.combine(made, time(12), UTC).timestamp())
    return _compile(source, data, noon, letters.with_system_fonts)


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
