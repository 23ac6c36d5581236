"""A screen with a form: walk up and down, choose left and right or type, Enter keeps all, Esc nothing.

What has no room scrolls, and the question in focus stays in view, above what is said of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Grid, Vertical, VerticalScroll
from textual.reactive import var
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Static

from tracker import words
from tracker.cells import text_width
from tracker.diary.errors import TrackerError
from tracker.editing.drafts import FormDrafts
from tracker.editing.editor import Editor
from tracker.screens.base import BaseScreen
from tracker.screens.widgets.choice import Choice
from tracker.screens.widgets.choice_row import ChoiceRow, SwatchRow
from tracker.screens.widgets.text_field import NoteField, TextField

if TYPE_CHECKING:
    from textual.timer import Timer

TALL = 30
"""Rows from which what is said of a question stands right under the form."""
ANSWER_WIDTH = 34
"""Columns that an answer takes beside its question; with fewer it stands under it."""
FIRST = ("keep", "cancel", "leave", "throw_away", "show('help')")
"""Actions that the foot names first: those that end a form, and help."""
WRITE_AFTER, TRY_AGAIN = 0.7, 5.0
"""Seconds after which what is typed is in the record, or is tried once more."""
Answer = Choice | TextField | NoteField
"""What a question is answered with; its `value` is the answer."""


class Question(NamedTuple):
    """One row of a form."""

    name: str
    label: str
    value: str
    """The answer as it stands."""
    options: Sequence[tuple[str, str]] = ()
    """Values and the words for them; none: the answer is typed."""
    help: str = ""
    is_long: bool = False
    """Whether the typed answer has several rows."""
    row: SwatchRow | None = None
    """How the options are seen, where that is side by side."""

    def answer(self) -> Answer:
        """What it is answered with."""
        if self.row:
            return ChoiceRow(self.options, self.value, self.row)
        if self.options:
            return Choice(self.options, self.value)
        return NoteField(self.value) if self.is_long else TextField(self.value)


def answers_of(questions: Iterable[Question]) -> dict[str, str]:
    """Every answer as it stands, by the name of its question."""
    return {question.name: question.value.strip() for question in questions}


class Label(Static):
    """What is asked, beside the answer."""

    def __init__(self, question: Question, answer: Answer) -> None:
        super().__init__(question.label, classes="label", markup=False)
        self.question = question
        self.answer = answer

    def point(self, sign: str) -> None:
        """Show whether this is where keys go."""
        self.set_class(self.answer.has_focus, "-here")
        self.update(Text(f"{sign if self.answer.has_focus else ' '} {self.question.label}"))

    def on_click(self) -> None:
        self.answer.focus()


class Questions(VerticalScroll, can_focus=False):
    """Questions with what stands above and below them; the one in focus stays in view."""

    def __init__(self, labels: Sequence[Label], id: str) -> None:
        super().__init__(id=id)
        self._labels = labels

    def on_resize(self) -> None:
        self.call_after_refresh(self._bring_into_view)

    def on_descendant_focus(self) -> None:
        self.call_after_refresh(self._bring_into_view)

    def _bring_into_view(self) -> None:
        """Scroll to the question in focus with its answer; to all that stands above, if it is the first."""
        here = next((label for label in self._labels if label.answer.has_focus), None)
        if here is None:
            return
        if here is self._labels[0]:
            self.scroll_home(animate=False, immediate=True)
        for widget in (here.answer, here):
            self.scroll_to_widget(widget, animate=False, immediate=True)


class FormScreen(BaseScreen[None]):
    """Questions on a screen of their own."""

    CSS_PATH = "form_screen.tcss"
    AUTO_FOCUS = "Choice, TextField, NoteField"
    HEADING = ""

    error = var("", init=False)
    """Why the answers cannot be kept, or what was changed beside the one that was given."""

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        questions = list(self.questions())
        places = {each.name: place for each in questions if not each.options and (place := self.place(each))}
        self._drafts = FormDrafts(self.kept, places)
        self._labels = {
            each.name: Label(each, each._replace(value=self._drafts.held.get(each.name, each.value)).answer())
            for each in questions
        }
        self._seen = self.answers
        self._writing: Timer | None = None
        """Runs while something typed is not in the record yet."""
        self._told_of: Mapping[str, str] = {}
        """What was typed when it was said that it cannot wait."""

    def body(self) -> ComposeResult:
        with Vertical(id="body"), Vertical(id="sheet"):
            yield Static(self.HEADING, id="heading", markup=False)
            with Questions(list(self._labels.values()), id="form"):
                yield from self.preface()
                with Grid(id="questions"):
                    for label in self._labels.values():
                        yield label
                        yield label.answer
                with VerticalScroll(id="below", can_focus=False):
                    yield from self.below()
            yield from self.foot()
            with VerticalScroll(id="said", can_focus=False):
                yield Static(id="hint", markup=False)

    def questions(self) -> Iterable[Question]:
        """What is asked."""
        raise NotImplementedError

    def submit(self, answers: dict[str, str]) -> None:
        """Keep the answers; raises a TrackerError where they cannot be kept."""
        raise NotImplementedError

    def place(self, question: Question) -> str:
        """Where what is typed waits if it is not kept; empty: nowhere, as Enter keeps it in no record."""
        return ""

    def changed(self) -> None:
        """Something was chosen or typed."""

    def preface(self) -> ComposeResult:
        """What stands between the heading and the questions."""
        return ()

    def below(self) -> ComposeResult:
        """What stands under the questions."""
        return ()

    def foot(self) -> ComposeResult:
        """What stands under them and is always seen."""
        return ()

    # --- answers -----------------------------------------------------------------------------------------

    def on_mount(self) -> None:
        for label in self._labels.values():
            if not isinstance(label.answer, NoteField):
                self.watch(label.answer, "value", self._has_changed, init=False)
        self._offer_drafts()

    def on_text_area_changed(self) -> None:
        self._has_changed()

    def _has_changed(self) -> None:
        if self.answers == self._seen:
            return
        self._seen = self.answers
        self.error = ""
        self.changed()
        self.refresh_bindings()
        if self._writing is None:
            self._writing = self.set_timer(WRITE_AFTER, self._write_drafts)

    @property
    def answers(self) -> dict[str, str]:
        """Every answer by the name of its question."""
        return {name: label.answer.value.strip() for name, label in self._labels.items()}

    @property
    def stood(self) -> dict[str, str]:
        """Every answer as it stood before."""
        return answers_of(label.question for label in self._labels.values())

    @property
    def changes(self) -> dict[str, str]:
        """What is answered otherwise than it stood."""
        return dict(self.answers.items() - self.stood.items())

    def put(self, name: str, value: str) -> None:
        """Answer a question for her."""
        self._labels[name].answer.value = value

    def show_question(self, name: str, is_asked: bool) -> None:
        """Show a question, or leave it out of the form."""
        label = self._labels[name]
        label.display = label.answer.display = is_asked

    def show_row(self, name: str, row: SwatchRow) -> None:
        """Show the options of a question otherwise, as in other colours."""
        answer = self._labels[name].answer
        if isinstance(answer, ChoiceRow):
            answer.row = row
            answer.refresh()

    def watch_error(self) -> None:
        self._show_hint()

    def _show_hint(self) -> None:
        """What is wrong, or else what the question in focus means."""
        here = [label.question.help for label in self._labels.values() if label.answer.has_focus]
        hint = self.query_one("#hint", Static)
        hint.set_class(bool(self.error), "-error")
        hint.update(Text(self.error or "".join(here)))

    def set_focus(
        self, widget: Widget | None, scroll_visible: bool = True, from_app_focus: bool = False
    ) -> None:
        super().set_focus(widget, scroll_visible=False, from_app_focus=from_app_focus)  # the form itself does

    # --- room --------------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> None:
        labels = max(text_width(label.question.label) for label in self._labels.values())
        self.set_class(not self.is_roomy, "-small")
        self.set_class(height >= TALL, "-tall")
        self.set_class(width < labels + ANSWER_WIDTH, "-stacked")

    # --- what is typed and not kept ------------------------------------------------------------------------

    @property
    def typed(self) -> dict[str, str]:
        """What is typed and not kept, by the name of its question."""
        return self._drafts.of(self.changes)

    def _offer_drafts(self) -> None:
        """Say that what was typed before stands here again, or why it does not."""
        offered = [self._labels[name].question.label for name in self.typed]
        if offered:
            self.changed()
            rows = offered if len(self._labels) > 1 else []
            self.error = words.stands_again(rows, self.state.sign("Ctrl+T"))
        else:
            self.error = self._drafts.trouble

    def _write_drafts(self) -> None:
        self._stop_writing()
        try:
            self._drafts.hold(self.changes)
        except TrackerError as error:
            self.error = str(error)
            self._writing = self.set_timer(TRY_AGAIN, self._write_drafts)

    def _stop_writing(self) -> None:
        if self._writing:
            self._writing.stop()
        self._writing = None

    def lets_go(self) -> bool:
        """Let what is typed wait in the record; where it cannot, that is said before it may be lost."""
        self._stop_writing()
        try:
            self._drafts.hold(self.changes)
        except TrackerError as error:
            was_told, self._told_of = self._told_of == self.typed, self.typed
            self.error = words.goes_if_left(str(error))
            return was_told
        return True

    @property
    def is_typed_in(self) -> bool:
        return bool(self._drafts.held)

    async def action_throw_away(self) -> None:
        """Let everything typed stand as it was kept."""
        await self.settle()
        for name in self.typed:
            self.put(name, self.stood[name])
        self._seen = self.answers
        self.changed()
        self.error = words.THROWN_AWAY
        self._write_drafts()
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action == "throw_away" and not self.typed:
            return False
        return super().check_action(action, parameters)

    # --- keys --------------------------------------------------------------------------------------------

    def rank(self, binding: Binding) -> int:
        return int(binding.action not in FIRST)

    async def action_walk(self, step: int) -> None:
        """Go to the question before or after, round and round; in a long answer first through its rows."""
        await self.settle()
        self.error = ""
        if not (isinstance(self.focused, NoteField) and self.focused.walk(step)):
            self.focus_next() if step > 0 else self.focus_previous()

    async def action_keep(self) -> None:
        """Keep all answers and go, or say why they cannot be kept."""
        await self.settle()
        if self.keep():
            await self.dismiss()

    def keep(self) -> bool:
        """Keep the answers; False, with `error` set, where they cannot be kept."""
        self.error = ""
        try:
            with self._drafts.as_one():
                self.submit(self.answers)
                if not self.error:
                    self._drafts.forget()
                    self._stop_writing()
        except TrackerError as error:
            self.error = str(error)
        return not self.error

    async def action_cancel(self) -> None:
        """Leave everything as it was; what is typed waits."""
        await self.settle()
        if self.lets_go():
            self.cancel()

    def cancel(self) -> None:
        """Leave everything as it was, and say so to whoever had begun to change it."""
        said = [words.NOTHING_CHANGED] if self.changes else []
        self.state.message = " ".join([*said, words.TYPED_WAITS] if self.is_typed_in else said)
        self.dismiss()

    def action_page(self, step: int) -> None:
        """Scroll what is said of a question if it is longer than its room, else all the rest."""
        said = self.query_one("#said", VerticalScroll)
        for part in [said] if said.max_scroll_y else self.query(VerticalScroll).results():
            part.scroll_page_down() if step > 0 else part.scroll_page_up()

    def on_descendant_focus(self) -> None:
        for label in self._labels.values():
            label.point(self.palette.signs.right)
        self._show_hint()


class ModalForm(FormScreen, ModalScreen[None]):
    """A few questions over the lower part of the screen that asked them."""
