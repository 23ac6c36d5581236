"""What all screens share: a body, the caution under it, the line of keys, and a window that is too small."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar, Protocol, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen, ScreenResultType
from textual.scrollbar import ScrollBar

from tracker import words
from tracker.cells import shortened, wrapped
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas, text_canvas
from tracker.grids.palette import Palette
from tracker.screens.bindings import PRESSED, NamedKey, named_keys, sign, sign_of
from tracker.screens.own_keys import OwnKeys, take_own_keys
from tracker.screens.widgets.canvas_view import CanvasView
from tracker.screens.widgets.key_line import KeyLine
from tracker.screens.widgets.scroll_bar import WholeCells

if TYPE_CHECKING:
    from textual.widget import AwaitMount, Widget

    from tracker.analysis.results import Findings
    from tracker.diary.settings import Settings

ScrollBar.renderer = WholeCells

LEAST = (38, 14)
ROOMY = (80, 24)
"""Columns and rows from which screens have blank rows and the whole caution."""


def too_small(width: int, height: int, ways: Sequence[str], least: tuple[int, int] = LEAST) -> list[str]:
    """What stands in place of everything in a window that is too small, in as many lines as have room.

    Parameters
    ----------
    ways
        What keys still do there.
    """
    what = f"Too little room, {width} by {height}, not {least[0]} by {least[1]}: "
    said = what + "; ".join((*ways, words.OTHER_WAY, "nothing is lost."))
    return shortened(wrapped(said, max(width, 1)), max(height, 1))


async def settled(field: Widget) -> None:
    """Wait until a field has taken all that was typed: a key that is answered elsewhere would overtake it."""
    taken = asyncio.Event()
    field.call_later(taken.set)
    await taken.wait()


class Program(Protocol):
    """What a screen asks of the app: how things look, and to open other screens."""

    palette: Palette
    invented: bool
    """Whether the days are those of the demo."""
    findings: dict[object, Findings]
    """What was computed last, by what it was computed from."""

    own_keys: OwnKeys
    """Keys that are pressed in place of built-in ones."""

    @property
    def theme_trouble(self) -> str:
        """Why the theme is not used, or is hard on some eyes."""

    def open(self, name: str) -> AwaitMount:
        """Open a screen by its name."""

    def apply_theme(self, settings: Settings) -> None:
        """Look as the settings say."""

    async def leave(self) -> None:
        """End, unless something typed would be lost that was not told of."""


class BaseScreen(Screen[ScreenResultType]):
    """A screen whose keys are bindings of `tracker.screens.bindings`, each named in its last row."""

    BINDINGS: ClassVar[list[BindingType]] = []
    """All its keys, in the order in which the foot offers them."""
    LEAST: ClassVar[tuple[int, int]] = LEAST
    """Columns and rows below which it gives way to a sentence."""
    CAUTION: ClassVar[bool] = True
    """Whether the caution stands in the row above the keys."""
    HAS_TITLE: ClassVar[bool] = False
    """Whether its first row says if the days are invented."""
    HAS_ANALYSIS: ClassVar[bool] = False
    """Whether it shows what was analysed: then the caution is whole in any window."""
    DEFAULT_CSS = """
    BaseScreen {
        layout: vertical; overflow: hidden;
        &> #caution { padding: 0 1; }
        &> #too-small { display: none; }
        &.-too-small > * { display: none; }
        &.-too-small > #too-small { display: block; }
    }
    """

    def __init__(self, editor: Editor) -> None:
        super().__init__()
        self.editor = editor
        self.kept = editor.kept
        self.state = editor.state
        self.key_answer = ""
        """What is said of the key that was pressed last, if it means nothing."""
        self._focused_before: Widget | None = None
        """What had the focus before the window became too small."""

    def compose(self) -> ComposeResult:
        take_own_keys(self)
        yield from self.body()
        if self.CAUTION:
            yield CanvasView(id="caution")
        yield KeyLine(id="keys")
        yield CanvasView(id="too-small")

    def body(self) -> ComposeResult:
        """The widgets above the caution and the keys; one of them takes the height that is left."""
        raise NotImplementedError

    @property
    def tracker(self) -> Program:
        """The app, which knows the palette and opens other screens."""
        return cast("Program", self.app)

    @property
    def palette(self) -> Palette:
        """The looks of this terminal."""
        return self.tracker.palette

    @property
    def always(self) -> list[str]:
        """What stands above the keys: the caution; that days are invented too, where no title says it."""
        caution = words.CAUTION if self.is_roomy or self.HAS_ANALYSIS else words.NO_SCREENING
        if self.HAS_TITLE or not self.tracker.invented:
            return [caution]
        return (
            [words.INVENTED, caution] if self.is_roomy else [f"{words.INVENTED_DAYS.capitalize()}. {caution}"]
        )

    @property
    def aside(self) -> str:
        """What stands behind a title: whether the days are invented."""
        return words.INVENTED_DAYS if self.tracker.invented else ""

    @property
    def is_roomy(self) -> bool:
        """Whether the window has room for blank rows."""
        return self.size.width >= ROOMY[0] and self.size.height >= ROOMY[1]

    # --- keys ------------------------------------------------------------------------------------------

    def bindings(self) -> list[Binding]:
        """Its table, a key each, by the keys that hold."""
        return self.tracker.own_keys.table(self.BINDINGS)

    @cached_property
    def _place(self) -> Mapping[tuple[str, str], int]:
        """In which order the keys stand."""
        return {(binding.action, binding.key): number for number, binding in enumerate(self.bindings())}

    def offered_keys(self) -> list[NamedKey]:
        """What the foot names now: keys of the widget in focus, then those of the screen's table."""
        return named_keys(binding for binding in self._active() if binding.show and self.is_offered(binding))

    def named_bindings(self) -> list[Binding]:
        """What the list of commands holds now: every action with a name, once."""
        return [binding for binding in self._active() if binding.tooltip]

    def _active(self) -> list[Binding]:
        """What can be done now, each thing once, by its first key."""
        active = [found.binding for found in self.active_bindings.values()]
        first: dict[str, Binding] = {}
        for one in sorted(active, key=lambda one: self._place.get((one.action, one.key), -1)):
            first.setdefault(one.action, one)
        return sorted(first.values(), key=self.rank)

    def offer(self) -> object:
        """What decides the keys that are offered: while it stays the same, so do they."""
        return object()

    def rank(self, binding: Binding) -> int:
        """What the foot names before all else has the lower one."""
        return 0

    def is_offered(self, binding: Binding) -> bool:
        """Whether the foot names a key that can be pressed now."""
        return True

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        in_any_window = action == "leave" or (action, parameters) == ("show", ("help",))
        return in_any_window or not self.has_class("-too-small")

    async def action_show(self, name: str) -> None:
        await self.tracker.open(name)  # awaited: keys typed ahead wait until it has its focus

    def on_key(self, event: events.Key) -> None:
        """Only keys that mean nothing here come so far; what a keyboard reports of itself is none."""
        is_key = event.character or "+" in event.key or event.key in PRESSED
        if is_key and not self.has_class("-too-small") and event.key not in self.active_bindings:
            self.pass_unknown(event.key)

    def pass_unknown(self, key: str) -> None:
        """Say that a key means nothing here, the same on every screen."""
        is_typing = self.focused is not None and self.focused.check_consume_key("question_mark", "?")
        self.answer(words.means_nothing(sign(key), sign("f1" if is_typing else "question_mark")))

    def answer(self, sentence: str) -> None:
        """Say something of the key that was pressed, in place of the keys; empty: name them again."""
        if sentence != self.key_answer:
            self.key_answer = sentence
            self.query_one(KeyLine).redraw()

    def action_back(self) -> None:
        self.editor.clear_message()  # an old sentence would look like an answer
        self.dismiss()

    async def action_leave(self) -> None:
        await self.tracker.leave()

    async def settle(self) -> None:
        """Wait until the field in focus has taken all that was typed."""
        if self.focused:
            await settled(self.focused)

    @property
    def is_typed_in(self) -> bool:
        """Whether something waits in the record that was typed here and not kept."""
        return False

    def lets_go(self) -> bool:
        """Whether it may be left: nothing typed here would be lost, or that was told before."""
        return True

    # --- drawing ---------------------------------------------------------------------------------------

    def on_resize(self) -> None:
        self.redraw()

    def on_screen_resume(self) -> None:
        self.redraw()

    def redraw(self) -> None:
        """Draw everything as it stands; only what changed reaches the terminal."""
        width, height = self.size
        if not width:
            return
        is_too_small = width < self.LEAST[0] or height < self.LEAST[1]
        if is_too_small != self.has_class("-too-small"):
            self._become_too_small(is_too_small)
        if is_too_small:
            lines = too_small(width, height, self._ways_out(), self.LEAST)
            self.show("too-small", text_canvas(lines, width, self.palette.text))
            return
        if self.CAUTION:
            self.show("caution", text_canvas(self.caution(width, height), width - 2, self.palette.quiet))
        self.draw(width, height)
        self.query_one(KeyLine).redraw()

    def caution(self, width: int, height: int) -> list[str]:
        """The rows above the keys: what always stands there."""
        return [row for text in self.always for row in wrapped(text, width - 2)]

    def _ways_out(self) -> list[str]:
        """What can still be done in a window that is too small."""
        can = {"show('help')": "is where to turn", "leave": "leaves"}
        signs = {binding.action: sign_of(binding) for binding in reversed(self.bindings())}
        return [f"{signs[action]} {does}" for action, does in can.items() if action in signs]

    def _become_too_small(self, is_too_small: bool) -> None:
        """Textual takes the focus from a field that is not seen; give it back."""
        if is_too_small:
            self._focused_before = self.focused
        self.set_class(is_too_small, "-too-small")
        if not is_too_small:
            self.set_focus(self._focused_before)

    def draw(self, width: int, height: int) -> None:
        """Draw what is no widget of Textual's."""

    def show(self, id: str, canvas: Canvas) -> None:
        """Show a picture in one of the views."""
        self.query_one(f"#{id}", CanvasView).show(canvas, self.palette.text)
