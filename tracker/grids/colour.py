"""Colour arithmetic for squares: contrast, distance, colour vision, inks and ramps.

A colour is a text like ``#ec88a2`` (sRGB, 8 bits a channel). Contrast is that of WCAG 2.2, distance that
of Oklab (Ottosson 2020), colour vision deficiencies those of Machado, Oliveira and Fernandes (2009) at
full severity.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import dist

Triple = tuple[float, float, float]
Matrix = tuple[Triple, Triple, Triple]

BLACK, WHITE = "#000000", "#ffffff"

NORMAL = "normal"
DEFICIENCIES: dict[str, Matrix] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
"""Linear RGB as seen by an eye without red, green or blue cones (Machado et al. 2009, severity 1.0)."""
VISIONS = (NORMAL, *DEFICIENCIES)

_LMS_FROM_RGB: Matrix = (
    (0.4122214708, 0.5363325363, 0.0514459929),
    (0.2119034982, 0.6806995451, 0.1073969566),
    (0.0883024619, 0.2817188376, 0.6299787005),
)
_LAB_FROM_ROOTS: Matrix = (
    (0.2104542553, 0.7936177850, -0.0040720468),
    (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)
_ROOTS_FROM_LAB: Matrix = (
    (1.0, 0.3963377774, 0.2158037573),
    (1.0, -0.1055613458, -0.0638541728),
    (1.0, -0.0894841775, -1.2914855480),
)
_RGB_FROM_LMS: Matrix = (
    (4.0767416621, -3.3077115913, 0.2309699292),
    (-1.2684380046, 2.6097574011, -0.3413193965),
    (-0.0041960863, -0.7034186147, 1.7076147010),
)


def times(matrix: Matrix, vector: Triple) -> Triple:
    """The product of a matrix and a column vector."""
    a, b, c = (sum(m * v for m, v in zip(row, vector, strict=True)) for row in matrix)
    return a, b, c


def channels(colour: str) -> Triple:
    """The three channels of ``#rrggbb``: sRGB values from 0 to 1."""
    r, g, b = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return r, g, b


def hexed(rgb: Triple) -> str:
    """Three sRGB values as ``#rrggbb``, clipped to what a screen can show."""
    return "#" + "".join(f"{round(255 * min(max(value, 0.0), 1.0)):02x}" for value in rgb)


def _to_linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _from_linear(value: float) -> float:
    return 12.92 * value if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055


@lru_cache(maxsize=4096)
def linear(colour: str, vision: str = NORMAL) -> Triple:
    """Linear RGB, from 0 to 1, as an eye of the given vision receives it."""
    r, g, b = (_to_linear(value) for value in channels(colour))
    if vision == NORMAL:
        return r, g, b
    r, g, b = (min(max(value, 0.0), 1.0) for value in times(DEFICIENCIES[vision], (r, g, b)))
    return r, g, b


def luminance(colour: str) -> float:
    """The relative luminance of WCAG 2.2, from 0 (black) to 1 (white)."""
    r, g, b = linear(colour)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def grey_of(colour: str) -> str:
    """The grey that is as light as a colour."""
    value = _from_linear(luminance(colour))
    return hexed((value, value, value))


@lru_cache(maxsize=4096)
def contrast(one: str, other: str) -> float:
    """The contrast ratio of WCAG 2.2, from 1 to 21; the order does not matter."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@lru_cache(maxsize=4096)
def oklab(colour: str, vision: str = NORMAL) -> Triple:
    """Lightness and the two opponent axes of Oklab."""
    long, middle, short = (
        max(value, 0.0) ** (1 / 3) for value in times(_LMS_FROM_RGB, linear(colour, vision))
    )
    return times(_LAB_FROM_ROOTS, (long, middle, short))


def from_oklab(lab: Triple) -> str:
    """The nearest colour that a screen can show, channel by channel."""
    long, middle, short = (root**3 for root in times(_ROOTS_FROM_LAB, lab))
    r, g, b = (_from_linear(max(value, 0.0)) for value in times(_RGB_FROM_LMS, (long, middle, short)))
    return hexed((r, g, b))


@lru_cache(maxsize=1024)
def mixed(one: str, other: str, share: float) -> str:
    """A mix of two colours in Oklab: share 0 gives the first, share 1 the second."""
    pairs = zip(oklab(one), oklab(other), strict=True)
    lightness, a, b = ((1 - share) * here + share * there for here, there in pairs)
    return from_oklab((lightness, a, b))


def distance(one: str, other: str, vision: str = NORMAL) -> float:
    """100 times the distance in Oklab, as an eye of the given vision sees the two."""
    return 100 * dist(oklab(one, vision), oklab(other, vision))


def plain_ink(fill: str) -> str:
    """Black or white, whichever contrasts more; one of them always reaches 4.58:1."""
    return max(BLACK, WHITE, key=lambda end: contrast(end, fill))


@lru_cache(maxsize=512)
def ink(fill: str, need: float) -> str:
    """The colour of a mark on a fill.

    The fill is mixed towards black and towards white, each just far enough to reach ``need``; the end
    that takes the smaller share wins. Where neither reaches it, pure black or white stands.
    """
    shares = ((_share(fill, end, need), end) for end in (BLACK, WHITE))
    reached = [(share, end) for share, end in shares if share is not None]
    if not reached:
        return plain_ink(fill)
    share, end = min(reached)
    return mixed(fill, end, share)


def _share(fill: str, end: str, need: float) -> float | None:
    """Find by halving the smallest share of ``end`` that brings the contrast to ``need``."""
    if contrast(end, fill) < need:
        return None
    low, high = 0.0, 1.0
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (low, middle) if contrast(mixed(fill, end, middle), fill) >= need else (middle, high)
    return high


def ramp(fills: Sequence[str], levels: int, dark: int = 0) -> list[str]:
    """A fill for each of ``levels`` levels, lowest first, from a theme's fills.

    ``dark`` > 0 says that the first so many fills are a run of their own, with a gap behind them in which
    no ink could be read; each run is then stretched by itself.
    """
    if not dark:
        return list(_stretched(fills, levels, alone=-1))
    low = min(max(round(levels * dark / len(fills)), 1), levels - 1)
    return [*_stretched(fills[:dark], low, alone=0), *_stretched(fills[dark:], levels - low, alone=-1)]


def _stretched(fills: Sequence[str], levels: int, alone: int) -> Iterator[str]:
    if levels == 1 or len(fills) == 1:
        yield from [fills[alone]] * levels
        return
    for level in range(levels):
        place = level * (len(fills) - 1) / (levels - 1)
        below = min(int(place), len(fills) - 2)
        yield mixed(fills[below], fills[below + 1], place - below)
