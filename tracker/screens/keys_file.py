"""The file in which a person names keys of her own: a built-in key = what she presses for it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from tracker import system
from tracker.diary.errors import TrackerError
from tracker.grids.themes import own_themes
from tracker.screens.bindings import (
    FRENCH_ROW,
    HELP_KEYS,
    TOGETHER,
    built_in_keys,
    character_of,
    first_keys,
    key_named,
    own_rows,
    sign,
)
from tracker.screens.own_keys import BUILT_IN_KEYS, Keys, OwnKeys
from tracker.words import listed

FILE = "keys.toml"
ROW = "digit_row"
ROWS = {
    "french": "&é\"'(-è_çà",
    "belgian": "&é\"'(§è!çà",
    "czech": "+ěščřžýáíé",
    "slovak": "+ľščťžýáíé",
}
"""What the keys of the digits type without Shift, from 1 to 0."""
DIGITS = "1234567890"
STAY = (*DIGITS, "enter", "escape", *HELP_KEYS.split(","))
"""Keys that keep what they do: squares show digits, and every text names the others."""
NOT_FREE = ("ctrl+c", "ctrl+q", "ctrl+z", "ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m")
"""Keys that a terminal cannot tell from others, or by which a program is ended or suspended."""


class BrokenKeys(TrackerError):
    """A file of keys that cannot be used."""


def keys_file() -> Path:
    """Where it lies: beside her themes."""
    return own_themes().with_name(FILE)


def load_own_keys() -> OwnKeys:
    """The keys that hold; the built-in ones where there is no file.

    Raises BrokenKeys for a file that cannot be used.
    """
    try:
        return read_own_keys(keys_file().read_text(encoding="utf-8-sig"))  # some editors begin it with a mark
    except FileNotFoundError:
        return BUILT_IN_KEYS
    except UnicodeDecodeError:
        raise BrokenKeys(f"{FILE} is no UTF-8 text; save it as that.") from None
    except OSError as error:
        raise BrokenKeys(f"{keys_file()} cannot be read: {system.reason(error)}; mend that.") from None


def read_own_keys(text: str) -> OwnKeys:
    """The keys that the text of a file names.

    Raises BrokenKeys and names the line, what is wrong with it, and what to do.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise BrokenKeys(f'{FILE} is not TOML: {trouble}; a line is like a = "z".') from None
    return _Reader(text).own_keys(data) if data else BUILT_IN_KEYS


class _Reader:
    """Reads the names of a file and says what is wrong with one."""

    def __init__(self, text: str) -> None:
        self._lines = {name: at for at, line in enumerate(text.splitlines(), 1) for name in _named(line)}
        self._names: dict[str, str] = {}
        """How the file writes a built-in key."""

    def own_keys(self, data: dict[str, object]) -> OwnKeys:
        """The keys of a file's data."""
        row = self._row(data.pop(ROW)) if ROW in data else None
        named = {self._built_in(name): self._keys(name, value) for name, value in data.items()}
        pressed = {key: _once(key, *keys) if key in STAY else keys for key, keys in named.items()}
        pressed |= _digits(pressed, row)
        self._refuse_two_meanings(pressed)
        return OwnKeys(pressed)

    def _broken(self, name: str, why: str) -> BrokenKeys:
        line = f", line {self._lines[name]}" if name in self._lines else ""
        return BrokenKeys(f"{FILE}{line}: {why}")

    def _built_in(self, name: str) -> str:
        """The built-in key of a name."""
        key = key_named(name)
        if key not in built_in_keys():
            raise self._broken(name, f"'{name}' is no key of the program; tracker keys lists them.")
        self._names[key] = name
        return key

    def _keys(self, name: str, value: object) -> Keys:
        """The keys that are pressed for a name."""
        listed = value if isinstance(value, list) else [value]
        if not listed and key_named(name) in first_keys():
            raise self._broken(name, f"{name} needs a key, for no other does what it does; name one.")
        return tuple(self._key(name, one) for one in listed)

    def _key(self, name: str, written: object) -> str:
        key = key_named(written) if isinstance(written, str) else ""
        if not key:
            raise self._broken(
                name, f"{written!r} is no key; write one sign, or a name like 'Home' or 'Ctrl+N'."
            )
        if key in NOT_FREE:
            raise self._broken(name, f"{written} is needed by the terminal or the program; take another key.")
        return key

    def _row(self, value: object) -> Mapping[str, str]:
        """The keys that type no digit without Shift, by their digits."""
        signs = ROWS.get(value.casefold(), value) if isinstance(value, str) else None
        if signs is None or len(signs) not in (0, len(DIGITS)):
            takes = listed([*ROWS, "ten signs, those of the keys from 1 to 0 without Shift"])
            raise self._broken(ROW, f'{ROW} takes {takes}; or "" for none.')
        return {digit: self._key(ROW, typed) for digit, typed in zip(DIGITS, signs, strict=False)}

    def _refuse_two_meanings(self, pressed: Mapping[str, Keys]) -> None:
        """On no screen may a key be pressed for two others."""
        for table in TOGETHER:
            taken: dict[str, str] = {}
            for key in sorted({row.key for row in own_rows(table)}, key=self._place):
                for one in pressed.get(key, (key,)):
                    if one in taken:
                        twice = f"{sign(one)} is taken twice, for {sign(taken[one])} and for {sign(key)}"
                        raise self._broken(
                            self._names.get(key, ROW), f"{twice}; give one of them another key."
                        )
                    taken[one] = key

    def _place(self, key: str) -> tuple[int, str]:
        """What the file names comes last, in its order: that is to be mended."""
        return [*self._names].index(key) if key in self._names else -1, key


def _digits(pressed: Mapping[str, Keys], named_row: Mapping[str, str] | None) -> dict[str, Keys]:
    """The keys of each digit: the row that the file names, or what it leaves of the French one."""
    wanted = {key for keys in pressed.values() for key in keys}
    usual = {digit: key for digit, key in FRENCH_ROW.items() if key not in wanted}
    row = usual if named_row is None else named_row
    by_digit = {digit: _once(*pressed.get(digit, (digit,)), *_if_any(row.get(digit))) for digit in DIGITS}
    return {**dict.fromkeys(FRENCH_ROW.values(), ()), **by_digit}


def row_typed(own: OwnKeys) -> str:
    """What the keys from 1 to 0 type without Shift; a digit where that is the digit, or nobody knows."""
    if not own.pressed:
        return ROWS["french"]
    return "".join(character_of(own.keys_for(digit)[-1]) or digit for digit in DIGITS)


def _if_any(key: str | None) -> Keys:
    return (key,) if key else ()


def _once(*keys: str) -> Keys:
    return tuple(dict.fromkeys(keys))


def _named(line: str) -> Keys:
    """The name to which a line gives something, if it does."""
    found = re.match(r"""\s*(?:"([^"]*)"|'([^']*)'|([\w-]+))\s*=""", line)
    return tuple(filter(None, found.groups())) if found else ()
