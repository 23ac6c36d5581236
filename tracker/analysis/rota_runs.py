"""Where a day stands in a run of nights, and whether its shift came soon after the one before."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

Labels = npt.NDArray[np.str_]

NIGHTS = ("first night", "second night", "third night or later")
AFTER_NIGHTS = ("first day after nights", "second day after nights")
DAYS_SINCE = ("second day after a night", "third day after a night", "later days")
QUICK, UNHURRIED = "quick return", "other working days"


def place_in_run(days: Sequence[date], nights: Collection[date]) -> Labels:
    """Return (n,) which night of its run each night is, "" for the other days.

    Parameters
    ----------
    days : sequence of n dates
    nights : collection of date
        Days on which a night shift starts; a run is nights on consecutive dates.
    """
    return np.array([_night(day, nights) for day in days], dtype=np.str_)


def after_run(days: Sequence[date], nights: Collection[date]) -> Labels:
    """Return (n,) the first and the second day after a run of nights, "" for the other days."""
    return np.array([_after(day, nights) for day in days], dtype=np.str_)


def days_since_night(shift: Labels, night: npt.NDArray[np.bool_]) -> Labels:
    """Return (n,) how long after the last night each day lies: the second, third, or a later day.

    "" for nights, for the day after one, before the first night, and wherever a day between has no shift
    entered and may have been a night.

    Parameters
    ----------
    shift : (n,) array of str
        "" where no shift is entered.
    night : (n,) array of bool
        Days on which a night shift starts.
    """
    labels, since = [], None
    for entered, is_night in zip(shift != "", night, strict=True):
        since = 0 if is_night else since + 1 if entered and since is not None else None
        labels.append("" if since is None or since < 2 else DAYS_SINCE[min(since, 4) - 2])
    return np.array(labels, dtype=np.str_)


def return_of(days: Sequence[date], working: Collection[date], quick: Collection[date]) -> Labels:
    """Return (n,) whether a working day began under 11 hours after the last shift, "" for days off.

    Parameters
    ----------
    days : sequence of n dates
    working : collection of date
        Days with a shift whose hours are known.
    quick : collection of date
        Of these, the quick returns.
    """
    labels = [QUICK if day in quick else UNHURRIED if day in working else "" for day in days]
    return np.array(labels, dtype=np.str_)


def _night(day: date, nights: Collection[date]) -> str:
    if day not in nights:
        return ""
    before = 0
    while before < len(NIGHTS) - 1 and day - timedelta(days=before + 1) in nights:
        before += 1
    return NIGHTS[before]


def _after(day: date, nights: Collection[date]) -> str:
    if day in nights:
        return ""
    for place, name in enumerate(AFTER_NIGHTS, start=1):
        if day - timedelta(days=place) in nights:
            return name
    return ""
