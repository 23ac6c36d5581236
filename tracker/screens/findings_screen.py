"""Findings: the caution on top, what is shown and what is not, and the picture of one statement."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from textual import work
from textual.app import ComposeResult
from textual.message import Message
from textual.worker import get_current_worker

from tracker import words
from tracker.diary.dates import read_day
from tracker.diary.days import Day
from tracker.editing.editor import Editor
from tracker.grids.canvas import Canvas
from tracker.screens.computing import ComputingScreen
from tracker.screens.findings_view import draw_detail, draw_list, number_lines, pairs_line
from tracker.screens.form import Question
from tracker.screens.form_screen import LEAVE_IT, ROWS, FormScreen
from tracker.screens.key_commands import ESCAPE, HELP, Command
from tracker.screens.lines import stacked, text_canvas, wrapped
from tracker.screens.widgets.canvas_view import CanvasView

if TYPE_CHECKING:
    from tracker.analysis.results import Findings

Chosen = tuple[date | None, date | None]
PERIODS = ("all days", "this year", "the last 3 months", "from a day to a day")
THREE_MONTHS = timedelta(days=91)
View = Literal["", "picture", "numbers"]
"""What stands below the head: the statements, or the picture or numbers of one of them."""
LIST_ROWS, LEAST_PICTURE = 5, 8
WIDE, WIDE_ROWS = 120, 20
ALL_ROWS = 10_000
ALL_OF_IT = "v: all of the picture"


def chosen_days(period: str, today: date, picked: Chosen) -> Chosen | None:
    """First and last day of a period; None: all days, which alone are judged."""
    return {
        "all days": None,
        "this year": (today.replace(month=1, day=1), None),
        "the last 3 months": (today - THREE_MONTHS, None),
    }.get(period, picked)


class FindingsScreen(ComputingScreen):
    """Computed beside the screen, kept until the record changes, and left at once when she leaves."""

    COMMANDS_HERE = (
        Command(("up", "down"), "up down", "statement", "Another statement"),
        Command(("right", "left"), "left right", "period", "Another period"),
        Command(
            ("v", "enter"), "v", "picture", "The whole picture of the statement, or the statements again"
        ),
        Command(("d",), "d", "numbers", "The numbers behind the statement, or the statements again"),
        ESCAPE,
        HELP,
    )

    WORK = "findings"

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
        self.at = 0
        self.period = PERIODS[0]
        self.picked: Chosen = (None, None)
        self.view: View = ""
        self.message = ""
        self._rows: dict[int, int] = {}
        self._list_top = 0
        self._row, self._room = 0, 1

    def body(self) -> ComposeResult:
        yield CanvasView(id="findings")

    def on_mount(self) -> None:
        self.editor.refresh()
        self.ask()

    # --- asking the analysis ---------------------------------------------------------------------------

    @property
    def _key(self) -> object:
        return (
            self.editor.kept.version,
            self.editor.kept.today,
            chosen_days(self.period, self.editor.kept.today, self.picked),
        )

    @property
    def found(self) -> Findings | None:
        """The findings of this period, if they are computed already."""
        return self.tracker.findings.get(self._key)

    def ask(self) -> None:
        """Compute the findings of this period, unless they stand already."""
        self.at, self.message = 0, ""
        if self.found is None:
            self.message = "Looking through the days. Esc leaves."
            chosen = chosen_days(self.period, self.editor.kept.today, self.picked)
            self._compute(
                self._key, list(self.editor.kept.record.days().values()), chosen, self.editor.kept.today
            )

    @work(thread=True, exclusive=True, group=WORK, exit_on_error=False)
    def _compute(self, key: object, days: list[Day], chosen: Chosen | None, today: date) -> None:
        from tracker.analysis.findings import Left, find

        worker = get_current_worker()

        def tell(done: int, steps: int, name: str) -> None:
            self.post_message(self.Progress(done, steps, name))

        try:
            findings = find(
                days,
                self.editor.kept.choices,
                as_of=today,
                clock=self.editor.kept.record.clock,
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

    # --- keys --------------------------------------------------------------------------------------------

    def deeds(self) -> Mapping[str, Callable[[], object]]:
        return {
            "up": lambda: self.walk(-1),
            "down": lambda: self.walk(1),
            "left": lambda: self.choose_period(-1),
            "right": lambda: self.choose_period(1),
            "pageup": lambda: self.turn_page(-1),
            "pagedown": lambda: self.turn_page(1),
            "home": lambda: self.turn_page(-ALL_ROWS),
            "end": lambda: self.turn_page(ALL_ROWS),
            "d": lambda: self.turn_to("numbers"),
            "v": lambda: self.turn_to("picture"),
            "enter": lambda: self.turn_to("picture"),
            "f": self.leave,
            "escape": self.leave,
        }

    def walk(self, step: int) -> None:
        """Another statement."""
        if self.found:
            self.at = min(max(self.at + step, 0), len(self.found.statements) - 1)
            self._row = 0

    def choose_period(self, step: int) -> None:
        """Another period; picked days are described and not judged."""
        self.period = PERIODS[(PERIODS.index(self.period) + step) % len(PERIODS)]
        if self.period == PERIODS[-1]:
            self.app.push_screen(PeriodScreen(self.editor, self))
        else:
            self.ask()

    def turn_to(self, view: View) -> None:
        """The whole picture or the numbers in place of the statements, or the statements again."""
        self.view, self._row = "" if self.view == view else view, 0

    def turn_page(self, pages: int) -> None:
        """Some pages on: through what stands alone, else through the statements."""
        if self.view:
            self.scroll(pages * self._room)
        else:
            self.walk(pages * LIST_ROWS)

    def scroll(self, rows: int) -> None:
        """Through a picture or numbers of many rows; drawing keeps the end in sight."""
        self._row = max(0, self._row + rows)

    def on_mouse_scroll_down(self) -> None:
        self.scroll(3)
        self.redraw()

    def on_mouse_scroll_up(self) -> None:
        self.scroll(-3)
        self.redraw()

    def click(self, board: CanvasView, x: int, y: int) -> None:
        self.at = self._rows.get(y - self._list_top, self.at)

    # --- drawing -----------------------------------------------------------------------------------------

    def draw(self, width: int, height: int) -> None:
        if self.found is None and not self.message:  # a new day has begun meanwhile
            self.ask()
        palette = self.palette
        canvas = Canvas(width, height - 1, palette.text)
        canvas.put(1, 0, words.CAUTION, palette.title)
        if self.found:
            canvas.put_right(width - 1, 0, f"{self.at + 1}/{len(self.found.statements)}", palette.quiet)
        y = 1
        if self.tracker.invented:
            canvas.put(1, y, words.INVENTED, palette.quiet)
            y += 1
        findings = self.found
        if findings is None:
            canvas.put(1, y + 1, self.message[: width - 2], palette.accent)
        else:
            for line in wrapped(f"Period: {self.period}. {findings.standing()}", width - 2):
                canvas.put(1, y, line, palette.quiet)
                y += 1
            self._draw_statements(canvas, findings, y + (width >= WIDE), width)
        self.show("findings", canvas)

    def _draw_statements(self, canvas: Canvas, findings: Findings, top: int, width: int) -> None:
        height = canvas.height - top
        self._list_top, self._rows = top, {}
        if self.view:
            self._draw_alone(canvas, findings, top, width - 2)
        elif width >= WIDE and height >= WIDE_ROWS:
            left = width // 2 - 2
            self._draw_list(canvas, findings, top, left, height, whole=True)
            said = " ".join(findings.statements[self.at].beside)
            beside = wrapped(said, width - left - 4) if said else []
            canvas.lay(text_canvas(beside, width - left - 4, self.palette), left + 3, top)
            self._draw_picture(canvas, findings, (left + 3, top + len(beside)), width - left - 4)
        else:
            statement = findings.statements[self.at]
            text = wrapped(" ".join([statement.text, *statement.beside]), width - 2)
            self._draw_list(canvas, findings, top, width, LIST_ROWS, whole=False)
            y = top + LIST_ROWS + (height > LIST_ROWS + len(text) + LEAST_PICTURE)
            canvas.lay(text_canvas(text, width - 2, self.palette), 1, y)
            self._draw_picture(canvas, findings, (1, y + len(text)), width - 2)

    def _draw_list(
        self, canvas: Canvas, findings: Findings, top: int, width: int, height: int, whole: bool
    ) -> None:
        drawn, self._rows = draw_list(findings.statements, self.at, self.palette, width, height, whole)
        canvas.lay(drawn, 0, top)

    def _draw_picture(self, canvas: Canvas, findings: Findings, at: tuple[int, int], width: int) -> None:
        """As much of the picture as there is room for, under what the statement rests on."""
        x, y = at
        line = pairs_line(findings, findings.statements[self.at])[:width]
        used = 1 if line else 0
        drawn, all_of_it = self._detail(findings, width, canvas.height - y - used)
        canvas.lay(drawn, x, y + used)
        canvas.put(x, y, line, self.palette.quiet)
        if not all_of_it:
            canvas.put_right(x + width, y, ALL_OF_IT, self.palette.accent)

    def _detail(self, findings: Findings, width: int, height: int) -> tuple[Canvas, bool]:
        statement, scales = findings.statements[self.at], self.editor.kept.choices.scales
        return draw_detail(findings, statement, scales, self.palette, width, height)

    def _draw_alone(self, canvas: Canvas, findings: Findings, top: int, width: int) -> None:
        """The whole picture or the numbers, with rows to scroll where they are too many."""
        statement = findings.statements[self.at]
        said = text_canvas(wrapped(statement.text, width), width, self.palette)
        if self.view == "numbers":
            drawn = text_canvas(["", *number_lines(findings, statement, width)], width, self.palette)
        else:
            line = text_canvas([pairs_line(findings, statement)], width, self.palette)
            drawn = stacked([line, self._detail(findings, width, ALL_ROWS)[0]], width, self.palette)
        drawn = stacked([said, drawn], width, self.palette)
        self._room = canvas.height - top
        too_many = drawn.height > self._room
        self._room -= too_many  # the last row says how many more there are
        self._row = max(0, min(self._row, drawn.height - self._room))
        canvas.lay(drawn, 1, top, self._row)
        if too_many:
            more, last = drawn.height - self._room - self._row, canvas.height - 1
            canvas.put(0, last, " " * canvas.width, self.palette.text)
            foot = f"{more} more rows (PgDn)" if more else "the end (PgUp)"
            canvas.put_right(canvas.width - 1, last, foot, self.palette.accent)


class PeriodScreen(FormScreen):
    """From which day to which day."""

    COMMANDS_HERE = (Command(("enter",), "Enter", "look", "Look at these days"), ROWS, LEAVE_IT)
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

    def take(self, answers: dict[str, str]) -> None:
        first, last = (read_day(answers[name], self.editor.kept.today) for name in ("first", "last"))
        self.asking.picked = (first, last)
        self.asking.ask()

    def cancel(self) -> None:
        self.asking.period = PERIODS[0]
        self.asking.ask()
        super().cancel()
