"""What keyboards type, against X's own description of them and the protocols of terminals."""

from __future__ import annotations

import unicodedata

import pytest
from textual._xterm_parser import XTermParser
from textual.binding import Binding
from textual.events import Key

from tracker.screens import bindings
from tracker.screens.keys_file import ROWS

NAMED = {
    "eacute": "é", "egrave": "è", "ccedilla": "ç", "agrave": "à", "ecaron": "ě", "scaron": "š", "ccaron": "č",
    "rcaron": "ř", "zcaron": "ž", "yacute": "ý", "aacute": "á", "iacute": "í", "lcaron": "ľ", "tcaron": "ť",
    "ampersand": "&", "quotedbl": '"', "apostrophe": "'", "parenleft": "(", "minus": "-", "underscore": "_",
    "section": "§", "exclam": "!", "plus": "+",
}  # fmt: skip
XKB = {
    "french": "ampersand eacute quotedbl apostrophe parenleft minus egrave underscore ccedilla agrave",
    "belgian": "ampersand eacute quotedbl apostrophe parenleft section egrave exclam ccedilla agrave",
    "czech": "plus ecaron scaron ccaron rcaron zcaron yacute aacute iacute eacute",
    "slovak": "plus lcaron scaron ccaron tcaron zcaron yacute aacute iacute eacute",
}
"""Keys AE01 to AE10 without Shift in "basic" of symbols/fr, be, cz and sk of xkb-data 2.35.1 (Debian 12)."""


@pytest.mark.parametrize("layout", ROWS)
def test_a_row_types_what_x_says_that_it_types(layout: str) -> None:
    assert [*ROWS[layout]] == [NAMED[name] for name in XKB[layout].split()]


def test_the_built_in_row_is_the_french_one() -> None:
    typed = "".join(bindings.character_of(bindings.FRENCH_ROW[digit]) for digit in "1234567890")
    assert typed == ROWS["french"]
    assert all(unicodedata.is_normalized("NFC", row) for row in ROWS.values())


SENT = {
    "xterm, application keypad": [f"\x1bO{letter}" for letter in "pqrstuvwxy"],
    "kitty, keypad": [f"\x1b[{57399 + digit};129;{48 + digit}u" for digit in range(10)],
    "kitty, digits of a French keyboard with Shift": [
        f"\x1b[{ord('é')};2;{48 + digit}u" for digit in range(10)
    ],
}
"""VT220-style keypad of xterm's ctlseqs; numbers of keys in kitty's keyboard protocol."""


@pytest.mark.parametrize("way", SENT)
def test_digits_come_as_digits_whatever_sends_them(way: str) -> None:
    meant = {row.key: row.action for row in Binding.make_bindings(bindings.ANSWER)}
    assert [meant[pressed(sent)] for sent in SENT[way]] == [f"edit('digit', '{n}')" for n in range(10)]


@pytest.mark.parametrize("sent", ["\x1bOM", "\x1b[57414u", "\r"])
def test_enter_of_the_keypad_is_enter(sent: str) -> None:
    assert pressed(sent) == "enter"


@pytest.mark.parametrize("sent", ["\x1b[57441;2u", "\x1b[57358u", "\x1b[57360u", "\x1b[57453u"])
def test_a_shift_or_a_lock_alone_is_no_key_that_is_pressed(sent: str) -> None:
    assert pressed(sent) not in bindings.PRESSED


def pressed(sent: str) -> str:
    """The key that Textual makes of what a terminal sends."""
    (event,) = XTermParser().feed(sent)
    assert isinstance(event, Key)
    return event.key
