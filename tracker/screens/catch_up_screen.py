"""What is asked once before past days are put in."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.diary.dates import month_name
from tracker.diary.days import LEFT_OUT_AFTER
from tracker.diary.errors import UnknownValue
from tracker.diary.months import days_of_month
from tracker.diary.scales import Scale
from tracker.diary.settings import YES_NO
from tracker.editing.catch_up import CatchUpOptions, OldColour
from tracker.editing.editor import Editor
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question

REMEMBERED = "remembered"
BASIS_HELP = (
    "Remembered days over 14 days old are kept and shown; findings leave them out. "
    "Copied ones count in full. What was said wrongly of days that stand already is put right "
    "by tracker put 1 march to 31 march --paper (or --remembered)."
)
BOTH = Question(
    "both",
    "I copy",
    "no",
    [("no", "one grid, month after month"), ("yes", "both grids, a month of each in turn")],
    "At the end of a month its sums are shown, to hold against the paper.",
)
SLEEP_UNDER = Question(
    "sleep_under",
    "A night's sleep stands under",
    "0",
    [("0", "the day I got up"), ("1", "the day I went to bed")],
    "Where the old grid puts it. What stands under the day you went to bed is kept a day later.",
)
NOT_ANXIOUS = Question(
    "not_anxious",
    "A mood without the mark was",
    "no",
    [("no", "not noted either way"), ("yes", "not anxious")],
    "What it means that a day on paper has no mark.",
)
COLOURS_HELP = (
    "To type colours instead of digits: a key for each and what it means, like w=2a z=5 o=x "
    "for level 2 and anxious, level 5, could not say. May stay empty."
)


class CatchUpScreen(FormScreen):
    """Opens with the answers of the last time; Enter begins."""

    BINDINGS = bindings.CATCH_UP_FORM

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.HEADING = f"Catching up: past days from {month_name(self.state.cursor)} on, a key a day"

    def questions(self) -> list[Question]:
        last, grid = self.kept.choices.catch_up, self.state.grid
        colours = f"colours {grid}"
        return [
            self._basis(last.get("basis") or self._proposed()),
            BOTH._replace(value=last.get("both", BOTH.value)),
            SLEEP_UNDER._replace(value=last.get("sleep_under", SLEEP_UNDER.value)),
            NOT_ANXIOUS._replace(value=last.get("not_anxious", NOT_ANXIOUS.value)),
            Question(colours, f"My old {grid} colours", last.get(colours, ""), help=COLOURS_HELP),
        ]

    def _basis(self, stands: str) -> Question:
        """On what the days rest; where nothing `stands`, she must say."""
        unsaid = [] if stands else [("", "remembered, or copied from paper?")]
        options = [(REMEMBERED, "remembered"), *unsaid, ("paper", "copied from paper kept at the time")]
        return Question("basis", "These days are", stands, options, BASIS_HELP)

    def place(self, question: Question) -> str:
        return f"catch up.{question.name}"

    def _proposed(self) -> str:
        """Remembered, for days of which findings use what is remembered; of older ones she must say."""
        month_ends = days_of_month(self.state.cursor.year, self.state.cursor.month)[-1]
        return REMEMBERED if (self.kept.today - month_ends).days <= LEFT_OUT_AFTER else ""

    def submit(self, answers: dict[str, str]) -> None:
        if not answers["basis"]:
            raise UnknownValue("Say whether these days are remembered, or copied from paper.")
        colours = read_colours(answers[f"colours {self.state.grid}"], self.state.scale)
        last = {**self.kept.choices.catch_up, **answers}
        if last != self.kept.choices.catch_up:
            self.kept.write(lambda record: record.choose({"catch_up.last": last}))
        self.editor.catch_up(
            CatchUpOptions(
                "paper" if answers["basis"] == "paper" else None,
                int(answers["sleep_under"]),
                answers["both"] == "yes",
                answers["not_anxious"] == YES_NO[0][0],
                colours,
            )
        )


def read_colours(text: str, scale: Scale) -> Mapping[str, OldColour]:
    """The table of old colours: `w=2a z=5 o=x`.

    Raises UnknownValue and names the entry that cannot be read.
    """
    return dict(_colour(entry, scale) for entry in text.casefold().split())


def _colour(entry: str, scale: Scale) -> tuple[str, OldColour]:
    key, _, meaning = entry.partition("=")
    if len(key) != 1 or not key.isalpha() or key in "ax":
        raise UnknownValue(f"'{entry}' is no colour: begin with one letter other than a and x, then =.")
    anxious, level = meaning.endswith("a"), meaning.removesuffix("a")
    if level == "x":
        return key, OldColour(None, anxious)
    found = scale.level_for_key(level) if level else None
    if found is None:
        raise UnknownValue(f"'{entry}': after = comes a key of {scale.grid}, or x, and a if anxious.")
    return key, OldColour(found.id, anxious)
