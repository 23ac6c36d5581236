"""The country meant by what a person writes: a code, or a name in English or in its own language."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable, Iterator

from tracker.diary.errors import UnknownValue
from tracker.diary.help_lines import ELSEWHERE_IN_THE_EU, HELP_LINES, UNITED_KINGDOM, USA
from tracker.words import listed

NONE = ("", "none")
OTHER_NAMES = {
    "uk": UNITED_KINGDOM, "britain": UNITED_KINGDOM, "great britain": UNITED_KINGDOM,
    "america": USA, "united states": USA, "united states of america": USA,
    "holland": "Netherlands", "czech republic": "Czechia", "turkey": "Türkiye", "burma": "Myanmar (Burma)",
    "eu": ELSEWHERE_IN_THE_EU, "european union": ELSEWHERE_IN_THE_EU, "the eu": ELSEWHERE_IN_THE_EU,
}  # fmt: skip
NEAREST = 3


def read_country(text: str) -> str:
    """The country by its English name, as help lines name it; empty for `none`.

    Raises UnknownValue for a word that is no country, with the three nearest names.
    """
    word = _plain(text)
    if word in NONE:
        return ""
    known = {_plain(row.country): row.country for row in HELP_LINES} | OTHER_NAMES
    if word in known:
        return known[word]
    names = dict(_names_in_english()) | known
    found = names.get(word) or dict(_own_names()).get(word)
    if found is None:
        raise UnknownValue(f"'{text.strip()}' is no country known here; {_nearest(word, names.values())}")
    return OTHER_NAMES.get(_plain(found), found)


def _plain(text: str) -> str:
    """Without accents, in small letters."""
    parts = unicodedata.normalize("NFKD", text.strip().casefold())
    return "".join(part for part in parts if not unicodedata.combining(part))


def _names_in_english() -> Iterator[tuple[str, str]]:
    """Every country by its code and by its name."""
    for code, name in _territories("en"):
        yield code.casefold(), name
        yield _plain(name), name


def _own_names() -> Iterator[tuple[str, str]]:
    """Every country by its name in each of its own languages."""
    from babel.core import Locale, UnknownLocaleError
    from babel.languages import get_official_languages

    for code, name in _territories("en"):
        for language in get_official_languages(code):
            try:
                yield _plain(Locale.parse(language).territories[code]), name
            except (UnknownLocaleError, ValueError, KeyError):
                continue


def _territories(language: str) -> list[tuple[str, str]]:
    from babel.core import Locale

    named = Locale.parse(language).territories.items()
    return [
        (code, name) for code, name in named if len(code) == 2 and code.isalpha() and code not in NO_COUNTRY
    ]


NO_COUNTRY = ("EU", "EZ", "UN", "QO", "XA", "XB", "ZZ")
"""Codes of two letters that name no country."""


def _nearest(word: str, names: Iterable[str]) -> str:
    by_word = {_plain(name): name for name in names}
    near = difflib.get_close_matches(word, by_word, n=NEAREST, cutoff=0.0)
    return f"the nearest are {listed([by_word[one] for one in near])}, and none is a choice too."
