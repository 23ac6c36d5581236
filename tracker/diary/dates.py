"""Days and months as a person types and reads them."""

from __future__ import annotations

import calendar
import re
from datetime import date, timedelta

from tracker.diary.errors import UnknownValue, WrongDay

MONTHS = tuple(calendar.month_name)[1:]
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
FIRST_DATE, LAST_DATE = date(1900, 1, 1), date(2199, 12, 31)
"""The days that can be named; room is left on both sides for the days beside them."""

NEAR_DAYS = {"yesterday": -1, "today": 0, "tomorrow": 1}


def day_for_text(text: str, today: date) -> date:
    """The day meant by `today`, `yesterday`, `tomorrow`, a weekday (the last one, today included) or a date.

    A date is written `2026-03-17`, or with points `17.3.2026`; with strokes it could be read two ways.

    Raises UnknownValue for anything else and for dates that are none, WrongDay for one out of reach.
    """
    word = text.strip().casefold()
    if word in NEAR_DAYS:
        return today + timedelta(days=NEAR_DAYS[word])
    weekday = weekday_for_text(word)
    if weekday is not None:
        return today - timedelta(days=(today.weekday() - weekday) % 7)
    written = re.fullmatch(r"(?P<y>\d{4})-(?P<m>\d{2})-(?P<d>\d{2})|(\d\d?)\.(\d\d?)\.(\d{4})", word)
    if written:
        year, month, day = written.group("y", "m", "d") if written["y"] else written.group(6, 5, 4)
        try:
            return within_reach(date(int(year), int(month), int(day)))
        except ValueError:
            raise UnknownValue(f"{text} is no date of the calendar.") from None
    if re.fullmatch(r"\d\d?\.\d\d?\.(\d\d)?", word):
        raise UnknownValue(f"'{text}' needs a year of four digits, like 17.3.2026.")
    raise UnknownValue(
        f"'{text}' is no day; give today, yesterday, tomorrow, mon to sun, or a date like 2026-03-17."
    )


def weekday_for_text(text: str) -> int | None:
    """The weekday meant by at least two letters of its name, 0 for Monday; None for any other text."""
    word = text.casefold()
    return next((n for n, name in enumerate(WEEKDAYS) if len(word) >= 2 and name.startswith(word)), None)


def within_reach(day: date) -> date:
    """The day itself.

    Raises WrongDay for one that nobody can mean.
    """
    if not FIRST_DATE <= day <= LAST_DATE:
        raise WrongDay(f"{day.isoformat()} is outside the years 1900 to 2199; look at the date.")
    return day


def month_for_text(text: str) -> date:
    """The first day of a month written `2026-03`.

    Raises UnknownValue for anything else.
    """
    found = re.fullmatch(r"(\d{4})-(\d{2})", text.strip())
    if not found or not 1 <= int(found[2]) <= 12:
        raise UnknownValue(f"'{text}' is no month; write it like 2026-03.")
    return date(int(found[1]), int(found[2]), 1)


def short_day(day: date) -> str:
    """`Tue 17 March`."""
    return f"{WEEKDAYS[day.weekday()][:3].capitalize()} {day.day} {MONTHS[day.month - 1]}"


def long_day(day: date) -> str:
    """`17 March 2026`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def month_name(day: date) -> str:
    """`March 2026`."""
    return f"{MONTHS[day.month - 1]} {day.year}"
