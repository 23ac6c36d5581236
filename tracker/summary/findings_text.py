"""What was tested, in sentences for the page: no effect sizes, no p-values."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from tracker import words
from tracker.analysis import wording
from tracker.analysis.verdict_days import EARLY
from tracker.diary.dates import MONTHS
from tracker.summary.page_data import PageData
from tracker.summary.page_model import PageFindings, brief_day, span_of_days
from tracker.summary.shift_names import may_be_named

if TYPE_CHECKING:
    from tracker.analysis.lags import Verdict
    from tracker.analysis.results import Course, Ends, Findings, GroupFinding, LagFinding, LagRow

NAMES = {"mood": "mood", "sleep": "sleep", "anxious": "anxious days"}
ALLOWED = {"weekday": "weekday", "shift": "rota", "slow change": "slow change", "trial": "trial"}
OWN_PAST = "the day before"
LONG_AGO = timedelta(days=28)
SINCE_THEN = "The days since then are not in it."
NOT_IN_IT = "Too early to test whether mood and sleep go together: neither is kept yet. The counts stand."
SEASONS_NEED = "Seasons need three years."
WHOLE_YEARS = 3
WITHOUT_LATE_ENTRIES: dict[Verdict | None, str] = {
    "not shown": "Without the entries made late it is not shown.",
    "too little kept": "Without the entries made late too little is kept to say.",
}


def page_findings(findings: Findings, data: PageData) -> PageFindings:
    """What was tested and when, and always what is not shown and could not have been seen."""
    with_rota = data.with_shifts or any("shift" in lag.adjusted_for for lag in findings.lags)
    with_rota = with_rota and data.options.shifts is not False
    if findings.verdict_day is None:
        return PageFindings((_too_early(findings),), _first_test(findings), with_rota)
    right = f"tested {brief_day(findings.verdict_day)}"
    if findings.next_verdict_day:
        right += f", next {brief_day(findings.next_verdict_day)}"
    return PageFindings(tuple(_sentences(findings, data)), right, with_rota)


def _too_early(findings: Findings) -> str:
    if findings.first is None:
        return NOT_IN_IT
    day = (findings.as_of - findings.first).days + 1
    return (
        f"Day {day} of {EARLY[0]}: too early to test whether mood and sleep go together beyond chance. "
        "The counts stand."
    )


def _first_test(findings: Findings) -> str:
    following = findings.next_verdict_day
    return f"first test {brief_day(following)}" if following else ""


def _sentences(findings: Findings, data: PageData) -> Iterator[str]:
    shown = list(_links_shown(findings.lags))
    yield from shown
    if data.options.shifts is not False:
        yield from _kinds_of_shift(findings, data)
    yield from (_season(course) for course in findings.courses if course.verdict == "shown")
    yield " ".join(
        [
            *_not_shown(findings, with_allowed=not shown),
            *_too_little(findings),
            *_not_judged(findings),
            *_rests_on(findings, data),
            *_newest_levels(findings, data),
            *_of_seasons(findings),
        ]
    )


# --- links ------------------------------------------------------------------------------------


def _links_shown(lags: Sequence[LagFinding]) -> Iterator[str]:
    """A sentence for all that is shown with the same things allowed for: sleep first, then mood first."""
    by_clause: dict[str, list[str]] = {}
    late: list[str] = []
    for lag in (one for one in lags if one.verdict == "shown"):
        rows = (lag.speaking(sleep_first=side) for side in (True, False))
        told = [_tends(lag.outcome, row) for row in rows if row]
        by_clause.setdefault(_allowed(lag), []).extend(told)
        late.append(WITHOUT_LATE_ENTRIES.get(lag.verdict_without_remembered, ""))
    for clause, told in by_clause.items():
        yield " ".join(filter(None, [f"Shown: {'; '.join(told)}, {clause}.", *dict.fromkeys(late)]))
        late = []


def _allowed(lag: LagFinding) -> str:
    """`with weekday, rota, slow change and the day before allowed for`."""
    things = [*(ALLOWED[name] for name in lag.adjusted_for), OWN_PAST]
    return f"with {words.listed(things)} allowed for"


def _tends(outcome: str, row: LagRow) -> str:
    """What tends to follow what."""
    more = (row.beyond_own_past or 0.0) > 0
    if row.lag < 0:
        return _sleep_tends(outcome, -row.lag, longer=more)
    when = "after longer sleep"
    if row.lag:
        when = f"{words.counted(row.lag, 'day')} after a day of longer sleep"
    if outcome == "anxious":
        return f"{'more' if more else 'fewer'} days are marked anxious {when}"
    return f"mood tends to be {'better' if more else 'worse'} {when}"


def _sleep_tends(outcome: str, days: int, *, longer: bool) -> str:
    day = "an anxious day" if outcome == "anxious" else "a better day"
    tends = f"tends to be {'longer' if longer else 'shorter'}"
    if days == 1:
        return f"sleep {tends} after {day}"
    return f"the {wording.ORDINALS[days - 1]} sleep after {day} {tends}"


def _not_shown(findings: Findings, *, with_allowed: bool) -> list[str]:
    sides = [(lag, side) for lag in findings.lags for side in _sides_not_shown(lag)]
    names = [_pair_name(lag) for lag in findings.lags if _sides_not_shown(lag)]
    names += _no_course(findings)
    if not names:
        return []
    judged = [lag for lag, _ in sides]
    clause = f", {_allowed(judged[0])}" if with_allowed and judged else ""
    return [f"Not shown{clause}: {'; '.join(names)}.", *_limit([lag.row(side) for lag, side in sides])]


def _sides_not_shown(lag: LagFinding) -> tuple[int, ...]:
    """The lags next to the day that speak for the sides that were tested, and on which nothing is shown."""
    if lag.verdict not in ("shown", "not shown"):
        return ()
    sides = (
        (0, lag.before, lag.speaking(sleep_first=True)),
        (-1, lag.after, lag.speaking(sleep_first=False)),
    )
    return tuple(at for at, side, row in sides if side.tested and not (lag.verdict == "shown" and row))


def _pair_name(lag: LagFinding) -> str:
    name, sides = NAMES[lag.outcome], _sides_not_shown(lag)
    if len(sides) == 2:
        return f"{name} and sleep"
    it = "them" if lag.outcome == "anxious" else "it"
    return f"{name} and the sleep {'after' if sides == (-1,) else 'before'} {it}"


def _limit(rows: Sequence[LagRow]) -> list[str]:
    """How small a link is if there is one, or how strong it had to be to be seen on every side."""
    if not rows:
        return []
    if all(_is_within(row) for row in rows):
        return [wording.PERHAPS_SMALL]
    smallest = max(row.smallest if row.smallest is not None else 1.0 for row in rows)
    if smallest < wording.CLEAR:
        return ["A slight link may have been missed."]
    least = "a clear or strong" if smallest < wording.STRONG else "a strong"
    return [f"Only {least} link could have been seen."]


def _is_within(row: LagRow) -> bool:
    return (
        row.low is not None
        and row.high is not None
        and row.low > -wording.SLIGHT
        and row.high < wording.SLIGHT
    )


def _too_little(findings: Findings) -> list[str]:
    little = (lag for lag in findings.lags if lag.verdict == "too little kept" and lag.unjudged != "rota")
    names = [f"{NAMES[lag.outcome]} and sleep" for lag in little]
    return [f"Too little kept, or too much alike, to test: {'; '.join(names)}."] if names else []


def _not_judged(findings: Findings) -> list[str]:
    """Why there is no verdict: no rota entered, days that may have been skipped, sleeps that were known."""
    told = []
    if any(lag.unjudged == "rota" for lag in findings.lags):
        told.append(f"Mood and sleep: {wording.ROTA_WANTED}")
    if any(lag.unjudged == "skipped days" for lag in findings.lags):
        told.append(wording.SKIPPED_DAYS)
    return [*told, *(sentence for lag in findings.lags for sentence in _untested(lag))]


def _untested(lag: LagFinding) -> Iterator[str]:
    if lag.verdict in ("shown", "not shown"):
        for side, first in ((lag.before, True), (lag.after, False)):
            if not side.tested:
                name = wording.OUTCOMES[lag.outcome]
                yield wording.not_to_be_judged(name, side.left_out, side.of, sleep_first=first)


def _rests_on(findings: Findings, data: PageData) -> list[str]:
    if not (findings.first and findings.last):
        return []
    both = words.counted(findings.kept.both, "day")
    told = [f"Rests on {both} with both, {span_of_days(findings.first, findings.last)}."]
    if data.options.shifts is not False:
        partly = (lag for lag in findings.lags[:1] if lag.days < lag.days_kept)
        told += [wording.days_used(lag.days, lag.days_kept) for lag in partly]
    return [*told, SINCE_THEN] if data.last - findings.last > LONG_AGO else told


def _newest_levels(findings: Findings, data: PageData) -> list[str]:
    newest = data.choices.scales.newest("mood").from_day
    if not findings.kept.other_moods or newest is None:
        return []
    return [
        f"Tested on the newest mood levels alone, from {newest.day} {MONTHS[newest.month - 1]} {newest.year}."
    ]


# --- kinds of shift and seasons ---------------------------------------------------------------


def _kinds_of_shift(findings: Findings, data: PageData) -> Iterator[str]:
    """What differs between kinds of shift; that sleep does stands in the counts."""
    from tracker.analysis.statements import groups_differ

    named = {kind.id for kind in data.choices.kinds if data.options.shifts or may_be_named(kind)}
    for group in findings.groups:
        if group.verdict == "shown" and group.topic == "shifts" and group.outcome != "sleep":
            yield groups_differ(replace(group, ends=_ends_that_may_stand(group, named)))


def _ends_that_may_stand(group: GroupFinding, named: Collection[str]) -> tuple[Ends, ...]:
    """The ends of a difference; without both of them where one is a kind of her own."""
    if group.by != "kinds of shift":
        return group.ends
    return tuple(end for end in group.ends if all(one.id in named for one in (*end.lowest, *end.highest)))


def _season(course: Course) -> str:
    month, day = course.peak or (1, 1)
    within = words.counted(course.peak_within or 0, "day")
    return (
        f"Shown: a yearly course of {NAMES[course.outcome]} over {course.years} years, highest around "
        f"{day} {MONTHS[month - 1]}, give or take {within}."
    )


def _no_course(findings: Findings) -> list[str]:
    names = [NAMES[course.outcome] for course in findings.courses if course.verdict == "not shown"]
    return [f"a yearly course of {' or '.join(names)}"] if names else []


def _of_seasons(findings: Findings) -> list[str]:
    """Why nothing can be said of seasons yet."""
    years = max((course.years for course in findings.courses), default=0)
    return [SEASONS_NEED] if years < WHOLE_YEARS else []
