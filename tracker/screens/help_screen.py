"""Help: where to turn, every key, what this is not, and how days and findings work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal

from tracker.diary.help_page import explanations, turning
from tracker.editing.modes import ONLY_IN, Mode
from tracker.grids.canvas import Canvas
from tracker.grids.drawing import Piece, pieces_width, put_pieces
from tracker.grids.palette import Palette
from tracker.screens import bindings
from tracker.screens.base import LEAST, BaseScreen
from tracker.screens.bindings import NamedKey, action_of, named_keys
from tracker.screens.grid_screen import GridScreen
from tracker.screens.help_text import command_rows, head_rows, key_rows, paragraph_rows, part_rows
from tracker.screens.widgets.canvas_view import CanvasView
from tracker.screens.widgets.long_text import LongText, Row

WIDE = 120
"""Columns from which where to turn stays at the left."""
TURNING_WIDTH = 50
SIDES, SCROLL_BAR = 2, 1
PARTS = ("where to turn", "keys", "what this is not", "how it works", "more")
"""What the digits from 1 on go to."""
OTHER_KEYBOARDS = (
    "No key of a day is pressed together with another, so that one hand is enough. Digits need no Shift on a "
    "French keyboard, and may come from a numeric keypad. Where a terminal keeps F1 to itself, Ctrl+G opens "
    "help while you type. For other keyboards, and for keys of your own: tracker keys."
)


class HelpScreen(BaseScreen[None]):
    """Where to turn is always the same, whatever the days say; then come the keys of where she asked."""

    BINDINGS = bindings.HELP_PAGE
    CSS = f"""
    HelpScreen Horizontal {{ height: 1fr; }}
    HelpScreen #turning {{ width: {TURNING_WIDTH}; display: none; }}
    HelpScreen.-wide #turning {{ display: block; }}
    """
    AUTO_FOCUS = "#text"
    LEAST = (20, 5)
    HAS_TITLE = True
    _starts: Sequence[int] = ()
    """The row at which each of the parts begins."""

    def body(self) -> ComposeResult:
        yield CanvasView(id="head")
        with Horizontal():
            yield LongText(id="turning")
            yield LongText(id="text")

    def caution(self, width: int, height: int) -> list[str]:
        """In less room than other screens take, where to turn has all of it."""
        return super().caution(width, height) if width >= LEAST[0] and height >= LEAST[1] else []

    def action_jump(self, number: int) -> None:
        """To the part with this number; where to turn is at the top, if it is not at the left."""
        self.query_one("#text", LongText).scroll_to(y=self._starts[number - 1], animate=False)

    def draw(self, width: int, height: int) -> None:
        room = TURNING_WIDTH - SIDES - SCROLL_BAR
        at_left = part_rows(self.palette, turning(self.kept.choices), room)
        wide = width >= WIDE and len(at_left) <= height - len(self.caution(width, height)) - 2
        self.set_class(wide, "-wide")
        self.show("head", title_row(self.palette, width, self.aside))
        self.query_one("#turning", LongText).show(at_left)
        parts = self._parts((width - TURNING_WIDTH if wide else width) - SIDES - SCROLL_BAR)
        if wide:
            parts[0] = []
        self._starts = list(accumulate((len(part) for part in parts[:-1]), initial=0))
        self.query_one("#text", LongText).show(row for part in parts for row in part)

    def _parts(self, room: int) -> list[list[Row]]:
        """The rows of where to turn, of all keys, and of what is explained; the last hold what is left."""
        choices = self.kept.choices
        kinds = ", ".join(f"{kind.code.upper()} {kind.label}" for kind in choices.kinds)
        letters = f"The letters beside the days are shifts: {kinds}."
        keys: list[Row] = []
        for head, listed in self._sections():
            keys += [*head_rows(self.palette, head, room), *key_rows(self.palette, listed, room), []]
        for told in (letters, OTHER_KEYBOARDS):
            keys += [*paragraph_rows(self.palette, told, room), []]
        first, *rest = (
            [*part_rows(self.palette, part, room), []] for part in (turning(choices), *explanations(choices))
        )
        rest.append(command_rows(self.palette, room))
        return [first, keys, *rest[:2], [row for part in rest[2:] for row in part]]

    def _sections(self) -> Iterator[tuple[str, list[NamedKey]]]:
        """Of the modes that hold and of the screen below, then of all others."""
        below = self.app.screen_stack[-2]
        held = self.tracker.own_keys.table
        tables = {f"Keys {name}": keys_without_mode(held(table)) for name, table in bindings.TABLES.items()}
        here = next(
            (f"Keys {name}" for name, table in bindings.TABLES.items() if table is below.BINDINGS), ""
        )
        if not here:
            here, tables["Keys here"] = "Keys here", keys_without_mode(held(below.BINDINGS))
        in_modes = held(bindings.MODES)
        modes = {f"Keys {name}": keys_of_mode(in_modes, mode) for mode, name in bindings.MODE_NAMES.items()}
        now = self.editor.modes if isinstance(below, GridScreen) else ()
        first = [*(f"Keys {bindings.MODE_NAMES[mode]}" for mode in now), here]
        sections = modes | tables
        for title in dict.fromkeys([*first, *sections]):
            if sections[title]:
                yield title, sections[title]


def title_row(palette: Palette, width: int, aside: str) -> Canvas:
    """The title, and which digit goes where at the right; the digits alone where those have no room."""
    canvas = Canvas(width, 1, palette.text)
    end = canvas.put(1, 0, "Help", palette.title)
    end = canvas.put(end + 3, 0, aside, palette.accent) if aside else end
    named: list[Piece] = [
        piece
        for number, name in enumerate(PARTS, start=1)
        for piece in ((f"  {number} ", palette.key), (name, palette.quiet))
    ]
    digits: list[Piece] = [(f"1-{len(PARTS)}", palette.key), (" its parts", palette.quiet)]
    told = next((each for each in (named, digits) if end + pieces_width(each) < width), [])
    put_pieces(canvas, width - 1 - pieces_width(told), 0, told)
    return canvas


def keys_without_mode(table: Iterable[Binding]) -> list[NamedKey]:
    """What the keys of a table do, whatever is being done."""
    return _named(binding for binding in table if action_of(binding) not in ONLY_IN)


def keys_of_mode(table: Iterable[Binding], mode: Mode) -> list[NamedKey]:
    """What keys do in one mode alone."""
    return _named(binding for binding in table if mode in ONLY_IN[action_of(binding)])


def _named(listed: Iterable[Binding]) -> list[NamedKey]:
    return [named for named in named_keys(listed) if named.name]
