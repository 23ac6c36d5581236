"""The page as a PDF: one side of A4 or US Letter, tagged, with its fonts, without an author."""

from __future__ import annotations

from collections.abc import Mapping

import typst

from tracker import words
from tracker.diary.dates import long_day
from tracker.summary import page_model as parts
from tracker.summary.alt_text import alt_text
from tracker.summary.page_model import DaySquares, Key, Page, Pair, Part, Strip, Table, Week, slimmed
from tracker.summary.print_colours import PAPERS, PrintColours
from tracker.summary.thresholds import FEWEST_OF_MONTH
from tracker.summary.typesetting import Json, Letters, letters_in, typeset

SETTINGS = (
    {"size": 10.0, "leading": 0.52, "above": 1.0},
    {"size": 9.5, "leading": 0.5, "above": 0.9},
    {"size": 9.0, "leading": 0.42, "above": 0.65},
)
"""Points of the text, room between lines and above a head in ems of the text: the first in which all fits.
Text is never below 9 pt."""
GOES_FIRST: tuple[Part, ...] = ("notes", "trial", "year")
YEAR_BRACKETS = f"( ) fewer than {FEWEST_OF_MONTH} days kept."
DARKER, THICKER = "darker is lower or shorter", "a thicker foot is lower or shorter"
NIGHTS_IN_BLACK, UNDERLINED = "nights in black", "underlined: the last 14 days"
UPRIGHT_BAR = "upright bar: my levels changed"
HEADS = {
    "title": parts.TITLE,
    "name-head": parts.NAME,
    "born-head": parts.BORN,
    "caution": words.CAUTION,
    "wants-head": parts.WANTS_HEAD,
    "changed-head": parts.CHANGED_HEAD,
    "changed-hint": parts.CHANGED_HINT,
    "figures-head": parts.FIGURES_HEAD,
    "pairs-head": parts.SIDE_BY_SIDE_HEAD,
    "as-they-stand": parts.AS_THEY_STAND,
    "tried-head": parts.TRIED_HEAD,
    "notes-head": parts.NOTES_HEAD,
    "year-head": parts.YEAR_HEAD,
    "reading-head": parts.READING_HEAD,
}
"""What stands on every page."""
TOO_FULL = "more than one page"


def as_pdf(page: Page, letter: bool = False, fax: bool = False) -> tuple[bytes, tuple[str, ...]]:
    """One side of paper, and the names of what was left out to fit it on it.

    Text never gets smaller than 9 pt: what matters least goes until the rest fits.
    """
    colours, letters = PrintColours(fax), letters_in([*page.own_lines, *page.own_labels])
    whole = [(page, (), setting) for setting in SETTINGS[:-1]]
    tries = [*whole, *((slim, left_out, SETTINGS[-1]) for slim, left_out in slimmed(page, GOES_FIRST))]
    for slim, left_out, setting in tries:
        data = _Layout(colours, letters, PAPERS[letter], setting).data(slim)
        try:
            return typeset("page.typ", data, page.made, letters), left_out
        except typst.TypstError as error:
            if TOO_FULL not in error.message:
                raise
    raise ValueError("the page holds more than one side of paper even when slimmed")


class _Layout:
    """Puts what stands on the page into the form that the layout takes."""

    def __init__(
        self,
        colours: PrintColours,
        letters: Letters,
        paper: tuple[float, float],
        setting: Mapping[str, float],
    ) -> None:
        self._colours, self._own, self._setting = colours, letters.printed, setting
        self._paper = {"width": paper[0], "height": paper[1]}

    def data(self, page: Page) -> Json:
        """Everything that the layout takes."""
        return {
            "paper": self._paper,
            **self._setting,
            **HEADS,
            "fax": self._colours.fax,
            "made": long_day(page.made),
            "name": self._own(page.name) if page.name else None,
            "born": self._own(page.born) if page.born else None,
            "blanks": page.blanks,
            "wants": [self._own(line) for line in page.wants],
            "changed": [self._own(line) for line in page.changed],
            "period": page.period,
            "figures": self._table(page.figures),
            "remarks": [*page.remarks, *([page.left_out] if page.left_out and page.pairs else [])],
            "pairs": self._pairs(page.pairs),
            "no-pairs": page.left_out,
            "tested": {
                "head": page.tested.head,
                "right": page.tested.right,
                "statements": page.tested.statements,
            },
            "tried": self._own(page.tried) if page.tried else None,
            "strip": self._strip(page.strip),
            "notes": [self._own(note) for note in page.notes],
            "year": self._year(page.year) if page.year else None,
            "complete": " ".join(page.complete),
            "reading": page.reading,
        }

    def _table(self, table: Table) -> Json:
        return {"heads": table.heads, "rows": [self._row(table, place) for place in range(len(table.rows))]}

    def _row(self, table: Table, place: int) -> Json:
        row = table.rows[place]
        opens = place > 0 and table.rows[place - 1].block != row.block
        label = self._own(row.label)
        return {"label": label, "plain": row.plain, "cells": row.cells, "opens": opens}

    def _year(self, year: Table) -> Json:
        return {**self._table(year), "brackets": YEAR_BRACKETS if year.has_brackets else ""}

    def _pairs(self, pairs: tuple[Pair, ...]) -> Json:
        by_outcome: dict[str, Json] = {}
        for pair in pairs:
            empty = {"label": self._own(pair.outcome), "plain": pair.plain, "sides": []}
            by_outcome.setdefault(pair.outcome, empty)["sides"] += [
                {"label": self._own(side.label), "plain": side.plain, "count": side.count}
                for side in pair.sides
            ]
        return list(by_outcome.values())

    def _strip(self, strip: Strip) -> Json:
        days = strip.days
        told = [
            (THICKER if self._colours.fax else DARKER, True),
            (NIGHTS_IN_BLACK, strip.with_shifts and any(at.is_night for at in days)),
            (UNDERLINED, any(at.is_recent for at in days)),
        ]
        return {
            "head": parts.DAYS_HEAD,
            "right": "; ".join(text for text, is_there in told if is_there),
            "alt": alt_text(strip),
            "with-shifts": strip.with_shifts,
            "weekdays": strip.weekdays,
            "rows": [[self._week(week) for week in row] for row in strip.rows],
            "keys": [self._key(key) for key in strip.keys],
            "signs": [self._sign(sign) for sign in self._signs(strip)],
            "changes": [
                {**self._own(text.split(": ", 1)[1]), "begin": f"{text.split(': ', 1)[0]}:"}
                for text in strip.changes
            ],
        }

    def _signs(self, strip: Strip) -> list[str]:
        bar = [UPRIGHT_BAR] if any(at.new_levels for at in strip.days) else []
        return [*strip.signs, *bar]

    def _sign(self, sign: str) -> Json:
        code, _, meaning = sign.partition(" ")
        return {**self._own(meaning), "code": code}

    def _key(self, key: Key) -> Json:
        lines = [
            {"mark": self._colours.of(line.mark, key.grid), "label": self._own(line.label)}
            for line in key.lines
        ]
        return {"title": key.title, "lines": lines, "signs": []}

    def _week(self, week: Week) -> Json:
        days = [self._day(day) if day else None for day in week.days]
        return {"from": parts.day_and_month(week.begins), "days": days}

    def _day(self, day: DaySquares) -> Json:
        mood = self._colours.of(day.mood, "mood")
        return {
            "mood": {**mood, "sign": mood["sign"] + ("a" if day.anxious else "")},
            "sleep": self._colours.of(day.sleep, "sleep"),
            "shift": day.shift,
            "night": day.is_night,
            "recent": day.is_recent,
            "change": day.change,
            "bars": sorted(day.new_levels),
        }
