"""Findings as one JSON object that other programs may rely on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from tracker.analysis.counts import SideBySide
from tracker.analysis.dated_changes import BeforeAfter
from tracker.analysis.day_to_day import DayToDay
from tracker.analysis.describe import GroupRow
from tracker.analysis.groups import Which
from tracker.analysis.results import (
    Course,
    Findings,
    GroupFinding,
    KeepingFinding,
    LagFinding,
    LagRow,
    Statement,
)

SCHEMA = 2


def as_json(findings: Findings) -> dict[str, Any]:
    """Return the findings as plain JSON values.

    Days are ISO dates, effects have four decimals, p-values three figures, and what cannot be computed is
    None, never NaN. DEVELOPERS.md describes every field.
    """
    return {
        "schema": SCHEMA,
        "caution": findings.caution,
        "as_of": _day(findings.as_of),
        "verdict_day": _day(findings.verdict_day),
        "next_verdict_day": _day(findings.next_verdict_day),
        "wait_for_next": findings.wait_for_next,
        "period": {"from": _day(findings.first), "to": _day(findings.last), "days": findings.days},
        "kept": findings.kept._asdict(),
        "lags": [_lag(finding) for finding in findings.lags],
        "side_by_side": _side_by_side(findings.counts) if findings.counts else None,
        "day_to_day": _day_to_day(findings.day_to_day) if findings.day_to_day else None,
        "keeping": [_keeping(finding) for finding in findings.keeping],
        "seasons": {
            "verdict_day": _day(findings.season_verdict_day),
            "next_verdict_day": _day(findings.next_season_verdict_day),
            "months": _rows(findings, findings.months),
            "seasons": _rows(findings, findings.seasons),
            "years": _rows(findings, findings.years),
            "course": [_course(course) for course in findings.courses],
        },
        "shifts": _rows(findings, findings.shifts),
        "runs": _rows(findings, findings.runs),
        "weekdays": _rows(findings, findings.weekdays),
        "group_tests": [_group(group) for group in findings.groups],
        "changes": [_change(change) for change in findings.changes],
        "statements": [_statement(statement) for statement in findings.statements],
    }


def _lag(finding: LagFinding) -> dict[str, Any]:
    return {
        "outcome": finding.outcome,
        "with": "sleep",
        "verdict": finding.verdict,
        "level": finding.level,
        "unjudged": finding.unjudged,
        "verdict_without_remembered": finding.verdict_without_remembered,
        "first": finding.first,
        "strongest": finding.strongest,
        "days": finding.days,
        "days_kept": finding.days_kept,
        "before": finding.before._asdict(),
        "after": finding.after._asdict(),
        "moment_unknown": finding.moment_unknown,
        "smallest_effect": {str(lag): _effect(finding.row(lag).smallest) for lag in (0, -1)},
        "adjusted_for": list(finding.adjusted_for),
        "in_a_hundred": finding.in_a_hundred,
        "rows": [_lag_row(row) for row in finding.rows],
    }


def _side_by_side(counts: SideBySide) -> dict[str, Any]:
    return {
        "limit": counts.limit,
        "long_from": counts.long_from,
        "low_levels": [level.rank for level in counts.low_levels],
        "after_sleep": [
            {
                "sleep": row.sleep,
                "low": row.low._asdict(),
                "anxious": row.anxious._asdict(),
                "expected": _effect(row.expected),
            }
            for row in counts.after_sleep
        ],
        "sleep_after": [{"day": row.day, "sleeps": dict(row.sleeps)} for row in counts.sleep_after],
        "comparisons": [
            {
                "outcome": one.outcome,
                "after": one.after,
                "there": one.there._asdict(),
                "elsewhere": one.elsewhere._asdict(),
            }
            for one in counts.comparisons
        ],
        "across": len(counts.across),
        "other_levels": len(counts.other_levels),
        "rota_unknown": len(counts.rota_unknown),
    }


def _day_to_day(found: DayToDay) -> dict[str, Any]:
    common = found.months.common
    return {
        "runs": [
            {"from": _day(run.first), "to": _day(run.last), "kept": run.kept, "open": run.is_open}
            for run in found.runs
        ],
        "far": found.far._asdict(),
        "months": {**found.months._asdict(), "common": list(common) if common else None},
        "waited": [
            {"outcome": one.outcome, "after": one.after._asdict(), "otherwise": one.otherwise._asdict()}
            for one in found.waited
        ],
    }


def _keeping(finding: KeepingFinding) -> dict[str, Any]:
    return {
        "outcome": finding.outcome,
        "p": _p(finding.p),
        "level": finding.level,
        "verdict": finding.verdict,
    }


def _change(found: BeforeAfter) -> dict[str, Any]:
    return {
        "day": _day(found.change.day),
        "words": found.change.words,
        "window": found.window,
        "cuts": [
            {**cut._asdict(), "before": cut.before._asdict(), "after": cut.after._asdict()}
            for cut in found.cuts
        ],
        "nights": dict(zip(("before", "after"), found.nights, strict=True)),
    }


def _lag_row(row: LagRow) -> dict[str, Any]:
    return {
        "lag": row.lag,
        "pairs": row.pairs,
        "unadjusted": _effect(row.unadjusted),
        "adjusted": _effect(row.adjusted),
        "beyond_own_past": _effect(row.beyond_own_past),
        "low": _effect(row.low),
        "high": _effect(row.high),
        "p": _p(row.p),
        "verdict": row.verdict,
    }


def _course(course: Course) -> dict[str, Any]:
    return {
        "outcome": course.outcome,
        "years": course.years,
        "peak": _month_day(course.peak),
        "p": _p(course.p),
        "verdict": course.verdict,
        "amplitude": _effect(course.amplitude),
        "peak_within_days": course.peak_within,
        "peaks": [_month_day(peak) for peak in course.peaks],
        "smallest_amplitude": _effect(course.smallest),
    }


def _group(group: GroupFinding) -> dict[str, Any]:
    return {
        "outcome": group.outcome,
        "by": group.by,
        "days": group.days,
        "p": _p(group.p),
        "level": group.level,
        "verdict": group.verdict,
        "named": list(group.named),
        "p_of": _of_each(group.p_of),
        "p_beyond": _of_each(group.p_beyond),
        "ends": [
            {
                "of": end.of,
                "lowest": [one.name for one in end.lowest],
                "highest": [one.name for one in end.highest],
            }
            for end in group.ends
        ],
        "smallest_share": _effect(group.smallest),
        "too_regular": group.too_regular,
    }


def _of_each(p: Mapping[Which, float]) -> dict[str, float | None]:
    return {which.replace(" ", "_"): _p(value) for which, value in p.items()}


def _statement(statement: Statement) -> dict[str, Any]:
    return {
        "topic": statement.topic,
        "outcome": statement.outcome or None,
        "verdict": statement.verdict,
        "text": statement.text,
        "beside": list(statement.beside),
        "numbers": statement.numbers or None,
    }


def _rows(findings: Findings, rows: Sequence[GroupRow]) -> list[dict[str, Any]]:
    return [_row(row, findings.names[row.outcome]) for row in rows]


def _row(row: GroupRow, names: Sequence[str]) -> dict[str, Any]:
    return {
        "name": row.name,
        "from": _day(row.first),
        "to": _day(row.last),
        "outcome": row.outcome,
        "days": row.days,
        "kept": row.kept,
        "counts": dict(zip(names, row.counts, strict=True)),
        "median": _level(row.outcome, names, row.median),
        "quartiles": [_level(row.outcome, names, place) for place in row.quartiles]
        if row.quartiles
        else None,
        "anxious": row.anxious,
        "anxious_noted": row.anxious_noted,
    }


def _level(outcome: str, names: Sequence[str], place: int | None) -> int | str | None:
    """Return the number of a mood level, or the label of a bucket."""
    if place is None:
        return None
    return place if outcome == "mood" else names[place - 1]


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _month_day(peak: tuple[int, int] | None) -> str | None:
    return f"{peak[0]:02d}-{peak[1]:02d}" if peak else None


def _effect(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _p(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.3g}")
