"""How findings stand on the screen: the statements, and the picture or the numbers of one of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker import words
from tracker.diary.dates import long_day
from tracker.diary.scales import Scales
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads
from tracker.grids.palette import Palette
from tracker.grids.picture import Picture, cut
from tracker.screens.lines import wrapped

if TYPE_CHECKING:
    from tracker.analysis.describe import Row
    from tracker.analysis.results import Findings, LagFinding, LagRow, Statement

VERDICT_WIDTH = 17
ALL_BARS = 17
"""Rows of a bar a lag, with the axis and its explanation."""


def when(findings: Findings) -> str:
    """As of which day, when next, and on how many days it rests."""
    parts = [f"As of {long_day(findings.as_of)}."]
    if findings.verdict_day:
        parts.append(f"Verdicts of {long_day(findings.verdict_day)}.")
    if findings.next_verdict_day and not findings.chosen:
        parts.append(f"Next on {long_day(findings.next_verdict_day)}.")
    if findings.first and findings.last:
        parts.append(
            f"{long_day(findings.first)} to {long_day(findings.last)}: of "
            f"{words.counted(findings.days, 'day')}, mood kept on {findings.kept.mood}, sleep on "
            f"{findings.kept.sleep}, both on {findings.kept.both}."
        )
    return " ".join(parts)


def verdict_of(statement: Statement) -> str:
    """The verdict as a word before the sentence; a dash for what is only counted."""
    return statement.verdict or "counted"


def pairs_line(statement: Statement) -> str:
    """Effect, interval and pairs of a statement, where it has them."""
    parts = []
    if statement.effect is not None and statement.topic == "lags":
        low, high = statement.interval or (None, None)
        between = f" (95 %: {_effect(low)} to {_effect(high)})" if statement.interval else ""
        parts.append(f"effect {statement.effect:+.2f}{between}")
    if statement.pairs is not None:
        parts.append(f"{statement.pairs} {'pairs of days' if statement.topic == 'lags' else 'days'}")
    return ", ".join(parts)


def draw_list(
    statements: Sequence[Statement], at: int, palette: Palette, width: int, height: int, whole: bool
) -> tuple[Picture, dict[int, int]]:
    """The statements with their verdicts, and which of them stands in which row.

    Parameters
    ----------
    whole
        Whether every sentence is shown to its end; else each has one row.
    """
    picture = Picture(width, height, palette.text)
    blocks = [_block(statement, width - 4 - VERDICT_WIDTH, whole) for statement in statements]
    first = 0
    while sum(len(block) for block in blocks[first : at + 1]) > height and first < at:
        first += 1
    rows: dict[int, int] = {}
    y = 0
    for number, block in enumerate(blocks[first:], start=first):
        here = number == at
        if y < height:
            picture.put(1, y, palette.signs.right if here else " ", palette.focus)
            shown = statements[number].verdict == "shown"
            picture.put(3, y, verdict_of(statements[number]), palette.title if shown else palette.quiet)
        for line in block:
            picture.put(3 + VERDICT_WIDTH, y, line, palette.title if here else palette.text)
            rows[y] = number
            y += 1
    return picture, {y: number for y, number in rows.items() if y < height}


def _block(statement: Statement, width: int, whole: bool) -> list[str]:
    if whole:
        return wrapped(statement.text, width)
    text = statement.text
    return [text if len(text) <= width else cut(text, width - 3) + "..."]


def draw_detail(
    findings: Findings, statement: Statement, scales: Scales, palette: Palette, width: int, height: int
) -> Picture:
    """The picture of one statement: bars for lags, spreads of levels for months, shifts and weekdays."""
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        return _bars(found, palette, width, height)
    rows = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}.get(
        statement.topic, ()
    )
    if statement.outcome == "anxious":
        return _anxious(rows, palette, width, height)
    return _spreads([row for row in rows if row.outcome == statement.outcome], scales, palette, width, height)


def _bars(found: LagFinding, palette: Palette, width: int, height: int) -> Picture:
    """Where there is no room for all lags, those nearest to the same day."""
    reach = 7 if height >= ALL_BARS else max((height - 4) // 2, 0)
    rows = [row for row in found.rows if -reach - 1 <= row.lag <= reach]
    bars = [
        Bar(
            bar_label(row.lag, found.outcome),
            row.beyond_own_past,
            row.low,
            row.high,
            row.smallest,
            row.verdict == "shown",
        )
        for row in rows
    ]
    return draw_bars(bars, palette, width, label_width=27)


def bar_label(lag: int, outcome: str) -> str:
    """What comes first: from `mood 7 days before` over the two sleeps next to it to `sleep 7 days before`."""
    name = "mark" if outcome == "anxious" else outcome
    if lag == 0:
        return words.SLEEP_BEFORE
    if lag == -1:
        return words.SLEEP_AFTER
    return f"{'sleep' if lag > 0 else name} {words.counted(abs(lag), 'day')} before"


def _spreads(rows: Sequence[Row], scales: Scales, palette: Palette, width: int, height: int) -> Picture:
    if not rows:
        return Picture(width, 0, palette.text)
    scale = scales.newest("mood" if rows[0].outcome == "mood" else "sleep")
    if len(scale.levels) != len(rows[0].counts):
        return Picture(width, 0, palette.text)
    spreads = [Spread(row.name, row.counts, row.days) for row in rows[-height:]]
    return draw_spreads(spreads, scale, palette, width)


def _anxious(rows: Sequence[Row], palette: Palette, width: int, height: int) -> Picture:
    once = [row for row in rows if row.outcome == "mood"][-height:]
    picture = Picture(width, len(once), palette.text)
    for y, row in enumerate(once):
        picture.put(0, y, f"{row.name:24} anxious on {row.anxious} of {row.anxious_noted}", palette.quiet)
    return picture


def number_lines(findings: Findings, statement: Statement, width: int) -> list[str]:
    """The numbers behind a statement, as a table."""
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        head = f"{'':28}{'pairs':>5}{'plain':>7}{'adj.':>7}{'own':>7}  {'95 %':^15}{'p':>8}"
        return [head, *(_lag_line(row, found.outcome) for row in found.rows), *_explained(found, width)]
    rows = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}.get(
        statement.topic, ()
    )
    outcome = "sleep" if statement.outcome == "sleep" else "mood"
    chosen = [row for row in rows if row.outcome == outcome]
    if not chosen:
        return ["No numbers stand behind this sentence but its own."]
    names = findings.names[outcome]
    head = (
        f"{'':26}{'kept':>11}  " + "".join(f"{place:>4}" for place in range(1, len(names) + 1)) + "  anxious"
    )
    levels = ", ".join(f"{place} {name}" for place, name in enumerate(names, start=1))
    return [head, *map(_row_line, chosen), *wrapped(levels, width)]


def _lag_line(row: LagRow, outcome: str) -> str:
    interval = "-" if row.low is None or row.high is None else f"{row.low:+.2f} to {row.high:+.2f}"
    effects = "".join(f"{_effect(value):>7}" for value in (row.unadjusted, row.adjusted, row.beyond_own_past))
    p = "-" if row.p is None else "<0.0001" if row.p < 0.0001 else f"{row.p:.4f}"
    star = " *" if row.verdict == "shown" else ""
    return f"{bar_label(row.lag, outcome):28}{row.pairs:5}{effects}  {interval:^15}{p:>8}{star}"


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:+.2f}"


def _explained(found: LagFinding, width: int) -> list[str]:
    return wrapped(
        f"plain: as the days stand. adj.: {words.listed(list(found.adjusted_for))} taken out. own: the own "
        "past of both taken out too, with its interval. p: after Holm. *: shown.",
        width,
    )


def _row_line(row: Row) -> str:
    counts = "".join(f"{count:>4}" for count in row.counts)
    return (
        f"{row.name[:25]:26}{f'{row.kept} of {row.days}':>11}  {counts}  {row.anxious} of {row.anxious_noted}"
    )
