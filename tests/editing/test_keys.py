"""What every key of the month does in every mode. It is Tuesday 17 March 2026, nine in the evening.

`what_keys_do.txt` beside this file tells it: where a key leads and what is said, a line for each key, and in
the modes only where that is not what it does while walking. After a change that is meant,
`python -m tests.editing.test_keys` writes it anew, to be read through.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from functools import lru_cache
from pathlib import Path

import pytest
from textual.actions import parse
from textual.binding import Binding

from tests.conftest import LONDON, NOW
from tests.keeping import keep
from tests.keys import press
from tracker.diary.clock import Clock
from tracker.editing import modes
from tracker.editing.catch_up import CatchUpOptions, OldColour
from tracker.editing.editor import Editor
from tracker.record.store import Record
from tracker.screens.bindings import MODE_NAMES, MODES, MONTH, YEAR, action_of

TABLE = Path(__file__).with_name("what_keys_do.txt")
COLOURS = {"w": OldColour("sleep8-2"), "z": OldColour(None)}


def march_is_full(editor: Editor) -> None:
    """Catch up sleep in a month of which every day has one."""
    for number in range(8, 18):
        keep(editor.kept.record, date(2026, 3, number), sleep="4")
    editor.kept.reload()
    editor.perform("go_to", date(2026, 3, 17), "sleep")
    editor.catch_up(CatchUpOptions())


def one_while_catching_up(editor: Editor) -> None:
    """A `1` that waits while a month is filled in."""
    editor.catch_up(CatchUpOptions())
    press(editor, "1")


SITUATIONS: Mapping[str, Callable[[Editor], None]] = {
    "walking": lambda editor: None,
    "on a day to come": lambda editor: press(editor, "down"),
    "after a 1": lambda editor: press(editor, "1"),
    "shift letter": lambda editor: press(editor, "s"),
    "shifts": lambda editor: press(editor, "tab", "tab"),
    "catching up": lambda editor: editor.catch_up(CatchUpOptions(colours=COLOURS)),
    "after a 1, catching up": one_while_catching_up,
    "month full": march_is_full,
    "hidden": lambda editor: press(editor, "h"),
}


@lru_cache
def told(situation: str) -> dict[str, str]:
    """What each key means: its action, where it leads and what is said."""
    keys = [binding for binding in Binding.make_bindings(MONTH) if not binding.key.isupper()]
    found = {}
    for key in dict.fromkeys(binding.key for binding in keys):
        with opened(situation) as editor:
            means = next((b for b in keys if b.key == key and is_allowed(editor, b)), None)
            if means is None:
                continue
            found[key] = means.action
            if parse(means.action)[1] == "edit":
                press(editor, key)
                at = f"{editor.state.cursor:%d %b} {editor.state.focus}"
                found[key] = f"{action_of(means)} | {at} | {editor.state.message}".rstrip(" |")
    return found


def lines_of(situation: str) -> list[str]:
    """A line for each key that does something else than while walking."""
    usual = told("walking") if situation != "walking" else {}
    does = told(situation)
    return [f"{situation} | {key} | {does[key]}" for key in does if does[key] != usual.get(key)]


@contextmanager
def opened(situation: str) -> Iterator[Editor]:
    """An editor in a situation, on a record of a few days."""
    with Record.empty(Path("nowhere"), Clock(now=lambda: NOW, zone=LONDON)) as record:
        keep(record, date(2026, 3, 7), mood="3", sleep="5")
        keep(record, date(2026, 3, 12), mood="2", anxious="yes", note="fog at Selderby Halt")
        editor = Editor(record)
        SITUATIONS[situation](editor)
        yield editor


def is_allowed(editor: Editor, binding: Binding) -> bool:
    """Whether a key has this meaning now."""
    _, action, parameters = parse(binding.action)
    return action != "edit" or editor.allowed(str(parameters[0]), *parameters[1:])


def is_offered(editor: Editor, binding: Binding) -> bool:
    """Whether the foot names it now."""
    return editor.offered(action_of(binding), *parse(binding.action)[2][1:])


@pytest.mark.parametrize("situation", SITUATIONS)
def test_every_key_does_what_the_table_tells(situation: str) -> None:
    table = TABLE.read_text().splitlines()
    assert lines_of(situation) == [line for line in table if line.startswith(f"{situation} |")]


@pytest.mark.parametrize("situation", SITUATIONS)
def test_no_key_that_the_foot_offers_only_says_why_nothing_is_kept(situation: str) -> None:
    refusals = re.compile("othing was kept|is no letter|is no level|A shift is|^A letter sets.*")
    with opened(situation) as editor:
        table = Binding.make_bindings(MONTH)
        offered = {b.key for b in table if is_allowed(editor, b) and is_offered(editor, b)}
    for key, does in told(situation).items():
        if key in offered and not does.startswith(("next_stop", "to_shifts", "ask_for_shift")):
            assert not refusals.search(does.split(" | ")[-1]), (key, does)


def test_the_editor_has_every_action_that_a_key_names() -> None:
    named = {action_of(b) for b in Binding.make_bindings([*MONTH, *YEAR]) if parse(b.action)[1] == "edit"}
    assert {action for action in named if not callable(getattr(Editor, action, None))} == set()
    known = {*modes.ONLY_IN, *modes.REFUSED_IN, *modes.ANSWERS}
    assert known <= named


def test_every_key_of_a_mode_belongs_to_a_mode_that_help_names() -> None:
    for binding in Binding.make_bindings(MODES):
        assert modes.ONLY_IN[action_of(binding)] & {*MODE_NAMES}


if __name__ == "__main__":
    TABLE.write_text("".join(f"{line}\n" for name in SITUATIONS for line in lines_of(name)))
