"""The findings as one long picture: both sides of the links, their lags, changes, all other statements."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from tracker import words
from tracker.analysis import counts_wording, wording
from tracker.cells import text_width, wrapped
from tracker.diary.dates import short_date
from tracker.diary.low_and_short import short_levels
from tracker.diary.scales import Scales
from tracker.grids.canvas import Canvas, CellStyle, piled, text_canvas
from tracker.grids.change_table import WIDE_FROM, ChangeRows, TableCell, TableRow, draw_changes
from tracker.grids.lag_picture import LagBar, LagGroup, draw_lags
from tracker.grids.link_blocks import (
    BARS_FROM,
    INDENT,
    VERDICT_BESIDE_FROM,
    Block,
    CountBar,
    Part,
    draw_blocks,
    draw_said,
)
from tracker.grids.palette import Palette

if TYPE_CHECKING:
    from tracker.analysis.counts import After, Count, Outcome, SideBySide
    from tracker.analysis.dated_changes import BeforeAfter
    from tracker.analysis.results import Findings, LagFinding, LagRow, Statement, Topic

VERDICT_WIDTH = 17
LINK: tuple[Topic, ...] = ("lags", "counts")
ALSO, ABOUT = "Also looked at", "About the days"
CHANGES, NOT_JUDGED = "Before and after your changes", "counted, not judged"
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
DIRECTION = {"mood": "right: longer sleep, higher mood", "anxious": "right: longer sleep, more marks"}
"""What it means that a link lies to the right of nought."""


class Entry(NamedTuple):
    """What is chosen together: a link with its counts, the days around a change, or one statement."""

    statements: tuple[Statement, ...]
    topics: tuple[Topic, ...]
    """Whose tables stand behind it."""
    outcome: str
    """Of which the tables are; empty: of all."""


class FindingsPage(NamedTuple):
    """The picture, and where what can be chosen stands in it."""

    canvas: Canvas
    entries: tuple[Entry, ...]
    places: tuple[range, ...]
    """The rows of each entry."""
    lags: range
    """The rows of the picture of the lags; empty without one."""

    def marked(self, chosen: int, palette: Palette) -> Canvas:
        """The picture with a pointer at an entry and another ground under it; a link is chosen unmarked."""
        canvas = self.canvas.copy()
        if self.entries and self.entries[chosen].topics != LINK:
            rows = self.places[chosen]
            canvas.put(0, rows.start, palette.signs.right, palette.focused)
            canvas.on_ground(rows, palette.panel)
        return canvas


class _Sheet:
    """Pictures under one another, and what can be chosen among them."""

    def __init__(self, palette: Palette, width: int) -> None:
        self.palette = palette
        self.width = width
        self.entries: list[Entry] = []
        self.lags = range(0)
        self._parts: list[Canvas] = []
        self._places: list[range] = []

    @property
    def rows(self) -> int:
        """Rows so far."""
        return sum(part.height for part in self._parts)

    def put(self, *parts: Canvas) -> None:
        """Add pictures at the end."""
        self._parts += parts

    def blank(self) -> None:
        """Add a blank row, but not before everything."""
        if self._parts:
            self.put(Canvas(self.width, 1, self.palette.text))

    def text(self, text: str, style: CellStyle) -> None:
        """Add a paragraph; nothing where it is empty."""
        self.put(text_canvas(wrapped(text, self.width) if text else [], self.width, style))

    def head(self, head: str, behind: str = "") -> None:
        """Add a head after a blank row, with something quiet behind it where there is room."""
        self.blank()
        self.text(head, self.palette.title)
        x = text_width(head) + 3
        if x + text_width(behind) <= self.width:
            self._parts[-1].put(x, 0, behind, self.palette.quiet)

    def choosable(self, entry: Entry, begins: int) -> None:
        """Let what was put from a row on be chosen together."""
        self.entries.append(entry)
        self._places.append(range(begins, self.rows))

    def page(self) -> FindingsPage:
        """All of it, with a margin for the pointer."""
        whole = piled(self._parts, self.width, self.palette.text)
        canvas = Canvas(self.width + 1, whole.height, self.palette.text)
        canvas.lay(whole, 1, 0)
        return FindingsPage(canvas, tuple(self.entries), tuple(self._places), self.lags)


def draw_page(
    findings: Findings, scales: Scales, palette: Palette, width: int, outcome: str, *, spaced: bool
) -> FindingsPage:
    """Everything that is said, in so many cells.

    Parameters
    ----------
    outcome
        Whose lags are drawn: `mood` or `anxious`.
    spaced
        Whether there is room for blank rows at the top and between the parts of the links.
    """
    sheet = _Sheet(palette, width)
    if spaced:
        sheet.text(" ", palette.text)
    opening = findings.statements[:1] if findings.waits or findings.chosen else ()
    for statement in opening:
        sheet.text(statement.text, palette.text)
        sheet.blank()
    _put_links(sheet, findings, scales, outcome, spaced=spaced)
    if findings.changes:
        _put_changes(sheet, findings)
    _put_others(sheet, findings, opening)
    return sheet.page()


# --- the links ---------------------------------------------------------------------------------------------


def _put_links(sheet: _Sheet, findings: Findings, scales: Scales, outcome: str, *, spaced: bool) -> None:
    palette, width = sheet.palette, sheet.width
    blocks = link_blocks(findings, scales, palette)
    if not blocks:
        return
    begins = sheet.rows
    gap = 1 if spaced else 0
    sheet.put(draw_blocks(blocks, palette, width, gap))
    groups = lag_groups(findings, outcome, short=width < BARS_FROM)
    if groups:
        sheet.blank()
        lags = draw_lags(groups, DIRECTION[outcome], palette, width, gap)
        sheet.lags = range(sheet.rows, sheet.rows + lags.height)
        sheet.put(lags)
    if beside := " ".join(_beside_links(findings)):
        sheet.blank()
        sheet.text(beside, palette.quiet)
    told = (said for said in findings.statements if said.topic in LINK and said.outcome == outcome)
    sheet.choosable(Entry(tuple(told), LINK, outcome), begins)


def _beside_links(findings: Findings) -> Iterable[str]:
    """What must stand beside the links, once, but for what is listed further down."""
    from tracker.analysis.statements import remarks_on

    remarks = [remark for lag in findings.lags for remark in remarks_on(lag)]
    beside = [text for said in findings.statements if said.topic == "lags" for text in said.beside]
    by_hand = [wording.BY_CHANCE_AS_MUCH] if findings.chosen else []
    texts = {said.text for said in findings.statements}
    return dict.fromkeys(text for text in (*by_hand, *remarks, *beside) if text not in texts)


def link_blocks(findings: Findings, scales: Scales, palette: Palette) -> list[Block]:
    """Sleep first, then mood first, each for mood and the anxious mark; none where nothing is counted."""
    counts = findings.counts
    if counts is None or not findings.lags:
        return []
    fills = _bar_fills(counts, scales, palette)
    heads = ((True, "Sleep first, then mood"), (False, "Mood first, then sleep"))
    blocks = [
        Block(head, tuple(_part(findings, counts, lag, fills, sleep_first=first) for lag in findings.lags))
        for first, head in heads
    ]
    return [blocks[0], *(_without(block, blocks[0]) for block in blocks[1:])]


def _without(block: Block, first: Block) -> Block:
    """A block without the sentences that stand in the first one."""
    told = {part.sentence for part in first.parts}
    parts = (part._replace(sentence="") if part.sentence in told else part for part in block.parts)
    return block._replace(parts=tuple(parts))


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
    return Part(said.verdict or "" if said else "", said.text if said else "", bars)


def lag_groups(findings: Findings, outcome: str, *, short: bool) -> list[LagGroup]:
    """A day's outcome with earlier sleeps, and its sleep with earlier days; nothing where no link is told.

    Parameters
    ----------
    short
        Whether rows are named in few letters.
    """
    found = next((lag for lag in findings.lags if lag.outcome == outcome), None)
    if found is None or findings.waits or all(row.beyond_own_past is None for row in found.rows):
        return []
    sides = (
        (wording.OUTCOMES[outcome].removeprefix("the "), [row for row in found.rows if row.lag >= 0]),
        ("sleep", [row for row in reversed(found.rows) if row.lag < 0]),
    )
    return [
        LagGroup(
            f"A day's {name} with ...",
            _notes(found, rows),
            tuple(_bar(row, outcome, short=short) for row in rows),
        )
        for name, rows in sides
    ]


def _notes(found: LagFinding, rows: Sequence[LagRow]) -> tuple[str, ...]:
    """The pairs of days and p of the surest lag of a side."""
    surest = min(rows, key=lambda row: (2.0 if row.p is None else row.p, abs(row.lag)))
    return wording.pairs_and_chance(surest.pairs, surest.p, found.level)


def _bar(row: LagRow, outcome: str, *, short: bool) -> LagBar:
    label = wording.set_beside(row.lag, outcome, short=short)
    smallest = row.smallest if row.verdict else None
    return LagBar(label, row.beyond_own_past, row.low, row.high, smallest, row.verdict == "shown")


# --- changes -----------------------------------------------------------------------------------------------


def _put_changes(sheet: _Sheet, findings: Findings) -> None:
    """The changes, the newest first."""
    from tracker.analysis.counts_statements import change_statements

    wide = sheet.width >= WIDE_FROM
    newest_first = findings.changes[::-1]
    with_nights = any(any(found.nights) for found in newest_first)
    limit = f"{findings.counts.limit:g}" if findings.counts else ""
    short, nights = (f"under {limit} h", "nights") if wide else (f"<{limit} h", "N")
    names = ["low", "anxious", short, *[nights] * with_nights]
    rows = [change_rows(found, wide=wide, with_nights=with_nights) for found in newest_first]
    head, drawn = draw_changes(names, rows, sheet.palette, sheet.width)
    sheet.head(CHANGES, NOT_JUDGED)
    sheet.put(head)
    for found, change in zip(newest_first, drawn, strict=True):
        begins = sheet.rows
        sheet.put(change)
        sheet.choosable(Entry(tuple(change_statements([found])), ("changes",), ""), begins)
    sheet.text(counts_wording.MOVES_WITH_A_DATE, sheet.palette.quiet)


def change_rows(found: BeforeAfter, *, wide: bool, with_nights: bool) -> ChangeRows:
    """The days before and after one change, and how many other places of the record differ as much."""
    from tracker.analysis.dated_changes import OUTCOMES

    day, named = short_date(found.change.day), found.change.words
    if not found.cuts:
        why = counts_wording.NOT_KEPT_WELL if found.window else counts_wording.TOO_NEAR
        return ChangeRows(day, named, (), words.sentence(why))
    cuts = {cut.outcome: cut for cut in found.cuts}
    listed = [cuts.get(outcome) for outcome in OUTCOMES]
    before, after = ([(f"{nights}", "")] * with_nights for nights in found.nights)
    labels = (
        (f"{found.window} days before", f"{found.window} from that day on", "other places as far apart")
        if wide
        else ("before", "after", "others")
    )
    rows = [
        TableRow(labels[0], (*(_cell(cut and cut.before, wide=wide) for cut in listed), *before)),
        TableRow(labels[1], (*(_cell(cut and cut.after, wide=wide) for cut in listed), *after)),
    ]
    places = [cut and cut.as_large is not None and (cut.as_large, cut.places) for cut in listed]
    if any(places):
        cells = [_cell(place or None, wide=wide) for place in places]
        rows.append(TableRow(labels[2], (*cells, *[("", "")] * with_nights)))
    return ChangeRows(day, named, tuple(rows), " ".join(_notes_on(found)))


def _cell(tally: Count | tuple[int, int] | None, *, wide: bool) -> TableCell:
    if tally is None:
        return ("", "-")
    number, of = tally
    return (f"{number}", f" of {of}" if wide else f"/{of}")


def _notes_on(found: BeforeAfter) -> Iterator[str]:
    from tracker.analysis.dated_changes import OUTCOMES

    if len(found.cuts) < len(OUTCOMES):
        yield f"-: {counts_wording.NOT_KEPT_WELL}"
    if any(cut.uneven for cut in found.cuts):
        yield counts_wording.UNEVENLY_KEPT


# --- all others --------------------------------------------------------------------------------------------


def _put_others(sheet: _Sheet, findings: Findings, opening: Sequence[Statement]) -> None:
    """What has a verdict, and under another head what has none."""
    from tracker.analysis.statements import told_together

    others = [
        said
        for said in told_together(findings)
        if said.topic not in ("lags", "counts", "changes") and said not in opening
    ]
    also = [said for said in others if said.verdict]
    if also:
        sheet.head(ALSO)
        _put_statements(sheet, also)
        texts = {said.text for said in findings.statements}
        beside = dict.fromkeys(text for said in also for text in said.beside if text not in texts)
        sheet.text(" ".join(beside), sheet.palette.quiet)
    sheet.head(ABOUT)
    sheet.text(findings.standing(), sheet.palette.quiet)
    _put_statements(sheet, [said for said in others if not said.verdict])


def _put_statements(sheet: _Sheet, statements: Iterable[Statement]) -> None:
    column = VERDICT_WIDTH if sheet.width >= VERDICT_BESIDE_FROM else INDENT
    for said in statements:
        begins = sheet.rows
        sheet.put(draw_said(said.verdict or "", said.text, sheet.palette, sheet.width, column))
        sheet.choosable(Entry((said,), (said.topic,), said.outcome), begins)
