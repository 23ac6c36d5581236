"""The page for the GP as it will read, what goes on it, and where to write it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from textual import work
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from tracker import words
from tracker.cells import wrapped
from tracker.diary.days import Day
from tracker.diary.errors import CannotWrite
from tracker.diary.settings import YES_NO
from tracker.editing.editor import Editor
from tracker.record.files import refuse_existing
from tracker.screens import bindings
from tracker.screens.form_screen import FormScreen, Question
from tracker.screens.page_parts import Parts, own_lines, place_for
from tracker.screens.page_view import NOTHING_SENT, SHEET, beside_rows, sheet_rows, title_row
from tracker.screens.widgets.canvas_view import CanvasView
from tracker.screens.widgets.long_text import LongText, Row
from tracker.screens.workers import WorkerScreen
from tracker.summary.own_lines import CHANGED_LINES, WANTS_LINES, checked_lines
from tracker.summary.text import fitted
from tracker.summary.writing import Print, check_place, unprinted, usual_name, write_page

if TYPE_CHECKING:
    from tracker.summary.page_data import PageOptions
    from tracker.summary.page_model import Page

PAGE_WIDTH, WIDE, BESIDE_SIDES = 80, 120, 4
"""Columns of the text, those from which something stands beside it, and what that leaves free."""
HANDING_OVER = " ".join(words.HANDING_OVER)
CHANGES = (("", "as the setting says"), ("yes", "yes"), ("no", "no"))
SHIFTS = (("", "as usual"), ("yes", "with their own names"), ("no", "none"))


class PageScreen(WorkerScreen):
    """A preview of the text page; the PDF and the Markdown page say the same."""

    BINDINGS = bindings.PAGE
    HAS_TITLE = True
    CSS = f"""
    PageScreen Horizontal {{ height: 1fr; }}
    PageScreen #text {{ padding: 0; scrollbar-size: 1 0; overflow-x: auto; }}
    PageScreen #text Static {{ width: {PAGE_WIDTH}; }}
    PageScreen #beside {{ padding: 1 1 0 2; display: none; }}
    PageScreen.-sheet #text {{ width: {SHEET}; margin: 0 0 0 1; scrollbar-size-vertical: 1; }}
    PageScreen.-sheet #text Static {{ width: {SHEET - 1}; padding: 0 2; }}
    PageScreen.-sheet.-panel #text {{ background: $panel; }}
    PageScreen.-beside #beside {{ display: block; }}
    """
    AUTO_FOCUS = "#text"

    class Ready(Message):
        """The page is there."""

        def __init__(self, page: Page) -> None:
            super().__init__()
            self.page = page

    def __init__(self, editor: Editor) -> None:
        super().__init__(editor)
        self.parts = Parts()
        self.page: Page | None = None
        self._rows: list[Row] = []

    def body(self) -> ComposeResult:
        yield CanvasView(id="head")
        with Horizontal():
            yield LongText(id="text")
            yield LongText(id="beside")

    def on_mount(self) -> None:
        for scrolled in ("scroll_x", "scroll_y", "size"):
            self.watch(self._text, scrolled, self._draw_title, init=False)
        self.ask()

    @property
    def _text(self) -> LongText:
        return self.query_one("#text", LongText)

    # --- asking the summary ------------------------------------------------------------------------------

    def ask(self, parts: Parts | None = None) -> None:
        """Make the page, with other parts where they are given.

        Raises UnknownValue or WrongDay for a period that cannot be; then the page stays as it is.
        """
        kept = self.kept
        if kept.first_day is None:
            self.message = "Nothing is kept yet, so there is no page to make."
            return
        days = kept.record.days()
        wishes = (parts or self.parts).wishes(days, kept.today)
        self.parts, self.page, self.message = parts or self.parts, None, "Making the page. Esc leaves."
        self.call_after_refresh(self._make, days, wishes, kept.today)

    @work(thread=True, exclusive=True, exit_on_error=False)
    def _make(self, days: dict[date, Day], wishes: PageOptions, today: date) -> None:
        from tracker.analysis.findings import Left
        from tracker.summary.content import page_of

        worker, choices, clock = get_current_worker(), self.kept.choices, self.kept.record.clock
        try:
            page = page_of(days, choices, wishes, today, clock, cancelled=lambda: worker.is_cancelled)
        except Left:
            return
        if not worker.is_cancelled:
            self.post_message(self.Ready(page))

    def on_page_screen_ready(self, message: Ready) -> None:
        self.page, self.message = message.page, ""
        self.redraw()

    # --- keys and drawing --------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action == "write" and self.page is None:
            return False
        if action == "columns" and not self._text.allow_horizontal_scroll:
            return False
        return super().check_action(action, parameters)

    def action_columns(self, by: int) -> None:
        """To the columns beside those that are seen."""
        self._text.scroll_relative(x=by * self._text.size.width, animate=False)

    async def action_own_lines(self) -> None:
        await self.app.push_screen(LinesScreen(self.editor, self))

    async def action_choose_parts(self) -> None:
        await self.app.push_screen(PartsScreen(self.editor, self))

    async def action_write(self) -> None:
        await self.app.push_screen(WriteScreen(self.editor, self))

    def draw(self, width: int, height: int) -> None:
        is_sheet = width > SHEET
        self.set_class(is_sheet, "-sheet")
        self.set_class(self.palette.colours == "truecolor", "-panel")
        self.set_class(width >= WIDE, "-beside")
        self._rows = self._page_rows(self.palette.panel if is_sheet else self.palette.text.bg)
        self._text.show(self._rows)
        if self.page is not None and width >= WIDE:
            lines = self.kept.choices.page_lines
            rows = beside_rows(self.palette, self.page, lines, self.parts, width - SHEET - BESIDE_SIDES)
            self.query_one("#beside", LongText).show(rows)
        self._draw_title()

    def _draw_title(self) -> None:
        """The title, and which part of the page stands in a window that is too small for a sheet."""
        right = self._seen() if self.page is not None and self.size.width <= SHEET else [NOTHING_SENT]
        self.show("head", title_row(self.palette, self.size.width, self.aside, right))

    def _seen(self) -> list[str]:
        """Which rows of how many are seen, and which columns; then the same in fewer letters."""
        x, y, (width, height) = round(self._text.scroll_x), round(self._text.scroll_y), self._text.size
        rows, of = f"{y + 1} to {min(y + height, len(self._rows))}", f"of {len(self._rows)}"
        if width >= PAGE_WIDTH:
            return [f"rows {rows} {of}"]
        columns = f"{x + 1} to {min(x + width, PAGE_WIDTH)}"
        told = f"columns {columns}"
        return [f"rows {rows} {of}, {told} of {PAGE_WIDTH}", f"rows {rows}, {told}", told]

    def _page_rows(self, ground: str | None) -> list[Row]:
        """What was done or is missing, then the page."""
        palette, printed = self.palette, fitted(self.page) if self.page else None
        left_out = printed.left_out if printed else ()
        has_room = f"A PDF has more room; {self.state.sign('w')} writes one."
        missing = f"{words.left_out(left_out)} {has_room}" if left_out else ""
        rows: list[Row] = []
        for said, style in ((self.message, palette.accent), (missing, palette.warning)):
            if said:
                rows += [[(line, style._replace(bg=ground))] for line in wrapped(said, self._room)] + [[]]
        return [*rows, *sheet_rows(palette, printed, ground)] if printed else rows

    @property
    def _room(self) -> int:
        """Columns of a sentence about the page."""
        return min(PAGE_WIDTH, self.size.width - 2)


class _PageForm(FormScreen):
    """A form that belongs to the page."""

    def __init__(self, editor: Editor, page: PageScreen) -> None:
        self.page_screen = page
        super().__init__(editor)


class LinesScreen(_PageForm):
    """Her own words for the appointment; kept with the record."""

    BINDINGS = bindings.FORM
    HEADING = "My own lines, first on the page"

    def questions(self) -> list[Question]:
        lines = self.editor.kept.choices.page_lines
        help = "What I would like from today: up to three lines. They are kept for the next page."
        also = "What has changed, since when, what it keeps me from, what I have tried: up to four lines."
        return [
            *_lines("want", "I would like", lines.wants, WANTS_LINES, help),
            *_lines("changed", "What has changed", lines.changed, CHANGED_LINES, also),
        ]

    def place(self, question: Question) -> str:
        return f"page.{question.name}"

    def submit(self, answers: dict[str, str]) -> None:
        wants = checked_lines(own_lines(answers, "want"), WANTS_LINES, "What you would like")
        changed = checked_lines(own_lines(answers, "changed"), CHANGED_LINES, "What has changed")
        values: dict[str, object] = {"page.wants": wants, "page.changed": changed}
        self.editor.choose(values, "Kept: your lines for the appointment.")
        self.page_screen.ask()


def _lines(name: str, label: str, stand: Sequence[str], room: int, help: str) -> list[Question]:
    filled = [*stand, *[""] * room][:room]
    return [Question(f"{name}{at}", f"{label} {at}", line, help=help) for at, line in enumerate(filled, 1)]


class PartsScreen(_PageForm):
    """Period, notes and shifts."""

    BINDINGS = bindings.FORM
    HEADING = "What goes on the page"

    def questions(self) -> list[Question]:
        parts = self.page_screen.parts
        help = "A date like 2026-03-17, or today, yesterday, mon to sun; empty: the usual 14 weeks."
        return [
            Question("first", "From", parts.first, help=help),
            Question("last", "To", parts.last, help=help),
            Question("notes", "Notes of its last 14 days", parts.notes, YES_NO, HANDING_OVER),
            Question("shifts", "Shifts", parts.shifts, SHIFTS, "Names of your own may tell where you work."),
            Question("changes", "My changes", parts.changes, CHANGES, "What was started is yours to tell."),
            Question("trial", "The newest finished trial", parts.trial, YES_NO, HANDING_OVER),
        ]

    def submit(self, answers: dict[str, str]) -> None:
        self.page_screen.ask(Parts(**answers))


class WriteScreen(_PageForm):
    """Where to, and on what paper."""

    BINDINGS = bindings.WRITE
    HEADING = "Write the page"

    def questions(self) -> list[Question]:
        return [
            Question(
                "file", "File", f"~/{usual_name(self.editor.kept.today)}", help="Ends in .pdf, .txt or .md."
            ),
            Question("letter", "Paper", "no", (("no", "A4"), ("yes", "US Letter"))),
            Question("fax", "For fax or copier", "no", YES_NO, "White squares with a black foot."),
            Question("over", "Write over a file that is there", "no", YES_NO),
            Question("name", "Name", "", help=words.NAMED_FOR_ONE_PAGE),
            Question("born", "Date of birth", "", help=words.NAMED_FOR_ONE_PAGE),
        ]

    def preface(self) -> ComposeResult:
        page = self.page_screen.page
        left_to_write_on = unprinted(page, ".pdf") if page else ()
        said = [HANDING_OVER, *left_to_write_on]
        yield Static("\n".join(said), classes="preface", markup=False)

    def submit(self, answers: dict[str, str]) -> None:
        page, place = self.page_screen.page, place_for(answers["file"])
        if page is None:
            return
        if place.is_file() and answers["over"] == "no":
            raise CannotWrite(f"{place} is there already; choose to write over it, or name another file.")
        refuse_existing(place, True, self.editor.kept.record.path)
        check_place(place, over=True)
        named = page.named(answers["name"], answers["born"])
        left_out = write_page(named, place, Print(answers["letter"] == "yes", answers["fax"] == "yes"))
        missing = f" {words.left_out(left_out)}" if left_out else ""
        self.page_screen.message = words.page_written(place) + missing
        self.page_screen.query_one("#text", LongText).scroll_home(animate=False)  # where it is said
