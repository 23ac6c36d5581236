"""`tracker keys`."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING

import click

from tracker.cells import padded, wrapped
from tracker.words import listed

if TYPE_CHECKING:
    from tracker.screens.own_keys import OwnKeys

EXAMPLES = """\b
Examples:
  tracker keys
"""
WIDTH, COLUMN = 80, 28
ROW_HELP = "What the keys of the digits type without Shift:"


@click.command("keys", epilog=EXAMPLES)
def command() -> None:
    """Print every key of the app, as the lines of a file in which you name keys of your own."""
    from tracker.screens.keys_file import load_own_keys

    own = load_own_keys()
    for line in [*_head(), "", *_row_lines(own), *_key_lines(own)]:
        click.echo(line)


def _head() -> list[str]:
    """How the file is written, and where it lies."""
    from tracker.screens.bindings import sign
    from tracker.screens.keys_file import DIGITS, STAY, keys_file

    stay = listed(["1 to 0", *(sign(key) for key in STAY if key not in DIGITS)])
    head = (
        "Take the # away before a line, and write behind the = what you want to press instead: "
        '"z", or several like ["z", "F5"]. A letter holds small and capital. '
        f"{stay} stay as they are; what you write for them does the same as well."
    )
    rows = [f"Keys of your own stand in {keys_file()}", *wrapped(head, WIDTH - 2)]
    return [f"# {row}" for row in rows]


def _row_lines(own: OwnKeys) -> Iterator[str]:
    """The row of the digits: its name, or ten signs."""
    from tracker.screens.keys_file import DIGITS, ROW, ROWS, row_typed

    typed = row_typed(own)
    name = {**{signs: name for name, signs in ROWS.items()}, DIGITS: ""}.get(typed, typed)
    offered = f"{ROW_HELP} {', '.join(ROWS)}, or ten signs, from 1 to 0."
    yield from _lines(ROW, _value([name]), offered, name != "french")


def _key_lines(own: OwnKeys) -> Iterator[str]:
    """A line for each key."""
    from tracker.screens.bindings import built_in_keys, sign
    from tracker.screens.keys_file import DIGITS, row_typed

    row = row_typed(own)
    for key, does in built_in_keys().items():
        pressed = [sign(one) for one in own.keys_for(key) if sign(one) not in row or one == key]
        is_own = pressed != [sign(key)]
        if is_own or key not in DIGITS:
            yield from _lines(_name(sign(key)), _value(pressed), "; ".join(does), is_own)


def _lines(name: str, value: str, does: str, is_own: bool) -> Iterator[str]:
    """A line of the file, what it does behind it; a comment as long as nothing in it is her own."""
    line = f"{'' if is_own else '# '}{name} = {value}"
    for first, said in zip_longest([line], wrapped(does, WIDTH - COLUMN - 2), fillvalue=""):
        yield padded(first, COLUMN) + f"# {said}"


def _name(sign: str) -> str:
    """A key before the =, in quotes where TOML wants them."""
    return sign if re.fullmatch(r"[A-Za-z0-9_-]+", sign) else json.dumps(sign, ensure_ascii=False)


def _value(signs: Sequence[str]) -> str:
    return json.dumps(signs[0] if len(signs) == 1 else signs, ensure_ascii=False)
