"""What is typed into a form and not kept: it waits in the record, to be offered where it was typed."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import AbstractContextManager, nullcontext

from tracker.diary.errors import TrackerError
from tracker.editing.open_record import OpenRecord


class FormDrafts:
    """The drafts of one form.

    Parameters
    ----------
    places
        Where each answer that is typed waits, by the name of its question.
    """

    def __init__(self, kept: OpenRecord, places: Mapping[str, str]) -> None:
        self._kept, self._places = kept, places
        self.trouble = ""
        """Why none could be read."""
        self._held = self._read()

    def _read(self) -> dict[str, str]:
        try:
            found = self._kept.drafts(self._places.values())
        except TrackerError as error:
            self.trouble = str(error)
            return {}
        return {name: found[place] for name, place in self._places.items() if place in found}

    @property
    def held(self) -> Mapping[str, str]:
        """What waits in the record, by the name of its question."""
        return self._held

    def of(self, changes: Mapping[str, str]) -> dict[str, str]:
        """Of answers that stand otherwise than before: what was typed there."""
        return {name: text for name, text in changes.items() if name in self._places and text}

    def hold(self, changes: Mapping[str, str]) -> None:
        """Let the record hold what is typed now, and nothing else of this form.

        Raises what `OpenRecord.keep_drafts` does.
        """
        typed = self.of(changes)
        new = {name: typed.get(name, "") for name in typed.keys() | self._held.keys()}
        different = {name: text for name, text in new.items() if text != self._held.get(name)}
        if different:
            self._kept.keep_drafts(self._placed(different), self._placed(self._held))
            self._held = typed

    def as_one(self) -> AbstractContextManager[None]:
        """What is kept inside, and what waits no longer then, are one action, where something waits."""
        return self._kept.as_one() if self._held else nullcontext()

    def forget(self) -> None:
        """Let nothing of this form wait any more: it is kept."""
        if self._held:
            self._kept.forget_drafts(self._placed(self._held))
            self._held = {}

    def _placed(self, texts: Mapping[str, str]) -> dict[str, str]:
        """Texts by the places where they wait."""
        return {self._places[name]: text for name, text in texts.items()}
