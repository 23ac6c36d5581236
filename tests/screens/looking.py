"""Reading what stands on the screen on top."""

from __future__ import annotations

from textual.pilot import Pilot

from tracker.screens.widgets.canvas_view import CanvasView


def board(pilot: Pilot[None], id: str) -> list[str]:
    """The lines of one board."""
    return pilot.app.screen.query_one(f"#{id}", CanvasView).lines


def everything(pilot: Pilot[None]) -> str:
    """All that is shown."""
    boards = pilot.app.screen.query(CanvasView)
    return "\n".join(line for shown in boards if shown.display for line in shown.lines)


def screen_name(pilot: Pilot[None]) -> str:
    """The class of the screen on top."""
    return type(pilot.app.screen).__name__
