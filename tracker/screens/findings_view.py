"""How findings stand on the screen: all of them in one page, or one by itself with what its verdict means."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Literal, cast

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widget import Widget
from textual.widgets import DataTable, Static

from tracker import words
from tracker.analysis import wording
from tracker.cells import padded, text_width, wrapped
from tracker.diary.scales import Scales
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.palette import Palette
from tracker.grids.spreads import Spread, draw_spreads
from tracker.screens import bindings
from tracker.screens.findings_page import Entry, FindingsPage
from tracker.screens.own_keys import take_own_keys
from tracker.screens.widgets.canvas_view import CanvasView, style_of

if TYPE_CHECKING:
    from tracker.analysis.describe import GroupRow
    from tracker.analysis.number_tables import NumberTable
    from tracker.analysis.results import Findings, Statement
    from tracker.screens.base import BaseScreen

View = Literal["", "meaning", "numbers"]
"""What stands on the screen: all statements, or what one of them means, or its numbers."""


class FindingsView(VerticalScroll, inherit_bindings=False):
    """All findings as one picture, in which one entry is chosen: always one that is seen, if any is."""

    BINDINGS = bindings.STATEMENTS

    class Walked(Message):
        """A key or a click has gone through the page."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self.page = FindingsPage(Canvas(0, 0), (), (), range(0))
        self.chosen = 0

    def on_mount(self) -> None:
        take_own_keys(self)

    def compose(self) -> ComposeResult:
        yield CanvasView(id="page")

    @property
    def entry(self) -> Entry:
        """What is chosen; raises IndexError where nothing can be."""
        return self.page.entries[self.chosen]

    def show(self, page: FindingsPage, *, anew: bool) -> None:
        """Show a page in place of the one before.

        Parameters
        ----------
        anew
            Whether it holds other findings, and is read from its beginning.
        """
        self.page = page
        if anew:
            self.chosen = 0
        self._mark()
        self.call_after_refresh(self._to_top if anew else self._scroll_to_chosen)

    def to_lags(self) -> bool:
        """Scroll to the picture of the lags; False if it is seen already, or there is none."""
        lags, window = self.page.lags, self._window
        if lags.start >= window.start and lags.stop <= window.stop:
            return False
        self.scroll_to(y=lags.start, animate=False, immediate=True)
        return self._window != window

    # --- keys and clicks -----------------------------------------------------------------------------

    def action_walk(self, by: int) -> None:
        """Choose the next entry if it is seen or begins at the edge; else scroll by a row."""
        window, places = self._window, self.page.places
        target = self.chosen + by
        if 0 <= target < len(places) and is_seen(places[target], range(window.start - 1, window.stop + 1)):
            self.chosen = target
            self._scroll_to_chosen()
        else:
            self.scroll_to(y=window.start + by, animate=False, immediate=True)
        self._walked()

    def action_to_edge(self, place: int) -> None:
        """Choose the first entry, or the last (-1), and see the page from there."""
        self.chosen = place % max(len(self.page.entries), 1)
        (self.scroll_end if place else self.scroll_home)(animate=False, immediate=True)
        self._walked()

    def on_canvas_view_clicked(self, event: CanvasView.Clicked) -> None:
        event.stop()
        clicked = (n for n, rows in enumerate(self.page.places) if event.y in rows)
        self.chosen = next(clicked, self.chosen)
        self._walked()

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        super().watch_scroll_y(old_value, new_value)
        chosen = chosen_in(self.page.places, self.chosen, self._window)
        if chosen != self.chosen:
            self.chosen = chosen
            self._mark()

    @property
    def _window(self) -> range:
        """The rows of the page that are seen."""
        top = round(self.scroll_y)
        return range(top, top + self.size.height)

    def _walked(self) -> None:
        self._mark()
        self.post_message(self.Walked())

    def _mark(self) -> None:
        palette = cast("BaseScreen[None]", self.screen).palette
        self.query_one(CanvasView).show(self.page.marked(self.chosen, palette), palette.text)

    def _to_top(self) -> None:
        self.scroll_home(animate=False, immediate=True)

    def _scroll_to_chosen(self) -> None:
        """Scroll so far that the whole entry is seen; of one that is taller than the window, an end."""
        if self.page.places:
            top = top_to_see(self.page.places[self.chosen], self._window)
            self.scroll_to(y=top, animate=False, immediate=True)


def is_seen(rows: range, window: range) -> bool:
    """Whether a part of some rows is in the window."""
    return rows.start < window.stop and window.start < rows.stop


def chosen_in(places: Sequence[range], chosen: int, window: range) -> int:
    """What is chosen after scrolling: the same, or the nearest entry that is seen, if there is one."""
    seen = [number for number, rows in enumerate(places) if is_seen(rows, window)]
    return min(seen, key=lambda number: abs(number - chosen), default=chosen)


def top_to_see(rows: range, window: range) -> int:
    """The first row of the window after scrolling as little as shows all of the rows, or more of them."""
    if len(rows) > len(window):
        return max(min(window.start, rows.stop - 1), rows.start - len(window) + 1)
    return min(max(window.start, rows.stop - len(window)), rows.start)


class StatementView(VerticalScroll, inherit_bindings=False):
    """One entry by itself: what must stand beside it, what its verdict means, and its picture or numbers."""

    BINDINGS = bindings.SCROLL

    def on_mount(self) -> None:
        take_own_keys(self)

    def compose(self) -> ComposeResult:
        yield Static(id="said", markup=False)
        yield CanvasView(id="picture")

    def show(
        self, findings: Findings, entry: Entry, view: View, scales: Scales, palette: Palette, width: int
    ) -> None:
        """Show an entry with its picture in so many cells, or its numbers, in place of the one before."""
        said, picture = self.query_one("#said", Static), self.query_one("#picture", CanvasView)
        picture.display = view != "numbers"
        self.remove_children(".number")
        if view == "numbers":
            said.update(_joined(_sayings(said for said in entry.statements if said.topic != "counts")))
            self.mount_all(number_widgets(findings, entry, palette, width))
        else:
            said.update(told(entry, palette))
            picture.show(draw_detail(findings, entry, scales, palette, width), palette.text)


def told(entry: Entry, palette: Palette) -> Text:
    """The statements with their verdicts, what must stand beside them, and what verdicts mean."""
    means = [words.VERDICTS_MEAN] if any(one.verdict for one in entry.statements) else []
    quiet = [Text(text, style_of(palette.quiet)) for text in (_beside(entry), *means) if text]
    return _joined([*_sayings(entry.statements), *quiet])


def _sayings(statements: Iterable[Statement]) -> Iterator[Text]:
    for said in statements:
        verdict = f"{words.sentence(said.verdict)}. " if said.verdict else ""
        yield Text.assemble((verdict, "bold"), said.text)


def _beside(entry: Entry) -> str:
    return " ".join(dict.fromkeys(text for said in entry.statements for text in said.beside))


def _joined(paragraphs: Iterable[Text]) -> Text:
    return Text("\n\n").join(paragraphs)


def pairs_line(findings: Findings, statement: Statement) -> str:
    """Effect, interval and pairs of a statement, where it has them; no effect before the first verdict."""
    parts = []
    if statement.effect is not None and statement.topic == "lags" and not findings.waits:
        low, high = statement.interval or (None, None)
        between = f" (95 %: {_effect(low)} to {_effect(high)})" if statement.interval else ""
        named = f"correlation with {wording.lag_name(statement.lag or 0)}"
        parts.append(f"{named} {statement.effect:+.2f}{between}")
    if statement.pairs is not None:
        thing = ("pair of days", "pairs of days") if statement.topic == "lags" else ("day", "days")
        parts.append(words.counted(statement.pairs, *thing))
    return ", ".join(parts)


def number_widgets(findings: Findings, entry: Entry, palette: Palette, width: int) -> Iterator[Widget]:
    """The numbers behind an entry: its own, the tables that it rests on, and what must stand beside it."""
    from tracker.analysis.number_tables import tables_behind

    tables = [table for topic in entry.topics for table in tables_behind(findings, topic, entry.outcome)]
    numbers = " ".join(said.numbers for said in entry.statements if said.numbers)
    if numbers or not tables:
        yield _paragraph(numbers or "No other numbers stand behind this.", "apart")
    for table in tables:
        yield _paragraph(table.title, "apart title")
        if table.warning:
            yield _paragraph(table.warning)
        yield _data_table(table) if table.width <= width else _paragraph("\n".join(table.listed(width)))
        yield _paragraph(table.how_to_read)
    if beside := _beside(entry):
        yield _paragraph(Text(beside, style_of(palette.quiet)), "apart")


def _paragraph(text: str | Text, classes: str = "") -> Static:
    return Static(text, classes=f"number {classes}", markup=False)


def _data_table(table: NumberTable) -> DataTable[Text]:
    shown: DataTable[Text] = DataTable(show_cursor=False, cursor_type="none", classes="number")
    shown.can_focus = False
    for name in table.head:
        shown.add_column(Text(name, justify="right" if name else "left"))
    for called, *numbers in table.rows:
        shown.add_row(Text(called), *(Text(number, justify="right") for number in numbers))
    return shown


def draw_detail(findings: Findings, entry: Entry, scales: Scales, palette: Palette, width: int) -> Canvas:
    """What stands under the sentences: the effect of a link, or spreads of levels over groups of days."""
    lines = [words.sentence(pairs_line(findings, said)) for said in entry.statements]
    pairs = [row for line in filter(None, lines) for row in wrapped(line, width)]
    parts = [
        part
        for said in entry.statements
        for outcome in ("mood", "sleep")
        if (rows := rows_behind(findings, said, outcome))
        for part in _spreads(rows, said.outcome, scales, palette, width)
    ]
    return piled([text_canvas(["", *pairs], width, palette.quiet), *parts], width, palette.text)


def rows_behind(findings: Findings, statement: Statement, outcome: str) -> list[GroupRow]:
    """The rows of one outcome that a statement on months, shifts or weekdays rests on."""
    tables = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}
    wanted = "mood" if statement.outcome == "anxious" else statement.outcome or outcome
    return [row for row in tables.get(statement.topic, ()) if row.outcome == outcome == wanted]


def _spreads(
    rows: Sequence[GroupRow], outcome: str, scales: Scales, palette: Palette, width: int
) -> Iterator[Canvas]:
    """A row a group; a statement on mood and sleep alike has both, each under its name."""
    scale = scales.newest("mood" if rows[0].outcome == "mood" else "sleep")
    if outcome == "anxious":
        column = max(text_width(row.name) for row in rows)
        lines = [
            f"{padded(row.name, column)} anxious on {row.anxious} of {row.anxious_noted}" for row in rows
        ]
        yield text_canvas([row for line in lines for row in wrapped(line, width)], width, palette.text)
        return
    if not outcome:
        yield text_canvas([rows[0].outcome.capitalize()], width, palette.text)
    if len(scale.levels) == len(rows[0].counts):
        spreads = [Spread(row.name, row.counts, row.days) for row in rows]
        yield draw_spreads(spreads, scale, palette, width)


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:+.2f}"
