"""Pressing keys on an editor without a screen, by the table of the month's bindings."""

from __future__ import annotations

from textual.actions import parse
from textual.binding import Binding

from tracker.editing.editor import Editor
from tracker.screens.bindings import MONTH


def press(editor: Editor, *keys: str) -> None:
    """Do what keys do in the month; one that opens or does nothing passes."""
    for key in keys:
        actions = [parse(binding.action) for binding in Binding.make_bindings(MONTH) if binding.key == key]
        edits = [(str(args[0]), args[1:]) for _, action, args in actions if action == "edit"]
        allowed = [(done, args) for done, args in edits if editor.allowed(done, *args)]
        done, args = allowed[0] if allowed else ("unknown_key", ())
        editor.perform(done, *args)
