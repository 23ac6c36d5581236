"""Finding days: by a word in their notes, or the last ones of a kind."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import OptionList, Static

from tracker.diary.dates import long_day
from tracker.diary.days import Day
from tracker.diary.scales import Grid
from tracker.editing.editor import Editor
from tracker.grids.squares import GridData
from tracker.screens import bindings
from tracker.screens.base import BaseScreen
from tracker.screens.widgets.text_field import TextField, settled

SHOWN_OF_A_KIND = 4
Found = tuple[date, str]
"""A day, and why it is listed."""


def days_of_kinds(grid_data: GridData, days: Iterable[Day], before: date) -> list[Found]:
    """The last days before a day that were anxious, that had the lowest mood, and the least sleep."""
    earlier = sorted((day for day in days if day.date < before), key=lambda day: day.date, reverse=True)
    anxious = [(day.date, "anxious") for day in earlier if day.is_anxious]
    return [
        *anxious[:SHOWN_OF_A_KIND],
        *list(_lowest(grid_data, earlier, "mood"))[:SHOWN_OF_A_KIND],
        *list(_lowest(grid_data, earlier, "sleep"))[:SHOWN_OF_A_KIND],
    ]


def _lowest(grid_data: GridData, days: list[Day], grid: Grid) -> Iterator[Found]:
    """Days with the lowest level of a grid that was ever kept."""
    kept = [
        (day.date, *grid_data.scales.placed(square.value))
        for day in days
        if (square := day.square(grid)) and square.is_kept
    ]
    lowest = min((place for _, _, place in kept), default=0)
    for at, scale, place in kept:
        if place == lowest:
            yield at, f"{grid} {scale.levels[place].label}"


class SearchScreen(BaseScreen[None]):
    """A line to type in, and the days that were found."""

    BINDINGS = bindings.SEARCH_NOTES
    CAUTION = False
    CSS_PATH = "search_screen.tcss"
    AUTO_FOCUS = "TextField"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._days = list(editor.kept.record.days().values())
        self.found: list[Found] = []

    def body(self) -> ComposeResult:
        yield Static("Search notes", id="heading")
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
        if wanted:
            self.found = self.editor.kept.record.notes_with(wanted)
        else:
            self.found = days_of_kinds(self.state.grid_data, self._days, self.state.cursor)
        self.query_one("#how-many", Static).update(heading(wanted, len(self.found)))
        listed = self.query_one(OptionList).clear_options()
        listed.add_options(Text(f"{day:%a} {long_day(day)}".ljust(24) + why) for day, why in self.found)
        listed.highlighted = 0 if self.found else None

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
            self.editor.perform("go_to", self.found[chosen][0])
        self.dismiss()


def heading(wanted: str, found: int) -> str:
    """What is listed."""
    if not wanted:
        listed = " Last anxious, lowest and shortest before this day:" if found else ""
        return f"Type a word of a note.{listed}"
    if not found:
        return "No note holds it."
    return f"{found} {'note holds' if found == 1 else 'notes hold'} it, the newest first:"
