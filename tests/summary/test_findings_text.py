"""What was tested, on the page: plain sentences, and always what could not have been seen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, data, keep
from tracker import demo
from tracker.analysis import wording
from tracker.analysis.findings import find
from tracker.analysis.results import Ends, Findings, Group, GroupFinding, LagFinding
from tracker.diary.choices import Choices
from tracker.diary.days import Day
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale
from tracker.summary.findings_text import page_findings
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import PageFindings

DAYS = keep(mood=98 * "3", sleep=98 * "7", shifts=98 * "o")
ALLOWED = "with weekday, rota, slow change, trial and the day before allowed for"


@pytest.fixture(scope="module")
def two_years(tmp_path_factory: pytest.TempPathFactory) -> Findings:
    """The findings of the invented record."""
    from tracker.record.store import Record

    last = date(2026, 3, 15)
    with Record.open(tmp_path_factory.mktemp("said") / "record.sqlite", CLOCK) as record:
        demo.fill(record, last)
        return find(record.days().values(), record.choices(), as_of=TODAY, clock=CLOCK)


def told(
    findings: Findings,
    days: dict[date, Day] = DAYS,
    choices: Choices = CHOICES,
    options: PageOptions | None = None,
) -> PageFindings:
    return page_findings(findings, data(days, choices, options))


def with_lag(findings: Findings, **changed: object) -> Findings:
    mood, *others = findings.lags
    return replace(findings, lags=(replace(mood, **changed), *others))  # type: ignore[arg-type]


def nothing_shown(findings: Findings) -> Findings:
    return replace(
        findings, groups=(), lags=tuple(replace(lag, verdict="not shown") for lag in findings.lags)
    )


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


def test_the_planted_link_is_shown_and_what_is_not_shown_is_named(two_years: Findings) -> None:
    first, last = two_years.first, two_years.last
    assert first
    assert last
    statements = told(replace(two_years, groups=())).statements
    assert statements[0] == f"Shown: mood tends to be better after longer sleep, {ALLOWED}."
    assert statements[1] == (
        "Not shown: mood and the sleep after it; anxious days and sleep. A slight link may have been missed. "
        f"Rests on {two_years.kept.both} days with both, {first.day} {first:%b} {first.year} to "
        f"{last.day} {last:%b} {last.year}. Seasons need three years."
    )


def test_it_says_when_it_was_tested_and_when_next(two_years: Findings) -> None:
    assert two_years.verdict_day == date(2026, 3, 14)
    assert told(two_years).right == "tested 14 Mar 2026, next 14 Mar 2027"


@pytest.mark.parametrize("day", [1, 60, 119])
def test_before_the_first_verdict_day_one_sentence_stands_alone(day: int) -> None:
    days = keep(mood=day * "1", sleep=day * "5")
    page = told(find(days.values(), CHOICES, as_of=TODAY, clock=CLOCK), days)
    assert page.statements == (
        f"Day {day} of 120: too early to test whether mood and sleep go together beyond chance. "
        "The counts stand.",
    )
    first_test = TODAY + timedelta(days=120 - day)
    assert page.right == f"first test {first_test.day} {first_test:%b} {first_test.year}"


@pytest.mark.parametrize(
    ("outcome", "lag", "effect", "sentence"),
    [
        ("mood", 0, 0.3, "mood tends to be better after longer sleep"),
        ("mood", 0, -0.3, "mood tends to be worse after longer sleep"),
        ("mood", 2, 0.3, "mood tends to be better 2 days after a day of longer sleep"),
        ("mood", -1, 0.3, "sleep tends to be longer after a better day"),
        ("mood", -3, -0.3, "the third sleep after a better day tends to be shorter"),
        ("anxious", 0, -0.3, "fewer days are marked anxious after longer sleep"),
        ("anxious", -1, -0.3, "sleep tends to be shorter after an anxious day"),
    ],
)
def test_a_link_is_told_from_the_earlier_to_the_later(
    two_years: Findings, outcome: str, lag: int, effect: float, sentence: str
) -> None:
    link = replace(only_shown(two_years.lags[0], lag, effect), outcome=outcome)
    assert told(replace(two_years, lags=(link,))).statements[0] == f"Shown: {sentence}, {ALLOWED}."


def test_two_links_with_the_same_allowed_for_share_a_sentence(two_years: Findings) -> None:
    rows = tuple(
        replace(row, verdict="shown" if row.lag in (0, -1) else "not shown", beyond_own_past=0.3, p=0.001)
        for row in two_years.lags[0].rows
    )
    both = replace(two_years.lags[0], verdict="shown", first="both", strongest=0, rows=rows)
    assert told(replace(two_years, lags=(both,))).statements[0] == (
        "Shown: mood tends to be better after longer sleep; sleep tends to be longer after a better day, "
        f"{ALLOWED}."
    )


def test_where_nothing_is_shown_what_was_allowed_for_stands_with_what_is_not(two_years: Findings) -> None:
    (statement,) = told(nothing_shown(two_years)).statements
    assert statement.startswith(f"Not shown, {ALLOWED}: mood and sleep; anxious days and sleep.")


@pytest.mark.parametrize(
    ("before", "after", "sentence"),
    [
        (0.15, 0.12, "A slight link may have been missed."),
        (0.15, 0.30, "Only a clear or strong link could have been seen."),
        (0.30, 0.15, "Only a clear or strong link could have been seen."),
        (0.15, 0.60, "Only a strong link could have been seen."),
        (None, 0.15, "Only a strong link could have been seen."),
    ],
)
def test_the_smallest_link_that_is_told_is_that_of_the_side_on_which_least_could_be_seen(
    two_years: Findings, before: float | None, after: float, sentence: str
) -> None:
    smallest = {0: before, -1: after}
    rows = tuple(
        replace(row, smallest=smallest.get(row.lag, 0.1), high=0.5) for row in two_years.lags[0].rows
    )
    lags = tuple(replace(lag, verdict="not shown", rows=rows) for lag in two_years.lags)
    assert sentence in told(replace(two_years, lags=lags)).statements[-1]


def test_where_every_interval_is_narrow_a_link_is_said_to_be_small(two_years: Findings) -> None:
    rows = tuple(replace(row, low=-0.09, high=0.09) for row in two_years.lags[0].rows)
    lags = tuple(replace(lag, verdict="not shown", rows=rows) for lag in two_years.lags)
    assert wording.PERHAPS_SMALL in told(replace(two_years, lags=lags)).statements[-1]
    wider = tuple(replace(row, high=0.11) if row.lag == -1 else row for row in rows)
    lags = tuple(replace(lag, rows=wider) for lag in lags)
    assert wording.PERHAPS_SMALL not in told(replace(two_years, lags=lags)).statements[-1]


def test_too_little_kept_is_named_and_is_no_not_shown(two_years: Findings) -> None:
    little = tuple(replace(lag, verdict="too little kept") for lag in two_years.lags)
    (statement,) = told(replace(two_years, lags=little, groups=())).statements
    assert statement.startswith(
        "Too little kept, or too much alike, to test: mood and sleep; anxious days and sleep."
    )
    assert "Not shown" not in statement


def test_without_a_rota_nothing_is_judged_and_that_is_said_once(two_years: Findings) -> None:
    lags = tuple(replace(lag, verdict="too little kept", unjudged="rota") for lag in two_years.lags)
    (statement,) = told(replace(two_years, lags=lags, groups=())).statements
    assert statement.startswith(
        "Mood and sleep: judged once the rota is entered. Without it, what looks like a link may be the "
        "rota. Rests on "
    )


def test_a_link_that_skipped_days_may_make_is_not_judged(two_years: Findings) -> None:
    statement = told(with_lag(two_years, verdict=None, unjudged="skipped days")).statements[-1]
    assert "Days seem to be kept or not according to mood or sleep" in statement
    assert "mood and sleep;" not in statement


def test_a_side_that_was_not_tested_is_neither_shown_nor_not_shown(two_years: Findings) -> None:
    known = two_years.lags[0].after._replace(tested=False, left_out=214, of=260)
    statement = told(with_lag(two_years, after=known)).statements[-1]
    assert "mood and the sleep after it; " not in statement
    assert (
        "How mood goes with the sleep after it cannot be judged: 214 of 260 moods were kept when that sleep "
        "was already known."
    ) in statement


def test_a_rota_entered_in_part_says_how_many_days_are_used(two_years: Findings) -> None:
    statement = told(with_lag(two_years, days=107, days_kept=982)).statements[-1]
    assert "107 of 982 days are used; the others have no shift entered" in statement


@pytest.mark.parametrize(("ends_later", "is_said"), [(28, False), (29, True)])
def test_days_since_the_test_are_said_not_to_be_in_it(
    two_years: Findings, ends_later: int, is_said: bool
) -> None:
    earlier = replace(two_years, last=TODAY - timedelta(days=ends_later))
    assert ("The days since then are not in it." in told(earlier).statements[-1]) is is_said


def test_a_test_on_the_newest_levels_alone_says_from_when(two_years: Findings) -> None:
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, mood_scale("abcdefg", date(2025, 10, 11))))
    kept = two_years.kept._replace(other_moods=335)
    sentence = "Tested on the newest mood levels alone, from 11 October 2025."
    choices = CHOICES._replace(scales=scales)
    days = keep(mood=98 * "3", scales=scales)
    assert sentence in told(replace(two_years, kept=kept), days, choices).statements[-1]
    assert sentence not in told(two_years, days, choices).statements[-1]


@pytest.mark.parametrize(
    ("verdict", "sentence"),
    [
        ("not shown", " Without the entries made late it is not shown."),
        ("too little kept", " Without the entries made late too little is kept to say."),
        ("shown", ""),
        (None, ""),
    ],
)
def test_a_link_that_rests_on_late_entries_says_so(
    two_years: Findings, verdict: str | None, sentence: str
) -> None:
    statement = told(with_lag(two_years, verdict_without_remembered=verdict)).statements[0]
    assert statement == f"Shown: mood tends to be better after longer sleep, {ALLOWED}.{sentence}"


def test_a_yearly_course_says_when_it_is_highest_and_what_shows_none_is_named_once(
    two_years: Findings,
) -> None:
    shown = two_years.courses[0]._replace(verdict="shown", years=4, peak=(7, 9), peak_within=18)
    others = tuple(course._replace(verdict="not shown", years=4) for course in two_years.courses[1:])
    statements = told(replace(two_years, courses=(shown, *others))).statements
    assert (
        "Shown: a yearly course of mood over 4 years, highest around 9 July, give or take 18 days."
        in statements
    )
    assert "a yearly course of sleep or anxious days" in statements[-1]
    assert "Seasons need three years." not in statements[-1]


def test_no_coefficient_and_no_p_value_stands_on_the_page(two_years: Findings) -> None:
    text = " ".join(told(two_years).statements)
    assert not any(sign in text for sign in ("p =", "p <", "0.", "%", " of 100"))


# --- kinds of shift


def test_kinds_of_shift_are_said_as_everywhere(two_years: Findings) -> None:
    assert told(replace(two_years, groups=(GROUPS,))).statements[1] == (
        "Mood differed between kinds of shift, on the day itself; the day before adds nothing that could be "
        "told apart. Lowest on night and highest on off."
    )


def test_that_sleep_differs_between_kinds_of_shift_stands_in_the_counts(two_years: Findings) -> None:
    sleep = replace(GROUPS, outcome="sleep")
    assert len(told(replace(two_years, groups=(sleep,))).statements) == 2


@pytest.mark.parametrize(
    "own",
    [ShiftKind("box7", "b", "Cawbrook box"), ShiftKind("night", "n", "Wenfold nights")],
    ids=["her own", "renamed"],
)
def test_where_one_end_is_a_kind_of_her_own_both_are_left_out(two_years: Findings, own: ShiftKind) -> None:
    kinds = tuple(kind for kind in CHOICES.kinds if kind.id != own.id)
    choices = CHOICES._replace(kinds=(*kinds, own))
    ends = Ends("day", (Group(own.id, own.label),), (Group("off", "off"),))
    found = replace(two_years, groups=(replace(GROUPS, ends=(ends,)),))
    assert told(found, choices=choices).statements[1].endswith("nothing that could be told apart.")
    with_names = told(found, choices=choices, options=PageOptions(shifts=True)).statements[1]
    assert with_names.endswith(f"Lowest on {own.label} and highest on off.")


def test_without_shifts_no_finding_on_them_stands_there_but_that_the_rota_was_allowed_for(
    two_years: Findings,
) -> None:
    partly = with_lag(replace(two_years, groups=(GROUPS,)), days=107, days_kept=982)
    page = told(partly, options=PageOptions(shifts=False))
    assert page.head == "Tested"
    assert not any("shift" in statement for statement in page.statements)
    assert "rota" in page.statements[0]


def test_the_head_says_whether_the_rota_was_allowed_for(two_years: Findings) -> None:
    assert told(two_years).head == "Tested, with the rota allowed for"
    no_rota = replace(two_years, lags=tuple(replace(lag, adjusted_for=()) for lag in two_years.lags))
    assert told(no_rota, keep(mood=98 * "3")).head == "Tested"
