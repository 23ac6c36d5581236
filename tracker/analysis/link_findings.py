"""What goes with what: mood and the anxious mark against sleep; and whether days are skipped."""

from __future__ import annotations

import math

import numpy as np

from tracker.analysis.lags import (
    AFTER,
    ALPHA,
    FEWEST_DOF,
    LAGS,
    ZERO,
    LagTable,
    Verdict,
    compare,
    covariates,
    only,
    pairs_at,
    prepare,
    shifts_known,
    sided,
)
from tracker.analysis.pairs import count_agreement
from tracker.analysis.reading import Kept, Reading, without_remembered
from tracker.analysis.results import KeepingFinding, LagFinding, LagRow, LinkSide, Unjudged, number_or_none
from tracker.analysis.series import Flags, Series
from tracker.analysis.skipping import ALPHA as SKIPPING_ALPHA
from tracker.analysis.skipping import SUSPECT, judged, skipping
from tracker.analysis.span import Span
from tracker.analysis.statements import MANY
from tracker.analysis.verdict_days import EARLY

COMPARED = ("mood", "anxious")
"""What is set against sleep."""


def link_findings(
    reading: Reading, span: Span, kept: Kept, works_shifts: bool
) -> tuple[tuple[LagFinding, ...], tuple[KeepingFinding, ...]]:
    """Compare each outcome with sleep over the days of a span, and what was kept with what was skipped.

    Parameters
    ----------
    works_shifts : bool
        Whether days count only where their own shift and that of the day before are entered.
    """
    ground = _Ground(reading, span, reading.series, works_shifts=works_shifts)
    again = _without_memory(reading, span, kept, works_shifts=works_shifts)
    return tuple(_lag_finding(ground, outcome, again) for outcome in COMPARED), _keeping(ground)


def _without_memory(reading: Reading, span: Span, kept: Kept, *, works_shifts: bool) -> _Ground | None:
    """Return the days without what was remembered, if that is over a tenth of the days used."""
    used = kept.mood + kept.sleep - kept.both
    if not span.judged or kept.remembered <= MANY * used:
        return None
    return _Ground(reading, span, without_remembered(reading), works_shifts=works_shifts)


class _Ground:
    """The days that links rest on, every series prepared, and the tables made of them."""

    def __init__(self, reading: Reading, span: Span, series: Series, *, works_shifts: bool) -> None:
        self.judged = span.judged
        self.kept = series.between(span.first, span.last).trimmed()
        places = reading.series.places(self.kept.first, self.kept.last)
        known = shifts_known(series) if works_shifts else np.ones(len(series), dtype=bool)
        self.series = only(series, known).between(self.kept.first, self.kept.last)
        self.works_shifts = works_shifts
        design = covariates(self.series)
        self.sleep = prepare(self.series.sleep, design)
        self.sittings = {name: reading.sittings[name].cut(places) for name in COMPARED}
        self.outcomes = {
            name: sided(self.series.values(name), design, self.sittings[name]) for name in COMPARED
        }
        waits = {"mood": reading.moods.waits & known, "sleep": reading.sleeps.waits & known}
        self.skipping = {
            "mood": skipping(self.outcomes["mood"].whole, waits["mood"][places], design),
            "sleep": skipping(self.sleep, waits["sleep"][places], design),
        }

    def table(self, name: str) -> LagTable:
        """Compare an outcome with sleep."""
        doubted = name == "mood" and any(test.p <= SUSPECT for test in self.skipping.values())
        return compare(self.sleep, self.outcomes[name], doubted=doubted)

    def days(self, series: Series) -> int:
        """Count the days with a mood or a sleep."""
        return int(np.count_nonzero(~np.isnan(series.mood) | ~np.isnan(series.sleep)))


def _keeping(ground: _Ground) -> tuple[KeepingFinding, ...]:
    adjusted = judged(ground.skipping)
    return tuple(
        KeepingFinding(
            outcome=name,
            p=number_or_none(adjusted[name]) if ground.judged else None,
            level=SKIPPING_ALPHA if ground.judged else None,
            verdict="shown" if ground.judged and adjusted[name] <= SKIPPING_ALPHA else None,
        )
        for name in ground.skipping
    )


def _lag_finding(ground: _Ground, outcome: str, again: _Ground | None) -> LagFinding:
    table = ground.table(outcome)
    needed = _needed(table, ground)
    return LagFinding(
        outcome=outcome,
        verdict=table.verdict if ground.judged else None,
        verdict_without_remembered=again.table(outcome).verdict if again else None,
        level=ALPHA if ground.judged else None,
        first=table.first if ground.judged else None,
        strongest=table.strongest if ground.judged else None,
        adjusted_for=_adjusted_for(ground),
        in_a_hundred=_in_a_hundred(ground.series, outcome, table) if ground.judged else None,
        unjudged=_unjudged(table, ground, needed) if ground.judged else None,
        needed=needed,
        days=ground.days(ground.series),
        days_kept=ground.days(ground.kept),
        before=_link_side(ground, outcome, table, sleep_first=True),
        after=_link_side(ground, outcome, table, sleep_first=False),
        moment_unknown=int(np.count_nonzero(_there(ground, outcome) & ground.sittings[outcome].unknown)),
        rows=tuple(_lag_row(table, place, judged=ground.judged) for place in range(len(LAGS))),
    )


def _there(ground: _Ground, outcome: str) -> Flags:
    return ~np.isnan(ground.series.values(outcome))


def _adjusted_for(ground: _Ground) -> tuple[str, ...]:
    """Return what was taken out; the shift only if every day used has one."""
    series = ground.series
    used = ~np.isnan(series.mood) | ~np.isnan(series.sleep)
    known = bool(used.any() and shifts_known(series)[used].all())
    return ("weekday", *(("shift",) if known else ()), "slow change")


def _unjudged(table: LagTable, ground: _Ground, needed: int) -> Unjudged | None:
    """Return why there is no verdict on a link."""
    if table.not_believed and table.verdict is None:
        return "skipped days"
    if table.verdict != "too little kept":
        return None
    if ground.days(ground.series) < ground.days(ground.kept):
        return "rota"
    return "days" if needed else "variety"


def _link_side(ground: _Ground, outcome: str, table: LagTable, *, sleep_first: bool) -> LinkSide:
    sat = ground.sittings[outcome]
    left_out = sat.beside_sleep if sleep_first else sat.after_next_sleep
    there = _there(ground, outcome)
    return LinkSide(
        tested=table.tested_before if sleep_first else table.tested_after,
        left_out=int(np.count_nonzero(there & left_out)),
        of=int(np.count_nonzero(there)),
    )


def _needed(table: LagTable, ground: _Ground) -> int:
    """Return about how many more days with both entries a test needs; 0 if it is not days that lack."""
    if not ground.sleep.rank:
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
