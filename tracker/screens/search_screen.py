"""Finding days: by a word in their notes and changes, or the last ones of a kind."""

from __future__ import annotations

from collections.abc import Sequence

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import OptionList, Static

from tracker.diary.dates import long_day, short_date
from tracker.editing.editor import Editor
from tracker.record.search import Found, found_with, how_many, last_of_kinds
from tracker.screens import bindings
from tracker.screens.base import BaseScreen, settled
from tracker.screens.widgets.text_field import TextField

WIDE, DAY_WIDTH, SHORT_WIDTH = 60, 23, 11
"""Columns from which days are named in full, and what their names take."""


class SearchScreen(BaseScreen[None]):
    """A line to type in, and the days that were found."""

    BINDINGS = bindings.SEARCH_NOTES
    CAUTION = False
    CSS_PATH = "search_screen.tcss"
    AUTO_FOCUS = "TextField"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.found: list[Found] = []

    def body(self) -> ComposeResult:
        yield Static("Search notes and changes", id="heading")
        with Horizontal(id="wanted"):
            yield Static("find:")
            yield TextField(longest=80)
        yield Static(id="how-many")
        yield OptionList(id="found")

    def on_mount(self) -> None:
        self.query_one(OptionList).can_focus = False
        self.watch(self.query_one(TextField), "value", self._search)

    def _search(self, typed: str) -> None:
        wanted = typed.strip()
        record = self.kept.record
        self.found = found_with(record, wanted) if wanted else last_of_kinds(record, self.state.cursor)
        self.query_one("#how-many", Static).update(heading(wanted, self.found))
        listed = self.query_one(OptionList).clear_options()
        listed.add_options(map(self._row, self.found))
        listed.highlighted = 0 if self.found else None

    def _row(self, found: Found) -> Table:
        """A day in its own column, and why it is listed."""
        day, is_wide = found.day, self.size.width >= WIDE
        row = Table.grid(padding=(0, 1, 0, 0))
        row.add_column(width=DAY_WIDTH if is_wide else SHORT_WIDTH)
        row.add_row(Text(f"{day:%a} {long_day(day)}" if is_wide else short_date(day)), Text(found.line))
        return row

    async def action_choose(self, action: str) -> None:
        """Walk in the list, while letters go into the field."""
        await self.app.run_action(action, self.query_one(OptionList))

    async def action_go(self) -> None:
        """Go to the chosen day, if there is one."""
        await settled(self.query_one(TextField))
        self._go_to(self.query_one(OptionList).highlighted)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._go_to(event.option_index)

    def _go_to(self, chosen: int | None) -> None:
        if chosen is not None:
            self.editor.perform("go_to", self.found[chosen].day)
        self.dismiss()


def heading(wanted: str, found: Sequence[Found]) -> str:
    """What is listed."""
    if not wanted:
        listed = " Last anxious, lowest, shortest before this day:" if found else ""
        return f"A word of a note or a change.{listed}"
    if not found:
        return "No note and no change holds it."
    return f"{how_many(found)} it, the newest first:"
