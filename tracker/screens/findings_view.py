"""How findings stand on the screen: the statements, and the picture or the numbers of one of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, cast

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, OptionList, Static

from tracker import words
from tracker.analysis import wording
from tracker.cells import padded, wrapped
from tracker.diary.scales import Scales
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads, rows_beside_bars
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.palette import Palette
from tracker.screens import bindings
from tracker.screens.widgets.canvas_view import CanvasView

if TYPE_CHECKING:
    from tracker.analysis.describe import GroupRow
    from tracker.analysis.number_tables import NumberTable
    from tracker.analysis.results import Findings, LagFinding, Statement
    from tracker.screens.base import BaseScreen

VERDICT_WIDTH = 17
ALL_ROWS = 10_000
"""More rows than any picture has."""
View = Literal["", "picture", "numbers"]
"""What stands on the screen: the statements, or the picture or numbers of one of them alone."""


def verdict_of(statement: Statement) -> str:
    """The verdict as a word before the sentence; nothing for what has none."""
    return statement.verdict or ""


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


class StatementList(OptionList, inherit_bindings=False):
    """The statements with their verdicts: a row each, or where there is room each to its end."""

    BINDINGS = bindings.STATEMENTS

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self._shown: tuple[Findings | None, bool] = (None, False)

    def show(self, findings: Findings, wide: bool) -> int:
        """Show them in place of those before; the number of the one that is chosen."""
        before, _ = self._shown
        if self._shown != (findings, wide):
            chosen = self.highlighted if before is findings else 0
            self._shown = findings, wide
            self.set_options(prompt(statement, wide) for statement in findings.statements)
            self.highlighted = chosen
        return self.highlighted or 0


def prompt(statement: Statement, wide: bool) -> Text:
    """A statement in the list: its verdict, and behind or under it the sentence."""
    verdict = verdict_of(statement)
    lead = f"{verdict}\n" if wide else f"{verdict:<{VERDICT_WIDTH}}"
    tail = "\n" if wide else ""
    return Text.assemble((lead, "bold" if statement.verdict == "shown" else ""), statement.text, tail)


class StatementView(VerticalScroll, inherit_bindings=False):
    """One statement: what must stand beside it, and its picture or its numbers."""

    BINDINGS = bindings.SCROLL

    def compose(self) -> ComposeResult:
        yield Static(id="said", markup=False)
        yield CanvasView(id="picture")

    def show(
        self, findings: Findings, statement: Statement, view: View, wide: bool, width: int, height: int
    ) -> None:
        """Show a statement in place of the one before.

        Parameters
        ----------
        wide
            Whether its sentence stands in the list beside it already.
        width, height
            Cells and rows for what it says and its picture.
        """
        beside = " ".join(statement.beside)
        said = statement.text if view else beside if wide else f"{statement.text} {beside}".rstrip()
        self.query_one("#said", Static).update(Text(said))
        picture = self.query_one("#picture", CanvasView)
        picture.display = view != "numbers"
        self.remove_children(".number")
        if view == "numbers":
            self.mount_all(number_widgets(findings, statement))
        else:
            screen = cast("BaseScreen[None]", self.screen)
            palette = screen.palette
            rests_on = wrapped(pairs_line(findings, statement), width)
            line = text_canvas(rests_on, width, palette.quiet)
            room = ALL_ROWS if view else height - len(wrapped(said, width)) - len(rests_on)
            drawn = draw_detail(findings, statement, screen.kept.choices.scales, palette, width, room)
            picture.show(piled([line, drawn], width, palette.text), palette.text)


def number_widgets(findings: Findings, statement: Statement) -> Iterator[Widget]:
    """The numbers behind a statement: its own, then the tables that it rests on."""
    from tracker.analysis.number_tables import tables_behind

    tables = list(tables_behind(findings, statement.topic, statement.outcome))
    if statement.numbers or not tables:
        none = "No numbers stand behind this sentence but its own."
        yield Static(statement.numbers or none, classes="number", markup=False)
    for table in tables:
        yield Static(table.title, classes="number title", markup=False)
        if table.warning:
            yield Static(table.warning, classes="number", markup=False)
        yield _data_table(table)
        yield Static(table.how_to_read, classes="number", markup=False)


def _data_table(table: NumberTable) -> DataTable[Text]:
    shown: DataTable[Text] = DataTable(show_cursor=False, cursor_type="none", classes="number")
    shown.can_focus = False
    for name in table.head:
        shown.add_column(Text(name, justify="right" if name else "left"))
    for called, *numbers in table.rows:
        shown.add_row(Text(called), *(Text(number, justify="right") for number in numbers))
    return shown


def draw_detail(
    findings: Findings, statement: Statement, scales: Scales, palette: Palette, width: int, height: int
) -> Canvas:
    """The picture of one statement: bars for lags, spreads of levels for months, shifts and weekdays."""
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        return _bars(_pairs_alone(found) if findings.waits else found, palette, width, height)
    parts = [
        part
        for outcome in ("mood", "sleep")
        if (rows := rows_behind(findings, statement, outcome))
        for part in _spreads(rows, statement.outcome, scales, palette, width)
    ]
    return piled(parts, width, palette.text)


def rows_behind(findings: Findings, statement: Statement, outcome: str) -> list[GroupRow]:
    """The rows of one outcome that a statement on months, shifts or weekdays rests on."""
    tables = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}
    wanted = "mood" if statement.outcome == "anxious" else statement.outcome or outcome
    return [row for row in tables.get(statement.topic, ()) if row.outcome == outcome == wanted]


def _pairs_alone(found: LagFinding) -> LagFinding:
    """The finding as it is drawn before the first verdict, when nothing is told of a link."""
    rows = (replace(row, beyond_own_past=None, low=None, high=None, smallest=None) for row in found.rows)
    return replace(found, rows=tuple(rows))


def _bars(found: LagFinding, palette: Palette, width: int, height: int) -> Canvas:
    """Where there is no room for all lags, those nearest to the same day."""
    room = height - rows_beside_bars(palette, width)
    reach = min(max((room - 2) // 2, 0), 7) if room < len(found.rows) else 7
    bars = [
        Bar(
            wording.what_comes_first(row.lag, found.outcome),
            row.beyond_own_past,
            row.low,
            row.high,
            row.smallest,
            row.verdict == "shown",
        )
        for row in found.rows
        if -reach - 1 <= row.lag <= reach
    ]
    return draw_bars(bars, palette, width, label_width=27)


def _spreads(
    rows: Sequence[GroupRow], outcome: str, scales: Scales, palette: Palette, width: int
) -> Iterator[Canvas]:
    """A row a group; a statement on mood and sleep alike has both, each under its name."""
    scale = scales.newest("mood" if rows[0].outcome == "mood" else "sleep")
    if outcome == "anxious":
        lines = [f"{padded(row.name, 28)} anxious on {row.anxious} of {row.anxious_noted}" for row in rows]
        yield text_canvas(lines, width, palette.text)
        return
    if not outcome:
        yield text_canvas([rows[0].outcome.capitalize()], width, palette.text)
    if len(scale.levels) == len(rows[0].counts):
        spreads = [Spread(row.name, row.counts, row.days) for row in rows]
        yield draw_spreads(spreads, scale, palette, width)


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:+.2f}"
