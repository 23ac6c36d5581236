"""Rows of counts."""

from datetime import date

import numpy as np

from tracker.analysis.describe import GroupRow, describe

NAN = float("nan")
FIRST, LAST = date(2026, 3, 1), date(2026, 3, 20)


def row(values: list[float], anxious: list[float]) -> GroupRow:
    days = np.ones(len(values), dtype=bool)
    return describe("2026-03", FIRST, LAST, "mood", days, np.array(values), np.array(anxious), 5)


def test_every_level_is_counted_and_quartiles_are_levels() -> None:
    found = row([1.0, 2, 2, 3, 3, 3, 4, 4, 5, 5, NAN, NAN], [1.0, 0, 0] + [NAN] * 9)
    assert found == GroupRow("2026-03", FIRST, LAST, "mood", 12, 10, (1, 2, 3, 2, 2), 3, (2, 4), 1, 3)
    assert not found.few_kept


def test_under_ten_kept_days_there_are_counts_only() -> None:
    found = row([3.0] * 9 + [NAN] * 10, [NAN] * 19)
    assert (found.counts, found.median, found.quartiles) == ((0, 0, 9, 0, 0), None, None)
    assert found.few_kept


def test_an_empty_group_is_a_row_of_zeros() -> None:
    found = row([NAN, NAN], [NAN, NAN])
    assert (found.days, found.kept, found.counts, found.anxious_noted) == (2, 0, (0, 0, 0, 0, 0), 0)


def test_only_the_days_of_the_group_are_counted() -> None:
    days = np.array([True, False, True])
    found = describe("off", FIRST, LAST, "sleep", days, np.array([1.0, 2, NAN]), np.zeros(3), 2)
    assert (found.days, found.kept, found.counts) == (2, 1, (1, 0))
