"""Findings as a whole: what is judged when, what is never said, and the object for other programs."""

import json
import re
from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import numpy as np
import pytest

from tests.simulated import FIRST, NO_LINK, Case, as_days, planted, simulate
from tracker import words
from tracker.analysis import wording
from tracker.analysis.findings import Left, find
from tracker.analysis.findings_json import as_json
from tracker.analysis.results import Findings, Topic
from tracker.analysis.statements import group_statements
from tracker.diary.choices import Choices
from tracker.diary.dates import long_day
from tracker.diary.days import Day, Square
from tracker.diary.errors import WrongDay
from tracker.diary.own_changes import DatedChange
from tracker.diary.settings import Settings

BARRED = re.compile(
    r"\b(depress|bipolar|mania|manic|insomni|disorder|syndrome|symptom|episode|relapse|remission|severe|moderate"
    r"|mild|risk|abnormal|normal|healthy|score|predict|alert|warning sign|sleep debt|recommended)",
    re.IGNORECASE,
)


def days_of(case: Case, number: int, seed: int = 1) -> list[Day]:
    return as_days(simulate(case, number, np.random.default_rng(seed)))


def on_day(number: int) -> date:
    return FIRST + timedelta(days=number - 1)


def found(case: Case, number: int, seed: int = 1, **asked: Any) -> Findings:
    # The first day is always kept, so that day numbers are those of the record
    days = days_of(case, number, seed)
    days[0] = days[0]._replace(mood=Square("mood5-3"))
    return find(days, Choices(), **{"as_of": on_day(number), **asked})


def verdicts(findings: Findings) -> list[str | None]:
    rows = [row.verdict for lag in findings.lags for row in lag.rows]
    return [
        *rows,
        *(lag.verdict for lag in findings.lags),
        *(group.verdict for group in findings.groups),
        *(course.verdict for course in findings.courses),
        *(statement.verdict for statement in findings.statements),
    ]


def p_values(findings: Findings) -> list[float | None]:
    return [
        *(row.p for lag in findings.lags for row in lag.rows),
        *(group.p for group in findings.groups),
        *(course.p for course in findings.courses),
    ]


def texts(findings: Findings) -> str:
    return " ".join(statement.text for statement in findings.statements)


def test_findings_cannot_be_made_without_their_caution() -> None:
    findings = found(Case(), 10)
    with pytest.raises(ValueError, match="caution"):
        replace(findings, caution="")
    with pytest.raises(TypeError, match="caution"):
        Findings(**{field.name: getattr(findings, field.name) for field in fields(findings)[1:]})


def test_findings_cannot_be_changed_afterwards() -> None:
    findings = found(Case(), 10)
    with pytest.raises(AttributeError):
        findings.caution = "none"  # type: ignore[misc]


def test_before_the_first_verdict_day_days_are_counted_and_nothing_is_judged() -> None:
    findings = found(planted(0.9, 0), 119)
    assert (findings.verdict_day, findings.next_verdict_day) == (None, on_day(120))
    assert (findings.first, findings.last, findings.days) == (FIRST, on_day(119), 119)
    assert set(verdicts(findings)) == {None}
    assert set(p_values(findings)) == {None}
    assert findings.lags[0].row(0).unadjusted is not None
    assert "The first verdict is on 1 May 2023, within a week" in texts(findings)


def test_on_the_first_verdict_day_the_record_is_judged() -> None:
    findings = found(planted(0.9, 0), 120)
    assert (findings.verdict_day, findings.next_verdict_day) == (on_day(120), on_day(180))
    assert (findings.lags[0].verdict, findings.lags[0].first, findings.lags[0].strongest) == (
        "shown",
        "sleep",
        0,
    )


def test_between_verdict_days_a_verdict_stands_still_while_the_tables_go_on() -> None:
    days = days_of(planted(0.5, 0), 500)
    days[0] = days[0]._replace(mood=Square("mood5-3"))
    then, now = (find(days, Choices(), as_of=on_day(number)) for number in (365, 500))
    assert then.lags == now.lags
    assert then.groups == now.groups
    assert (now.verdict_day, now.last) == (on_day(365), on_day(365))
    assert len(now.months) > len(then.months)


def test_a_square_entered_later_for_a_day_before_the_verdict_counts() -> None:
    days = days_of(planted(0.5, 0), 400)
    before = find(days, Choices(), as_of=on_day(400))
    at = next(i for i in range(10, 300) if days[i].mood is None and days[i].sleep)
    days[at] = days[at]._replace(mood=Square("mood5-5", basis="paper", late_days=300))
    after = find(days, Choices(), as_of=on_day(400))
    assert after.kept.mood == before.kept.mood + 1


def test_the_same_record_gives_the_same_findings() -> None:
    assert found(NO_LINK["mixture"], 400) == found(NO_LINK["mixture"], 400)


def test_days_chosen_by_hand_are_described_and_never_judged() -> None:
    findings = found(planted(0.6, 0), 800, chosen=(on_day(31), on_day(500)))
    assert (findings.first, findings.last, findings.verdict_day) == (on_day(31), on_day(500), None)
    assert set(verdicts(findings)) == {None}
    assert set(p_values(findings)) == {None}
    assert findings.lags[0].row(0).beyond_own_past is not None
    assert wording.DESCRIBED_ONLY in texts(findings)


def test_chosen_days_that_end_before_they_begin_are_refused() -> None:
    with pytest.raises(WrongDay, match="No day lies between"):
        found(Case(), 100, chosen=(on_day(60), on_day(50)))


def test_an_empty_record_says_how_many_weeks_are_needed() -> None:
    findings = find([], Choices(), as_of=FIRST)
    assert (findings.first, findings.days, findings.lags) == (None, 0, ())
    assert texts(findings) == wording.nothing_kept(120)
    assert "about 17 more weeks" in texts(findings)


def test_a_link_is_told_by_pairs_of_days_and_never_as_a_cause() -> None:
    statement = found(planted(0.5, 0), 365).statements[0]
    assert (statement.topic, statement.outcome, statement.verdict) == ("lags", "mood", "shown")
    assert re.sub(r"\d\d of", "N of", statement.text) == (
        "After longer sleep the day's mood tended to be higher. A strong link in this record, beyond what is "
        "allowed for. Counted as they stand, in N of 100 pairs of days that differ in both, the day after "
        "the longer sleep was the better one (50 would mean no link)."
    )
    assert statement.beside == (
        "Allowed for: the day and the sleep before, the weekday, the shift and slow changes.",
        "For 331 moods the time is not known; they may have been rated beside a sleep.",
        "Coming first in time is not the same as being the cause.",
        "Hours are as noted, not measured. Many people note too many, poor sleepers often too few.",
    )
    numbers = r"Correlation \+0\.\d\d with the sleep before, p < 0\.001 \(limit 0\.004\)\."
    assert re.fullmatch(numbers, statement.numbers)
    assert statement.interval is not None
    assert statement.effect is not None
    assert statement.interval[0] < statement.effect < statement.interval[1]


def test_the_side_that_is_not_shown_is_told_as_plainly() -> None:
    other = found(planted(0.5, 0), 365).statements[1]
    assert (other.outcome, other.verdict) == ("mood", "not shown")
    assert other.text == (
        "Mood is not shown to go with the sleep after it; to be seen, a link would have to be at least clear."
    )


def test_the_strongest_lag_speaks_for_its_side_and_the_nearest_of_the_surest_for_the_other() -> None:
    # common practice, no source: the rule is ours, and one for the sentences and the page
    finding = found(planted(0.5, 0), 365).lags[0]
    p_of = {-3: 0.001, -2: 0.001, -1: 0.004, 1: 0.0001, 2: 0.002}
    rows = tuple(
        replace(row, p=p_of.get(row.lag), verdict="shown" if row.lag in p_of else None)
        for row in finding.rows
    )
    finding = replace(finding, rows=rows, strongest=2)
    speaking = [finding.speaking(sleep_first=side) for side in (True, False)]
    assert [row.lag if row else None for row in speaking] == [2, -2]
    assert replace(finding, rows=()).speaking(sleep_first=True) is None


def test_the_sleep_after_a_day_is_told_as_mood_first() -> None:
    text = found(planted(0.6, -1), 730).statements[0].text
    assert "After a day of better mood the next sleep tended to be longer" in text


def test_the_anxious_mark_turns_the_sign_round() -> None:
    findings = found(planted(0.8, 0), 1095)
    statement = next(s for s in findings.statements if s.topic == "lags" and s.outcome == "anxious")
    assert statement.verdict == "shown"
    assert "After longer sleep fewer days were marked anxious" in statement.text
    assert (findings.lags[1].in_a_hundred or 0) > 50


def test_everything_not_shown_says_what_could_not_have_been_seen() -> None:
    findings = found(Case(), 1200, seed=3)
    silent = [s for s in findings.statements if s.verdict == "not shown"]
    assert {s.topic for s in silent} == {"lags", "shifts", "weekdays", "seasons"}
    assert all("to be seen, a " in s.text or "would have been seen." in s.text for s in silent)
    assert {s.beside for s in silent} == {(wording.NOT_SHOWN_MEANS,)}
    assert all("would have been seen in 8 of 10 such records" in s.numbers for s in silent)
    assert [s.text for s in findings.statements].count(wording.NOT_SHOWN_MEANS) == 1


def test_no_statement_holds_a_coefficient_or_a_chance() -> None:
    for statement in found(NO_LINK["mixture"], 1300).statements:
        assert re.findall(r"\d\.\d|p =|p <|%", statement.text) == []


def test_what_is_not_shown_of_groups_can_share_a_sentence() -> None:
    groups = found(Case(), 1200, seed=3).groups
    told = {s.text for s in group_statements(groups, together=True)}
    assert (
        "Mood, sleep and the anxious mark are not shown to differ between weekdays; to be seen, a difference "
        "would have to be at least slight."
    ) in told
    assert len(told) < len(group_statements(groups))


def with_rota(days: list[Day], turn: str) -> list[Day]:
    kinds = {"E": "early", "N": "night", "O": "off"}
    return [day._replace(shift=Square(kinds[turn[at % len(turn)]])) for at, day in enumerate(days)]


def test_a_rota_that_repeats_itself_is_said_once_and_names_what_cannot_be_compared() -> None:
    days = with_rota(days_of(Case(), 400), "EENNOOOO")
    findings = find(days, Choices(), as_of=days[-1].date)
    assert [group.too_regular for group in findings.groups if group.topic == "shifts"] == [True] * 3
    for statements in (findings.statements, group_statements(findings.groups, together=True)):
        assert [(s.text, s.outcome, s.verdict) for s in statements if s.topic == "shifts"] == [
            (
                "Mood, sleep and the anxious mark cannot be compared between kinds of shift, of the day or "
                "of the day before: the rota as entered hardly changes, or repeats itself too exactly for "
                "this test.",
                "",
                None,
            )
        ]


def test_before_the_first_verdict_nothing_is_said_of_the_rota() -> None:
    days = with_rota(days_of(Case(), 33), "E")
    findings = find(days, Choices(), as_of=days[-1].date)
    assert findings.groups[0].too_regular
    assert [s.text for s in findings.statements if s.topic == "shifts"] == []


def test_a_plain_link_that_the_rota_explains_is_said_to_be_explained() -> None:
    findings = found(NO_LINK["rota"], 730)
    assert findings.lags[0].verdict == "not shown"
    assert wording.move_together("Mood") in findings.statements[0].text


def test_before_a_year_groups_are_counted_and_the_day_of_their_verdict_is_named() -> None:
    findings = found(NO_LINK["rota"], 200)
    assert {group.verdict for group in findings.groups} == {None}
    assert wording.groups_judged_from(long_day(on_day(365))) in texts(findings)


def test_days_that_still_wait_at_the_end_cost_no_test() -> None:
    """By 362 days in place of 365 one test less could be shown, and the anxious mark would go without."""
    days = [*days_of(NO_LINK["rota"], 362), *(Day(on_day(n), shift=Square("off")) for n in (363, 364, 365))]
    days[0] = days[0]._replace(mood=Square("mood5-3"))
    tests = {(test.outcome, test.by): test for test in find(days, Choices(), as_of=on_day(365)).groups}
    assert set(tests["anxious", "kinds of shift"].p_of) == {"day"}


def test_a_rota_that_goes_on_long_after_the_last_day_kept_is_not_compared() -> None:
    """It would lengthen the record by days that hold nothing, and with it the shifts that serve as chance."""
    shifts = [Day(on_day(n), shift=Square("off")) for n in range(352, 366)]
    kept, ahead = days_of(NO_LINK["rota"], 340), days_of(NO_LINK["rota"], 351)[340:]
    later = [day._replace(mood=None, sleep=None, anxious=None) for day in ahead]
    findings = find([*kept, *later, *shifts], Choices(), as_of=on_day(365))
    assert set(next(test for test in findings.groups if test.outcome == "sleep").p_of) == {
        "day",
        "day before",
    }
    assert next(test for test in findings.groups if test.outcome == "anxious").p_of == {}


def test_without_a_rota_the_caution_is_said_only_to_those_who_work_shifts() -> None:
    days = [day._replace(shift=None) for day in days_of(Case(), 200)]
    works, does_not = (
        texts(find(days, Choices(settings=Settings(works_shifts=works)), as_of=on_day(200)))
        for works in (True, False)
    )
    assert "Mood and sleep: judged once the rota is entered. Without it, what looks like a link may" in works
    assert "rota" not in does_not


def test_days_around_dates_of_her_own_are_counted_and_never_judged() -> None:
    choices = Choices(dated_changes=(DatedChange(on_day(200), "new post"),))
    findings = find(days_of(Case(step=1.5), 400), choices, as_of=on_day(400))
    told = [statement for statement in findings.statements if statement.topic == "changes"]
    assert [statement.outcome for statement in told] == ["mood", "anxious", "sleep"]
    assert {statement.verdict for statement in told} == {None}
    assert all("'new post' (20 July 2023)" in statement.text for statement in told)
    assert as_json(findings)["changes"][0]["words"] == "new post"


def with_moments(days: list[Day], minutes: int) -> list[Day]:
    """Moods kept so many minutes after the same day's sleep."""
    nine = {day.date: datetime.combine(day.date, time(9), UTC) for day in days}
    return [
        day._replace(
            mood=day.mood and day.mood._replace(kept_at=nine[day.date] + timedelta(minutes=minutes)),
            sleep=day.sleep and day.sleep._replace(kept_at=nine[day.date]),
        )
        for day in days
    ]


def test_moods_kept_beside_the_sleep_before_cannot_judge_that_side() -> None:
    findings = find(with_moments(days_of(planted(0.5, 0), 365), 5), Choices(), as_of=on_day(365))
    mood = findings.lags[0]
    assert (mood.before.tested, mood.after.tested, mood.verdict) == (False, True, "not shown")
    told = [statement.text for statement in findings.statements if statement.outcome == "mood"]
    side = f"{mood.before.left_out} of {mood.before.of} moods were kept beside that sleep"
    assert told[1] == (
        f"How mood goes with the sleep before it cannot be judged: {side}. Moods kept at the day's end count."
    )


def test_what_was_left_out_stands_beside_a_link_that_is_shown() -> None:
    late, beside = (with_moments(days_of(planted(0.6, 0), 365), minutes) for minutes in (600, 5))
    mixed = [*beside[:40], *late[40:]]
    statement = find(mixed, Choices(), as_of=on_day(365)).statements[0]
    assert statement.verdict == "shown"
    left_out = r"Left out: \d+ of \d+ moods kept beside that sleep or when it was known\."
    assert re.fullmatch(left_out, statement.beside[1])
    assert not any("the time is not known" in sentence for sentence in statement.beside)


def test_of_a_rota_entered_in_part_the_days_used_are_said() -> None:
    days = [
        day._replace(shift=None) if 200 <= n < 260 else day
        for n, day in enumerate(days_of(planted(0.6, 0), 365))
    ]
    findings = find(days, Choices(), as_of=on_day(365))
    mood = findings.lags[0]
    assert mood.days < mood.days_kept
    used = f"{mood.days} of {mood.days_kept} days are used"
    assert findings.statements[0].beside[1] == (
        f"{used}; the others have no shift entered, of their own or of the day before."
    )
    assert "the shift" in findings.statements[0].beside[0]


def test_without_shift_work_the_shift_is_allowed_for_only_if_every_day_has_one() -> None:
    days = [
        day._replace(shift=None) if n == 200 else day for n, day in enumerate(days_of(planted(0.6, 0), 365))
    ]
    findings = find(days, Choices(settings=Settings(works_shifts=False)), as_of=on_day(365))
    assert findings.lags[0].adjusted_for == ("weekday", "slow change")


def skipped_after_low_days(days: list[Day]) -> list[Day]:
    """Half of the days after a low mood are not kept."""
    low = {day.date for day in days if day.mood and day.mood.value in ("mood5-1", "mood5-2")}
    skipped = {n for n, day in enumerate(days) if day.date - timedelta(days=1) in low and n % 2}
    return [day._replace(mood=None, sleep=None) if n in skipped else day for n, day in enumerate(days)]


def test_a_negative_link_where_days_are_skipped_has_no_verdict() -> None:
    days = skipped_after_low_days(days_of(planted(-0.5, 0), 730))
    findings = find(days, Choices(), as_of=on_day(730))
    assert findings.keeping[0].verdict == "shown"
    assert (findings.lags[0].verdict, findings.lags[0].unjudged) == (None, "skipped days")
    assert findings.statements[0].text == wording.SKIPPED_DAYS
    assert "Days after low mood were kept less often" in texts(findings)


def test_gaps_that_follow_nothing_are_not_shown_to() -> None:
    gaps = found(Case(), 400).keeping
    assert [(finding.outcome, finding.level, finding.verdict) for finding in gaps] == [
        ("mood", 0.01, None),
        ("sleep", 0.01, None),
    ]
    assert min(finding.p or 0.0 for finding in gaps) > 0.05


def test_a_sleep_is_short_under_the_limit_that_she_set() -> None:
    days = days_of(Case(), 200)
    findings = find(days, Choices(settings=Settings(short_sleep=7)), as_of=on_day(200))
    assert findings.counts is not None
    assert (findings.counts.limit, findings.counts.long_from) == (7, None)
    assert "After a sleep under 7 h mood was low on" in texts(findings)


def test_counts_side_by_side_rest_on_the_days_of_the_verdicts() -> None:
    findings = found(Case(), 500)
    assert findings.counts is not None
    assert sum(row.low.of for row in findings.counts.after_sleep) == findings.kept.both
    assert sum(row.sleeps["short"] for row in findings.counts.sleep_after[:2]) < findings.kept.both


@pytest.mark.parametrize(
    ("case", "named"), [(Case(kinds=1), ("day",)), (Case(rota=1), ("day", "day before"))], ids=["day", "both"]
)
def test_ends_are_told_of_the_days_that_are_named(case: Case, named: tuple[str, ...]) -> None:
    sleep = next(group for group in found(case, 1095, seed=3).groups if group.outcome == "sleep")
    assert (sleep.named, tuple(end.of for end in sleep.ends)) == (named, named)


def test_days_kept_since_the_verdict_day_are_said_to_wait() -> None:
    days = days_of(Case(), 400)
    days[0] = days[0]._replace(mood=Square("mood5-3"))
    since = sum(day.mood is not None or day.sleep is not None for day in days[365:])
    findings = find(days, Choices(), as_of=on_day(400))
    assert findings.wait_for_next == since > 0
    assert f"; {since} days kept since then wait for them." in findings.standing()


def test_a_link_that_rests_on_memory_is_judged_again_without_it() -> None:
    days = days_of(planted(0.6, 0), 365)
    memory = [
        day._replace(mood=day.mood._replace(basis="remembered", late_days=5))
        if day.mood and i % 4 == 0
        else day
        for i, day in enumerate(days)
    ]
    at_the_time, remembered = (find(d, Choices(), as_of=on_day(365)) for d in (days, memory))
    assert at_the_time.lags[0].verdict_without_remembered is None
    assert remembered.lags[0].verdict == "shown"
    assert remembered.lags[0].verdict_without_remembered in ("shown", "not shown")
    assert remembered.kept.remembered > 60
    assert "were entered from memory" in texts(remembered)


def test_a_level_of_one_mood_only_is_said_plainly() -> None:
    days = [day._replace(mood=Square("mood5-3")) for day in days_of(Case(), 200)]
    findings = find(days, Choices(), as_of=on_day(200))
    assert findings.lags[0].verdict == "too little kept"
    assert findings.statements[0].text == wording.little_variety("mood")


def test_too_few_days_say_how_many_more() -> None:
    days = [day for i, day in enumerate(days_of(Case(), 130)) if i % 3 == 0]
    findings = find(days, Choices(settings=Settings(works_shifts=False)), as_of=on_day(130))
    assert findings.lags[0].verdict == "too little kept"
    assert re.search(r"Too little is kept so far .*: \d+ days of about \d+\.", findings.statements[0].text)


def test_a_season_is_judged_from_three_whole_years_on_its_own_days() -> None:
    findings = found(Case(0, 0, annual=1.5), 1200)
    assert (findings.season_verdict_day, findings.next_season_verdict_day) == (on_day(1096), on_day(1461))
    assert {course.outcome: course.verdict for course in findings.courses}["mood"] == "shown"
    assert "had a yearly course that came back over 3 years" in texts(findings)


@pytest.mark.parametrize(
    ("days", "sentence"), [(200, wording.UNDER_A_YEAR), (400, wording.ONE_YEAR), (800, wording.TWO_YEARS)]
)
def test_fewer_years_are_a_course_and_no_season(days: int, sentence: str) -> None:
    findings = found(Case(annual=1.0), days)
    course, *beside = [s for s in findings.statements if s.topic == "seasons"]
    assert course.verdict is None
    assert all(s.text.endswith("Counted, not judged.") for s in beside)
    assert sentence in texts(findings)


def test_near_the_equator_there_are_months_only() -> None:
    choices = Choices(settings=Settings(hemisphere="equator"))
    findings = find(days_of(Case(), 100), choices, as_of=on_day(100))
    assert findings.seasons == ()
    assert len(findings.months) == 8


def test_only_what_is_asked_for_is_computed() -> None:
    asked: tuple[Topic, ...] = ("lags",)
    findings = found(Case(), 365, topics=asked)
    assert len(findings.lags) == 2
    assert (findings.months, findings.courses, findings.shifts, findings.weekdays, findings.groups) == (
        (),
    ) * 5
    with pytest.raises(ValueError, match="'moon'"):
        found(Case(), 10, topics=("moon",))


def test_rows_of_shift_kinds_come_for_the_day_and_the_day_after() -> None:
    names = [row.name for row in found(Case(), 200).shifts if row.outcome == "mood"]
    kinds = ["early", "late", "long day", "night", "off"]
    assert names == kinds + [f"the day after: {kind}" for kind in kinds]


def test_progress_is_told_and_the_work_can_be_left() -> None:
    told: list[tuple[int, int, str]] = []
    found(Case(), 130, progress=lambda *step: told.append(step))
    assert told == [(0, 4, "lags"), (1, 4, "shifts"), (2, 4, "seasons"), (3, 4, "tables")]
    with pytest.raises(Left):
        found(Case(), 130, cancelled=lambda: True)


CASES = [
    found(NO_LINK["mixture"], 1300),
    found(planted(0.5, 0, rota=1), 400),
    found(planted(-0.5, 2), 400),
    found(Case(), 90),
    found(Case(), 2),
    find([], Choices(), as_of=FIRST),
]


@pytest.mark.parametrize("findings", CASES, ids=lambda findings: f"{findings.days} days")
def test_no_sentence_names_an_illness_or_judges_a_person(findings: Findings) -> None:
    assert BARRED.findall(texts(findings)) == []
    assert "mean" not in texts(findings).replace("would mean no link", "")


@pytest.mark.parametrize("findings", CASES, ids=lambda findings: f"{findings.days} days")
def test_the_object_holds_the_contract(findings: Findings) -> None:
    told = json.loads(json.dumps(as_json(findings), allow_nan=False))
    assert list(told) == [
        "schema",
        "caution",
        "as_of",
        "verdict_day",
        "next_verdict_day",
        "wait_for_next",
        "period",
        "kept",
        "lags",
        "side_by_side",
        "day_to_day",
        "keeping",
        "seasons",
        "shifts",
        "runs",
        "weekdays",
        "group_tests",
        "changes",
        "statements",
    ]
    assert told["schema"] == 2
    assert told["caution"] == words.CAUTION
    assert all(len(lag["rows"]) == 15 for lag in told["lags"])
    assert all(row["kept"] == sum(row["counts"].values()) for row in every_row(told))
    assert all(statement["text"] for statement in told["statements"])


def every_row(told: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for periods in ("months", "seasons", "years"):
        yield from told["seasons"][periods]
    for groups in ("shifts", "runs", "weekdays"):
        yield from told[groups]


def test_years_are_counted_and_last_winter_stands_beside_this_one() -> None:
    findings = found(Case(), 790)
    assert [row.name for row in findings.years if row.outcome == "mood"] == sorted(
        {str(on_day(1).year), str(on_day(400).year), str(on_day(790).year)}
    )
    names = [row.name for row in findings.seasons if row.outcome == "mood"]
    beside = next(s.text for s in findings.statements if s.text.endswith("counted, not judged."))
    assert f"days kept in {names[-1]} (of " in beside
    assert f"kept in {names[-5]} (of " in beside


def test_nights_in_a_row_and_quick_returns_are_counted_apart() -> None:
    findings = found(Case(), 400)
    rows = {row.name: row.days for row in findings.runs if row.outcome == "sleep"}
    nights = sum(day.shift_kind == "night" for day in days_of(Case(), 400))
    assert sum(days for name, days in rows.items() if "night" in name and "after" not in name) == nights


def test_the_object_of_a_lag_row_and_a_month() -> None:
    told = as_json(found(planted(0.5, 0), 365))
    lag = told["lags"][0]
    assert {key: lag[key] for key in ("outcome", "with", "verdict", "first", "strongest")} == {
        "outcome": "mood",
        "with": "sleep",
        "verdict": "shown",
        "first": "sleep",
        "strongest": 0,
    }
    assert list(lag["smallest_effect"]) == ["0", "-1"]
    assert [row["lag"] for row in lag["rows"]] == list(range(-7, 8))
    month = next(row for row in told["seasons"]["months"] if row["outcome"] == "sleep")
    assert (month["name"], month["from"], month["to"]) == ("2023-01", "2023-01-02", "2023-01-31")
    assert list(month["counts"]) == [
        "none",
        "under 3 h",
        "3-4 h",
        "4-5 h",
        "5-6 h",
        "6-7 h",
        "7-8 h",
        "8 h or more",
    ]
    assert month["median"] in month["counts"]


def test_a_row_is_shown_only_where_its_family_and_its_side_are() -> None:
    rows = as_json(found(planted(0.6, 0), 1095))["lags"][0]["rows"]
    shown = [row["lag"] for row in rows if row["verdict"] == "shown"]
    assert 0 in shown
    assert min(shown) >= 0
    assert all(row["p"] <= 0.005 for row in rows if row["verdict"] == "shown")


def test_a_record_all_very_low_and_one_all_very_good_are_told_alike() -> None:
    """No sentence is triggered by what the days hold; only counts differ."""
    told = [
        [
            re.sub(r"\d+ of", "N of", statement.text)
            for statement in find(
                [d._replace(mood=Square(level)) for d in days_of(Case(), 200)], Choices(), as_of=on_day(200)
            ).statements
            if statement.topic not in ("counts", "record")
        ]
        for level in ("mood5-1", "mood5-5")
    ]
    assert told[0] == told[1]


@pytest.mark.parametrize("seed", range(25))
def test_no_record_is_too_odd_to_be_told(seed: int) -> None:
    """Any length, any gaps, few levels or one, with and without a rota: plain values, no NaN, no warning."""
    rng = np.random.default_rng(seed)
    days = days_of(Case(), int(rng.integers(1, 500)), seed)
    lost, level = rng.random() ** 0.3, rng.integers(1, 6)
    odd = [
        day._replace(
            mood=None if rng.random() < lost else Square(f"mood5-{level}") if seed % 3 == 0 else day.mood,
            sleep=None if rng.random() < lost * (seed % 2) else day.sleep,
            shift=day.shift if seed % 4 else None,
        )
        for day in days
    ]
    findings = find(odd, Choices(), as_of=on_day(len(days) + int(rng.integers(0, 400))))
    assert json.loads(json.dumps(as_json(findings), allow_nan=False))["caution"] == words.CAUTION
