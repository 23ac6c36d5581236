"""What the screen tests share: a record that has begun, an app on it, and looking at its boards."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager

import pytest
from textual.pilot import Pilot

from tracker.editing.editor import Editor
from tracker.record.store import Record
from tracker.screens.app import TrackerApp

Opened = Callable[..., AbstractAsyncContextManager[Pilot[None]]]


@pytest.fixture(autouse=True)
def _true_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    """Colours do not hang on the terminal in which the tests run."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", "truecolor")


@pytest.fixture
def opened() -> Opened:
    """Open the app on a record: `async with opened(record, "6", "4") as pilot`."""

    @asynccontextmanager
    async def run(
        record: Record, *keys: str, size: tuple[int, int] = (80, 24), invented: bool = False
    ) -> AsyncIterator[Pilot[None]]:
        async with TrackerApp(Editor(record), invented).run_test(size=size) as pilot:
            await pilot.pause()
            for key in keys:
                await pilot.press(key)
                await pilot.pause()
            yield pilot

    return run
