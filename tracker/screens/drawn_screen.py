"""What the screens share that are drawn as one picture each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from tracker import words
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.palette import Palette
from tracker.screens.base import LEAST_HEIGHT, LEAST_WIDTH, BaseScreen, too_small
from tracker.screens.key_commands import ESCAPE, HELP, QUIT, Command
from tracker.screens.lines import draw_keys, text_canvas
from tracker.screens.widgets.canvas_view import CanvasView

if TYPE_CHECKING:
    from tracker.screens.app import TrackerApp


class DrawnScreen(Screen[None]):
    """A screen of boards, with its keys in the last row."""

    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    DrawnScreen { layout: vertical; overflow: hidden; }
    DrawnScreen > #keys { dock: bottom; height: 1; }
    DrawnScreen > #too-small { display: none; }
    DrawnScreen.-too-small > * { display: none; }
    DrawnScreen.-too-small > #too-small { display: block; }
    """
    COMMANDS_HERE: Sequence[Command] = (ESCAPE, HELP, QUIT)
    """What the search by name and the help list for this screen."""

    Q_LEAVES: ClassVar[bool] = True
    """Whether q ends the program here, and is no letter to type."""

    def __init__(self, editor: Editor) -> None:
        super().__init__()
        self.editor = editor
        self.kept = editor.kept
        self.state = editor.state
        self._key_places: Mapping[Command, Rect] = {}

    def compose(self) -> ComposeResult:
        yield from self.body()
        yield CanvasView(id="keys")
        yield CanvasView(id="too-small")

    def body(self) -> ComposeResult:
        """The widgets above the row of keys."""
        raise NotImplementedError

    # --- handlers ----------------------------------------------------------------------------------

    def on_resize(self) -> None:
        self.redraw()

    def on_screen_resume(self) -> None:
        self.redraw()

    def on_key(self, event: events.Key) -> None:
        if self._is_typed_ahead():
            self._pass_on(event, events.Key(event.key, event.character))
            return
        letter = event.character if event.is_printable and not self.has_class("-too-small") else None
        if (letter and self.type(letter)) or self.do(event.key):
            event.stop()
            event.prevent_default()

    def on_paste(self, event: events.Paste) -> None:
        if self._is_typed_ahead():
            self._pass_on(event, events.Paste(event.text))
            return
        event.stop()
        if not self.has_class("-too-small"):
            self.type(" ".join(event.text.split()))

    def _is_typed_ahead(self) -> bool:
        """Whether what arrives came here while a key before it was opening or leaving a screen."""
        return self.app.screen is not self and isinstance(self.app.screen, BaseScreen | DrawnScreen)

    def _pass_on(self, event: events.Event, again: events.Event) -> None:
        """Leave it to the screen that is shown now: here the words of a note would be commands."""
        event.stop()
        event.prevent_default()
        self.app.post_message(again)

    def on_canvas_view_clicked(self, event: CanvasView.Clicked) -> None:
        event.stop()
        if event.view.id == "keys":
            self.click_key(event.x, event.y)
        else:
            self.click(event.view, event.x, event.y)
        self.redraw_if_current()

    # --- what a screen does ----------------------------------------------------------------------------

    @property
    def tracker(self) -> TrackerApp:
        """The app, which knows the palette and opens other screens."""
        return cast("TrackerApp", self.app)

    @property
    def palette(self) -> Palette:
        """The looks of this terminal."""
        return self.tracker.palette

    def keys_here(self) -> Sequence[Command]:
        """The commands for the row of keys, as things stand."""
        return self.COMMANDS_HERE

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        """What the keys of this screen do; letters in lower case."""
        return {}

    def type(self, text: str) -> bool:
        """Take typed text where there is a line to type in; whether it was taken."""
        return False

    def do(self, key: str) -> bool:
        """Do what a key does here, and draw; whether it does anything."""
        if self.has_class("-too-small"):
            if key.lower() == "q" and self.Q_LEAVES:
                self.tracker.leave()
            return False
        done = self.press("question_mark" if key == "f1" else key)
        if done:
            self.redraw_if_current()
        return done

    def press(self, key: str) -> bool:
        """Do what a key does here; whether it does anything."""
        pressed = key.lower() if len(key) == 1 else key
        deed = self.deeds().get(pressed) or self._common_deeds().get(pressed)
        if deed:
            deed()
        return deed is not None

    def _common_deeds(self) -> Mapping[str, Callable[[], object]]:
        return {
            "escape": self.back,
            "question_mark": lambda: self.tracker.open("help"),
            "q": self.tracker.leave,
        }

    def back(self) -> None:
        """Go back to the screen before, where an old sentence would look like an answer."""
        self.editor.clear_message()
        self.dismiss()

    def click(self, board: CanvasView, x: int, y: int) -> None:
        """Answer a click on one of the boards."""

    def click_key(self, x: int, y: int) -> None:
        """Do what the command under the pointer does."""
        for command, rect in self._key_places.items():
            if rect.holds(x, y) and command.keys:
                self.press(command.keys[0])

    # --- drawing -----------------------------------------------------------------------------------------

    def redraw_if_current(self) -> None:
        """Draw, unless what was done has led to another screen."""
        if self.is_attached and self.is_current:
            self.redraw()

    def redraw(self) -> None:
        """Draw everything as it stands; only what changed reaches the terminal."""
        width, height = self.size
        if not width:
            return
        too_small = width < LEAST_WIDTH or height < LEAST_HEIGHT
        self.set_class(too_small, "-too-small")
        if too_small:
            self._say_too_small(width, height)
            return
        self.draw(width, height)
        canvas, places = draw_keys(self.palette, width, tuple(self.keys_here()))
        self._key_places = places
        self.show("keys", canvas)

    def draw(self, width: int, height: int) -> None:
        """Draw what stands above the row of keys."""
        raise NotImplementedError

    def show(self, board: str, canvas: Canvas) -> None:
        """Show a picture on one of the boards."""
        self.query_one(f"#{board}", CanvasView).show(canvas, self.palette.text)

    @property
    def always(self) -> list[str]:
        """What stands above the keys of most screens: the caution; if the days are invented, that too."""
        return [words.INVENTED, words.CAUTION] if self.tracker.invented else [words.CAUTION]

    def _say_too_small(self, width: int, height: int) -> None:
        lines = too_small(width, height, self.Q_LEAVES)
        self.show("too-small", text_canvas(lines, max(width, 1), self.palette))
