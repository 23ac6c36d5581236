"""How days differ between kinds of shift, weekdays, nights of a run and quick returns."""

from __future__ import annotations

from collections.abc import Collection
from datetime import timedelta

import numpy as np

from tracker import words
from tracker.analysis.describe import FEWEST_FOR_A_MEDIAN, actual_quartiles
from tracker.analysis.groups import By, GroupTest, Labels, group_tests
from tracker.analysis.reading import Reading
from tracker.analysis.results import GroupFinding, Topic, number_or_none
from tracker.analysis.rota_runs import NIGHTS, QUICK, UNHURRIED
from tracker.analysis.series import Flags, Floats, Series
from tracker.analysis.span import Span
from tracker.analysis.tables import named_groups, run_labels
from tracker.diary.choices import Choices

GRACE = timedelta(days=14)
"""Days at the end without a mood or sleep on which the rota still counts. Common practice, no source."""


def group_findings(
    reading: Reading, span: Span, choices: Choices, topics: Collection[Topic]
) -> tuple[GroupFinding, ...]:
    """Compare groups up to the verdict day; what was never answered is not asked about."""
    end = min(span.last, (reading.last or span.last) + GRACE)
    series = reading.series.between(span.first, end)
    runs = run_labels(reading, series) if "shifts" in topics else {}
    entered = bool((series.shift != "").any())
    tests = group_tests(
        series,
        series.answered,
        level=span.group_level,
        shifts="shifts" in topics and (entered or choices.settings.works_shifts),
        weekdays="weekdays" in topics,
        runs=runs,
    )
    labels = {kind.id: kind.label for kind in choices.kinds}
    judged = span.judged and span.group_level > 0
    return tuple(_group_finding(series, test, labels, runs, judged=judged) for test in tests)


def _group_finding(
    series: Series, test: GroupTest, labels: dict[str, str], runs: dict[By, Labels], *, judged: bool
) -> GroupFinding:
    lowest, highest = "", ""
    if test.outcome != "anxious":
        groups = _groups_of(series, test.by, labels, runs)
        lowest, highest = _extremes(series.values(test.outcome), groups)
    return GroupFinding(
        outcome=test.outcome,
        by=test.by,
        days=test.days,
        p=number_or_none(test.p_holm) if judged else None,
        smallest=number_or_none(test.smallest),
        verdict=test.verdict if judged else None,
        too_regular=test.too_regular,
        lowest=lowest,
        highest=highest,
    )


def _groups_of(
    series: Series, by: By, labels: dict[str, str], runs: dict[By, Labels]
) -> list[tuple[str, Flags]]:
    names = {"night of a run": NIGHTS, "quick return": (QUICK, UNHURRIED)}.get(by)
    return [(name, runs[by] == name) for name in names] if names else named_groups(series, by, labels)


def _extremes(values: Floats, groups: list[tuple[str, Flags]]) -> tuple[str, str]:
    """Return the groups with the lowest and the highest median, empty if all medians are equal."""
    medians = {}
    for name, days in groups:
        kept = values[days & ~np.isnan(values)]
        if len(kept) >= FEWEST_FOR_A_MEDIAN:
            medians[name] = actual_quartiles(kept)[1]
    low, high = min(medians.values(), default=0), max(medians.values(), default=0)
    if low == high:
        return "", ""
    lowest, highest = ([name for name, m in medians.items() if m == end] for end in (low, high))
    return words.listed(lowest), words.listed(highest)
