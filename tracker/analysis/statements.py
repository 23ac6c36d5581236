"""Findings in plain words. Never a cause, never an alarm, and always what could not have been seen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker import words
from tracker.analysis import wording
from tracker.analysis.describe import GroupRow
from tracker.analysis.lags import AFTER, LAGS, ZERO, Verdict
from tracker.analysis.reading import Gaps, Kept
from tracker.analysis.results import (
    Course,
    Findings,
    Group,
    GroupFinding,
    LagFinding,
    LagRow,
    LinkSide,
    Statement,
    Topic,
)
from tracker.analysis.wording import OUTCOMES
from tracker.diary.dates import MONTHS, long_day

MANY = 0.1
"""Share of the days used from which remembered days and one sitting are named. Common practice, no source."""
ROTA_ENTERED = 0.8
"""Share of the kept days with a shift from which the rota counts as entered. Common practice, no source."""
SEASONS_A_YEAR = 4
FEWEST_OF_A_SEASON = 30
"""Kept days from which a season is set beside another: a third of them. Common practice, no source."""
UNEVEN = 0.2
"""Difference between two kept shares from which it is said. Common practice, no source."""
ALLOWED = {
    "weekday": "the weekday",
    "shift": "the shift",
    "slow change": "slow changes",
    "trial": "the trial",
}
SHOWN_FIRST = {"sleep": (True, False), "both": (True, False), "mood": (False, True)}
"""Whether sleep comes first, in the order in which the two sides are told."""
OWN_PAST = "the day and the sleep before"
THIS_DAY, NEXT_SLEEP = int(LAGS[ZERO]), int(LAGS[AFTER])


def describe_record(text: str) -> Statement:
    """Return a statement about the record itself."""
    return _statement("record", text)


def _statement(topic: Topic, text: str) -> Statement:
    return Statement(topic=topic, outcome="", verdict=None, text=text, effect=None, interval=None, pairs=None)


def lag_statements(finding: LagFinding) -> list[Statement]:
    """Say what goes with what, a sentence a side; or what could not have been seen."""
    if finding.unjudged:
        return [_link(finding, _nearest(finding), finding.verdict, _unjudged(finding))]
    if finding.verdict is None:
        return []
    if finding.verdict == "shown":
        return [_of_side(finding, sleep_first=side) for side in SHOWN_FIRST[finding.first or "both"]]
    tested = [side for side in (True, False) if _side(finding, sleep_first=side).tested]
    told = [_not_shown(finding)] if len(tested) == 2 else [_side_not_shown(finding, sleep_first=tested[0])]
    return [*told, *(_untested(finding, sleep_first=side) for side in (True, False) if side not in tested)]


def side_statement(finding: LagFinding, *, sleep_first: bool) -> Statement | None:
    """Say one side of a link by itself; None where days are counted and not judged."""
    if finding.unjudged:
        return _link(finding, _nearest(finding), finding.verdict, _unjudged(finding))
    return _of_side(finding, sleep_first=sleep_first) if finding.verdict else None


def _side(finding: LagFinding, *, sleep_first: bool) -> LinkSide:
    return finding.before if sleep_first else finding.after


def _nearest(finding: LagFinding) -> LagRow:
    return finding.row(THIS_DAY if finding.strongest is None else finding.strongest)


def _unjudged(finding: LagFinding) -> str:
    outcome = OUTCOMES[finding.outcome]
    if finding.unjudged == "skipped days":
        return wording.SKIPPED_DAYS
    if finding.unjudged == "rota":
        used = [wording.days_used(finding.days, finding.days_kept)] if finding.days else []
        return " ".join([f"{words.sentence(outcome)} and sleep: {wording.ROTA_WANTED}", *used])
    if finding.unjudged == "variety":
        return wording.little_variety(outcome)
    have = finding.row(THIS_DAY).pairs
    return wording.too_little(outcome, have, have + finding.needed)


def _link(
    finding: LagFinding,
    row: LagRow,
    verdict: Verdict | None,
    text: str,
    beside: tuple[str, ...] = (),
    numbers: str = "",
) -> Statement:
    return Statement(
        topic="lags",
        outcome=finding.outcome,
        verdict=verdict,
        text=text,
        lag=row.lag,
        effect=row.beyond_own_past,
        interval=None if row.low is None or row.high is None else (row.low, row.high),
        pairs=row.pairs,
        beside=beside,
        numbers=numbers,
    )


def _of_side(finding: LagFinding, *, sleep_first: bool) -> Statement:
    """Say one side of a link that is shown, or that it is shown on the other side only."""
    row = finding.speaking(sleep_first=sleep_first)
    if row:
        beside = _allowed(finding, sleep_first=sleep_first)
        return _link(finding, row, "shown", _link_shown(finding, row), beside, _in_numbers(finding, row))
    if _side(finding, sleep_first=sleep_first).tested:
        return _side_not_shown(finding, sleep_first=sleep_first)
    return _untested(finding, sleep_first=sleep_first)


def _side_not_shown(finding: LagFinding, *, sleep_first: bool) -> Statement:
    row = finding.row(THIS_DAY if sleep_first else NEXT_SLEEP)
    smallest = row.smallest or 1.0
    text = wording.no_link_on_a_side(_subject(finding.outcome), smallest, sleep_first=sleep_first)
    limit = wording.smallest_links(*((smallest, None) if sleep_first else (None, smallest)))
    return _link(finding, row, "not shown", text, (wording.NOT_SHOWN_MEANS,), limit)


def _untested(finding: LagFinding, *, sleep_first: bool) -> Statement:
    side = _side(finding, sleep_first=sleep_first)
    row = finding.row(THIS_DAY if sleep_first else NEXT_SLEEP)
    outcome = OUTCOMES[finding.outcome]
    text = wording.not_to_be_judged(outcome, side.left_out, side.of, sleep_first=sleep_first)
    return _link(finding, row, "too little kept", text)


def _link_shown(finding: LagFinding, row: LagRow) -> str:
    say = wording.sleep_first if row.lag >= 0 else wording.mood_first
    effect = row.beyond_own_past or 0.0
    told = [f"{say(finding.outcome, row.lag, more=effect > 0)}.", wording.strongest(effect)]
    if row.lag == finding.strongest and finding.in_a_hundred is not None:
        told.append(wording.pairs_in_a_hundred(finding.outcome, row.lag, finding.in_a_hundred))
    return " ".join([*told, *_without_remembered(finding)])


def _in_numbers(finding: LagFinding, row: LagRow) -> str:
    return wording.link_in_numbers(row.lag, row.beyond_own_past or 0.0, row.p or 0.0, finding.level or 0.0)


def _allowed(finding: LagFinding, *, sleep_first: bool) -> tuple[str, ...]:
    things = [OWN_PAST, *map(ALLOWED.__getitem__, finding.adjusted_for)]
    side, what = _side(finding, sleep_first=sleep_first), "mark" if finding.outcome == "anxious" else "mood"
    told = [wording.allowed_for(things)]
    if finding.days < finding.days_kept:
        told.append(wording.days_used(finding.days, finding.days_kept))
    if side.left_out:
        told.append(wording.left_out_beside(side.left_out, side.of, what))
    if finding.moment_unknown:
        told.append(wording.moment_unknown(finding.moment_unknown, what))
    return (*told, wording.NOT_THE_CAUSE, wording.AS_NOTED)


def _without_remembered(finding: LagFinding) -> list[str]:
    if finding.verdict_without_remembered is None:
        return []
    return [wording.stands_without_remembered(finding.verdict_without_remembered)]


def _subject(outcome: str) -> str:
    """Return the name of a series as a sentence begins with it."""
    return words.sentence(OUTCOMES[outcome])


def _not_shown(finding: LagFinding) -> Statement:
    sides = _both_sides(finding)
    told = wording.no_link(_subject(finding.outcome), max(side.smallest or 1.0 for side in sides))
    limit = wording.smallest_links(*(side.smallest for side in sides))
    text = " ".join([told, *remarks_on(finding)])
    return _link(finding, _nearest(finding), "not shown", text, (wording.NOT_SHOWN_MEANS,), limit)


def remarks_on(finding: LagFinding) -> list[str]:
    """Say what else must be known of a link that is not shown; nothing of others."""
    if finding.verdict != "not shown" or not (finding.before.tested and finding.after.tested):
        return []
    sides, remarks = _both_sides(finding), []
    if any(_off_zero(side.unadjusted_low, side.unadjusted_high) for side in sides):
        remarks.append(wording.move_together(_subject(finding.outcome)))
    if all(_within(side.low, side.high) for side in sides):
        remarks.append(wording.PERHAPS_SMALL)
    return remarks + _without_remembered(finding)


def _both_sides(finding: LagFinding) -> tuple[LagRow, LagRow]:
    return finding.row(THIS_DAY), finding.row(NEXT_SLEEP)


def _off_zero(low: float | None, high: float | None) -> bool:
    return low is not None and high is not None and (low > 0 or high < 0)


def _within(low: float | None, high: float | None) -> bool:
    return low is not None and high is not None and low > -wording.SLIGHT and high < wording.SLIGHT


def group_statements(
    groups: Sequence[GroupFinding], judged_from: date | None = None, *, together: bool = False
) -> list[Statement]:
    """Say whether days differ between shift kinds and weekdays; nothing where nothing is judged.

    That a rota is too regular is said once.

    Parameters
    ----------
    judged_from : date, optional
        The day from which groups are judged, where that is still to come.
    together : bool
        Whether mood, sleep and the anxious mark share a sentence where nothing is shown of them.
    """
    if judged_from and groups:
        return [_statement(groups[0].topic, wording.groups_judged_from(long_day(judged_from)))]
    judged = [group for group in groups if group.verdict or group.too_regular]
    listed: dict[tuple[str, ...], list[GroupFinding]] = {}
    for group in judged:
        listed.setdefault(_alike(group, together=together), []).append(group)
    return [_group_statement(some) for some in listed.values()]


def told_together(findings: Findings) -> list[Statement]:
    """Return the statements, with mood, sleep and the anxious mark in one where no group is shown."""
    if not any(group.verdict for group in findings.groups):
        return list(findings.statements)
    others = [said for said in findings.statements if said.topic not in ("shifts", "weekdays")]
    return [*others, *group_statements(findings.groups, together=True)]


def _alike(group: GroupFinding, *, together: bool) -> tuple[str, ...]:
    """Return what groups must have in common to share a sentence."""
    if group.too_regular:
        return ("too regular",)
    alone = group.verdict == "shown" or not together
    return (group.by, str(group.verdict), group.outcome if alone else "")


def _group_statement(alike: list[GroupFinding]) -> Statement:
    group, outcomes = alike[0], list(dict.fromkeys(one.outcome for one in alike))
    return Statement(
        topic=group.topic,
        outcome=group.outcome if len(outcomes) == 1 else "",
        verdict=group.verdict,
        text=_group_text(alike, [OUTCOMES[outcome] for outcome in outcomes]),
        effect=None,
        interval=None,
        pairs=group.days,
        beside=_beside_group(group),
        numbers=_group_in_numbers(alike),
    )


def _group_text(alike: list[GroupFinding], outcomes: list[str]) -> str:
    group = alike[0]
    by = wording.GROUPINGS[group.by]
    if group.too_regular:
        return wording.too_regular(outcomes, by)
    if group.verdict == "shown":
        return groups_differ(group)
    if group.verdict == "not shown":
        # The share of the differences that groups account for is the square of a correlation.
        return wording.no_difference(outcomes, by, max(one.smallest or 1.0 for one in alike) ** 0.5)
    return wording.groups_too_little(outcomes, by)


def groups_differ(group: GroupFinding) -> str:
    """Say between which groups an outcome differed, and which are the ends."""
    by = wording.DIFFERED[group.named] if group.by == "kinds of shift" else wording.GROUPINGS[group.by]
    ends = [wording.ends(end.of, _names(end.lowest), _names(end.highest)) for end in group.ends]
    return wording.groups_differ(words.sentence(OUTCOMES[group.outcome]), by, ends)


def _names(groups: Sequence[Group]) -> str:
    return words.listed([group.name for group in groups])


def _beside_group(group: GroupFinding) -> tuple[str, ...]:
    if group.verdict == "not shown":
        return (wording.NOT_SHOWN_MEANS,)
    return (wording.BY_CHANCE_ALONE,) if group.verdict == "shown" else ()


def _group_in_numbers(alike: list[GroupFinding]) -> str:
    chances = [wording.chance(one.p) for one in alike if one.p is not None]
    if not chances:
        return ""
    told = f"{words.listed(chances)} (limit {alike[0].level or 0:.3g})"
    return wording.groups_in_numbers(told, max(one.smallest or 1.0 for one in alike))


def season_statements(courses: Sequence[Course]) -> list[Statement]:
    """Say whether the time of year comes back, as far as the years allow."""
    judged = [_season_statement(course) for course in courses if course.verdict]
    unjudged = [course for course in courses if not course.verdict]
    if not unjudged:
        return judged
    return [*judged, _statement("seasons", _courses_text(unjudged))]


def _season_statement(course: Course) -> Statement:
    return Statement(
        topic="seasons",
        outcome=course.outcome,
        verdict=course.verdict,
        text=_season_text(course, _subject(course.outcome)),
        effect=course.amplitude,
        interval=None,
        pairs=None,
        beside=(wording.NOT_SHOWN_MEANS,) if course.verdict == "not shown" else (),
        numbers=""
        if course.p is None
        else wording.wave_in_numbers(course.outcome, course.p, course.smallest or 0.0),
    )


def _season_text(course: Course, outcome: str) -> str:
    if course.verdict == "shown" and course.peak:
        return wording.season_shown(outcome, course.years, _day(course.peak), course.peak_within or 0)
    if course.verdict == "not shown":
        return wording.no_season(outcome, course.years, _wave_as_link(course))
    return wording.season_too_little(OUTCOMES[course.outcome], course.years)


def season_beside(seasons: Sequence[GroupRow], courses: Sequence[Course]) -> list[Statement]:
    """Set the last season beside the same one a year before, counted; nothing while one is hardly kept."""
    rows = [row for row in seasons if row.outcome == "mood"]
    if max((course.years for course in courses), default=0) < 2 or len(rows) <= SEASONS_A_YEAR:
        return []
    now, before = rows[-1], rows[-1 - SEASONS_A_YEAR]
    if min(now.kept, before.kept) < FEWEST_OF_A_SEASON:
        return []
    told = wording.season_beside(_low_days(now), _low_days(before))
    uneven = abs(now.kept / now.days - before.kept / before.days) > UNEVEN
    return [_statement("seasons", f"{told} {wording.UNEVENLY_KEPT}" if uneven else told)]


def _low_days(row: GroupRow) -> tuple[str, int, int, int]:
    """Return a season's name, its days in the two lowest levels, and its days kept and possible."""
    return row.name, sum(row.counts[:2]), row.kept, row.days


def _wave_as_link(course: Course) -> float:
    """Return the smallest yearly course that would have been seen on the scale of the words for links.

    A wave of one level or bucket up and down, or of one anxious day more in four, counts as strong.
    """
    strong = 0.25 if course.outcome == "anxious" else 1.0
    return wording.STRONG * (course.smallest or 0.0) / strong


def _courses_text(courses: Sequence[Course]) -> str:
    """Say what under three years may say: where each year was highest, and why that is no season."""
    years = max(course.years for course in courses)
    if not years:
        return wording.UNDER_A_YEAR
    highest = [(OUTCOMES[c.outcome], words.listed([_day(p) for p in c.peaks])) for c in courses if c.peaks]
    told = wording.courses([f"{name} around {peaks}" for name, peaks in highest])
    return f"{wording.ONE_YEAR if years == 1 else wording.TWO_YEARS} {told}"


def _day(peak: tuple[int, int]) -> str:
    return f"{peak[1]} {MONTHS[peak[0] - 1]}"


def record_statements(
    kept: Kept, gaps: Gaps, days: int, entered: int, *, works_shifts: bool
) -> list[Statement]:
    """Say what limits every finding: gaps, memory, one sitting, the rota.

    Parameters
    ----------
    kept, gaps : Kept, Gaps
        Of the period.
    days : int
        Days of the period.
    entered : int
        Kept days with a shift.
    works_shifts : bool
        Whether she says that she works shifts.
    """
    used = kept.mood + kept.sleep - kept.both
    texts = []
    if days > used:
        texts.append(wording.missing(days - used))
    if gaps.by_nights[0] + gaps.elsewhere[0] and gaps.by_nights[1] and gaps.elsewhere[1]:
        texts.append(wording.where_gaps_fall(_in_a_hundred(gaps.by_nights), _in_a_hundred(gaps.elsewhere)))
    if kept.in_breaks:
        texts.append(wording.days_in_breaks(kept.in_breaks))
    if kept.remembered > MANY * used:
        texts.append(wording.remembered_days(kept.remembered, used))
    if kept.other_moods or kept.other_sleeps:
        texts.append(wording.on_other_levels(kept.other_moods, kept.other_sleeps))
    if kept.too_late:
        texts.append(wording.too_late_days(kept.too_late))
    if kept.paper:
        texts.append(wording.from_paper(kept.paper))
    if used and entered < ROTA_ENTERED * used and entered and not works_shifts:
        texts.append(wording.rota_missing(entered, used))
    return [describe_record(text) for text in texts]


def _in_a_hundred(count: tuple[int, int]) -> int:
    return round(100 * count[0] / count[1])


def waiting_text(as_of: date, verdict_day: date) -> str:
    """Say when a new record is first judged."""
    return wording.first_verdict(long_day(verdict_day), (verdict_day - as_of).days // 7)
