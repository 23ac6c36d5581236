"""What the findings say on the page: plain sentences, and always what could not have been seen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, keep
from tracker import demo
from tracker.analysis.findings import find
from tracker.analysis.results import Findings, GroupFinding, LagFinding
from tracker.summary.page import Said
from tracker.summary.said import said_by


@pytest.fixture(scope="module")
def two_years(tmp_path_factory: pytest.TempPathFactory) -> Findings:
    """The findings of the invented record."""
    from tracker.record.store import Record

    last = date(2026, 3, 15)
    with Record.open(tmp_path_factory.mktemp("said") / "record.sqlite", CLOCK) as record:
        demo.fill(record, last)
        return find(record.days().values(), record.choices(), as_of=TODAY, clock=CLOCK)


def with_lag(findings: Findings, **changed: object) -> Findings:
    mood, *others = findings.lags
    return replace(findings, lags=(replace(mood, **changed), *others))  # type: ignore[arg-type]


def test_the_planted_link_is_shown_and_two_years_make_no_season(two_years: Findings) -> None:
    said = said_by(two_years)
    assert said.statements[0] == (
        "Shown: after longer sleep the day's mood tended to be higher, yesterday's mood, weekday, shift and "
        f"slow changes allowed for. Of 100 pairs of days unlike in both, in {two_years.lags[0].in_a_hundred} "
        "the better day had the longer sleep before it (50 would mean no link), counted as they stand."
    )
    assert said.statements[-1].startswith(
        "Not shown: mood and the sleep after it; the anxious mark and sleep"
    )
    assert said.statements[-1].endswith("Two years are too few to test whether a season comes back.")


def test_it_says_as_of_when_and_when_next(two_years: Findings) -> None:
    said = said_by(two_years)
    assert (said.as_of, said.next_on) == (two_years.verdict_day, two_years.next_verdict_day)


def test_no_coefficient_and_no_p_value_stands_on_the_page(two_years: Findings) -> None:
    text = " ".join(said_by(two_years).statements)
    assert "p =" not in text
    assert "0." not in text
    assert "%" not in text


def test_at_most_four_things_are_shown(two_years: Findings) -> None:
    both = with_lag(two_years, first="both", rows=_all_shown(two_years.lags[0]))
    groups = tuple(replace(group, verdict="shown", p=0.001) for group in both.groups)
    statements = said_by(replace(both, groups=groups)).statements
    assert [text.startswith("Shown: ") for text in statements] == [True] * 4 + [False]


def _all_shown(lag: LagFinding) -> tuple[object, ...]:
    return tuple(replace(row, verdict="shown") for row in lag.rows)


def test_of_two_groupings_by_shift_the_surest_speaks(two_years: Findings) -> None:
    same_day = GroupFinding(
        outcome="mood",
        by="shift of the day",
        days=600,
        p=0.004,
        smallest=0.02,
        verdict="shown",
        too_regular=False,
        lowest="night",
        highest="off",
    )
    day_before = replace(same_day, by="shift of the day before", p=0.0001, lowest="", highest="")
    told = said_by(replace(two_years, groups=(same_day, day_before))).statements
    assert told[1] == "Shown: mood differs with the shift of the day before."
    told = said_by(replace(two_years, groups=(same_day,))).statements
    assert told[1] == "Shown: mood differs with the shift: lowest on night, highest on off."


def test_a_link_that_rests_on_late_entries_says_so(two_years: Findings) -> None:
    told = said_by(with_lag(two_years, verdict_without_remembered="not shown")).statements[0]
    assert told.endswith("Without the entries made late it is not shown.")


def test_before_the_first_verdict_nothing_is_said_to_be_there_or_not() -> None:
    findings = find(
        keep(mood=40 * "12345", sleep="").values(), CHOICES, as_of=TODAY - timedelta(150), clock=CLOCK
    )
    assert said_by(findings).statements == (
        "Nothing is shown so far, and nothing could have been seen: too little is kept. The first verdict is "
        "on 27 December 2025. Less than a year cannot show a season.",
    )


def test_an_empty_record_has_a_sentence_too() -> None:
    said = said_by(find([], CHOICES, as_of=TODAY, clock=CLOCK))
    assert said == Said(
        (
            "Nothing is shown so far, and nothing could have been seen: too little is kept. "
            "Less than a year cannot show a season.",
        ),
        TODAY,
    )


def test_a_mood_that_never_changes_is_too_little_not_no_link() -> None:
    days = keep(mood=200 * "3", sleep=100 * "67", anxious=200 * "n")
    (told,) = said_by(find(days.values(), CHOICES, as_of=TODAY, clock=CLOCK)).statements
    assert "Too little kept to say: mood and sleep; the anxious mark and sleep." in told
