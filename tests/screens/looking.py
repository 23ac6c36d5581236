"""Reading what stands on the screen on top."""

from __future__ import annotations

from textual.pilot import Pilot
from textual.strip import Strip


def strips(pilot: Pilot[None]) -> list[Strip]:
    """The rows of the window, as they are sent to the terminal; the one place that reads what is private."""
    return pilot.app.screen._compositor.render_strips()


def shown(pilot: Pilot[None]) -> list[str]:
    """The text of the rows, without the blanks at their ends."""
    return [strip.text.rstrip() for strip in strips(pilot)]


def everything(pilot: Pilot[None]) -> str:
    """All that is shown."""
    return "\n".join(shown(pilot)).rstrip()


def board(pilot: Pilot[None], id: str) -> list[str]:
    """The rows of one widget."""
    x, y, width, height = pilot.app.screen.query_one(f"#{id}").region
    return [strip.crop(x, x + width).text.rstrip() for strip in strips(pilot)[y : y + height]]


def bold_rows(pilot: Pilot[None], id: str) -> list[str]:
    """The rows of one widget that hold nothing but bold letters."""
    x, y, width, height = pilot.app.screen.query_one(f"#{id}").region
    rows = [strip.crop(x, x + width) for strip in strips(pilot)[y : y + height]]
    written = [[piece for piece in row if piece.text.strip()] for row in rows]
    return [
        row.text.rstrip()
        for row, pieces in zip(rows, written, strict=True)
        if pieces and all(piece.style and piece.style.bold for piece in pieces)
    ]


def screen_name(pilot: Pilot[None]) -> str:
    """The class of the screen on top."""
    return type(pilot.app.screen).__name__
