"""How days differ between kinds of shift and weekdays, and in the days that follow nights."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import timedelta

import numpy as np

from tracker.analysis.describe import FEWEST_FOR_A_MEDIAN, actual_quartiles
from tracker.analysis.groups import GroupTest, Labels, group_tests
from tracker.analysis.reading import Reading
from tracker.analysis.results import Ends, EndsOf, Group, GroupFinding, Topic, number_or_none
from tracker.analysis.rota_runs import DAYS_SINCE, days_since_night
from tracker.analysis.series import Flags, Floats, Series
from tracker.analysis.span import Span
from tracker.analysis.tables import Grouping, named_groups
from tracker.diary.choices import Choices

GRACE = timedelta(days=14)
"""Days at the end without a mood or sleep on which the rota still counts. Common practice, no source."""


def group_findings(
    reading: Reading, span: Span, choices: Choices, topics: Collection[Topic]
) -> tuple[GroupFinding, ...]:
    """Compare groups up to the verdict day; what was never answered is not asked about."""
    end = min(span.last, (reading.last or span.last) + GRACE)
    series = reading.series.between(span.first, end)
    night = np.array([day in reading.rota.nights for day in series.dates], dtype=bool)
    since = days_since_night(series.shift, night)
    entered = bool((series.shift != "").any())
    tests = group_tests(
        series,
        series.answered,
        level=span.group_level,
        shifts="shifts" in topics and (entered or choices.settings.works_shifts),
        weekdays="weekdays" in topics,
        after_nights=since,
    )
    labels = {kind.id: kind.label for kind in choices.kinds}
    judged = span.judged and span.group_level > 0
    return tuple(_group_finding(series, test, labels, since, span, judged=judged) for test in tests)


def _group_finding(
    series: Series, test: GroupTest, labels: Mapping[str, str], since: Labels, span: Span, *, judged: bool
) -> GroupFinding:
    return GroupFinding(
        outcome=test.outcome,
        by=test.by,
        days=test.days,
        p=number_or_none(test.p) if judged else None,
        level=span.group_level if judged else None,
        smallest=number_or_none(test.smallest),
        verdict=test.verdict if judged else None,
        too_regular=test.too_regular,
        named=test.named if judged else (),
        p_of=dict(test.p_of) if judged else {},
        p_beyond=dict(test.p_beyond) if judged else {},
        ends=_ends(series, test, labels, since),
    )


def _ends(series: Series, test: GroupTest, labels: Mapping[str, str], since: Labels) -> tuple[Ends, ...]:
    """Return the groups with the lowest and the highest median: of kinds of shift only for what is named."""
    if test.outcome == "anxious":
        return ()
    values = series.values(test.outcome)
    if test.by == "days after nights":
        return _extremes(
            "days after nights", values, [(Group(name, name), since == name) for name in DAYS_SINCE]
        )
    groupings: tuple[Grouping, ...] = ("weekday",) if test.by == "weekday" else test.named
    return tuple(
        end
        for grouping in groupings
        for end in _extremes(grouping, values, named_groups(series, grouping, labels))
    )


def _extremes(of: EndsOf, values: Floats, groups: list[tuple[Group, Flags]]) -> tuple[Ends, ...]:
    """Return the groups with the lowest and the highest median, nothing if all medians are equal."""
    medians = {}
    for group, days in groups:
        kept = values[days & ~np.isnan(values)]
        if len(kept) >= FEWEST_FOR_A_MEDIAN:
            medians[group] = actual_quartiles(kept)[1]
    low, high = min(medians.values(), default=0), max(medians.values(), default=0)
    if low == high:
        return ()
    lowest, highest = (tuple(group for group, m in medians.items() if m == end) for end in (low, high))
    return (Ends(of, lowest, highest),)
