"""Tests and intervals; tails against scipy.stats, permutations against plain loops."""

import itertools

import numpy as np
import pytest
from scipy import stats

from tracker.analysis.chance import (
    autocorrelation,
    circular_shifts,
    f_upper,
    group_statistics_of_shifts,
    holm,
    rank_interval,
    smallest_effect,
    smallest_share,
    t_two_sided,
    variance_factor,
    weekday_rotations,
)
from tracker.analysis.groups import one_hot
from tracker.analysis.series import Floats

NAN = float("nan")


def test_tails_agree_with_scipy_stats() -> None:
    t, dof = np.array([-3.1, 0.0, 1.2]), np.array([35.5, 40.0, 900.0])
    assert t_two_sided(t, dof) == pytest.approx(2 * stats.t.sf(np.abs(t), dof), rel=1e-12)
    assert f_upper(4.2, 2, 5) == pytest.approx(stats.f.sf(4.2, 2, 5), rel=1e-12)


def test_smallest_effect_agrees_with_scipy_stats() -> None:
    c = stats.t.ppf(1 - 0.005 / 30, 210.0) + stats.norm.ppf(0.8)
    found = smallest_effect(np.array([210.0]), np.array([0.005 / 15]))
    assert found == pytest.approx([c / np.sqrt(210 + c * c)])


def test_holm_does_not_count_tests_that_were_not_made() -> None:
    found = holm(np.array([NAN, 0.01, NAN, 0.04]))
    assert found[[1, 3]] == pytest.approx([0.02, 0.04])
    assert np.isnan(found[[0, 2]]).all()


def test_autocorrelation_of_nothing_is_nothing() -> None:
    assert autocorrelation(np.full(9, NAN), 3).tolist() == [0, 0, 0]
    assert autocorrelation(np.array([1.0, -1.0]), 3).tolist() == [0, 0, 0]


def test_independent_days_count_in_full() -> None:
    x, y = np.random.default_rng(5).normal(size=(2, 2000))
    assert variance_factor(x, y, 14, slack=True) < 1.1


@pytest.mark.parametrize("days", [0, 1, 2])
def test_the_variance_factor_of_almost_no_days_is_one(days: int) -> None:
    assert variance_factor(np.zeros(days), np.zeros(days), 14) == 1


def test_intervals_widen_with_fewer_pairs_and_pass_missing_ones_through() -> None:
    interval = rank_interval(np.array([0.3, 0.3, NAN]), np.array([400.0, 40.0, 10.0]))
    assert interval.high[0] < interval.high[1]
    assert interval.low[1] < interval.low[0] < 0.3 < interval.high[0]
    assert np.isnan(interval.low[2])


def test_intervals_of_independent_days_cover_the_truth() -> None:
    """400 records of 100 independent normal pairs, latent 0.4, true Spearman (6/pi) asin(0.2): 92 to 98 %."""
    rng = np.random.default_rng(6)
    x, noise = rng.normal(size=(2, 400, 100))
    y = 0.4 * x + np.sqrt(1 - 0.16) * noise
    rho = np.array([stats.spearmanr(a, b).statistic for a, b in zip(x, y, strict=True)])
    interval = rank_interval(rho, np.full(400, 100.0))
    truth = 6 / np.pi * np.arcsin(0.2)
    assert 0.92 <= np.mean((interval.low <= truth) & (truth <= interval.high)) <= 0.98


def test_every_shift_of_the_labels_parts_a_constant_alike() -> None:
    found = circular_shifts(np.zeros(20), one_hot(np.array(["night", "off"] * 10)))
    assert (found.p, found.mean) == (1, 0)


def test_group_statistics_of_all_shifts_agree_with_a_loop() -> None:
    rng = np.random.default_rng(7)
    values = rng.normal(size=61)
    values[rng.random(61) < 0.2] = NAN
    labels = rng.choice(["early", "night", "off"], 61)
    labels[:20] = ""
    looped = [_parted(values, np.roll(labels, s)) for s in range(61)]
    assert group_statistics_of_shifts(values, one_hot(labels)[1:]) == pytest.approx(looped)


def _parted(values: Floats, labels: np.ndarray[tuple[int], np.dtype[np.str_]]) -> float:
    groups = [values[(labels == label) & ~np.isnan(values)] for label in np.unique(labels) if label]
    together = np.concatenate(groups)
    apart = sum(group.sum() ** 2 / len(group) for group in groups if len(group))
    return float(apart - together.sum() ** 2 / len(together))


def test_the_p_of_labels_moved_by_far_is_never_below_one_in_n_less_fourteen() -> None:
    labels = np.array(["night"] * 30 + ["off"] * 70)
    values = np.where(labels == "night", -0.7, 0.3)
    assert circular_shifts(values, one_hot(labels)).p == pytest.approx(1 / 86)


def test_weekday_turns_agree_with_every_turn_counted_out() -> None:
    """Three weeks have 343 sets of turns; their exact share lies within four standard errors."""
    values = np.random.default_rng(8).normal(size=21)
    values[4] = NAN
    weekday = np.arange(21) % 7
    observed = _parted(values, weekday.astype(str))
    parted = [
        _parted(values, ((weekday + np.repeat(turns, 7)) % 7).astype(str))
        for turns in itertools.product(range(7), repeat=3)
    ]
    exact = np.mean(np.array(parted) >= observed - 1e-12)
    found = weekday_rotations(values[None], 1999, 1)[0]
    assert abs(found.p - exact) < 4 * np.sqrt(exact * (1 - exact) / 1999) + 1 / 2000
    assert abs(found.mean - np.mean(parted)) < 4 * np.std(parted) / np.sqrt(1999)


def test_weekday_turns_are_repeated_by_their_seed() -> None:
    values = np.random.default_rng(9).normal(size=(2, 100))
    assert weekday_rotations(values, 99, 5) == weekday_rotations(values, 99, 5)


def test_weekday_turns_of_a_series_do_not_depend_on_those_beside_it() -> None:
    values = np.random.default_rng(10).normal(size=(3, 100))
    values[0, 30:50] = NAN
    alone = [weekday_rotations(one[None], 99, 5)[0] for one in values]
    together = weekday_rotations(values, 99, 5)
    assert [one.p for one in together] == [one.p for one in alone]
    assert [one.mean for one in together] == pytest.approx([one.mean for one in alone], rel=1e-12)


def test_smallest_share_agrees_with_scipy_stats() -> None:
    """Put back into the noncentral chi-square, the share is found in 80 of 100 records."""
    found = smallest_share(4.0, 5, 300, 0.01)
    critical = stats.chi2.isf(0.01, 4)
    assert stats.ncx2.sf(critical, 4, 300 * found) == pytest.approx(0.8, abs=1e-3)


def test_a_series_with_a_past_needs_larger_differences() -> None:
    assert smallest_share(12.0, 5, 300, 0.01) == pytest.approx(3 * smallest_share(4.0, 5, 300, 0.01))
