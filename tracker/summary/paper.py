"""Grids for a paper notebook as a PDF, true to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path

from tracker.diary.choices import Choices
from tracker.diary.days import Day
from tracker.record.files import write_bytes
from tracker.summary.paper_layout import GREY_CORNER, LINE, PaperSheet, Wanted, sheets
from tracker.summary.typesetting import Json, letters_in, typeset

LAYOUT = "paper.typ"


def write_paper(path: Path, wanted: Wanted, days: Mapping[date, Day], choices: Choices, today: date) -> int:
    """Write the grids and return the number of sheets.

    Raises
    ------
    UnknownValue
        For a pitch that is too small or too large.
    CannotWrite
        When the file cannot be written; then nothing half-written is left.
    """
    made = sheets(wanted, days, choices, today)
    write_bytes(path, as_pdf(made, today))
    return len(made)


def as_pdf(made: Sequence[PaperSheet], today: date) -> bytes:
    """The sheets as one PDF; a label with letters that no font prints gives way to its digit alone."""
    letters = letters_in([one.text for sheet in made for one in sheet.texts])
    data = {
        "title": made[0].title,
        "width": made[0].width,
        "height": made[0].height,
        "line": LINE,
        "corner": GREY_CORNER,
        "sheets": [_drawn(_without(letters.unshown, sheet)) for sheet in made],
    }
    return typeset(LAYOUT, data, today, letters)


def _without(unshown: frozenset[str], sheet: PaperSheet) -> PaperSheet:
    """The sheet without the texts in which a letter stands that no font prints."""
    return replace(sheet, texts=[one for one in sheet.texts if not unshown.intersection(one.text)])


def _drawn(sheet: PaperSheet) -> Json:
    return {
        **asdict(sheet),
        "alt": f"{sheet.title}: squares to cut out, with their key and a ruler of 100 mm.",
    }
