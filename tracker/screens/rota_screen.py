"""A pattern of shifts laid down: what would change is said first, and kept by Enter once more."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.diary.dates import long_day, read_day
from tracker.diary.errors import UnknownValue
from tracker.diary.rota_plan import RotaPlan, pattern_shifts, plan_rota, rota_span, with_days_off
from tracker.diary.rota_report import (
    changed_in_words,
    kept_rota_in_words,
    named_for_undo,
    plan_in_words,
    staying_in_words,
)
from tracker.editing.editor import Editor
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question

STAYS, OVER = "", "over"
OFF, BLANK = "off", ""
FIRST_DAY = "The day of its first letter. A date without a year is the next one; one gone by needs its year."
LAST_DAY = "The last day; empty: a year ahead."
ENTER_ONCE_MORE = "Enter once more keeps these shifts. The list says what would change."


class Laid(NamedTuple):
    """A pattern beside the shifts that stand."""

    plan: RotaPlan
    span: tuple[date, date]


class RotaScreen(FormScreen):
    """Asks for a pattern and its days; the rules are those of the command."""

    BINDINGS = bindings.ROTA_FORM
    HEADING = "A rota: shifts that repeat"

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self._told: Laid | None = None
        """What she was told would change."""

    def questions(self) -> list[Question]:
        codes = ", ".join(f"{kind.code.upper()} {kind.label}" for kind in self.kept.choices.kinds)
        return [
            Question(
                "pattern",
                "Pattern",
                "",
                help=f"Letters with blanks between, like L L N N O O; - is a day without a shift. {codes}.",
            ),
            Question("first", "From", long_day(self.state.cursor), help=FIRST_DAY),
            Question("last", "To", "", help=LAST_DAY),
            Question(
                "blank",
                "Days without a shift",
                OFF,
                [(OFF, "are off"), (BLANK, "stay blank")],
                "Findings use no day whose shift is blank.",
            ),
            Question(
                "leave",
                "Leave that stands",
                STAYS,
                [(STAYS, "stays"), (OVER, "the rota goes over it")],
                "Shifts that you set by hand always stay.",
            ),
        ]

    def place(self, question: Question) -> str:
        return f"rota.{question.name}"

    def below(self) -> ComposeResult:
        yield Static(id="told", classes="text", markup=False)

    def changed(self) -> None:
        self._tell(None)

    def laid(self, answers: dict[str, str]) -> Laid:
        """The pattern beside the shifts that stand; raises a TrackerError where it cannot be laid."""
        kept = self.kept
        choices, today, clock = kept.choices, kept.today, kept.record.clock
        if not answers["first"]:
            raise UnknownValue("Say from which day on the pattern holds.")
        last = read_day(answers["last"], today, ahead=True) if answers["last"] else None
        span = rota_span(read_day(answers["first"], today, ahead=True), last, today)
        shifts = pattern_shifts(answers["pattern"], *span, choices.kinds, clock)
        if answers["blank"] == OFF:
            shifts = with_days_off(shifts, *span, choices.kinds_by_id["off"], "pattern", clock)
        plan = plan_rota(shifts, kept.record.days(*span), *span)
        return Laid(plan.over_leave() if answers["leave"] == OVER else plan, span)

    def submit(self, answers: dict[str, str]) -> None:
        self.editor.refresh()
        laid = self.laid(answers)
        if not laid.plan.changes:
            self._tell(laid)
            self.error = "There is nothing to change."
        elif laid != self._told:
            self._tell(laid)
            self.error = ENTER_ONCE_MORE
        else:
            what = named_for_undo(answers["pattern"], laid.plan)
            self.editor.keep_rota(laid.plan.changes, what, kept_rota_in_words(laid.plan))

    def _tell(self, laid: Laid | None) -> None:
        """Show what would change, or nothing while she is still choosing."""
        self._told, lines = laid, []
        if laid:
            plan, choices = laid.plan, self.kept.choices
            lines = [
                *plan_in_words(plan, choices, laid.span),
                *changed_in_words(plan, choices),
                *staying_in_words(plan, choices),
            ]
        self.query_one("#told", Static).update(Text("\n".join(lines)))
