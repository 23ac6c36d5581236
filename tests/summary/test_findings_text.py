"""What the findings say on the page: plain sentences, and always what could not have been seen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, keep
from tracker import demo
from tracker.analysis.findings import find
from tracker.analysis.results import Ends, Findings, Group, GroupFinding, LagFinding
from tracker.summary.findings_text import said_by
from tracker.summary.page_model import Said


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
        f"slow changes allowed for. In {two_years.lags[0].in_a_hundred} of 100 pairs of days that differ in "
        "both, the better day had the longer sleep before it (50 would mean no link), counted as they stand."
    )
    assert said.statements[-1].startswith(
        "Not shown: mood and the sleep after it; the anxious mark and sleep"
    )
    assert said.statements[-1].endswith("Two years are too few to test whether a season comes back.")


def test_it_says_as_of_when_and_when_next(two_years: Findings) -> None:
    said = said_by(two_years)
    assert (said.as_of, said.next_on) == (two_years.verdict_day, two_years.next_verdict_day)


def test_moods_on_levels_that_went_are_not_said_to_be_too_few_alone(two_years: Findings) -> None:
    kept = replace(two_years.kept, mood=0, both=0, other_moods=335)
    changed = replace(with_lag(two_years, verdict="too little kept"), kept=kept)
    assert (
        "335 moods left out: kept on other levels than those of now, with which they cannot be compared."
    ) in said_by(changed).statements[-1]
    assert "mood kept on 0 (and 335 on other levels, left out)" in changed.standing()


def test_no_coefficient_and_no_p_value_stands_on_the_page(two_years: Findings) -> None:
    text = " ".join(said_by(two_years).statements)
    assert "p =" not in text
    assert "0." not in text
    assert "%" not in text


@pytest.mark.parametrize(
    ("outcome", "lag", "effect", "told"),
    [
        ("mood", 0, 0.3, "Shown: after longer sleep the day's mood tended to be higher, "),
        ("mood", 0, -0.3, "Shown: after longer sleep the day's mood tended to be lower, "),
        ("mood", 2, 0.3, "Shown: 2 days after longer sleep the day's mood tended to be higher, "),
        ("mood", -1, 0.3, "Shown: after a day of better mood the next sleep tended to be longer, "),
        ("mood", -3, -0.3, "Shown: after a day of better mood the sleep 3 days later tended to be shorter, "),
        ("anxious", 0, -0.3, "Shown: after longer sleep fewer days were marked anxious, "),
        ("anxious", -1, -0.3, "Shown: after a day marked anxious the next sleep tended to be shorter, "),
    ],
)
def test_a_link_is_told_from_the_earlier_to_the_later(
    two_years: Findings, outcome: str, lag: int, effect: float, told: str
) -> None:
    link = replace(only_shown(two_years.lags[0], lag, effect), outcome=outcome)
    assert said_by(replace(two_years, lags=(link,))).statements[0].startswith(told)


def only_shown(finding: LagFinding, lag: int, effect: float) -> LagFinding:
    """The finding as it would be if this one lag were shown."""
    rows = tuple(
        replace(row, verdict="shown" if row.lag == lag else "not shown", beyond_own_past=effect)
        for row in finding.rows
    )
    return replace(
        finding,
        verdict="shown",
        first="sleep" if lag >= 0 else "mood",
        strongest=lag,
        rows=rows,
        in_a_hundred=61,
    )


@pytest.mark.parametrize(
    ("lag", "when"),
    [(0, "before it"), (2, "2 days before"), (-1, "after it"), (-3, "3 days later")],
)
def test_pairs_in_a_hundred_say_when_the_sleep_was(two_years: Findings, lag: int, when: str) -> None:
    link = only_shown(two_years.lags[0], lag, 0.3)
    told = said_by(replace(two_years, lags=(link,))).statements[0]
    assert (
        f"In 61 of 100 pairs of days that differ in both, the better day had the longer sleep {when} ("
        in told
    )


@pytest.mark.parametrize(
    ("smallest", "told"),
    [
        (0.15, "A slight link may have been missed."),
        (0.30, "Only a clear or strong link could have been seen."),
        (0.60, "Only a strong link could have been seen."),
    ],
)
def test_it_says_what_could_not_have_been_seen(two_years: Findings, smallest: float, told: str) -> None:
    rows = tuple(replace(row, smallest=smallest) for row in two_years.lags[0].rows)
    lags = tuple(replace(lag, verdict="not shown", rows=rows) for lag in two_years.lags)
    assert told in said_by(replace(two_years, lags=lags)).statements[-1]


def test_a_yearly_course_says_when_it_is_highest_and_what_shows_none_is_named_once(
    two_years: Findings,
) -> None:
    shown = replace(two_years.courses[0], verdict="shown", years=4, peak=(7, 9), peak_within=18)
    others = tuple(replace(course, verdict="not shown", years=4) for course in two_years.courses[1:])
    told = said_by(replace(two_years, courses=(shown, *others))).statements
    assert "Shown: a yearly course of mood over 4 years, highest around 9 July, give or take 18 days." in told
    assert "a yearly course of sleep and the anxious mark" in told[-1]
    assert "season" not in told[-1]


def test_at_most_four_things_are_shown(two_years: Findings) -> None:
    both = with_lag(two_years, first="both", rows=_all_shown(two_years.lags[0]))
    groups = tuple(replace(group, verdict="shown", p=0.001) for group in both.groups)
    statements = said_by(replace(both, groups=groups)).statements
    assert [text.startswith("Shown: ") for text in statements] == [True] * 4 + [False]


def _all_shown(lag: LagFinding) -> tuple[object, ...]:
    return tuple(replace(row, verdict="shown") for row in lag.rows)


GROUPS = GroupFinding(
    outcome="mood",
    by="kinds of shift",
    days=600,
    p=0.004,
    level=0.01,
    smallest=0.02,
    verdict="shown",
    too_regular=False,
    named=("day",),
    p_of={"day": 0.004, "day before": 0.2},
    p_beyond={"day": 0.001, "day before": 0.5},
    ends=(Ends("day", (Group("night", "night"),), (Group("off", "off"),)),),
)


def test_kinds_of_shift_are_said_as_everywhere(two_years: Findings) -> None:
    told = said_by(replace(two_years, groups=(GROUPS,))).statements
    assert told[1] == (
        "Shown: mood differed between kinds of shift, on the day itself; the day before adds nothing that "
        "could be told apart. Lowest on night and highest on off."
    )


def test_a_comparison_counts_by_its_best_verdict(two_years: Findings) -> None:
    told = said_by(
        replace(
            two_years,
            groups=(
                GROUPS,
                replace(GROUPS, outcome="sleep", verdict="not shown"),
                replace(GROUPS, outcome="anxious", by="weekday", verdict="too little kept"),
                replace(GROUPS, by="weekday", verdict=None),
            ),
        )
    ).statements[-1]
    assert "; shifts (sleep)." in told
    assert "Too little kept to say: weekdays (anxious)." in told


@pytest.mark.parametrize(
    ("verdict", "sentence"),
    [
        ("not shown", "Without the entries made late it is not shown."),
        ("too little kept", "Without the entries made late too little is kept to say."),
        ("shown", "counted as they stand."),
        (None, "counted as they stand."),
    ],
)
def test_a_link_that_rests_on_late_entries_says_so(
    two_years: Findings, verdict: str | None, sentence: str
) -> None:
    told = said_by(with_lag(two_years, verdict_without_remembered=verdict)).statements[0]
    assert told.endswith(sentence)


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
