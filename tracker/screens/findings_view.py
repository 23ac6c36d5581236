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
from textual.widgets.option_list import Option

from tracker import words
from tracker.analysis import wording
from tracker.cells import padded, wrapped
from tracker.diary.low_and_short import short_levels
from tracker.diary.scales import Scales
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads
from tracker.grids.canvas import Canvas, piled, text_canvas
from tracker.grids.link_blocks import Block, CountBar, Part, draw_blocks
from tracker.grids.palette import Palette
from tracker.screens import bindings
from tracker.screens.widgets.canvas_view import CanvasView, style_of

if TYPE_CHECKING:
    from tracker.analysis.counts import After, Outcome, SideBySide
    from tracker.analysis.describe import GroupRow
    from tracker.analysis.number_tables import NumberTable
    from tracker.analysis.results import Findings, LagFinding, Statement
    from tracker.screens.base import BaseScreen

VERDICT_WIDTH = 17
LINKS, ALSO, ABOUT = "The links, lag by lag", "Also looked at", "About the days"
NOT_JUDGED = "Counted, not judged."
View = Literal["", "picture", "numbers"]
"""What stands on the screen: the statements, or the picture or numbers of one of them alone."""
COUNTED: dict[tuple[bool, str], tuple[Outcome, After, str, str]] = {
    (True, "mood"): ("low", "short sleep", "low days after under {0:g} h", "low days after {0:g} h or more"),
    (True, "anxious"): (
        "anxious", "short sleep", "anxious after under {0:g} h", "anxious after {0:g} h or more",
    ),
    (False, "mood"): ("short sleep", "low day", "<{0:g} h after a low day", "<{0:g} h after another day"),
    (False, "anxious"): (
        "short sleep", "anxious day", "<{0:g} h after an anxious day", "<{0:g} h after another day",
    ),
}  # fmt: skip
"""What is counted under each side, sleep first or not, and outcome: the comparison, and its two labels."""


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
    """Both sides of the links, then under heads the statements, of which one is chosen."""

    BINDINGS = bindings.STATEMENTS

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self._shown: tuple[Findings | None, Palette | None, int] = (None, None, 0)

    @property
    def chosen(self) -> int:
        """The number of the chosen statement."""
        option = self.highlighted_option
        return int(option.id) if option and option.id else 0

    def show(self, findings: Findings, scales: Scales, palette: Palette, width: int) -> None:
        """Show findings in place of those before, in so many cells."""
        before, *_ = self._shown
        if self._shown == (findings, palette, width):
            return
        chosen = self.highlighted if before is findings else None
        self._shown = findings, palette, width
        blocks = link_blocks(findings, scales, palette)
        drawn = [_unchosen(text_of(draw_blocks(blocks, palette, width)))] if blocks else []
        self.set_options([*drawn, *_listed(findings, blocks, palette, width)])
        self.highlighted = self._first if chosen is None else chosen

    def scroll_to_highlight(self, top: bool = False) -> None:
        """Scroll to the chosen statement; with the first of them all that stands above it is seen."""
        if self.highlighted == self._first:
            self.scroll_home(animate=False, immediate=True)
        else:
            super().scroll_to_highlight(top)

    @property
    def _first(self) -> int | None:
        return next((place for place, option in enumerate(self.options) if not option.disabled), None)


def link_blocks(findings: Findings, scales: Scales, palette: Palette) -> list[Block]:
    """Sleep first, then mood first, each for mood and the anxious mark; none where nothing is counted."""
    counts = findings.counts
    if counts is None or not findings.lags:
        return []
    fills = _bar_fills(counts, scales, palette)
    heads = ((True, "Sleep first, then mood"), (False, "Mood first, then sleep"))
    return [
        Block(head, tuple(_part(findings, counts, lag, fills, sleep_first=first) for lag in findings.lags))
        for first, head in heads
    ]


def _bar_fills(counts: SideBySide, scales: Scales, palette: Palette) -> dict[Outcome, str | None]:
    """The colours of bars: of the highest level that is counted; of anxious days that of the lowest mood."""
    moods, sleeps = len(scales.newest("mood").levels), scales.newest("sleep")
    short = len(short_levels(sleeps, counts.limit))
    return {
        "low": palette.fill("mood", max(len(counts.low_levels) - 1, 0), moods).ground,
        "anxious": palette.fill("mood", 0, moods).ground,
        "short sleep": palette.fill("sleep", max(short - 1, 0), len(sleeps.levels)).ground,
    }


def _part(
    findings: Findings,
    counts: SideBySide,
    lag: LagFinding,
    fills: dict[Outcome, str | None],
    *,
    sleep_first: bool,
) -> Part:
    """One side of one link. Before the first verdict it has no bars: nothing is told of a link."""
    from tracker.analysis.statements import side_statement

    outcome, after, *labels = COUNTED[sleep_first, lag.outcome]
    compared = counts.comparison(outcome, after)
    said = side_statement(lag, sleep_first=sleep_first)
    bars = tuple(
        CountBar(label.format(counts.limit), *count, fills[outcome], not (count.is_few or findings.waits))
        for label, count in zip(labels, (compared.there, compared.elsewhere), strict=True)
    )
    return Part(verdict_of(said) if said else "", said.text if said else NOT_JUDGED, bars)


def text_of(canvas: Canvas) -> Text:
    """A picture as lines of styled text."""
    rows = [[(run.text, style_of(run.style)) for run in canvas.row(y)] for y in range(canvas.height)]
    return Text("\n").join(Text.assemble(*row) for row in rows)


def _unchosen(text: Text) -> Option:
    return Option(text, disabled=True)


def _listed(findings: Findings, blocks: Sequence[Block], palette: Palette, width: int) -> Iterator[Option]:
    """The statements under their heads, and under those of a head what must stand beside them."""
    texts = {statement.text for statement in findings.statements}
    for head in (LINKS, ALSO, ABOUT):
        here = [place for place, said in enumerate(findings.statements) if _head_of(said) == head]
        if here:
            yield _unchosen(Text(f"\n{head}", "bold"))
        if head == ABOUT:
            yield _unchosen(Text(findings.standing()))
        for place in here:
            statement = findings.statements[place]
            yield Option(prompt(statement, _told(statement, blocks), width), id=str(place))
        beside = dict.fromkeys(text for place in here for text in findings.statements[place].beside)
        if told := " ".join(text for text in beside if text not in texts):
            yield _unchosen(Text(told, style_of(palette.quiet)))


def _told(statement: Statement, blocks: Sequence[Block]) -> str:
    """What is told of a statement in the list: its sentence, or where that is if a block has it already."""
    heads = [block.head for block in blocks for part in block.parts if part.sentence == statement.text]
    if not heads:
        return statement.text
    return f"{words.sentence(wording.OUTCOMES[statement.outcome])}: {words.listed(heads).lower()}"


def _head_of(statement: Statement) -> str:
    if statement.topic == "lags":
        return LINKS
    return ALSO if statement.verdict else ABOUT


def prompt(statement: Statement, told: str, width: int) -> Text:
    """A statement in the list: its verdict, and behind it what is told; without a verdict that alone."""
    verdict = verdict_of(statement)
    if not verdict:
        return Text(told)
    lines = wrapped(told, width - VERDICT_WIDTH)
    lead = f"{verdict:<{VERDICT_WIDTH}}"
    style = "bold" if verdict == "shown" else ""
    return Text.assemble((lead, style), f"\n{' ' * VERDICT_WIDTH}".join(lines))


class StatementView(VerticalScroll, inherit_bindings=False):
    """One statement: what must stand beside it, and its picture or its numbers."""

    BINDINGS = bindings.SCROLL

    def compose(self) -> ComposeResult:
        yield Static(id="said", markup=False)
        yield CanvasView(id="picture")

    def show(self, findings: Findings, statement: Statement, view: View, width: int) -> None:
        """Show a statement, its picture in so many cells or its numbers, in place of the one before."""
        said = " ".join([statement.text, *statement.beside])
        self.query_one("#said", Static).update(Text(said))
        picture = self.query_one("#picture", CanvasView)
        picture.display = view != "numbers"
        self.remove_children(".number")
        if view == "numbers":
            self.mount_all(number_widgets(findings, statement))
        else:
            screen = cast("BaseScreen[None]", self.screen)
            palette = screen.palette
            line = text_canvas(wrapped(pairs_line(findings, statement), width), width, palette.quiet)
            drawn = draw_detail(findings, statement, screen.kept.choices.scales, palette, width)
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
    findings: Findings, statement: Statement, scales: Scales, palette: Palette, width: int
) -> Canvas:
    """The picture of one statement: bars for lags, spreads of levels for months, shifts and weekdays."""
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        return _bars(_pairs_alone(found) if findings.waits else found, palette, width)
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


def _bars(found: LagFinding, palette: Palette, width: int) -> Canvas:
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
