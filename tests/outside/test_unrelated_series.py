"""What plain tests make of two series that have nothing to do with each other, and what the verdict makes.

Bartlett 1935 (J. R. Stat. Soc. 98:536-543): the correlation of two unrelated autoregressions has the variance
(1 + ab)/(1 - ab) / n. So at a = b = 0.8 and n = 365 a plain test at 5 % claims a link in 36 of 100
pairs (20,000 runs: 0.3582), at 0.5 in 13 (0.1248), at n = 120 and 0.6 in 18 (0.1746).
"""

from datetime import date

import numpy as np
import pytest

from tests.simulated import MOOD_CUTS, SLEEP_CUTS, autoregression, lag_table
from tracker.analysis.chance import t_two_sided
from tracker.analysis.lags import LAGS, lagged_spearman
from tracker.analysis.series import Floats, Series

ZERO = np.array([0])


def plain_p(x: Floats, y: Floats) -> float:
    """Spearman's test as if the days were independent."""
    r, dof = lagged_spearman(x, y, ZERO), np.array([len(x) - 2.0])
    return float(t_two_sided(r * np.sqrt(dof / (1 - r**2)), dof)[0])


def cut(values: Floats, cuts: tuple[float, ...]) -> Floats:
    """Levels from 1 on."""
    return np.digitize(values, cuts).astype(float) + 1


@pytest.mark.parametrize(("n", "phi", "theory"), [(365, 0.8, 0.3585), (365, 0.5, 0.1290), (120, 0.6, 0.1788)])
def test_plain_tests_claim_what_bartlett_says_they_will(n: int, phi: float, theory: float) -> None:
    rng = np.random.default_rng(1935)
    claims = [plain_p(autoregression(n, phi, rng), autoregression(n, phi, rng)) < 0.05 for _ in range(1000)]
    assert np.mean(claims) == pytest.approx(theory, abs=4 * np.sqrt(theory * (1 - theory) / 1000))


def test_the_verdict_claims_hardly_any() -> None:
    """200 records of a year at a level of 0.4 %: at most 0.4 % and three standard errors, four records."""
    rng = np.random.default_rng(1946)
    nothing = np.full(365, np.nan)
    shown = 0
    for _ in range(200):
        mood = cut(autoregression(365, 0.8, rng), MOOD_CUTS)
        sleep = cut(autoregression(365, 0.8, rng), SLEEP_CUTS)
        series = Series(date(2025, 1, 1), mood, sleep, nothing, np.full(365, ""))
        table = lag_table(series, "mood")
        assert len(table.p_holm) == len(LAGS)
        shown += table.verdict == "shown"
    assert shown <= 4
