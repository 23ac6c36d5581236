"""How findings stand on the screen, drawn without one, from a record with a planted link."""

from __future__ import annotations

import random
from datetime import date, timedelta

import pytest

from tracker import words
from tracker.analysis.findings import find
from tracker.analysis.number_tables import tables_behind
from tracker.analysis.results import Findings, Statement
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_SCALES
from tracker.diary.settings import Settings
from tracker.grids.palette import Palette
from tracker.grids.themes import load_theme
from tracker.screens.findings_screen import chosen_days
from tracker.screens.findings_view import (
    draw_detail,
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


@pytest.fixture
def palette() -> Palette:
    return Palette(load_theme("wenfold-dusk"))


def test_the_head_says_as_of_when_next_and_on_what(findings: Findings) -> None:
    assert findings.standing() == (
        "As of 4 February 2026. Verdicts of 31 December 2025. Next verdicts on 31 December 2026; "
        "35 days kept since then wait for them. Looked at from 1 January 2025 to 31 December 2025: of 365 "
        "days, mood kept on 365, sleep on 365, both on 365."
    )


def test_every_statement_begins_with_its_verdict(findings: Findings) -> None:
    for statement in findings.statements:
        assert prompt(statement, wide=False).plain == f"{verdict_of(statement):<17}{statement.text}"


def test_where_there_is_room_every_sentence_stands_whole_under_its_verdict(findings: Findings) -> None:
    for statement in findings.statements:
        assert prompt(statement, wide=True).plain == f"{verdict_of(statement)}\n{statement.text}\n"


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
    canvas = draw_detail(findings, findings.statements[0], DEFAULT_SCALES, palette, 80, 17)
    labels = [line[:24].strip() for line in canvas.lines()[:15]]
    assert labels == [
        *(f"mood {days} days before" for days in range(7, 1, -1)),
        words.SLEEP_AFTER,
        words.SLEEP_BEFORE,
        "sleep 1 day before",
        *(f"sleep {days} days before" for days in range(2, 8)),
    ]


def test_where_there_is_little_room_the_nearest_lags_stay(findings: Findings, palette: Palette) -> None:
    canvas = draw_detail(findings, findings.statements[0], DEFAULT_SCALES, palette, 80, 5)
    assert [line[:24].strip() for line in canvas.lines()[:2]] == [words.SLEEP_AFTER, words.SLEEP_BEFORE]
    assert canvas.height <= 5


def test_every_statement_can_be_drawn(findings: Findings, palette: Palette) -> None:
    for statement in findings.statements:
        canvas = draw_detail(findings, statement, DEFAULT_SCALES, palette, 60, 12)
        assert canvas.width == 60
        assert (canvas.height <= 12) or statement.topic != "lags"


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
    drawn = draw_detail(young, link, DEFAULT_SCALES, palette, 80, 20).lines()
    assert all("too little kept" in line for line in drawn[:15])


def test_months_weekdays_and_lags_each_have_a_picture(findings: Findings, palette: Palette) -> None:
    drawn = {
        statement.topic: draw_detail(findings, statement, DEFAULT_SCALES, palette, 60, 99).lines()
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
