"""How findings stand on the screen: the statements, and the picture or the numbers of one of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tracker import words
from tracker.analysis import wording
from tracker.diary.scales import Scales
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads, rows_beside_bars
from tracker.grids.palette import Palette
from tracker.grids.picture import Picture
from tracker.screens.lines import shortened, stacked, text_picture, wrapped

if TYPE_CHECKING:
    from tracker.analysis.describe import Row
    from tracker.analysis.results import Findings, LagFinding, LagRow, Statement

VERDICT_WIDTH = 17


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
        thing = ("pair of days", "pairs of days") if statement.topic == "lags" else ("day", "days")
        parts.append(words.counted(statement.pairs, *thing))
    return ", ".join(parts)


def draw_list(
    statements: Sequence[Statement], at: int, palette: Palette, width: int, height: int, whole: bool
) -> tuple[Picture, dict[int, int]]:
    """The statements with their verdicts, and which of them stands in which row.

    Parameters
    ----------
    whole
        Whether every sentence is shown to its end under its verdict; else each has one row.
    """
    picture = Picture(width, height, palette.text)
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
            picture.put(3, row, line, palette.title if here else palette.text)
            rows[row] = number
        picture.put(1, y, palette.signs.right if here else " ", palette.focus)
        picture.put(3, y, verdict_of(statements[number]), palette.title if shown else palette.quiet)
    return picture, rows


def _block(statement: Statement, width: int, whole: bool) -> list[str]:
    """The rows of a statement; the first begins with room for its verdict."""
    if whole:
        return ["", *wrapped(statement.text, width)]
    return [" " * VERDICT_WIDTH + shortened(wrapped(statement.text, width - VERDICT_WIDTH), 1)[0]]


Detail = tuple[Picture, bool]
"""A picture, and whether it is all of it."""


def draw_detail(
    findings: Findings, statement: Statement, scales: Scales, palette: Palette, width: int, height: int
) -> Detail:
    """The picture of one statement: bars for lags, spreads of levels for months, shifts and weekdays."""
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        return _bars(found, palette, width, height)
    parts = [
        part
        for outcome in ("mood", "sleep")
        if (rows := rows_behind(findings, statement, outcome))
        for part in _spreads(rows, statement.outcome, scales, palette, width)
    ]
    picture = stacked(parts, width, palette)
    return picture, picture.height <= height


def rows_behind(findings: Findings, statement: Statement, outcome: str) -> list[Row]:
    """The rows of one outcome that a statement on months, shifts or weekdays rests on."""
    tables = {"seasons": findings.months, "shifts": findings.shifts, "weekdays": findings.weekdays}
    wanted = "mood" if statement.outcome == "anxious" else statement.outcome or outcome
    return [row for row in tables.get(statement.topic, ()) if row.outcome == outcome == wanted]


def _bars(found: LagFinding, palette: Palette, width: int, height: int) -> Detail:
    """Where there is no room for all lags, those nearest to the same day."""
    room = height - rows_beside_bars(palette, width)
    reach = min(max((room - 2) // 2, 0), 7) if room < len(found.rows) else 7
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
    return draw_bars(bars, palette, width, label_width=27), len(rows) == len(found.rows)


def bar_label(lag: int, outcome: str) -> str:
    """What comes first: from `mood 7 days before` over the two sleeps next to it to `sleep 7 days before`."""
    name = "mark" if outcome == "anxious" else outcome
    if lag == 0:
        return words.SLEEP_BEFORE
    if lag == -1:
        return words.SLEEP_AFTER
    return f"{'sleep' if lag > 0 else name} {words.counted(abs(lag), 'day')} before"


def _spreads(
    rows: Sequence[Row], outcome: str, scales: Scales, palette: Palette, width: int
) -> Iterator[Picture]:
    """A row a group; a statement on mood and sleep alike has both, each under its name."""
    scale = scales.newest("mood" if rows[0].outcome == "mood" else "sleep")
    if outcome == "anxious":
        lines = [f"{row.name:28} anxious on {row.anxious} of {row.anxious_noted}" for row in rows]
        yield text_picture(lines, width, palette)
        return
    if not outcome:
        yield text_picture([rows[0].outcome.capitalize()], width, palette)
    if len(scale.levels) == len(rows[0].counts):
        spreads = [Spread(row.name, row.counts, row.days) for row in rows]
        yield draw_spreads(spreads, scale, palette, width)


def number_lines(findings: Findings, statement: Statement, width: int) -> list[str]:
    """The numbers behind a statement, as a table."""
    own = wrapped(statement.numbers, width) if statement.numbers else []
    return [*own, *_tables(findings, statement, width)]


def _tables(findings: Findings, statement: Statement, width: int) -> list[str]:
    if statement.topic == "lags":
        found = next(lag for lag in findings.lags if lag.outcome == statement.outcome)
        head = f"{'':25}{'pairs':>5}{'plain':>7}{'adj.':>7}{'own':>7}  {'95 %':^15}{'p':>8}"
        return [head, *(_lag_line(row, found.outcome) for row in found.rows), *_explained(found, width)]
    tables = {outcome: rows_behind(findings, statement, outcome) for outcome in ("mood", "sleep")}
    lines = [
        line
        for outcome, rows in tables.items()
        if rows
        for line in _table(rows, findings.names[outcome], width)
    ]
    return lines or ["No numbers stand behind this sentence but its own."]


def _table(rows: Sequence[Row], names: Sequence[str], width: int) -> list[str]:
    places = [str(place) for place in range(1, len(names) + 1)]
    most = max(len(str(count)) for row in rows for count in row.counts) + 1
    head = (
        f"{rows[0].outcome:28}{'kept':>11}  " + "".join(f"{place:>{most}}" for place in places) + "  anxious"
    )
    levels = ", ".join(f"{place} {name}" for place, name in zip(places, names, strict=True))
    explained = wrapped(levels, width) if list(names) != places else []
    return [head, *(_row_line(row, most) for row in rows), *explained]


def _lag_line(row: LagRow, outcome: str) -> str:
    interval = "-" if row.low is None or row.high is None else f"{row.low:+.2f} to {row.high:+.2f}"
    effects = "".join(f"{_effect(value):>7}" for value in (row.unadjusted, row.adjusted, row.beyond_own_past))
    p = wording.chance_in_a_table(row.p)
    star = " *" if row.verdict == "shown" else ""
    return f"{bar_label(row.lag, outcome):25}{row.pairs:5}{effects}  {interval:^15}{p:>8}{star}"


def _effect(value: float | None) -> str:
    return "-" if value is None else f"{value:+.2f}"


def _explained(found: LagFinding, width: int) -> list[str]:
    return wrapped(
        f"plain: as the days stand. adj.: {words.listed(list(found.adjusted_for))} taken out. own: the own "
        "past of both taken out too, with its interval. p: after Holm. *: shown.",
        width,
    )


def _row_line(row: Row, width: int) -> str:
    counts = "".join(f"{count:>{width}}" for count in row.counts)
    kept = f"{row.kept} of {row.days}"
    return f"{row.name[:27]:28}{kept:>11}  {counts}  {row.anxious} of {row.anxious_noted}"
