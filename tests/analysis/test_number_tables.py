"""The numbers behind findings as text: one set of rules for the command and the screen.

Common practice, no source: a sign before a correlation, two digits of a p-value, a dash for what is missing.
"""

import re
from dataclasses import replace
from datetime import timedelta
from functools import cache

import numpy as np
import pytest

from tests.simulated import FIRST, as_days, planted, simulate
from tracker.analysis import wording
from tracker.analysis.findings import find
from tracker.analysis.groups import Which
from tracker.analysis.number_tables import WIDTH, NumberTable, tables_behind
from tracker.analysis.results import TOPICS, Findings
from tracker.cells import text_width
from tracker.diary.choices import Choices

CORRELATION = re.compile(r"[+-]\d\.\d\d")


@cache
def found(days: int = 800, *, by_hand: bool = False) -> Findings:
    last = FIRST + timedelta(days=days - 1)
    series = simulate(planted(0.5, 0, rota=1), days, np.random.default_rng(1))
    return find(as_days(series), Choices(), as_of=last, chosen=(FIRST, last) if by_hand else None)


def lines(findings: Findings, topic: str, outcome: str = "") -> list[str]:
    return [line for table in tables_behind(findings, topic, outcome) for line in table.lines()]  # type: ignore[arg-type]


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("days", [1, 30, 130, 800, 1500])
def test_every_line_fits_a_terminal_of_eighty(days: int, topic: str) -> None:
    told = lines(found(days), topic)
    assert told
    assert max(map(len, told)) <= WIDTH < 80


def test_a_correlation_has_its_sign_and_a_shown_one_its_star() -> None:
    row = next(row for row in found().lags[0].rows if row.lag == 0)
    line = next(line for line in lines(found(), "lags", "mood") if line.startswith("the sleep before"))
    assert row.beyond_own_past is not None
    assert f" {row.beyond_own_past:+.2f} " in line
    assert (row.verdict, line[-1]) == ("shown", "*")


def test_nights_of_a_run_and_quick_returns_are_counted_and_say_what_else_they_follow() -> None:
    told = " ".join(lines(found(), "shifts"))
    assert told.count("Counted, not judged. A later night also follows a night;") == 2


@pytest.mark.parametrize("named", [("day",), ("day", "day before"), ()])
def test_of_kinds_of_shift_a_star_stands_beside_what_is_named(named: tuple[Which, ...]) -> None:
    sleep = next(group for group in found().groups if group.outcome == "sleep")
    told = lines(replace(found(), groups=(replace(sleep, named=named),)), "shifts", "sleep")
    of_days = [line for line in told if "by that of the " in line]
    starred = [line.split("by that of the ")[1].split("  ")[0] for line in of_days if line[-1] == "*"]
    assert starred == list(named)


def test_the_counts_side_by_side_are_those_of_the_findings() -> None:
    counts = found().counts
    assert counts is not None
    rows = [line.split() for line in lines(found(), "counts") if line.startswith("under 6 h")]
    short = counts.after_sleep[0]
    assert rows[0][3] == f"{short.low.number}/{short.low.of}"


def test_a_p_value_is_the_one_of_the_sentence() -> None:
    said = {
        (statement.topic, statement.outcome, p)
        for statement in found().statements
        for p in re.findall(r"p (?:= )?(< 0\.001|[\d.e-]*\d)", statement.numbers)
    }
    told = {
        (topic, outcome, cell)
        for topic, outcome, _ in said
        for line in lines(found(), topic, outcome)
        for cell in re.split(r"\s{2,}", line)
    }
    assert len(said) > 1
    assert said <= told


def test_groups_and_waves_have_tables_of_their_own() -> None:
    heads = [table.title for topic in TOPICS for table in tables_behind(found(), topic)]
    assert heads[:2] == ["Mood and sleep: rank correlations", "Anxious mark and sleep: rank correlations"]
    assert heads.count("Groups of days: permutation tests") == 2
    assert "Time of year: yearly waves, in steps of the scale" in heads


@pytest.mark.parametrize("by_hand", [False, True])
def test_before_the_first_verdict_there_are_pairs_and_nothing_made_of_them(by_hand: bool) -> None:
    """Also of days that were chosen by hand: they are no more than those of the whole record."""
    findings = found(60, by_hand=by_hand)
    told = lines(findings, "lags")
    assert findings.lags[0].rows[7].unadjusted is not None
    assert [line for line in told if CORRELATION.search(line)] == []
    assert " ".join(told).count(wording.no_correlations_yet("1 May 2023")) == 2
    assert f"the sleep before {findings.lags[0].rows[7].pairs}" in [" ".join(line.split()) for line in told]


def test_days_chosen_by_hand_have_numbers_under_a_warning() -> None:
    told = lines(found(by_hand=True), "lags", "mood")
    assert told[1] == wording.BY_CHANCE_AS_MUCH
    assert any(CORRELATION.search(line) for line in told)


def test_anxious_days_are_counted_beside_the_moods() -> None:
    tables = tables_behind(found(), "weekdays", "anxious")
    table = next(table for table in tables if "Weekdays" in table.title)
    row = next(row for row in found().weekdays if row.outcome == "mood")
    assert table.head[-1] == "anxious"
    assert table.rows[0][-1] == f"{row.anxious}/{row.anxious_noted}"


def test_wide_letters_in_a_name_shift_no_column() -> None:
    """A wide letter takes two cells of a terminal: Unicode Standard Annex #11, East Asian Width."""
    day, *others = found().weekdays
    renamed = replace(found(), weekdays=(replace(day, name="\u65e5\u672c\u8a9e"), *others))
    _, (_, *lines), *_ = (table.lines() for table in tables_behind(renamed, "weekdays", "mood"))
    ends = {text_width(line[: line.index("/")]) for line in lines if re.search(r"\d/\d", line)}
    assert len(ends) == 1


@pytest.mark.parametrize(
    ("lag", "label"),
    [
        (0, "the sleep before"),
        (-1, "the sleep after"),
        (-3, "mark 3 days before"),
        (1, "sleep 1 day before"),
    ],
)
def test_a_lag_is_called_by_what_comes_first(lag: int, label: str) -> None:
    assert wording.what_comes_first(lag, "anxious") == label


def test_where_columns_have_no_room_each_number_stands_behind_its_name() -> None:
    table = NumberTable(
        "x",
        ("", "pairs", "95 %     ", "p", ""),
        (
            ("the sleep before", "615", "+0.17 to +0.33", "< 0.001", "*"),
            ("mood 7 days before", "9", "-", "-", ""),
        ),
        "",
    )
    assert table.width == 20 + 7 + 16 + 9 + 3
    assert list(table.listed(30)) == [
        "the sleep before",
        "  pairs 615, 95 % +0.17 to",
        "  +0.33, p < 0.001, *",
        "mood 7 days before",
        "  pairs 9, 95 % -, p -",
    ]
