"""How findings stand on the screen, drawn without one, from a record with a planted link."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta

import pytest
from textual.app import App, ComposeResult

from tracker import words
from tracker.analysis import wording
from tracker.analysis.findings import find
from tracker.analysis.number_tables import tables_behind
from tracker.analysis.results import Findings, Statement
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_SCALES, DEFAULT_SLEEP
from tracker.diary.settings import Settings
from tracker.grids.palette import Palette
from tracker.grids.themes import load_theme
from tracker.screens.findings_screen import chosen_days
from tracker.screens.findings_view import (
    ABOUT,
    ALSO,
    LINKS,
    StatementList,
    draw_detail,
    link_blocks,
    pairs_line,
    prompt,
    verdict_of,
)

FIRST = date(2025, 1, 1)
DAYS = 400


@pytest.fixture(scope="module")
def findings() -> Findings:
    """Four hundred days on which mood follows the sleep before, one level up or down."""
    chance = random.Random(7)  # noqa: S311
    days = []
    for number in range(DAYS):
        sleep = chance.randint(2, 7)
        mood = min(max(round(sleep / 2) + chance.choice((-1, 0, 1)), 1), 5)
        at = FIRST + timedelta(days=number)
        days.append(Day(at, Square(f"mood5-{mood}"), Square(f"sleep8-{sleep}")))
    no_shifts = Choices(settings=Settings(works_shifts=False))
    return find(days, no_shifts, as_of=FIRST + timedelta(days=DAYS - 1))


class Listing(App[None]):
    """The list of statements alone."""

    def __init__(self, findings: Findings, palette: Palette) -> None:
        super().__init__()
        self.findings = findings
        self.palette = palette

    def compose(self) -> ComposeResult:
        yield StatementList()

    def on_mount(self) -> None:
        self.query_one(StatementList).show(self.findings, DEFAULT_SCALES, self.palette, 90)


def place_of_head(statement: Statement) -> int:
    return 0 if statement.topic == "lags" else 1 if statement.verdict else 2


@pytest.fixture
def palette() -> Palette:
    return Palette(load_theme("wenfold-dusk"))


def test_the_head_says_as_of_when_next_and_on_what(findings: Findings) -> None:
    assert findings.standing() == (
        "As of 4 February 2026. Verdicts of 31 December 2025. Next verdicts on 31 December 2026; "
        "35 days kept since then wait for them. Looked at from 1 January 2025 to 31 December 2025: of 365 "
        "days, mood kept on 365, sleep on 365, both on 365."
    )


def test_every_statement_begins_with_its_verdict_and_stands_whole(findings: Findings) -> None:
    for statement in findings.statements:
        lines = prompt(statement, statement.text, 80).plain.splitlines()
        assert " ".join(" ".join(lines).split()) == f"{verdict_of(statement)} {statement.text}".strip()
        if statement.verdict:
            assert lines[0].startswith(f"{verdict_of(statement):<17}{statement.text[:30]}")
            assert all(line.startswith(" " * 17) for line in lines[1:])


async def test_statements_stand_under_their_heads(findings: Findings, palette: Palette) -> None:
    async with Listing(findings, palette).run_test(size=(100, 30)) as pilot:
        listed = pilot.app.query_one(StatementList)
        under: dict[str, list[Statement]] = {}
        head = ""
        for option in listed.options:
            text = str(option.prompt).strip()
            head = text if text in (LINKS, ALSO, ABOUT) else head
            if option.id:
                under.setdefault(head, []).append(findings.statements[int(option.id)])
    assert [s for said in under.values() for s in said] == sorted(findings.statements, key=place_of_head)
    assert {s.topic for s in under[LINKS]} == {"lags"}
    assert {s.verdict for s in under[ALSO]} <= {"shown", "not shown", "too little kept"}
    assert {s.verdict for s in under[ABOUT]} == {None}


async def test_a_sentence_of_a_block_stands_in_the_list_by_name_and_with_what_belongs_beside_it(
    findings: Findings, palette: Palette
) -> None:
    async with Listing(findings, palette).run_test(size=(100, 30)) as pilot:
        texts = [str(option.prompt) for option in pilot.app.query_one(StatementList).options]
    assert "shown            Mood: sleep first, then mood" in texts
    assert sum(findings.statements[0].text[:40] in text for text in texts[1:]) == 0
    assert any(wording.NOT_THE_CAUSE in text and wording.AS_NOTED in text for text in texts)
    assert findings.standing() in texts


def test_each_side_has_its_verdict_its_sentence_and_two_counts(findings: Findings, palette: Palette) -> None:
    counts = findings.counts
    assert counts is not None
    sleep_first, mood_first = link_blocks(findings, DEFAULT_SCALES, palette)
    before_it, after_it = (block.parts[0] for block in (sleep_first, mood_first))
    link = findings.statements[0]
    assert (before_it.verdict, before_it.sentence) == ("shown", link.text)
    assert (after_it.verdict, after_it.sentence[:42]) == (
        "not shown",
        "Mood is not shown to go with the sleep aft",
    )
    told = [[(bar.label, (bar.number, bar.of)) for bar in part.counts] for part in (before_it, after_it)]
    before, after = counts.comparison("low", "short sleep"), counts.comparison("short sleep", "low day")
    assert told == [
        [("low days after under 6 h", before.there), ("low days after 6 h or more", before.elsewhere)],
        [("<6 h after a low day", after.there), ("<6 h after another day", after.elsewhere)],
    ]


def test_bars_have_the_colour_of_the_highest_level_that_is_counted(findings: Findings) -> None:
    palette = Palette(load_theme("wenfold-dusk"), "truecolor")
    parts = [part for block in link_blocks(findings, DEFAULT_SCALES, palette) for part in block.parts]
    fills = [{bar.fill for bar in part.counts} for part in parts]
    low, anxious = (palette.fill("mood", place, 5).ground for place in (1, 0))
    short = palette.fill("sleep", DEFAULT_SLEEP.levels.index(DEFAULT_SLEEP.level_for_hours(5.5)), 8).ground
    assert fills == [{low}, {anxious}, {short}, {short}]


def test_counts_of_under_ten_pairs_have_no_bar(findings: Findings, palette: Palette) -> None:
    blocks = link_blocks(findings, DEFAULT_SCALES, palette)
    bars = [bar for block in blocks for part in block.parts for bar in part.counts]
    assert [bar.has_bar for bar in bars] == [bar.of >= 10 for bar in bars]
    assert {bar.has_bar for bar in bars} == {True, False}


def test_before_the_first_verdict_sides_are_counted_without_bars(
    findings: Findings, palette: Palette
) -> None:
    lags = tuple(replace(lag, verdict=None, unjudged=None) for lag in findings.lags)
    young = replace(findings, waits=True, lags=lags)
    parts = [part for block in link_blocks(young, DEFAULT_SCALES, palette) for part in block.parts]
    assert {(part.verdict, part.sentence) for part in parts} == {("", "Counted, not judged.")}
    assert not any(bar.has_bar for part in parts for bar in part.counts)


def test_a_shown_link_has_its_effect_interval_and_pairs(findings: Findings) -> None:
    link = findings.statements[0]
    low, high = link.interval or (0.0, 0.0)
    assert link.verdict == "shown"
    assert (
        pairs_line(findings, link)
        == f"correlation with the sleep before {link.effect:+.2f} (95 %: {low:+.2f} to {high:+.2f}), "
        "365 pairs of days"
    )


def test_the_picture_has_a_bar_for_each_lag_where_there_is_room(findings: Findings, palette: Palette) -> None:
    canvas = draw_detail(findings, findings.statements[0], DEFAULT_SCALES, palette, 80)
    labels = [line[:24].strip() for line in canvas.lines()[:15]]
    assert labels == [
        *(f"mood {days} days before" for days in range(7, 1, -1)),
        words.SLEEP_AFTER,
        words.SLEEP_BEFORE,
        "sleep 1 day before",
        *(f"sleep {days} days before" for days in range(2, 8)),
    ]


def test_every_statement_can_be_drawn(findings: Findings, palette: Palette) -> None:
    for statement in findings.statements:
        canvas = draw_detail(findings, statement, DEFAULT_SCALES, palette, 60)
        assert canvas.width == 60


def test_before_the_first_verdict_nothing_on_the_screen_looks_like_a_link(palette: Palette) -> None:
    chance = random.Random(7)  # noqa: S311
    days = [
        Day(FIRST + timedelta(days=n), Square(f"mood5-{level}"), Square(f"sleep8-{level + 1}"))
        for n, level in enumerate(chance.choices(range(1, 6), k=100))
    ]
    young = find(days, Choices(settings=Settings(works_shifts=False)), as_of=days[-1].date)
    link = Statement(topic="lags", outcome="mood", verdict=None, text="", effect=1.0, lag=0, pairs=100)
    assert [statement for statement in young.statements if statement.topic == "lags"] == []
    assert young.lags[0].row(0).beyond_own_past == pytest.approx(1)
    assert pairs_line(young, link) == "100 pairs of days"
    tables = tables_behind(young, "lags", link.outcome)
    assert not any("1.00" in line for table in tables for line in table.lines())
    drawn = draw_detail(young, link, DEFAULT_SCALES, palette, 80).lines()
    assert all("too little kept" in line for line in drawn[:15])


def test_months_weekdays_and_lags_each_have_a_picture(findings: Findings, palette: Palette) -> None:
    drawn = {
        statement.topic: draw_detail(findings, statement, DEFAULT_SCALES, palette, 60).lines()
        for statement in findings.statements
    }
    assert len(drawn["lags"]) == 18
    assert [line.split()[0] for line in drawn["seasons"]][:3] == ["Mood", "2025-01", "2025-02"]
    assert [line.split()[0] for line in drawn["weekdays"]][:2] == ["Monday", "Tuesday"]


def test_periods_are_days() -> None:
    today, picked = date(2026, 3, 17), (date(2026, 1, 1), date(2026, 1, 31))
    assert [
        chosen_days(name, today, picked) for name in ("all days", "this year", "from a day to a day")
    ] == [
        None,
        (date(2026, 1, 1), None),
        picked,
    ]
