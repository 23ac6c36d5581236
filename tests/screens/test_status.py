"""The lines under the grids, without a screen."""

from __future__ import annotations

from tests.grids.sheets import palette
from tracker.grids.canvas import PLAIN
from tracker.screens.status import Status, draw_status


def test_no_sign_of_a_note_is_lost() -> None:
    note = "\u4e16\u754c" * 40
    canvas = draw_status(palette(), 80, 8, Status(("", PLAIN), (f"Tue: note: {note}", "Tue")))
    assert "".join(canvas.lines()).replace(" ", "") == f"Tue:note:{note}"
