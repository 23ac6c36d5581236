"""Pairs of days that agree."""

import itertools

import numpy as np
import pytest

from tracker.analysis.agreement import PairsOfDays, count_agreement, cross_table


def test_the_table_counts_each_meeting_of_values() -> None:
    assert cross_table(np.array([1.0, 1, 3]), np.array([2.0, 5, 5])).tolist() == [[1, 1], [0, 1]]


def test_pairs_agree_with_a_count_of_every_two_days() -> None:
    rng = np.random.default_rng(1)
    x, y = rng.integers(1, 9, 80).astype(float), rng.integers(1, 6, 80).astype(float)
    signs = [
        np.sign((a - c) * (b - d)) for (a, b), (c, d) in itertools.combinations(zip(x, y, strict=True), 2)
    ]
    assert count_agreement(x, y) == PairsOfDays(signs.count(1), signs.count(-1))


@pytest.mark.parametrize(
    ("pairs", "hundred", "gamma"),
    [
        (PairsOfDays(61, 39), 61, 0.22),
        (PairsOfDays(5, 5), 50, 0),
        (PairsOfDays(0, 7), 0, -1),
        (PairsOfDays(2, 0), 100, 1),
    ],
)
def test_fifty_in_a_hundred_is_no_link(pairs: PairsOfDays, hundred: int, gamma: float) -> None:
    assert pairs.in_a_hundred == hundred
    assert pairs.gamma == pytest.approx(gamma)


def test_nothing_is_said_where_no_two_days_differ_in_both() -> None:
    pairs = count_agreement(np.array([1.0, 1, 1]), np.array([1.0, 2, 3]))
    assert pairs.in_a_hundred is None
    assert np.isnan(pairs.gamma)
