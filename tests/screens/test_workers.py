"""Screens that compute in a thread: left at once, told in one sentence where they fail."""

from __future__ import annotations

from threading import Event

import pytest

from tests.screens.conftest import Opened
from tests.screens.looking import screen_name
from tracker.analysis.findings import Left
from tracker.record.store import Record


@pytest.mark.parametrize(
    ("key", "computed"),
    [("f", "tracker.analysis.findings.find"), ("p", "tracker.summary.content.page_of")],
)
async def test_a_worker_stops_when_its_screen_is_left(
    begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch, key: str, computed: str
) -> None:
    """Otherwise it would compute on, and hold the program's end."""
    began, stopped = Event(), Event()

    def compute(*_: object, cancelled: object, **__: object) -> None:
        began.set()
        for _hundredth in range(500):
            if cancelled():  # type: ignore[operator]
                stopped.set()
                raise Left
            Event().wait(0.01)

    monkeypatch.setattr(computed, compute)
    async with opened(begun, key) as pilot:
        while not began.is_set():
            await pilot.pause(0.01)
        await pilot.press("escape")
        await pilot.pause(0.3)
        assert (screen_name(pilot), stopped.is_set()) == ("MonthScreen", True)
