"""Several tests at once, circular shifts and effective numbers against published or hand-counted values."""

import itertools

import numpy as np
import pytest

from tests.outside.tables import column
from tests.simulated import autoregression
from tracker.analysis.chance import (
    circular_shifts,
    cross_sums,
    group_statistics_of_shifts,
    holm,
    share_at_least,
    smallest_effect,
    variance_factor,
    weighted_holm,
)
from tracker.analysis.groups import one_hot
from tracker.analysis.lags import lagged_spearman
from tracker.analysis.series import Floats, standard_ranks


def test_holm_on_the_fifteen_p_values_of_benjamini_and_hochberg() -> None:
    # Benjamini & Hochberg 1995; adjusted by R p.adjust(method = "holm")
    text = ".0001 .0004 .0019 .0095 .0201 .0278 .0298 .0344 .0459 .3240 .4262 .5719 .6528 .7590 1"
    adjusted = ".0015 .0056 .0247 .114 .2211 .278 .278 .278 .3213 1 1 1 1 1 1"
    found = holm(np.array([float(p) for p in text.split()]))
    assert found == pytest.approx([float(p) for p in adjusted.split()], abs=1e-9)
    assert np.count_nonzero(found <= 0.05) == 3


@pytest.mark.parametrize(
    ("p", "adjusted"),
    [
        ([0.01, 0.04, 0.03], [0.03, 0.06, 0.06]),  # by hand
        ([0.01, 0.04, 0.03, 0.005], [0.03, 0.06, 0.06, 0.02]),  # R p.adjust
        ([0.01, 0.02, 0.03, 0.04], [0.04, 0.06, 0.06, 0.06]),  # R p.adjust
    ],
)
def test_holm_keeps_the_order_given(p: list[float], adjusted: list[float]) -> None:
    assert holm(np.array(p)) == pytest.approx(adjusted, abs=1e-12)


def test_weighted_holm_of_three_by_hand() -> None:
    # Weighted Holm (arXiv 2604.20016): p/w = .02 .08 .12, times 1, 1/2, 1/4, running maximum
    found = weighted_holm(np.array([0.01, 0.02, 0.03]), np.array([1 / 2, 1 / 4, 1 / 4]))
    assert found == pytest.approx([0.02, 0.04, 0.04], abs=1e-12)


def test_weighted_holm_is_the_closed_test_of_weighted_bonferroni() -> None:
    """Every set of hypotheses counted out: over all that hold one, the largest min(p/w) times the weights."""
    p, weights = np.array([0.004, 0.03, 0.011, 0.2]), np.array([0.4, 0.3, 0.2, 0.1])
    sets = [list(some) for size in range(1, 5) for some in itertools.combinations(range(4), size)]
    of_each = [(some, min(1.0, (p[some] / weights[some]).min() * weights[some].sum())) for some in sets]
    closed = [max(adjusted for some, adjusted in of_each if at in some) for at in range(4)]
    assert weighted_holm(p, weights) == pytest.approx(closed, abs=1e-12)


def test_weighted_holm_of_equal_weights_is_holm_and_skips_what_was_not_tested() -> None:
    p = np.array([0.01, np.nan, 0.04, 0.03])
    assert weighted_holm(p, np.full(4, 0.2)) == pytest.approx(holm(p), nan_ok=True)


def test_circular_shifts_of_six_days_by_hand() -> None:
    # Two groups account for the square of their correlation: by hand 1, 1/4, -1/2, -1/2, -1/2, 1/4
    days = np.array([0.0, 0, 1, 1, 0, 0])
    values, groups = standard_ranks(days), one_hot(days.astype(str))
    found = group_statistics_of_shifts(values, groups) / 6
    assert found == pytest.approx([1, 1 / 16, 1 / 4, 1 / 4, 1 / 4, 1 / 16], abs=1e-12)
    assert share_at_least(found, found[0]) == pytest.approx(1 / 6)


def shifted(x: Floats, y: Floats) -> Floats:
    """Size of Spearman's correlation of two series without gaps at every circular shift."""
    return np.abs(cross_sums(standard_ranks(x), standard_ranks(y)) / len(x))


def test_exact_ties_among_circular_shifts_are_counted() -> None:
    # By hand, and by two implementations: six of the eight shifts reach the first, four of them by a tie
    found = shifted(np.array([1.0, 1, 2, 3, 3, 2, 1, 1]), np.array([1.0, 2, 3, 3, 2, 1, 1, 1]))
    expected = [0.6388889, 0.0555556, 0.6388889, 0.8888889, 0.6388889, 0.0555556, 0.6388889, 1]
    assert found == pytest.approx(expected, abs=1e-7)
    assert share_at_least(found, found[0]) == 6 / 8


def test_circular_shifts_of_el_nino_and_the_fish() -> None:
    # 453 months without gaps, Spearman; R and scipy: share 0.8653421634 at lag 0, one shift at lag 6
    found = shifted(column("soi-recruitment.csv", "soi"), column("soi-recruitment.csv", "recruitment"))
    assert found[[0, 6]] == pytest.approx([0.0318238959, 0.5986012], abs=1e-7)
    assert share_at_least(found, found[0]) == pytest.approx(0.8653421634, abs=1e-9)
    assert share_at_least(found, found[6]) == pytest.approx(1 / 453)


def test_a_season_survives_circular_shifts_of_a_year() -> None:
    # Lung deaths: next largest 0.884151 of 72 shifts; R
    found = shifted(column("lung-deaths-uk.csv", "male"), column("lung-deaths-uk.csv", "female"))
    assert np.sort(found)[-2] == pytest.approx(0.884151, abs=1e-6)


def test_shifts_with_gaps_agree_with_a_loop() -> None:
    """Ozone on days of much and of little sun, by numpy.corrcoef over the days that a shift has of both."""
    ozone, solar = (column("airquality-1973.csv", name) for name in ("ozone", "solar"))
    values, sunny = standard_ranks(ozone), np.where(np.isnan(solar), np.nan, solar > np.nanmedian(solar))
    groups = np.array([sunny == 0, sunny == 1])
    looped = [_parted(sunny, np.roll(values, -s)) for s in range(len(solar))]
    assert group_statistics_of_shifts(values, groups) == pytest.approx(looped, abs=1e-9)
    reached = sum(part >= looped[0] for part in looped[8:-7])
    assert circular_shifts(values, groups).p == pytest.approx((1 + reached) / (len(looped) - 14))


def _parted(x: Floats, y: Floats) -> float:
    """How far the values of two groups lie apart: the square of their correlation, of all differences."""
    both = ~np.isnan(x) & ~np.isnan(y)
    return float(np.corrcoef(x[both], y[both])[0, 1] ** 2 * y[both].var() * both.sum())


def test_bartletts_factor_of_two_autoregressions() -> None:
    # Algebra: (1 + ab)/(1 - ab) = 1.857 for a = 0.6, b = 0.5; 40 records of 3,650 days
    rng = np.random.default_rng(20)
    found = [
        variance_factor(autoregression(3650, 0.6, rng), autoregression(3650, 0.5, rng), 14) for _ in range(40)
    ]
    assert np.mean(found) == pytest.approx(1.3 / 0.7, abs=0.03)


def test_smallest_effect_of_two_hundred_degrees_of_freedom() -> None:
    # By the formula c / sqrt(nu + c^2) with c = t(1 - alpha/30; nu) + 0.8416; no published value found
    dof = np.array([200.0])
    assert smallest_effect(dof, np.array([0.05 / 15])) == pytest.approx([0.2603], abs=5e-5)
    assert smallest_effect(dof, np.array([0.01 / 15])) == pytest.approx([0.2908], abs=5e-5)


def test_plain_tests_find_links_between_unrelated_series() -> None:
    """Two unrelated autoregressions of phi 0.8: Bartlett's variance makes 36 % of plain tests "significant".

    Formula (1 + ab)/(1 - ab) / n = 0.11172^2 at n = 365, so |r| > 0.1026 in 0.3585 of the records.
    """
    rng = np.random.default_rng(80)
    zero = np.array([0])
    found = [
        lagged_spearman(autoregression(365, 0.8, rng), autoregression(365, 0.8, rng), zero)[0]
        for _ in range(1000)
    ]
    assert 0.30 < np.mean(np.abs(found) > 1.96 / np.sqrt(365)) < 0.42
