"""Keys of a person's own: which are pressed in place of those that are built in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from textual.binding import Binding, BindingsMap, BindingType
from textual.dom import DOMNode

from tracker.screens.bindings import (
    LETTER_ACTIONS,
    LETTERS,
    action_of,
    colour_keys,
    in_both_cases,
    key_named,
    shift_keys,
    sign,
)

Keys = tuple[str, ...]
"""As Textual names them, the first as it is shown."""


class OwnKeys(NamedTuple):
    """Which keys are pressed in place of built-in ones."""

    pressed: Mapping[str, Keys]
    """By the built-in key; one that is not here stays."""

    def keys_for(self, key: str) -> Keys:
        """What is pressed for a built-in key."""
        return self.pressed.get(key, (key,))

    def sign(self, written: str) -> str:
        """How the key is written that is pressed for a built-in one, as sentences write that."""
        return sign(self.keys_for(key_named(written))[0])

    def table(self, built_in: Iterable[BindingType]) -> list[Binding]:
        """The bindings of a table, a key each, by the keys that are pressed.

        Letters that stand for shifts and colours stay, and come before what else their keys do.
        """
        rows = list(Binding.make_bindings(built_in))
        if not self.pressed:
            return rows
        letters = [row for row in rows if action_of(row) in LETTER_ACTIONS]
        others = [row for row in rows if row not in letters]
        moved = {row.group for row in others if self.keys_for(row.key)[:1] != (row.key,)}
        pressed = [one for row in others for one in self._pressed_for(row, row.group in moved)]
        return [*letters, *(self._more_letters() if letters else ()), *pressed]

    def _pressed_for(self, row: Binding, is_moved: bool) -> list[Binding]:
        """A row by each of the keys that are pressed for it; among others than usual, by their own signs."""
        if row.key.isupper() and row.key.lower() in self.pressed:
            return []  # what is pressed in place of a letter holds in either case already
        keys = in_both_cases(",".join(self.keys_for(row.key)))
        display = None if is_moved else row.key_display
        return [row.with_key(key, display) for key in keys.split(",") if key]

    def _more_letters(self) -> Iterable[Binding]:
        """Letters of other alphabets that are pressed for something, and may stand for a shift too."""
        pressed = {key for keys in self.pressed.values() for key in keys}
        others = sorted(key for key in pressed if len(key) == 1 and key.isalpha() and key not in LETTERS)
        return Binding.make_bindings([*shift_keys(others), *colour_keys(others)])


BUILT_IN_KEYS = OwnKeys({})


def take_own_keys(node: DOMNode) -> None:
    """Let the app, a screen or a widget answer to the keys that hold.

    Textual's own keymap does not serve: where a key has several meanings it takes all of them away.
    """
    own: OwnKeys = getattr(node.app, "own_keys", BUILT_IN_KEYS)
    if own.pressed:
        node._bindings = BindingsMap(own.table(binding for _, binding in node._bindings))
