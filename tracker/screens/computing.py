"""A screen that computes beside what it shows, and can be left at once."""

from __future__ import annotations

from typing import ClassVar

from textual.worker import Worker, WorkerState

from tracker.diary.errors import in_one_sentence
from tracker.screens.drawn_screen import DrawnScreen


class ComputingScreen(DrawnScreen):
    """Its work runs in threads of one group; a failure is one sentence."""

    WORK: ClassVar[str]
    """The group of its work."""
    said = ""
    """What the work is at, or why it failed."""

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state == WorkerState.ERROR:
            self.message = in_one_sentence(event.worker.error)
            self.redraw()

    def leave(self) -> None:
        """Go at once, whatever is still being computed."""
        self.workers.cancel_group(self, self.WORK)
        self.back()
