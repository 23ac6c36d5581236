"""The length of a day's light, from the latitude in whole degrees.

Exact to two minutes up to the polar circles, which is as much as a whole degree of latitude allows.
"""

from __future__ import annotations

from datetime import date
from math import acos, asin, cos, degrees, radians, sin

HORIZON = -0.833
"""Degrees of the sun's centre at rising: refraction and half the sun's width lie between it and 0."""


def declination(day: date) -> float:
    """Degrees by which the sun stands north of the equator at noon in Greenwich.

    The low-precision formulas of the Astronomical Almanac, section C: good to 0.01 degrees, 1950 to 2050.
    """
    days = (day - date(2000, 1, 1)).days
    mean = 280.460 + 0.9856474 * days
    anomaly = radians(357.528 + 0.9856003 * days)
    longitude = radians(mean + 1.915 * sin(anomaly) + 0.020 * sin(2 * anomaly))
    obliquity = radians(23.439 - 0.0000004 * days)
    return degrees(asin(sin(obliquity) * sin(longitude)))


def hours_of_light(day: date, latitude: float) -> float:
    """Hours from sunrise to sunset; 24 where the sun does not set, 0 where it does not rise.

    Parameters
    ----------
    latitude
        Degrees, south negative, -90 to 90.

    Raises
    ------
    ValueError
        For a latitude outside -90 to 90.
    """
    if not -90 <= latitude <= 90:
        raise ValueError(f"latitude is {latitude:g}; it takes -90 to 90.")
    north, sun = radians(latitude), radians(declination(day))
    rise = sin(radians(HORIZON)) - sin(north) * sin(sun)
    reach = cos(north) * cos(sun)
    if abs(rise) >= reach:
        return 0.0 if rise > 0 else 24.0
    return degrees(acos(rise / reach)) * 2 / 15


def clock_text(hours: float) -> str:
    """Hours as hours and minutes: `7:50`."""
    minutes = round(hours * 60)
    return f"{minutes // 60}:{minutes % 60:02}"
