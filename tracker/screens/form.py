"""Questions under one another, each answered by choosing or by typing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.cells import begun, text_width
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.screens.lines import wrapped
from tracker.screens.typed import Typed


@dataclass
class Question:
    """One row of a form."""

    name: str
    label: str
    value: str
    options: Sequence[tuple[str, str]] = ()
    """Values and the words for them; none: the value is typed."""
    help: str = ""

    def __post_init__(self) -> None:
        self.typed = None if self.options else Typed(self.value)

    @property
    def answer(self) -> str:
        """The value as it stands."""
        return self.typed.text.strip() if self.typed else self.value

    @property
    def shown(self) -> str:
        """The value in words."""
        return self.typed.text if self.typed else dict(self.options).get(self.value, self.value)

    def put(self, value: str) -> None:
        """Answer it otherwise."""
        self.value = value
        if self.typed:
            self.typed = Typed(value)

    def turn(self, step: int) -> None:
        """Choose the next or the last option."""
        values = [value for value, _ in self.options]
        at = values.index(self.value) if self.value in values else 0
        self.value = values[(at + step) % len(values)]


@dataclass
class Form:
    """Questions, and the one that is being answered."""

    questions: list[Question]
    at: int = 0

    @property
    def here(self) -> Question:
        """The question that is being answered."""
        return self.questions[self.at]

    def question(self, name: str) -> Question:
        """The question of a name."""
        return next(question for question in self.questions if question.name == name)

    def answers(self) -> dict[str, str]:
        """Every value by its name."""
        return {question.name: question.answer for question in self.questions}

    def type(self, text: str) -> bool:
        """Take typed letters; on a choice a space chooses the next."""
        if self.here.typed:
            self.here.typed.type(text)
            return True
        if text == " ":
            self.here.turn(1)
        return text == " "

    def press(self, key: str) -> bool:
        """Walk, choose or edit; whether the key does any of it."""
        if key in ("up", "down", "tab", "shift+tab"):
            step = 1 if key in ("down", "tab") else -1
            self.at = (self.at + step) % len(self.questions)
        elif self.here.typed:
            return self.here.typed.press(key)
        elif key in ("left", "right"):
            self.here.turn(1 if key == "right" else -1)
        else:
            return False
        return True

    def click(self, row: int) -> None:
        """Go to a question; clicked again, choose its next option."""
        if not 0 <= row < len(self.questions):
            return
        if row == self.at and not self.here.typed:
            self.here.turn(1)
        self.at = row

    def draw(self, canvas: Canvas, top: int, height: int, palette: Palette) -> tuple[int, int]:
        """Draw as many questions as fit, and the help of the one that is answered.

        Returns
        -------
        The first question that is shown, and the first row below all of it.
        """
        explained = wrapped(self.here.help, canvas.width - 4) if self.here.help else []
        room = max(height - len(explained) - 1, 1)
        first = min(max(0, self.at - room + 1), max(0, len(self.questions) - room))
        column = 5 + max(text_width(question.label) for question in self.questions)
        for y, question in enumerate(self.questions[first : first + room], start=top):
            self._draw_row(canvas, y, column, palette, question)
        more = len(self.questions) - first - room
        if more > 0:
            canvas.put(3, top + room, f"{more} more", palette.quiet)
        below = top + min(room, len(self.questions) - first) + 1
        for y, line in enumerate(explained, start=below):
            canvas.put(3, y, line, palette.quiet)
        return first, below + (len(explained) + 1 if explained else 0)

    def _draw_row(self, canvas: Canvas, y: int, column: int, palette: Palette, question: Question) -> None:
        here = question is self.here
        if here:
            canvas.put(1, y, palette.signs.right, palette.focus)
        canvas.put(3, y, question.label, palette.title if here else palette.quiet)
        width = canvas.width - column - 2
        if question.typed and here:
            question.typed.draw(canvas, column + 2, y, width - 2, palette)
        elif here:
            canvas.put(column, y, f"< {begun(question.shown, width - 4)} >", palette.focused)
        else:
            canvas.put(column + 2, y, begun(question.shown, width - 2), palette.text)
