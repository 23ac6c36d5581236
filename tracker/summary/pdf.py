"""The page as a PDF: one side of A4 or US Letter, tagged, with its fonts, without an author."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Mapping

import typst

from tracker import words
from tracker.diary.dates import long_day
from tracker.summary import page_model as parts
from tracker.summary.page_model import DaySquares, Page, Table, Week, Weeks, brief_day, fitting_label, slimmed
from tracker.summary.print_colours import PAPERS, PrintColours
from tracker.summary.typesetting import Json, letters_in, typeset

SETTINGS = (
    {"size": 10.5, "square": 4.8, "leading": 0.56, "above": 1.15},
    {"size": 10.0, "square": 4.6, "leading": 0.53, "above": 1.0},
    {"size": 9.5, "square": 4.3, "leading": 0.5, "above": 0.85},
)
"""Points of the text, millimetres of a square's height, room between lines and above a head in ems of the
text: the first in which all fits. Text is never below 9 pt."""
LONG_WORD = re.compile(r"\S{40,}")
YEAR_LABEL = 26
"""Letters of a label in the year's table."""
TOO_FULL = "more than one page"


def as_pdf(page: Page, letter: bool = False, fax: bool = False) -> tuple[bytes, tuple[str, ...]]:
    """One side of paper, and the names of what was left out to fit it on it.

    Text never gets smaller: what matters least goes until the rest fits.
    """
    inks, letters = PrintColours(fax), letters_in(page.own_words)
    if letters.unshown:
        page = page.with_letters_unshown()
    whole = [(page, (), setting) for setting in SETTINGS[:-1]]
    tries = [*whole, *((slim, left_out, SETTINGS[-1]) for slim, left_out in slimmed(page))]
    for slim, left_out, setting in tries:
        try:
            return typeset(
                "page.typ", _data(slim, inks, PAPERS[letter], setting), page.made, letters
            ), left_out
        except typst.TypstError as error:
            if TOO_FULL not in error.message:
                raise
    raise ValueError("the page holds more than one side of paper even when slimmed")


def _data(page: Page, inks: PrintColours, paper: tuple[float, float], setting: Mapping[str, float]) -> Json:
    """Everything that the page's layout takes."""
    return {
        "paper": {"width": paper[0], "height": paper[1]},
        **setting,
        "fax": inks.fax,
        "title": parts.TITLE,
        "made": long_day(page.made),
        "caution": words.CAUTION,
        "blanks": page.blanks,
        "wants-head": parts.WANTS_HEAD,
        "wants": [breakable(line) for line in page.wants],
        "changed-head": parts.CHANGED_HEAD,
        "changed-hint": parts.CHANGED_HINT,
        "changed": [breakable(line) for line in page.changed],
        "figures-head": parts.FIGURES_HEAD,
        "figures": _table(page.figures),
        "after-nights": page.after_nights,
        "said-head": parts.SAID_HEAD,
        "verdict-days": page.verdict_days,
        "statements": page.said.statements,
        "complete-head": parts.COMPLETE_HEAD,
        "period": page.period,
        "complete": " ".join(page.complete),
        "weeks-head": parts.WEEKS_HEAD,
        "signs": "; ".join(page.signs),
        "weeks": _weeks(page.weeks, inks),
        "year-head": parts.YEAR_HEAD,
        "year": _table(page.year, YEAR_LABEL) if page.year else None,
        "notes-head": parts.NOTES_HEAD,
        "notes": [breakable(note) for note in page.notes],
        "reading-head": parts.READING_HEAD,
        "reading": " ".join(page.reading),
    }


def breakable(text: str) -> str:
    """The text with places to break in words that are longer than any line may be."""
    return LONG_WORD.sub(lambda word: "\u200b".join(textwrap.wrap(word[0], 20)), text)


def _table(table: Table, width: int = 60) -> Json:
    rows = [{"label": fitting_label(row.label, width), "cells": row.cells} for row in table.rows]
    return {"heads": table.heads, "rows": rows}


def _weeks(weeks: Weeks, inks: PrintColours) -> Json:
    return {
        "alt": spoken(weeks),
        "weekdays": weeks.weekdays,
        "rows": [_week(week, weeks.with_shifts, inks) for week in weeks.rows],
        "mood-head": weeks.mood_head,
        "sleep-head": "" if weeks.key_tells_hours else weeks.sleep_head,
        "mood-key": [{"mark": inks.of(line.mark, "mood"), "label": line.label} for line in weeks.mood_key],
        "key-beside": len(weeks.rows) >= len(weeks.mood_key) + len(weeks.sleep_key),
        "sleep-key": [{"mark": inks.of(line.mark, "sleep"), "label": line.label} for line in weeks.sleep_key],
    }


def _week(week: Week, with_shifts: bool, inks: PrintColours) -> Json:
    return {
        "from": brief_day(week.first),
        "mood": [_mood(day, inks) if day else None for day in week.days],
        "sleep": [inks.of(day.sleep, "sleep") if day else None for day in week.days],
        "shifts": [day.shift if day else "" for day in week.days] if with_shifts else None,
    }


def _mood(day: DaySquares, inks: PrintColours) -> Json:
    drawn = inks.of(day.mood, "mood")
    return {**drawn, "sign": drawn["sign"] + ("a" if day.anxious else "")}


def spoken(weeks: Weeks) -> str:
    """The squares row by row, for those who listen to the page."""
    return " ".join(
        [
            f"Rows of seven days, each with the digits of mood (a: anxious) and of {weeks.sleep_head}.",
            *map(_row, weeks.rows),
        ]
    )


def _row(week: Week) -> str:
    days = [day for day in week.days if day]
    mood = " ".join(day.mood.sign + ("a" if day.anxious else "") for day in days)
    sleep = " ".join(day.sleep.sign for day in days)
    shifts = " ".join(day.shift for day in days)
    return f"From {long_day(week.first)}: mood {mood}; hours {sleep}; shifts {shifts}."
