"""A screen with a form: walk up and down, choose left and right or type, Enter keeps all, Esc nothing."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult

from tracker import words
from tracker.cells import begun
from tracker.diary.errors import TrackerError
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas, CellStyle
from tracker.screens.drawn_screen import DrawnScreen
from tracker.screens.form import Form, Question
from tracker.screens.key_commands import HELP, HELP_WHILE_TYPING, Command
from tracker.screens.lines import shortened, wrapped
from tracker.screens.widgets.canvas_view import CanvasView

ROWS = Command(("up", "down"), "up down", "walk", "Walk the rows")
CHOOSE = Command(("left", "right"), "left right", "choose", "Choose")
KEEP = Command(("enter",), "Enter", "keep all", "Keep all of it")
LEAVE_IT = Command(("escape",), "Esc", "leave it", "Leave it as it was")


class FormScreen(DrawnScreen):
    """Questions on a screen of their own."""

    COMMANDS_HERE: Sequence[Command] = (ROWS, CHOOSE, KEEP, LEAVE_IT)
    HEADING = ""
    Q_LEAVES = False

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.form = Form(self.questions())
        self._stood = self.form.answers()
        self.error = ""
        self._form_top = 0

    def body(self) -> ComposeResult:
        yield CanvasView(id="form")

    def questions(self) -> list[Question]:
        """What is asked."""
        raise NotImplementedError

    def take(self, answers: dict[str, str]) -> None:
        """Keep the answers; raises a TrackerError, or sets `trouble`, where they cannot be kept."""
        raise NotImplementedError

    def changed(self) -> None:
        """Something was chosen or typed."""

    def preface(self) -> Sequence[tuple[str, CellStyle]]:
        """What stands between the heading and the questions."""
        return ()

    def below(self, room: int) -> Sequence[tuple[str, CellStyle]]:
        """What stands under the questions, in so many rows."""
        return ()

    def adorn(self, canvas: Canvas, y: int) -> None:
        """Put something beside the questions, in the two rows from y on."""

    # --- keys ------------------------------------------------------------------------------------------

    def keys_here(self) -> Sequence[Command]:
        here = self.COMMANDS_HERE
        return here if HELP in here else [*here, HELP_WHILE_TYPING]

    def type(self, text: str) -> bool:
        taken = self.form.type(text)
        if taken:
            self._has_changed()
        return taken

    def press(self, key: str) -> bool:
        if key == "escape":
            self.cancel()
        elif key == "enter":
            if self.keep():
                self.dismiss()
        elif key == "question_mark":
            self.tracker.open("help")
        elif self.form.press(key):
            self._has_changed()
        else:
            return False
        return True

    def keep(self) -> bool:
        """Keep the answers; False, with `trouble` set, where they cannot be kept."""
        self.error = ""
        try:
            self.take(self.form.answers())
        except TrackerError as error:
            self.error = str(error)
        return not self.error

    @property
    def changes(self) -> dict[str, str]:
        """What is answered otherwise than it stood."""
        return {name: answer for name, answer in self.form.answers().items() if answer != self._stood[name]}

    def cancel(self) -> None:
        """Leave everything as it was, and say so to whoever had begun to change it."""
        self.editor.state.message = words.NOTHING_CHANGED if self.changes else ""
        self.dismiss()

    def _has_changed(self) -> None:
        self.error = ""
        self.changed()
        self.redraw()

    def click(self, board: CanvasView, x: int, y: int) -> None:
        self.form.click(y - self._form_top)
        self._has_changed()

    # --- drawing ---------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> None:
        palette = self.palette
        canvas = Canvas(width, height - 1, palette.text)
        canvas.put(1, 0, self.HEADING, palette.title)
        y = 2
        for text, style in self.preface():
            canvas.put(1, y, text, style)
            y += 1
        y += 1 if y > 2 else 0
        last = height - 1 - len(self.always)
        first, under = self.form.draw(canvas, y, last - y - 1, palette)
        self._form_top = y - first
        for row, (text, style) in enumerate(self.below(last - under - 1), start=under):
            if row < last - 1:
                canvas.put(1, row, begun(text, width - 2), style)
        self.adorn(canvas, last - 4)
        if self.error:
            rows = shortened(wrapped(self.error, width - 2), 4)
            for row, line in enumerate(rows, start=last - len(rows)):
                canvas.put(1, row, " " * (width - 2), palette.warning)
                canvas.put(1, row, line, palette.warning)
        for row, line in enumerate(self.always, start=last):
            canvas.put(1, row, line, palette.quiet)
        self.show("form", canvas)
