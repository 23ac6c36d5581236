"""How findings stand on the screen: the statements, and the picture or the numbers of one of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from tracker import words
from tracker.analysis import wording
from tracker.cells import padded
from tracker.diary.scales import Scales
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads, rows_beside_bars
from tracker.grids.canvas import Canvas
from tracker.grids.palette import Palette
from tracker.screens.lines import shortened, stacked, text_canvas, wrapped

if TYPE_CHECKING:
    from tracker.analysis.describe import GroupRow
    from tracker.analysis.results import Findings, LagFinding, Statement

VERDICT_WIDTH = 17


def verdict_of(statement: Statement) -> str:
    """The verdict as a word before the sentence; a dash for what is only counted."""
    return statement.verdict or "counted"


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


def draw_list(
    statements: Sequence[Statement], at: int, palette: Palette, width: int, height: int, whole: bool
) -> tuple[Canvas, dict[int, int]]:
    """The statements with their verdicts, and which of them stands in which row.

    Parameters
    ----------
    whole
        Whether every sentence is shown to its end under its verdict; else each has one row.
    """
    canvas = Canvas(width, height, palette.text)
    blocks = [_block(statement, width - 4, whole) for statement in statements]
    first = 0
    while sum(len(block) for block in blocks[first : at + 1]) > height and first < at:
        first += 1
    rows: dict[int, int] = {}
    for number, block in enumerate(blocks[first:], start=first):
        y = len(rows)
        if y >= height:
            break
        here, shown = number == at, statements[number].verdict == "shown"
        for row, line in enumerate(shortened(block, height - y), start=y):
            canvas.put(3, row, line, palette.title if here else palette.text)
            rows[row] = number
        canvas.put(1, y, palette.signs.right if here else " ", palette.focus)
        canvas.put(3, y, verdict_of(statements[number]), palette.title if shown else palette.quiet)
    return canvas, rows


def _block(statement: Statement, width: int, whole: bool) -> list[str]:
    """The rows of a statement; the first begins with room for its verdict."""
    if whole:
        return ["", *wrapped(statement.text, width)]
    return [" " * VERDICT_WIDTH + shortened(wrapped(statement.text, width - VERDICT_WIDTH), 1)[0]]


Detail = tuple[Canvas, bool]
"""A picture, and whether it is all of it."""


def draw_detail(
    findings: Findings, statement: Statement, scales: Scales, palette: Palette, width: int, height: int
) -> Detail:
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
    canvas = stacked(parts, width, palette)
    return canvas, canvas.height <= height


def rows_behind(findings: Findings, statement: Statement, outcome: str) -> list[GroupRow]:
    """The rows of one outcome that a statement on months, shifts or weekdays rests on."""
    tables = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}
    wanted = "mood" if statement.outcome == "anxious" else statement.outcome or outcome
    return [row for row in tables.get(statement.topic, ()) if row.outcome == outcome == wanted]


def _pairs_alone(found: LagFinding) -> LagFinding:
    """The finding as it is drawn before the first verdict, when nothing is told of a link."""
    rows = (replace(row, beyond_own_past=None, low=None, high=None, smallest=None) for row in found.rows)
    return replace(found, rows=tuple(rows))


def _bars(found: LagFinding, palette: Palette, width: int, height: int) -> Detail:
    """Where there is no room for all lags, those nearest to the same day."""
    room = height - rows_beside_bars(palette, width)
    reach = min(max((room - 2) // 2, 0), 7) if room < len(found.rows) else 7
    rows = [row for row in found.rows if -reach - 1 <= row.lag <= reach]
    bars = [
        Bar(
            wording.what_comes_first(row.lag, found.outcome),
            row.beyond_own_past,
            row.low,
            row.high,
            row.smallest,
            row.verdict == "shown",
        )
        for row in rows
    ]
    return draw_bars(bars, palette, width, label_width=27), len(rows) == len(found.rows)


def _spreads(
    rows: Sequence[GroupRow], outcome: str, scales: Scales, palette: Palette, width: int
) -> Iterator[Canvas]:
    """A row a group; a statement on mood and sleep alike has both, each under its name."""
    scale = scales.newest("mood" if rows[0].outcome == "mood" else "sleep")
    if outcome == "anxious":
        lines = [f"{padded(row.name, 28)} anxious on {row.anxious} of {row.anxious_noted}" for row in rows]
        yield text_canvas(lines, width, palette)
        return
    if not outcome:
        yield text_canvas([rows[0].outcome.capitalize()], width, palette)
    if len(scale.levels) == len(rows[0].counts):
        spreads = [Spread(row.name, row.counts, row.days) for row in rows]
        yield draw_spreads(spreads, scale, palette, width)


def number_lines(findings: Findings, statement: Statement, width: int) -> list[str]:
    """The numbers behind a statement: its own, then the tables that it rests on."""
    from tracker.analysis.number_tables import tables_behind

    own = [wrapped(statement.numbers, width)] if statement.numbers else []
    tables = tables_behind(findings, statement.topic, statement.outcome)
    parts = [*own, *(table.lines() for table in tables)]
    first, *others = parts or [["No numbers stand behind this sentence but its own."]]
    return [*first, *(line for part in others for line in ("", *part))]


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:+.2f}"
