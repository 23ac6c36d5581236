"""An app of one widget, which has the focus."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from typing import Protocol, TypeVar, cast

import pytest
from textual.app import App, ComposeResult
from textual.pilot import Pilot
from textual.widget import Widget

W = TypeVar("W", bound=Widget)


class Shown(Protocol):
    """How the fixture is called."""

    def __call__(
        self, make: Callable[[], W], *keys: str, width: int = 40
    ) -> AbstractAsyncContextManager[tuple[Pilot[None], W]]: ...


class OneWidget(App[None]):
    """Shows a widget."""

    def __init__(self, make: Callable[[], Widget]) -> None:
        super().__init__()
        self.make = make

    def compose(self) -> ComposeResult:
        yield self.make()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return {"focus": "green"}


@pytest.fixture
def shown() -> Shown:
    """Show a widget: `async with shown(lambda: Choice(...), "right") as (pilot, choice)`."""

    @asynccontextmanager
    async def run(make: Callable[[], W], *keys: str, width: int = 40) -> AsyncIterator[tuple[Pilot[None], W]]:
        async with OneWidget(make).run_test(size=(width, 8)) as pilot:
            widget = cast("W", pilot.app.screen.children[0])
            widget.focus()
            await pilot.press(*keys)
            await pilot.pause()
            yield pilot, widget

    return run
