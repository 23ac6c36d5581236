"""What goes with what: mood and the anxious mark against sleep."""

from __future__ import annotations

import math

from tracker.analysis.adjust import Design
from tracker.analysis.lags import (
    AFTER,
    FEWEST_FREEDOM,
    LAGS,
    ZERO,
    LagTable,
    Prepared,
    Verdict,
    compare,
    covariates,
    lag_table,
    pairs_at,
    prepare,
)
from tracker.analysis.pairs import count_agreement
from tracker.analysis.reading import Kept, Reading, without_remembered
from tracker.analysis.results import LagFinding, LagRow, number_or_none
from tracker.analysis.series import Series
from tracker.analysis.span import Span
from tracker.analysis.statements import MANY
from tracker.analysis.verdict_days import EARLY

COMPARED = ("mood", "anxious")
"""What is set against sleep."""


def link_findings(reading: Reading, span: Span, kept: Kept) -> tuple[LagFinding, ...]:
    """Compare each outcome with sleep over the days of a span."""
    series = reading.series.between(span.first, span.last).trimmed()
    design = covariates(series)
    sleep = prepare(series.sleep, design)
    again = _without_memory(reading, span, kept)
    return tuple(_lag_finding(series, design, sleep, outcome, span, again) for outcome in COMPARED)


def _without_memory(reading: Reading, span: Span, kept: Kept) -> Series | None:
    """Return the series without remembered days, if those are over a tenth of the days used."""
    used = kept.mood + kept.sleep - kept.both
    if not span.judged or kept.remembered <= MANY * used:
        return None
    return without_remembered(reading).between(span.first, span.last).trimmed()


def _lag_finding(
    series: Series, design: Design, sleep: Prepared, outcome: str, span: Span, again: Series | None
) -> LagFinding:
    table = compare(sleep, prepare(series.values(outcome), design))
    shift = ("shift",) if (series.shift != "").any() else ()
    return LagFinding(
        outcome=outcome,
        verdict=table.verdict if span.judged else None,
        verdict_without_remembered=lag_table(again, outcome).verdict if again is not None else None,
        first=table.first if span.judged else None,
        strongest=table.strongest if span.judged else None,
        adjusted_for=("weekday", *shift, "slow change"),
        in_a_hundred=_in_a_hundred(series, outcome, table) if span.judged else None,
        needed=_needed(table, sleep),
        rows=tuple(_lag_row(table, place, judged=span.judged) for place in range(len(LAGS))),
    )


def _needed(table: LagTable, sleep: Prepared) -> int:
    """Return about how many more days with both entries a test needs; 0 if it is not days that lack."""
    if not sleep.rank:
        return max(EARLY[0] // 2 - int(table.pairs[ZERO]), 0)
    lacking = FEWEST_FREEDOM - float(min(table.dof[ZERO], table.dof[AFTER]))
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
