"""Rank correlation, its interval and autocorrelation against published values.

Values marked R were printed by R 4.2.2; scipy gives the same. The rest name their page.
"""

import numpy as np
import pytest

from tests.outside.tables import column
from tracker.analysis.agreement import count_agreement
from tracker.analysis.chance import autocorrelation, rank_interval
from tracker.analysis.lags import lagged_spearman, pairs_at
from tracker.analysis.series import Floats


def numbers(text: str) -> Floats:
    return np.array([float(word) for word in text.split()])


def spearman(x: Floats, y: Floats) -> float:
    return float(lagged_spearman(x, y, np.array([0]))[0])


TUNA = numbers("44.4 45.9 41.9 53.3 44.7 44.1 50.7 45.2 60.1"), numbers("2.6 3.1 2.5 5.0 3.6 4.0 5.2 2.8 3.8")
GRADUATES = (
    numbers("4.0 4.0 3.9 3.8 3.7 3.6 3.5 3.5 3.5 3.3 3.2 3.2"),
    numbers("710 610 640 580 545 560 610 530 560 540 570 560"),
)
STRIVING = numbers("42 46 39 37 65 88 86 56 62 92 54 81")
YIELDING = numbers("0 0 1 1 3 4 5 6 7 8 8 12")
AUTHORITY = numbers("82 98 87 40 116 113 111 83 85 126 106 117")


@pytest.mark.parametrize(
    ("pair", "rho"),
    [
        (TUNA, 0.6),  # Hollander & Wolfe 1973, p. 187, the example of R's cor.test
        (GRADUATES, 0.5900187627),  # Conover 1999, prints 0.59; R
        ((YIELDING, STRIVING), 0.6151227852),  # Siegel 1956, prints 0.616 by rounding on the way; R
        ((AUTHORITY, STRIVING), 0.8181818182),  # Siegel 1956, prints 0.82; R
    ],
)
def test_spearman_of_the_textbooks(pair: tuple[Floats, Floats], rho: float) -> None:
    assert spearman(*pair) == pytest.approx(rho, abs=1e-9)


@pytest.mark.parametrize(
    ("file", "x", "y", "rho", "n"),
    [
        ("cushny-peebles-sleep.csv", "drug1", "drug2", 0.7818181818, 10),  # R
        ("airquality-1973.csv", "ozone", "temp", 0.7740429555, 116),  # R, gaps dropped in pairs
        ("sleepstudy.csv", "day", "reaction_ms", 0.5228138502, 180),  # R, ten-fold ties
    ],
)
def test_spearman_of_whole_data_sets(file: str, x: str, y: str, rho: float, n: int) -> None:
    pair = pairs_at(column(file, x), column(file, y), 0)
    assert len(pair[0]) == n
    assert spearman(*pair) == pytest.approx(rho, abs=1e-9)


def test_spearman_of_the_scipy_documentation() -> None:
    # Example of scipy.stats.spearmanr
    assert spearman(numbers("1 2 3 4 5"), numbers("5 6 7 8 7")) == pytest.approx(0.82078268, abs=1e-8)


def test_interval_of_bonett_and_wright() -> None:
    # R package statpsych, page of ci.spear: 0.8699639, 0.5840951 to 0.9638297
    y = numbers("21 4 9 12 35 18 10 22 24 1 6 8 13 16 19")
    x = numbers("67 28 30 28 52 40 25 37 44 10 14 20 28 40 51")
    rho = np.array([spearman(x, y)])
    interval = rank_interval(rho, np.array([15.0]))
    assert rho[0] == pytest.approx(0.8699639, abs=1e-7)
    assert (interval.low[0], interval.high[0]) == pytest.approx((0.5840951, 0.9638297), abs=1e-7)


def test_pairs_of_graduates_agree_as_counted_for_kendalls_tau() -> None:
    # Conover 1999, p. 320, as NIST's Dataplot page credits it: 44.5 against 17.5 with ties in GPA counted
    # one half, so 62 pairs in all. Without the ties: tau-b 0.4390389003 (R) times the root of the pairs
    # not tied on each side, 61 and 62 of 66, is the difference of 27.
    pairs = count_agreement(*GRADUATES)
    assert pairs.agreeing - pairs.disagreeing == pytest.approx(0.4390389003 * np.sqrt(61 * 62), abs=1e-6)


def test_autocorrelation_of_michelsons_speed_of_light() -> None:
    # NIST Standard Reference Database 140, Michelso: mean 299.8524, r(1) = 0.535199668621283, certified to
    # 15 digits; r(2), r(3) by R. NIST divides by all n squares, we by the mean of the pairs.
    light = 299 + column("michelson-1879.csv", "speed") / 1000
    n = len(light)
    factor = (n - np.arange(1, 4)) / n
    certified = [0.535199668621283, 0.1480532794843, -0.0233086093744]
    assert light.mean() == pytest.approx(299.8524, abs=1e-12)
    assert autocorrelation(light - light.mean(), 3) * factor == pytest.approx(certified, abs=1e-12)


def test_autocorrelation_of_the_lynx_shows_the_ten_year_cycle() -> None:
    # R acf(log10(lynx)), lags 1 to 10; statsmodels the same
    lynx = np.log10(column("lynx.csv", "lynx"))
    factor = 1 - np.arange(1, 11) / len(lynx)
    expected = numbers(
        "0.7851240449 0.3402301484 -0.1322815912 -0.4938838003 -0.6205419540 "
        "-0.4879421925 -0.1578088074 0.2348514813 0.5372074186 0.6055067660"
    )
    assert autocorrelation(lynx - lynx.mean(), 10) * factor == pytest.approx(expected, abs=1e-9)


def test_a_series_with_gaps_against_itself() -> None:
    # R cor(method = "spearman"), presidents, 6 gaps, lags 1 to 4
    approval = column("presidents-approval.csv", "approval")
    lags = np.arange(1, 5)
    expected = [0.7826964178, 0.6915999688, 0.5162320397, 0.4388759562]
    assert lagged_spearman(approval, approval, lags) == pytest.approx(expected, abs=1e-9)
