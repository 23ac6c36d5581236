"""Days and months as a person types and reads them."""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta

from tracker.diary.errors import UnknownValue, WrongDay

MONTHS = tuple(calendar.month_name)[1:]
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
FIRST_DATE, LAST_DATE = date(1900, 1, 1), date(2199, 12, 31)
"""The days that can be named; room is left on both sides for the days beside them."""

NEAR_DAYS = {"yesterday": -1, "today": 0, "tomorrow": 1}
DAYS_LIKE = "today, yesterday, mon to sun, 3 days ago, 17 March 2026 or 2026-03-17"
YEAR_FIRST = r"(\d{4})([-./])(\d{1,2})\2(\d{1,2})|(\d{4})(\d\d)(\d\d)"
YEAR_LAST = r"(\d{1,2})([-./])(\d{1,2})\2(\d{4})"
YEAR_SHORT = r"\d{1,2}([-./])\d{1,2}(\1(\d\d)?)?"
AGO = r"(\d{1,5}) (day|week)s? ago|-(\d{1,5})"
DATE_PARTS = ("day", "month", "year")
BESIDE_NUMBERS = ("of", "st", "nd", "rd", "th")
"""Words of a date that mean nothing: `27th of November`."""


def read_day(text: str, today: date, ahead: bool = False) -> date:
    """The day that somebody means by what she types, in any form that the program prints and the usual ones.

    Parameters
    ----------
    today
        The day from which `yesterday`, weekdays, `3 days ago` and dates without a year are counted.
    ahead
        Whether a weekday, or a date without a year, is the next one; else it is the last one. Today is both.

    Raises UnknownValue for what is no day, can be read two ways, or names a wrong weekday; WrongDay for a day
    out of reach.
    """
    word = " ".join(text.casefold().replace(",", " ").split())
    if word in NEAR_DAYS:
        return today + timedelta(days=NEAR_DAYS[word])
    found = _weekday(word, today, ahead) or _ago(word, today) or _in_figures(word, text)
    return within_reach(found or _with_month_name(word, text, today, ahead))


def _weekday(word: str, today: date, ahead: bool) -> date | None:
    """`fri`, or `last friday`, which is never today."""
    number = weekday_for_text(word.removeprefix("last "))
    if number is None:
        return None
    if word.startswith("last "):
        return today - timedelta(days=(today.weekday() - number - 1) % 7 + 1)
    if ahead:
        return today + timedelta(days=(number - today.weekday()) % 7)
    return today - timedelta(days=(today.weekday() - number) % 7)


def _ago(word: str, today: date) -> date | None:
    found = re.fullmatch(AGO, word)
    if not found:
        return None
    number, unit, days = found.groups()
    return today - timedelta(days=int(days or number) * (7 if unit == "week" else 1))


def _in_figures(word: str, text: str) -> date | None:
    """`2026-3-17`, `20260317`, `17.3.2026`, or with strokes where they can be read one way alone."""
    if found := re.fullmatch(YEAR_FIRST, word):
        year, _, month, day, *together = found.groups()
        days = _dates([(year, month, day)] if year else [tuple(together)])
    elif found := re.fullmatch(YEAR_LAST, word):
        first, sign, second, year = found.groups()
        readings = [(year, second, first)] if sign == "." else [(year, second, first), (year, first, second)]
        days = _dates(readings)
    elif re.fullmatch(YEAR_SHORT, word):
        raise UnknownValue(f"'{text}' needs a year of four digits, like 17.3.2026.")
    else:
        return None
    if not days:
        raise UnknownValue(f"{text} is no date of the calendar.")
    if len(days) > 1:
        both = " or ".join(long_day(day) for day in days)
        raise UnknownValue(f"'{text}' can be read two ways, as {both}; write the month as a word.")
    return days[0]


def _dates(readings: Sequence[tuple[str, ...]]) -> list[date]:
    """The different dates among some years, months and days."""
    return list(dict.fromkeys(_existing(readings)))


def _existing(readings: Sequence[tuple[str, ...]]) -> Iterator[date]:
    for year, month, day in readings:
        try:
            yield date(int(year), int(month), int(day))
        except ValueError:
            continue


def _with_month_name(word: str, text: str, today: date, ahead: bool) -> date:
    """`17 March 2026`, `Mar 17`, `17th of March`, `Tue 17 March`: the month as a word."""
    weekday, rest = _without_weekday(word)
    day, given = _parsed(rest, text)
    if "year" not in given:
        day = _nearest_year(day, today, ahead)
    elif str(day.year) not in rest:
        raise UnknownValue(f"'{text}' needs a year of four digits, like {long_day(day)}.")
    if weekday not in (None, day.weekday()):
        name = WEEKDAYS[day.weekday()].capitalize()
        raise UnknownValue(
            f"'{text}' contradicts itself: {long_day(day)} is a {name}; "
            "leave the weekday out, or give the year."
        )
    return day


def _without_weekday(word: str) -> tuple[int | None, str]:
    """The weekday beside a date, and the date without it."""
    parts = re.split(r"[\s.-]+", word)
    at = next((at for at, part in enumerate(parts) if _is_weekday(part)), None)
    weekday = None if at is None else weekday_for_text(parts.pop(at))
    return weekday, " ".join(parts)


def _is_weekday(part: str) -> bool:
    """Whether a part of a date names a weekday, in three letters or more: `th` stands behind a number."""
    return len(part) > 2 and weekday_for_text(part) is not None


def _parsed(rest: str, text: str) -> tuple[date, set[str]]:
    """A date with one word, the name of its month, and which parts of it were given.

    What is not given comes from a default; with two defaults that differ in everything it is what differs.
    Both lie in leap years, so that 29 February is a day.
    """
    from dateutil import parser  # not at the top: few days are typed with a month's name

    defaults = datetime(2000, 1, 1), datetime(2004, 2, 2, 1)  # noqa: DTZ001
    try:
        one, two = (parser.parse(rest, default=default, ignoretz=True) for default in defaults)
    except (ValueError, OverflowError):
        raise no_day(text) from None
    given = {part for part in (*DATE_PARTS, "hour") if getattr(one, part) == getattr(two, part)}
    words = [word for word in re.findall(r"[^\W\d]+", rest) if word not in BESIDE_NUMBERS]
    if not {"day", "month"} <= given or "hour" in given or len(words) != 1:
        raise no_day(text)
    return one.date(), given


def _nearest_year(day: date, today: date, ahead: bool) -> date:
    """The same day of the last year, or with `ahead` of the next one, in which there is one."""
    step = 1 if ahead else -1
    for year in range(today.year, today.year + 9 * step, step):  # leap years lie up to eight years apart
        for found in _existing([(str(year), str(day.month), str(day.day))]):
            if (found - today).days * step >= 0:
                return found
    raise no_day(long_day(day))


def no_day(text: str) -> UnknownValue:
    """The refusal of a text that names no day."""
    return UnknownValue(f"'{text}' is no day; give {DAYS_LIKE}.")


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


def read_month(text: str, today: date) -> date:
    """The first day of a month written `2026-03`, `March 2026` or `march`, which is the last one.

    Raises UnknownValue for anything else, WrongDay for a month out of reach.
    """
    word = text.strip().casefold()
    try:
        if re.fullmatch(r"\d{4}-\d{1,2}", word):
            return read_day(f"{word}-1", today)
        if re.fullmatch(r"[a-z]+\.?( \d{4})?", word):
            return read_day(f"1 {word}", today)
    except UnknownValue:
        pass
    raise UnknownValue(f"'{text}' is no month; write it like March 2026 or 2026-03.")


def short_day(day: date) -> str:
    """`Tue 17 March`."""
    return f"{WEEKDAYS[day.weekday()][:3].capitalize()} {day.day} {MONTHS[day.month - 1]}"


def long_day(day: date) -> str:
    """`17 March 2026`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def short_date(day: date) -> str:
    """`17 Mar 2026`."""
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"


def month_name(day: date) -> str:
    """`March 2026`."""
    return f"{MONTHS[day.month - 1]} {day.year}"
