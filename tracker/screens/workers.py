"""Screens that compute in a thread beside what they show; Textual cancels it when the screen is left."""

from __future__ import annotations

from textual.worker import Worker, WorkerState

from tracker.diary.errors import in_one_sentence
from tracker.screens.base import BaseScreen


class WorkerScreen(BaseScreen[None]):
    """A screen whose worker fails in one sentence."""

    HAS_ANALYSIS = True
    message = ""
    """What the worker is at, or why it failed."""

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state == WorkerState.ERROR:
            self.message = in_one_sentence(event.worker.error)
            self.redraw()
