"""Days skipped according to the day before: the steps once more by scipy.stats, and known truth."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from tests.simulated import Case, simulate
from tracker.analysis.adjust import Design
from tracker.analysis.lags import covariates, prepare
from tracker.analysis.series import Flags, Series
from tracker.analysis.skipping import Skipping, holm_of, skipping

NAN = float("nan")


def record(days: int, seed: int, skipped: float) -> tuple[Series, Flags]:
    """Days of which some wait, and a share more after a low mood."""
    rng = np.random.default_rng(seed)
    series = simulate(Case(0, 0), days, rng)
    mood = np.where(np.isnan(series.mood), rng.integers(1, 6, days), series.mood)
    low = np.concatenate([[False], mood[:-1] <= 2])
    waits = (rng.random(days) < 0.1) | (low & (rng.random(days) < skipped))
    return replace(series, mood=np.where(waits, NAN, mood)), waits


def correlated(series: Series, waits: Flags) -> Skipping:
    design = covariates(series)
    return skipping(prepare(series.mood, design), waits, design)


def test_days_skipped_after_low_ones_are_found_and_the_sign_says_which() -> None:
    found = correlated(*record(1095, 1, 0.4))
    assert found.p < 0.001
    assert found.r < 0


def test_gaps_that_follow_nothing_are_seldom_found() -> None:
    """100 records at 5 %: at most 5 % and three standard errors (11)."""
    assert sum(correlated(*record(365, seed, 0)).p <= 0.05 for seed in range(100)) <= 11


def test_under_ten_waiting_days_nothing_is_compared() -> None:
    series, waits = record(365, 2, 0)
    few = waits & (np.cumsum(waits) <= 9)
    full = replace(series, mood=np.where(waits & ~few, 3.0, series.mood))
    assert np.isnan(correlated(full, few).p)


def test_the_steps_agree_with_a_second_implementation() -> None:
    """Without a rota, weekday or slow change in the model: a plain correlation of two ranked series."""
    series, waits = record(365, 3, 0.3)
    ones = Design.of(np.empty((365, 0)))
    found = skipping(prepare(series.mood, ones), waits, ones)
    before = np.concatenate([[NAN], series.mood[:-1]])
    told = ~np.isnan(before)
    ranked = stats.rankdata(series.mood, nan_policy="omit")
    r = stats.pearsonr(ranked[np.flatnonzero(told) - 1], waits[told]).statistic
    assert found.r == pytest.approx(r, abs=1e-9)


def test_holm_covers_both_series() -> None:
    assert holm_of({"mood": Skipping(-0.1, 0.004), "sleep": Skipping(0.1, 0.3)}) == {
        "mood": pytest.approx(0.008),
        "sleep": pytest.approx(0.3),
    }
