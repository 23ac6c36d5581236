"""What goes with what: mood and the anxious mark against sleep; and whether days are skipped."""

from __future__ import annotations

import math

import numpy as np

from tracker.analysis.agreement import count_agreement
from tracker.analysis.lags import (
    AFTER,
    ALPHA,
    FEWEST_DOF,
    LAGS,
    ZERO,
    LagTable,
    Verdict,
    pairs_at,
    shifts_known,
)
from tracker.analysis.links import COMPARED, Links
from tracker.analysis.reading import Kept, Reading, without_remembered
from tracker.analysis.results import KeepingFinding, LagFinding, LagRow, LinkSide, Unjudged, number_or_none
from tracker.analysis.series import Flags, Series
from tracker.analysis.skipping import ALPHA as SKIPPING_ALPHA
from tracker.analysis.skipping import holm_of
from tracker.analysis.span import Span
from tracker.analysis.statements import MANY
from tracker.analysis.verdict_days import EARLY


def link_findings(
    reading: Reading, span: Span, kept: Kept, works_shifts: bool
) -> tuple[tuple[LagFinding, ...], tuple[KeepingFinding, ...]]:
    """Compare each outcome with sleep over the days of a span, and what was kept with what was skipped.

    Parameters
    ----------
    works_shifts : bool
        Whether days count only where their own shift and that of the day before are entered.
    """
    links = _links(reading, span, reading.series, works_shifts)
    again = _without_memory(reading, span, kept, works_shifts)
    judged = span.judged
    lags = tuple(_lag_finding(links, outcome, again, judged=judged) for outcome in COMPARED)
    return lags, _keeping(links, judged=judged)


def _without_memory(reading: Reading, span: Span, kept: Kept, works_shifts: bool) -> Links | None:
    """Return the days without what was remembered, if that is over a tenth of the days used."""
    used = kept.mood + kept.sleep - kept.both
    if not span.judged or kept.remembered <= MANY * used:
        return None
    return _links(reading, span, without_remembered(reading), works_shifts)


def _links(reading: Reading, span: Span, series: Series, works_shifts: bool) -> Links:
    kept = series.between(span.first, span.last).trimmed()
    places = series.places(kept.first, kept.last)
    waits = {"mood": reading.moods.waits, "sleep": reading.sleeps.waits}
    return Links(series, places, reading.sittings, waits, works_shifts=works_shifts)


def _days(series: Series) -> int:
    """Count the days with a mood or a sleep."""
    return int(np.count_nonzero(~np.isnan(series.mood) | ~np.isnan(series.sleep)))


def _keeping(links: Links, *, judged: bool) -> tuple[KeepingFinding, ...]:
    adjusted = holm_of(links.skipping)
    return tuple(
        KeepingFinding(
            outcome=name,
            p=number_or_none(adjusted[name]) if judged else None,
            level=SKIPPING_ALPHA if judged else None,
            verdict="shown" if judged and adjusted[name] <= SKIPPING_ALPHA else None,
        )
        for name in links.skipping
    )


def _lag_finding(links: Links, outcome: str, again: Links | None, *, judged: bool) -> LagFinding:
    table = links.table(outcome)
    needed = _needed(table, links)
    return LagFinding(
        outcome=outcome,
        verdict=table.verdict if judged else None,
        verdict_without_remembered=again.table(outcome).verdict if again else None,
        level=ALPHA if judged else None,
        first=table.first if judged else None,
        strongest=table.strongest if judged else None,
        adjusted_for=_adjusted_for(links),
        in_a_hundred=_in_a_hundred(links.series, outcome, table) if judged else None,
        unjudged=_unjudged(table, links, needed) if judged else None,
        needed=needed,
        days=_days(links.series),
        days_kept=_days(links.kept),
        before=_link_side(links, outcome, table, sleep_first=True),
        after=_link_side(links, outcome, table, sleep_first=False),
        moment_unknown=int(np.count_nonzero(_there(links, outcome) & links.sittings[outcome].unknown)),
        rows=tuple(_lag_row(table, place, judged=judged) for place in range(len(LAGS))),
    )


def _there(links: Links, outcome: str) -> Flags:
    return ~np.isnan(links.series.values(outcome))


def _adjusted_for(links: Links) -> tuple[str, ...]:
    """Return what was taken out; the shift only if every day used has one."""
    series = links.series
    used = ~np.isnan(series.mood) | ~np.isnan(series.sleep)
    known = bool(used.any() and shifts_known(series)[used].all())
    trial = series.arm is not None and bool((series.arm != "").any())
    return ("weekday", *(("shift",) if known else ()), "slow change", *(("trial",) if trial else ()))


def _unjudged(table: LagTable, links: Links, needed: int) -> Unjudged | None:
    """Return why there is no verdict on a link."""
    if table.not_believed and table.verdict is None:
        return "skipped days"
    if table.verdict != "too little kept":
        return None
    if _days(links.series) < _days(links.kept):
        return "rota"
    return "days" if needed else "variety"


def _link_side(links: Links, outcome: str, table: LagTable, *, sleep_first: bool) -> LinkSide:
    sat = links.sittings[outcome]
    left_out = sat.beside_sleep if sleep_first else sat.after_next_sleep
    there = _there(links, outcome)
    return LinkSide(
        tested=table.tested_before if sleep_first else table.tested_after,
        left_out=int(np.count_nonzero(there & left_out)),
        of=int(np.count_nonzero(there)),
    )


def _needed(table: LagTable, links: Links) -> int:
    """Return about how many more days with both entries a test needs; 0 if it is not days that lack."""
    if not links.sleep.rank:
        return max(EARLY[0] // 2 - int(table.pairs[ZERO]), 0)
    lacking = FEWEST_DOF - float(max(table.dof[ZERO], table.dof[AFTER]))
    return max(math.ceil(lacking), 0)


def _in_a_hundred(series: Series, outcome: str, table: LagTable) -> int | None:
    """Count pairs of days at the strongest lag, if shown and if the plain count points the same way."""
    if table.verdict != "shown" or table.strongest is None:
        return None
    sleep, values = pairs_at(series.sleep, series.values(outcome), table.strongest)
    pairs = count_agreement(sleep, -values if outcome == "anxious" else values)
    adjusted = table.adjusted[table.strongest == LAGS][0] * (-1 if outcome == "anxious" else 1)
    return pairs.in_a_hundred if pairs.gamma * adjusted > 0 else None


def _lag_row(table: LagTable, place: int, *, judged: bool) -> LagRow:
    p = number_or_none(table.p_holm[place])
    return LagRow(
        lag=int(LAGS[place]),
        pairs=int(table.pairs[place]),
        unadjusted=number_or_none(table.unadjusted[place]),
        unadjusted_low=number_or_none(table.unadjusted_interval.low[place]),
        unadjusted_high=number_or_none(table.unadjusted_interval.high[place]),
        adjusted=number_or_none(table.adjusted[place]),
        beyond_own_past=number_or_none(table.beyond_own_past[place]),
        low=number_or_none(table.interval.low[place]),
        high=number_or_none(table.interval.high[place]),
        smallest=number_or_none(table.smallest[place]),
        p=p if judged else None,
        verdict=_row_verdict(p, claimed=bool(table.claimed[place])) if judged else None,
    )


def _row_verdict(p: float | None, *, claimed: bool) -> Verdict:
    if p is None:
        return "too little kept"
    return "shown" if claimed else "not shown"
