"""What the findings say, in sentences for the page: no coefficients, no p-values, at most four links."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tracker import words
from tracker.analysis import wording
from tracker.analysis.wording import OUTCOMES
from tracker.diary.dates import MONTHS, long_day
from tracker.summary.page_model import Said

if TYPE_CHECKING:
    from tracker.analysis.lags import Verdict
    from tracker.analysis.results import Course, Findings, GroupFinding, LagFinding, LagRow

SHOWN_MOST = 4
ALLOWED = {"weekday": "weekday", "shift": "shift", "slow change": "slow changes"}
BEST_FIRST: tuple[Verdict | None, ...] = ("shown", "not shown", "too little kept", None)
WITHOUT_LATE_ENTRIES: dict[Verdict | None, str] = {
    "not shown": "Without the entries made late it is not shown.",
    "too little kept": "Without the entries made late too little is kept to say.",
}
TOO_FEW_YEARS = {0: "Less than a year cannot show a season.", 1: wording.ONE_YEAR, 2: wording.TWO_YEARS}


def said_by(findings: Findings) -> Said:
    """The findings for the page: what is shown, and always what is not and could not have been seen."""
    shown = [
        *(sentence for lag in findings.lags for sentence in _links(lag)),
        *(_season(course) for course in findings.courses if course.verdict == "shown"),
        *_differences(findings),
    ]
    return Said(
        (*shown[:SHOWN_MOST], not_seen(findings)),
        findings.verdict_day or findings.as_of,
        findings.next_verdict_day,
    )


def not_seen(findings: Findings) -> str:
    """What is not shown, what is too little kept, and what could not have been seen."""
    judged = any(lag.verdict for lag in findings.lags)
    parts = _not_shown(findings) if judged else [_nothing_judged(findings)]
    return " ".join([*parts, *_of_other_levels(findings), *_of_seasons(findings)])


def _of_other_levels(findings: Findings) -> list[str]:
    """What was kept before she changed the levels: it is on the page, and in no finding."""
    moods, sleeps = findings.kept.other_moods, findings.kept.other_sleeps
    return [wording.on_other_levels(moods, sleeps)] if moods or sleeps else []


def _nothing_judged(findings: Findings) -> str:
    following = findings.next_verdict_day
    when = f" The first verdict is on {long_day(following)}." if following else ""
    return f"Nothing is shown so far, and nothing could have been seen: too little is kept.{when}"


def _not_shown(findings: Findings) -> list[str]:
    missing = [
        *(name for lag in findings.lags for name in _links_not_shown(lag)),
        *_no_course(findings),
        *_groups(findings, "not shown"),
    ]
    little = [
        *(f"{OUTCOMES[lag.outcome]} and sleep" for lag in findings.lags if lag.verdict == "too little kept"),
        *_groups(findings, "too little kept"),
    ]
    told = [("Not shown", missing), ("Too little kept to say", little)]
    return [*(f"{head}: {'; '.join(names)}." for head, names in told if names), *_limit(findings)]


def _limit(findings: Findings) -> list[str]:
    """How strong a link had to be to be seen."""
    sides = [lag.row(side).smallest for lag in findings.lags for side in (0, -1)]
    smallest = [effect for effect in sides if effect is not None]
    if not smallest:
        return []
    if max(smallest) < wording.CLEAR:
        return ["A slight link may have been missed."]
    least = "a clear or strong" if max(smallest) < wording.STRONG else "a strong"
    return [f"Only {least} link could have been seen."]


def _links(lag: LagFinding) -> Iterator[str]:
    """One sentence a side that is shown: sleep first, mood first."""
    if lag.verdict != "shown":
        return
    for sleep_first in (True, False):
        row = lag.speaking(sleep_first=sleep_first)
        if row:
            yield _link(lag, row, sleep_first)


def _link(lag: LagFinding, row: LagRow, sleep_first: bool) -> str:
    own = "yesterday's mood" if lag.outcome == "mood" else "yesterday's mark"
    allowed = [own if sleep_first else "the sleep before", *(ALLOWED[name] for name in lag.adjusted_for)]
    parts = [f"Shown: {_tended(lag.outcome, row)}, {words.listed(allowed)} allowed for."]
    if row.lag == lag.strongest and lag.in_a_hundred is not None:
        parts.append(_in_a_hundred(lag.outcome, row.lag, lag.in_a_hundred))
    parts.append(WITHOUT_LATE_ENTRIES.get(lag.verdict_without_remembered, ""))
    return " ".join(filter(None, parts))


def _tended(outcome: str, row: LagRow) -> str:
    """What tended to follow what, the earlier of the two first."""
    more = (row.beyond_own_past or 0.0) > 0
    if row.lag < 0:
        which = "the next sleep" if row.lag == -1 else f"the sleep {-row.lag} days later"
        return wording.after_a_day(outcome, which, longer=more)
    when = f"{words.counted(row.lag, 'day')} after longer sleep" if row.lag else "after longer sleep"
    return f"{when} {wording.after_longer_sleep(outcome, more=more)}"


def _in_a_hundred(outcome: str, lag: int, agreeing: int) -> str:
    better = "the day not marked" if outcome == "anxious" else "the better day"
    apart = words.counted(abs(lag), "day")
    when = {0: "before it", -1: "after it"}.get(lag, f"{apart} {'before' if lag > 0 else 'later'}")
    return (
        f"In {agreeing} of 100 pairs of days that differ in both, {better} had the longer sleep {when} "
        f"(50 would mean no link), {wording.COUNTED}."
    )


def _links_not_shown(lag: LagFinding) -> list[str]:
    name = OUTCOMES[lag.outcome]
    if lag.verdict == "not shown":
        return [f"{name} and sleep"]
    if lag.verdict != "shown" or lag.first == "both":
        return []
    return [f"{name} and the sleep {'after' if lag.first == 'sleep' else 'before'} it"]


def _season(course: Course) -> str:
    month, day = course.peak or (1, 1)
    within = words.counted(course.peak_within or 0, "day")
    return (
        f"Shown: a yearly course of {OUTCOMES[course.outcome]} over {course.years} years, highest around "
        f"{day} {MONTHS[month - 1]}, give or take {within}."
    )


def _no_course(findings: Findings) -> list[str]:
    names = [OUTCOMES[course.outcome] for course in findings.courses if course.verdict == "not shown"]
    return [f"a yearly course of {words.listed(names)}"] if names else []


def _differences(findings: Findings) -> list[str]:
    """At most one difference for mood and one for the anxious mark: the surest.

    That sleep follows the rota is no news, and stands in the figures.
    """
    surest: dict[str, GroupFinding] = {}
    for group in sorted(findings.groups, key=lambda group: group.p or 0.0):
        if group.verdict == "shown" and group.outcome != "sleep":
            surest.setdefault(group.outcome, group)
    return [_difference(surest[outcome]) for outcome in ("mood", "anxious") if outcome in surest]


def _difference(group: GroupFinding) -> str:
    from tracker.analysis.statements import groups_differ

    told = groups_differ(group)
    return f"Shown: {told[0].lower()}{told[1:]}"


def _groups(findings: Findings, verdict: Verdict) -> list[str]:
    """`weekdays (mood, sleep)`: what was compared between groups of days, with this verdict at best."""
    return [
        f"{name} ({', '.join(outcomes)})"
        for name, kinds in (("shifts", ("kinds of shift",)), ("weekdays", ("weekday",)))
        if (outcomes := _outcomes(findings, kinds, verdict))
    ]


def _outcomes(findings: Findings, kinds: tuple[str, ...], verdict: Verdict) -> list[str]:
    """The outcomes whose best verdict over some groupings is the one asked for."""
    best: dict[str, Verdict] = {}
    for group in sorted(findings.groups, key=lambda group: BEST_FIRST.index(group.verdict)):
        if group.by in kinds and group.verdict:
            best.setdefault(group.outcome, group.verdict)
    return [outcome for outcome in OUTCOMES if best.get(outcome) == verdict]


def _of_seasons(findings: Findings) -> list[str]:
    """Why nothing can be said of seasons yet."""
    years = max((course.years for course in findings.courses), default=0)
    return [TOO_FEW_YEARS[years]] if years in TOO_FEW_YEARS else []
