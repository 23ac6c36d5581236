"""Walking through the page of findings, and one of them by itself, drawn without a screen."""

from __future__ import annotations

from datetime import date

import pytest

from tests.screens.test_findings_page import drawn, planted
from tracker import words
from tracker.analysis.number_tables import tables_behind
from tracker.analysis.results import Findings, Statement
from tracker.diary.scales import DEFAULT_SCALES
from tracker.grids.palette import Palette
from tracker.grids.themes import load_theme
from tracker.screens.findings_page import Entry
from tracker.screens.findings_screen import chosen_days
from tracker.screens.findings_view import (
    chosen_in,
    draw_detail,
    pairs_line,
    told,
    top_to_see,
)


@pytest.fixture(scope="module")
def findings() -> Findings:
    return planted()


@pytest.fixture
def palette() -> Palette:
    return Palette(load_theme("wenfold-dusk"))


def alone(statement: Statement) -> Entry:
    return Entry((statement,), (statement.topic,), statement.outcome)


@pytest.mark.parametrize(
    ("rows", "window", "top"),
    [
        (range(5, 8), range(0, 10), 0),  # it is seen: nothing moves
        (range(9, 12), range(0, 10), 2),  # down so far that its end is seen
        (range(3, 6), range(5, 15), 3),  # up to its beginning
        (range(10, 40), range(0, 10), 1),  # taller than the window: its first row
        (range(0, 30), range(35, 45), 29),  # its last row
        (range(0, 30), range(12, 22), 12),  # a part of it is seen: nothing moves
    ],
)
def test_the_window_moves_no_further_than_it_must(rows: range, window: range, top: int) -> None:
    assert top_to_see(rows, window) == top


@pytest.mark.parametrize(
    ("chosen", "window", "then"),
    [(1, range(0, 15), 1), (0, range(12, 16), 1), (2, range(0, 9), 0), (2, range(16, 19), 2)],
)
def test_what_is_chosen_is_seen_if_anything_is(chosen: int, window: range, then: int) -> None:
    assert chosen_in([range(0, 10), range(11, 14), range(20, 22)], chosen, window) == then


def test_the_head_says_as_of_when_next_and_on_what(findings: Findings) -> None:
    assert findings.standing() == (
        "As of 4 February 2026. Verdicts of 31 December 2025. Next verdicts on 31 December 2026; "
        "35 days kept since then wait for them. Looked at from 1 January 2025 to 31 December 2025: of 365 "
        "days, mood kept on 365, sleep on 365, both on 365."
    )


def test_a_link_by_itself_says_both_sides_its_counts_what_stands_beside_and_what_verdicts_mean(
    findings: Findings, palette: Palette
) -> None:
    link = drawn(findings, palette).entries[0]
    text = told(link, palette).plain
    shown, other, *counts = link.statements
    assert text.startswith(f"Shown. {shown.text}\n\nNot shown. {other.text}\n\n{counts[0].text}")
    assert all(text.count(beside) == 1 for said in link.statements for beside in said.beside)
    assert text.endswith(words.VERDICTS_MEAN)
    assert {said.topic for said in counts} == {"counts"}


def test_what_has_no_verdict_says_nothing_of_verdicts(findings: Findings, palette: Palette) -> None:
    last = drawn(findings, palette).entries[-1]
    assert told(last, palette).plain == last.statements[0].text


def test_a_shown_link_has_its_effect_interval_and_pairs(findings: Findings) -> None:
    link = findings.statements[0]
    low, high = link.interval or (0.0, 0.0)
    assert link.verdict == "shown"
    assert (
        pairs_line(findings, link)
        == f"correlation with the sleep before {link.effect:+.2f} (95 %: {low:+.2f} to {high:+.2f}), "
        "365 pairs of days"
    )


@pytest.mark.parametrize("width", [35, 60, 117])
def test_every_statement_can_be_drawn(findings: Findings, palette: Palette, width: int) -> None:
    for statement in findings.statements:
        assert draw_detail(findings, alone(statement), DEFAULT_SCALES, palette, width).width == width


def test_before_the_first_verdict_no_number_tells_of_a_link() -> None:
    young = planted(100)
    link = Statement(topic="lags", outcome="mood", verdict=None, text="", effect=1.0, lag=0, pairs=100)
    assert [statement for statement in young.statements if statement.topic == "lags"] == []
    assert pairs_line(young, link) == "100 pairs of days"
    effect = f"{young.lags[0].row(0).beyond_own_past:+.2f}"
    assert not any(effect in line for table in tables_behind(young, "lags") for line in table.lines())


def test_months_and_weekdays_each_have_a_picture(findings: Findings, palette: Palette) -> None:
    drawn_of = {
        said.topic: draw_detail(findings, alone(said), DEFAULT_SCALES, palette, 60).lines()[1:]
        for said in findings.statements
    }
    assert [line.split()[0] for line in drawn_of["seasons"]][:3] == ["Mood", "2025-01", "2025-02"]
    assert [line.split()[0] for line in drawn_of["weekdays"]][1:3] == ["Monday", "Tuesday"]


def test_periods_are_days() -> None:
    today, picked = date(2026, 3, 17), (date(2026, 1, 1), date(2026, 1, 31))
    assert [
        chosen_days(name, today, picked) for name in ("all days", "this year", "from a day to a day")
    ] == [
        None,
        (date(2026, 1, 1), None),
        picked,
    ]
