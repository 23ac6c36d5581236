"""Findings: what is shown and what is not, and the picture or the numbers of one statement."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from textual import work
from textual.app import ComposeResult
from textual.containers import Container
from textual.message import Message
from textual.worker import get_current_worker

from tracker.analysis.counts_wording import AS_THEY_STAND
from tracker.cells import text_width, wrapped
from tracker.diary.dates import long_day, read_day, short_date
from tracker.diary.days import Day
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.drawing import draw_title
from tracker.screens import bindings
from tracker.screens.findings_page import draw_page
from tracker.screens.findings_view import FindingsView, StatementView, View
from tracker.screens.form_screen import ModalForm, Question
from tracker.screens.widgets.canvas_view import CanvasView
from tracker.screens.workers import WorkerScreen

if TYPE_CHECKING:
    from tracker.analysis.results import Findings

Chosen = tuple[date | None, date | None]
PERIODS = ("all days", "this year", "the last 3 months", "from a day to a day")
OUTCOMES = ("mood", "anxious")
SPACED_FROM = 30
"""Rows of a window from which parts have blank rows between them."""
THREE_MONTHS = timedelta(days=91)


def chosen_days(period: str, today: date, picked: Chosen) -> Chosen | None:
    """First and last day of a period; None: all days, which alone are judged."""
    return {
        "all days": None,
        "this year": (today.replace(month=1, day=1), None),
        "the last 3 months": (today - THREE_MONTHS, None),
    }.get(period, picked)


class FindingsScreen(WorkerScreen):
    """Computed beside the screen, kept until the record changes, and left at once when she leaves."""

    BINDINGS = bindings.FINDINGS
    HAS_TITLE = True
    CSS_PATH = "findings_screen.tcss"

    class Progress(Message):
        """The computation has come further."""

        def __init__(self, done: int, steps: int, name: str) -> None:
            super().__init__()
            self.words = f"Looking at {name}: {done} of {steps} steps done. Esc leaves."

        def can_replace(self, message: Message) -> bool:
            return isinstance(message, FindingsScreen.Progress)

    class Ready(Message):
        """The findings are there."""

        def __init__(self, key: object, findings: Findings) -> None:
            super().__init__()
            self.key = key
            self.findings = findings

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.period = PERIODS[0]
        self.picked: Chosen = (None, None)
        self.view: View = ""
        self.outcome = OUTCOMES[0]
        """Whose lags are drawn."""
        self._drawn_from: tuple[object, ...] = ()
        """What the page was drawn from last, the findings first."""

    def body(self) -> ComposeResult:
        yield CanvasView(id="head")
        with Container(id="findings"):
            yield FindingsView(id="statements")
            yield StatementView(id="statement")
        yield CanvasView(id="note")

    def on_mount(self) -> None:
        self.editor.refresh()
        self.ask()

    # --- asking the analysis ---------------------------------------------------------------------------

    @property
    def _key(self) -> object:
        return (self.kept.version, self.kept.today, chosen_days(self.period, self.kept.today, self.picked))

    @property
    def found(self) -> Findings | None:
        """The findings of this period, if they are computed already."""
        return self.tracker.findings.get(self._key)

    def ask(self) -> None:
        """Compute the findings of this period, unless they stand already."""
        self.message = ""
        if self.found is None:
            self.message = "Looking through the days. Esc leaves."
            chosen = chosen_days(self.period, self.kept.today, self.picked)
            days = list(self.kept.record.days().values())
            self.call_after_refresh(self._compute, self._key, days, chosen, self.kept.today)

    @work(thread=True, exclusive=True, exit_on_error=False)
    def _compute(self, key: object, days: list[Day], chosen: Chosen | None, today: date) -> None:
        from tracker.analysis.findings import Left, find

        worker = get_current_worker()

        def tell(done: int, steps: int, name: str) -> None:
            self.post_message(self.Progress(done, steps, name))

        try:
            findings = find(
                days,
                self.kept.choices,
                as_of=today,
                clock=self.kept.record.clock,
                chosen=chosen,
                progress=tell,
                cancelled=lambda: worker.is_cancelled,
            )
        except Left:
            return
        if not worker.is_cancelled:
            self.post_message(self.Ready(key, findings))

    def on_findings_screen_progress(self, message: Progress) -> None:
        if self.found is None:
            self.message = message.words
            self.redraw()

    def on_findings_screen_ready(self, message: Ready) -> None:
        self.tracker.findings = {message.key: message.findings}
        self.message = ""
        self.redraw()
        self._focus()

    def _focus(self) -> None:
        """Give the focus to what is shown; while days are looked through nothing has it."""
        self.query_one("#statement" if self.view else "#statements").focus()

    # --- keys --------------------------------------------------------------------------------------------

    def action_choose_period(self, step: int) -> None:
        """Another period; picked days are described and not judged."""
        self.period = PERIODS[(PERIODS.index(self.period) + step) % len(PERIODS)]
        if self.period == PERIODS[-1]:
            self.app.push_screen(PeriodScreen(self.editor, self))
        else:
            self.ask()
            self.redraw()

    def action_turn_to(self, view: View) -> None:
        """What one entry means or its numbers in place of all of them, or all of them again."""
        if self.found is not None and self.query_one(FindingsView).page.entries:
            self.view = "" if self.view == view else view
            self.redraw()
            self._focus()

    def action_back(self) -> None:
        """From one entry to all of them; from all of them to where she came from."""
        if self.view:
            self.action_turn_to(self.view)
        else:
            super().action_back()

    def action_lags(self) -> None:
        """To the picture of the lags; from there, that of the other outcome."""
        self.view = ""
        view = self.query_one(FindingsView)
        if view.page.lags and not view.to_lags():
            self.outcome = OUTCOMES[1 - OUTCOMES.index(self.outcome)]
        self.redraw()
        self._focus()

    def on_findings_view_walked(self) -> None:
        self.redraw()

    # --- drawing -----------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> None:
        if self.found is None and not self.message:  # a new day has begun meanwhile
            self.ask()
        findings = self.found
        self.set_class(bool(self.view), "-alone")
        self.query_one("#findings").visible = findings is not None
        self.show("head", self._head(width))
        noted = _longest(AS_THEY_STAND, width - 2) if findings and findings.lags and not self.view else []
        self.show("note", text_canvas(noted, width - 2, self.palette.quiet))
        if findings is not None:
            self._show_findings(findings, width - 3, spaced=height >= SPACED_FROM)

    def _show_findings(self, findings: Findings, across: int, *, spaced: bool) -> None:
        scales, palette = self.kept.choices.scales, self.palette
        view, drawn_from = self.query_one(FindingsView), (findings, palette, across, self.outcome, spaced)
        if drawn_from != self._drawn_from:
            anew = findings not in self._drawn_from[:1]
            self._drawn_from = drawn_from
            view.show(draw_page(findings, scales, palette, across, self.outcome, spaced=spaced), anew=anew)
        if self.view:
            self.query_one(StatementView).show(findings, view.entry, self.view, scales, palette, across)

    def _head(self, width: int) -> Canvas:
        """Of which period and day the findings are, or how far they have come."""
        title = Canvas(width, 1, self.palette.text)
        draw_title(title, self.palette, [("Findings", self.palette.title)], self.aside, self._standing())
        if self.found is not None:
            return title
        said = [f" {line}" for line in wrapped(self.message, width - 2)]
        return piled([title, text_canvas(said, width, self.palette.accent)], width, self.palette.text)

    def _standing(self) -> list[str]:
        """The period, as of which day, and when verdicts follow; then the same in fewer cells."""
        found = self.found
        if found is None:
            return [self.period]
        as_of, verdicts = found.as_of, None if found.chosen else found.next_verdict_day
        told = f"{self.period}   as of "
        if verdicts is None:
            return [told + long_day(as_of)]
        which = "first" if found.waits else "next"
        return [
            f"{told}{long_day(as_of)}   {which} verdicts {long_day(verdicts)}",
            f"{told}{short_date(as_of)}   {which} {short_date(verdicts)}",
            f"{told}{short_date(as_of)}",
            self.period,
        ]


def _longest(texts: Sequence[str], width: int) -> list[str]:
    """The first text that has room, as a row; none where none has."""
    return [text for text in texts if text_width(text) <= width][:1]


class PeriodScreen(ModalForm):
    """From which day to which day."""

    BINDINGS = bindings.PERIOD
    HEADING = "Findings from a day to a day: described, not judged"

    def __init__(self, editor: Editor, asking: FindingsScreen) -> None:
        self.asking = asking
        super().__init__(editor)

    def questions(self) -> list[Question]:
        first, last = self.asking.picked
        help = "A date like 2026-03-17, or today, yesterday, mon to sun."
        return [
            Question(
                "first", "From", str(first or self.editor.kept.first_day or self.editor.kept.today), help=help
            ),
            Question("last", "To", str(last or self.editor.kept.today), help=help),
        ]

    def submit(self, answers: dict[str, str]) -> None:
        first, last = (read_day(answers[name], self.editor.kept.today) for name in ("first", "last"))
        self.asking.picked = (first, last)
        self.asking.ask()

    def cancel(self) -> None:
        self.asking.period = PERIODS[0]
        self.asking.ask()
        super().cancel()
