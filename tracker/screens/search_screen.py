"""Finding days: by a word in their notes, or the last ones of a kind."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from textual.app import ComposeResult

from tracker.cells import cut
from tracker.diary.dates import long_day
from tracker.diary.days import Day
from tracker.diary.notes import days_with
from tracker.diary.scales import Grid
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.grids.squares import GridData
from tracker.screens.drawn_screen import DrawnScreen
from tracker.screens.key_commands import ESCAPE, HELP_WHILE_TYPING, Command
from tracker.screens.typed import Typed
from tracker.screens.widgets.canvas_view import CanvasView

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


class SearchScreen(DrawnScreen):
    """A line to type in, and the days that were found."""

    COMMANDS_HERE = (
        Command(("up", "down"), "up down", "choose", "Choose a day"),
        Command(("enter",), "Enter", "go there", "Go to the chosen day"),
        ESCAPE,
        HELP_WHILE_TYPING,
    )

    Q_LEAVES = False

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._first = 0
        """The first day of the list that is shown."""
        self.typed = Typed(longest=80)
        self.at = 0
        self._days = list(editor.kept.record.days().values())
        self.found = self._search()

    def body(self) -> ComposeResult:
        yield CanvasView(id="found")

    def _search(self) -> list[Found]:
        if self.typed.text.strip():
            return [(day.date, day.note_text) for day in days_with(self._days, self.typed.text)]
        return days_of_kinds(self.editor.state.grid_data, self._days, self.editor.state.cursor)

    def type(self, text: str) -> bool:
        self.typed.type(text)
        self._search_again()
        return True

    def press(self, key: str) -> bool:
        if key == "escape":
            self.back()
        elif key == "question_mark":
            self.tracker.open("help")
        elif key == "enter":
            self._go()
        elif key in ("up", "down"):
            self.at = min(max(self.at + (1 if key == "down" else -1), 0), max(len(self.found) - 1, 0))
        elif self.typed.press(key):
            self._search_again()
        else:
            return False
        return True

    def _search_again(self) -> None:
        self.found, self.at = self._search(), 0
        self.redraw()

    def _go(self) -> None:
        if self.found:
            self.editor.perform("go_to", self.found[self.at][0])
        self.dismiss()

    def click(self, board: CanvasView, x: int, y: int) -> None:
        if 0 <= y - 4 + self._first < len(self.found):
            self.at = y - 4 + self._first
            self._go()

    def draw(self, width: int, height: int) -> None:
        palette = self.palette
        canvas = Canvas(width, height - 1, palette.text)
        canvas.put(1, 0, "Search notes", palette.title)
        canvas.put(1, 1, "find:", palette.quiet)
        self.typed.draw(canvas, 7, 1, width - 9, palette)
        canvas.put(1, 3, self._heading(), palette.quiet)
        room = height - 5
        self._first = max(0, self.at - room + 1)
        for y, (day, why) in enumerate(self.found[self._first : self._first + room], start=4):
            here = y - 4 + self._first == self.at
            canvas.put(1, y, palette.signs.right if here else " ", palette.focus)
            line = f"{day:%a} {long_day(day)}".ljust(24) + why
            canvas.put(3, y, cut(line, width - 5), palette.title if here else palette.text)
        self.show("found", canvas)

    def _heading(self) -> str:
        if self.typed.text.strip() and not self.found:
            return "No note holds it."
        if self.typed.text.strip():
            held = "note holds" if len(self.found) == 1 else "notes hold"
            return f"{len(self.found)} {held} it, the newest first:"
        return "Type a word of a note. Before the day under the cursor, the last of each kind:"
