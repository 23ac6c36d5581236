"""A trial on oneself: what is done today, what it has shown, and planning one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from textual import work
from textual.app import ComposeResult
from textual.message import Message
from textual.widgets import Static

from tracker import words
from tracker.cells import wrapped
from tracker.diary.dates import read_day
from tracker.diary.days import Day
from tracker.diary.errors import TrackerError
from tracker.diary.trial import (
    FORMS,
    Trial,
    form_of,
    new_lot,
    outcome_named,
    pairs_typed,
    planned,
    running,
)
from tracker.editing.editor import Editor
from tracker.record.trial_rows import trial_missed_value, trial_stopped_value, trial_value
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question
from tracker.screens.widgets.long_text import Line, LongText
from tracker.screens.workers import WorkerScreen

LEAVE_TWICE = "{} once more leaves the trial for good: its blocks are then counted, never judged."


class TrialScreen(WorkerScreen):
    """Judged beside the screen, and nothing of it by arm before its one look."""

    BINDINGS = bindings.TRIAL

    class Told(Message):
        """What may be said of every trial today."""

        def __init__(self, paragraphs: list[list[str]]) -> None:
            super().__init__()
            self.paragraphs = paragraphs

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._paragraphs: list[list[str]] = []
        self._leaving = False

    def body(self) -> ComposeResult:
        yield LongText(id="text")

    def on_screen_resume(self) -> None:
        self._ask()
        super().on_screen_resume()

    @property
    def running(self) -> Trial | None:
        """The trial that is going on or to come."""
        return running(self.kept.choices.trials, self.kept.today)

    def _ask(self) -> None:
        self.message = "Looking through the days."
        self.call_after_refresh(self._tell, list(self.kept.record.days().values()))

    @work(thread=True, exclusive=True, exit_on_error=False)
    def _tell(self, days: Sequence[Day]) -> None:
        from tracker.analysis.trial_wording import begun_in_words, told

        choices, today = self.kept.choices, self.kept.today
        paragraphs = [told(trial, days, choices.scales, today, choices.trials) for trial in choices.trials]
        begun = begun_in_words(choices.trials, today)
        none = f"No trial was planned; {self.state.sign('n')} begins one."
        self.post_message(self.Told([*paragraphs, *([[begun]] if begun else [])] or [[none]]))

    def on_trial_screen_told(self, message: Told) -> None:
        self._paragraphs, self.message = message.paragraphs, ""
        self.redraw()

    # --- keys --------------------------------------------------------------------------------------------

    def action_plan(self) -> None:
        """Plan a trial, unless one is going on."""
        self._leaving = False
        if self.running:
            self.message = f"A trial is going on; {self.state.sign('x')} leaves it."
            self.redraw()
        else:
            self.app.push_screen(TrialForm(self.editor))

    def action_miss(self) -> None:
        """Mark today as not done as planned, or take that back."""
        trial, today = self.running, self.kept.today
        if trial is None or trial.block_of(today) is None:
            self.message = "No trial has come to today."
        else:
            missed = today not in trial.missed
            said = "not done as planned" if missed else "done as planned"
            self._choose(trial_missed_value(trial, today, missed), f"Today: {said}.")
        self._leaving = False
        self.redraw()

    def action_stop(self) -> None:
        """Leave the trial early; the first press asks."""
        trial = self.running
        if trial is None:
            self.message = "No trial is going on."
        elif not self._leaving:
            self._leaving, self.message = True, LEAVE_TWICE.format(self.state.sign("x"))
        else:
            self._leaving = False
            self._choose(trial_stopped_value(trial, self.kept.today), "The trial is left.")
        self.redraw()

    def _choose(self, values: Mapping[str, object], said: str) -> None:
        try:
            self.editor.choose(values, said)
        except TrackerError as error:
            self.message = str(error)
        else:
            self._ask()

    def draw(self, width: int, height: int) -> None:
        palette = self.palette
        lines: list[Line] = [("A trial on yourself", palette.title), ("", palette.text)]
        for said in self._paragraphs:
            lines += [(row, palette.text) for line in said for row in wrapped(line, width - 4)]
            lines.append(("", palette.text))
        lines += [(row, palette.accent) for row in wrapped(self.message, width - 4)]
        self.query_one(LongText).show([line] for line in lines)


class TrialForm(FormScreen):
    """What is tried, looked at what, in which blocks; first it says what that could show, then it draws."""

    BINDINGS = bindings.TRIAL_FORM
    HEADING = "A trial of your own, in blocks of days drawn by lot"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._lot = new_lot()
        self._told: Trial | None = None
        """The plan of which it was said what it could show."""

    def preface(self) -> ComposeResult:
        said = (words.TRIAL_NEVER, f"{words.TRIAL_NOT_WHILE_UNWELL} {words.TRIAL_STOP}")
        yield Static("\n".join(said), classes="preface text", markup=False)

    def questions(self) -> Iterable[Question]:
        lengths = [(str(form.days), f"{form.days} days: the effect is gone {form.fades}") for form in FORMS]
        outcomes = [("sleep", "sleep, longer"), ("mood", "mood, higher"), ("anxious", "fewer anxious days")]
        yield Question("tried", "What I try", "")
        yield Question("usual", "Against", "as usual")
        yield Question("outcome", "Looking at", "sleep", outcomes)
        yield Question("block", "A block has", "4", lengths)
        yield Question("pairs", "Pairs of blocks", "", help="Empty: as many as are advised.")
        yield Question("first", "From", "tomorrow", help="The first day of the first block.")
        yield Question("none", "None of these", "", [("", "no"), ("yes", "yes")], words.TRIAL_NONE_OF_THESE)

    def place(self, question: Question) -> str:
        return f"trial.{question.name}"

    def changed(self) -> None:
        self._told = None

    def plan(self) -> Trial:
        """The plan that the answers make; raises WrongValue for one that is none."""
        answers = self.answers
        form = form_of(answers["block"])
        pairs = pairs_typed(answers["pairs"]) if answers["pairs"] else form.advised_pairs
        first = read_day(answers["first"], self.kept.today, ahead=True)
        outcome = outcome_named(answers["outcome"])
        return planned(answers["tried"], answers["usual"], outcome, first, form.days, pairs, self._lot)

    async def action_keep(self) -> None:
        """Say what the plan could show; of a plan that was told so, draw it."""
        await self.settle()
        try:
            plan = self.plan()
        except TrackerError as error:
            self.error = str(error)
            return
        if self.answers["none"] != "yes":
            self.error = "Not drawn: first say under 'None of these' that it is so."
        elif plan == self._told:
            await super().action_keep()
        else:
            self.error = "Trying it out on your own record."
            self._foretell(plan, list(self.kept.record.days().values()))

    @work(thread=True, exclusive=True, exit_on_error=False)
    def _foretell(self, plan: Trial, days: Sequence[Day]) -> None:
        from tracker.analysis.trial_wording import could_show

        try:
            said, is_possible = " ".join(could_show(plan, days, self.kept.choices, self.kept.today)[1:]), True
        except TrackerError as error:
            said, is_possible = str(error), False
        if self.is_attached:
            self.app.call_from_thread(self._say, plan if is_possible else None, said)

    def _say(self, plan: Trial | None, said: str) -> None:
        self._told = plan
        self.error = f"Enter once more draws it, for good. {said}" if plan else said

    def submit(self, answers: dict[str, str]) -> None:
        self.editor.choose(trial_value(self.plan()), "The order is drawn and kept.", "the trial")
