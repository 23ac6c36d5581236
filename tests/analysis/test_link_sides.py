"""What is said of each side of a link by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.simulated import as_days, planted, simulate
from tracker.analysis import wording
from tracker.analysis.findings import find
from tracker.analysis.results import LagFinding
from tracker.analysis.statements import lag_statements, side_statement
from tracker.diary.choices import Choices

SIDES = (True, False)


@pytest.fixture(scope="module")
def shown() -> LagFinding:
    """Mood and sleep over a year and a half in which longer sleep is followed by higher mood."""
    days = as_days(simulate(planted(0.6, 0), 550, np.random.default_rng(1)))
    return next(lag for lag in find(days, Choices(), as_of=days[-1].date).lags if lag.outcome == "mood")


def test_a_side_says_of_itself_what_is_said_of_both_where_a_link_is_shown(shown: LagFinding) -> None:
    assert [side_statement(shown, sleep_first=side) for side in SIDES] == lag_statements(shown)


def test_where_nothing_is_shown_each_side_says_so_of_its_own_sleep(shown: LagFinding) -> None:
    rows = tuple(replace(row, verdict="not shown") for row in shown.rows)
    told = [
        side_statement(replace(shown, verdict="not shown", rows=rows), sleep_first=side) for side in SIDES
    ]
    assert [(said.verdict, said.lag, said.text.split(";")[0]) for said in told if said] == [
        ("not shown", 0, "Mood is not shown to go with the sleep before it"),
        ("not shown", -1, "Mood is not shown to go with the sleep after it"),
    ]


def test_what_cannot_be_judged_is_said_on_both_sides(shown: LagFinding) -> None:
    unjudged = replace(shown, verdict=None, unjudged="skipped days")
    told = [side_statement(unjudged, sleep_first=side) for side in SIDES]
    assert [said.text for said in told if said] == [wording.SKIPPED_DAYS] * 2


def test_days_that_are_only_counted_say_nothing(shown: LagFinding) -> None:
    counted = replace(shown, verdict=None, unjudged=None)
    assert [side_statement(counted, sleep_first=side) for side in SIDES] == [None, None]
