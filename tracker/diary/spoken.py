"""Sentences for those who listen: what a voice skips or misreads is written out."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date

from tracker.diary.dates import MONTHS, WEEKDAYS, long_day, short_day

_NUMBER = r"\d+(?:\.\d+)?"
_SHORT_WEEKDAYS = {name[:3].capitalize(): name.capitalize() for name in WEEKDAYS}
_MONTH = "|".join(MONTHS)
Replacement = str | Callable[[re.Match[str]], str]
_WRITTEN_OUT: Mapping[str, Replacement] = {
    r"\b(\d{4})-(\d\d)-(\d\d)\b": lambda found: long_day(date(*map(int, found.groups()))),
    r"\b(\d{4})-(\d\d)\b": lambda found: f"{MONTHS[int(found[2]) - 1]} {found[1]}",
    rf"\b({'|'.join(_SHORT_WEEKDAYS)}) (?=\d+ (?:{_MONTH}))": lambda found: f"{_SHORT_WEEKDAYS[found[1]]} ",
    rf"({_NUMBER})-({_NUMBER}) h\b": r"\1 to under \2 hours",
    rf"({_NUMBER}) h\b": lambda found: f"{found[1]} hour{'' if found[1] == '1' else 's'}",
    rf"\b({_NUMBER})-({_NUMBER})\b": r"\1 to \2",
    rf"({_NUMBER})\+({_NUMBER})": r"\1 plus \2",
    r" \(([^()]*)\)": r", \1",
    r"(?<= )\?(?= )": "a question mark",
    rf"(\d+ (?:{_MONTH}) \d{{4}}) or \1": r"\1",
}


def spoken(text: str) -> str:
    """A sentence of the program as it is said: for `Tue 17 March (6-7 h)` without a bracket and a dash.

    Not for a person's own words, nor for numbers to be called, which stay as they are.
    """
    for written, said in _WRITTEN_OUT.items():
        text = re.sub(written, said, text)
    return text


def spoken_day(day: date, today: date) -> str:
    """A day as it is called beside another one: `today`, `yesterday`, or its date."""
    near = {0: "today", 1: "yesterday", -1: "tomorrow"}.get((today - day).days)
    return near or spoken_date(day, today)


def spoken_date(day: date, today: date) -> str:
    """`Thursday 12 March`, in another year than today's with it."""
    return spoken(short_day(day)) + ("" if day.year == today.year else f" {day.year}")
