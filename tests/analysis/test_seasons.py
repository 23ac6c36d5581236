"""Seasons: names, the yearly test against known truth and a second method."""

from datetime import date

import numpy as np
import pytest
from scipy import optimize, stats

from tests.simulated import NO_LINK, Case, simulate
from tracker.analysis.seasons import (
    Period,
    YearlyTest,
    day_of_year,
    months,
    seasons,
    smallest_amplitude,
    yearly_test,
)
from tracker.analysis.series import Floats
from tracker.analysis.verdict_days import YEAR, whole_years_length

FIRST = date(2021, 1, 1)
NAN = float("nan")


def wave(peak: float, years: int, amplitude: float = 2.0) -> Floats:
    days = np.arange(whole_years_length(years))
    out: Floats = 10 + amplitude * np.cos(2 * np.pi * (days - peak) / YEAR)
    return out


def test_months_are_cut_at_the_ends_of_the_record() -> None:
    assert months(date(2025, 12, 30), date(2026, 2, 2)) == (
        Period("2025-12", date(2025, 12, 30), date(2025, 12, 31)),
        Period("2026-01", date(2026, 1, 1), date(2026, 1, 31)),
        Period("2026-02", date(2026, 2, 1), date(2026, 2, 2)),
    )


def test_december_belongs_to_the_winter_of_the_next_january() -> None:
    assert seasons(date(2024, 11, 30), date(2025, 3, 1)) == (
        Period("autumn 2024", date(2024, 11, 30), date(2024, 11, 30)),
        Period("winter 2024/25", date(2024, 12, 1), date(2025, 2, 28)),
        Period("spring 2025", date(2025, 3, 1), date(2025, 3, 1)),
    )


def test_the_south_has_the_same_months_under_other_names() -> None:
    north = seasons(date(2024, 12, 1), date(2025, 11, 30), "north")
    south = seasons(date(2024, 12, 1), date(2025, 11, 30), "south")
    assert [p.name for p in south] == ["summer 2024/25", "autumn 2025", "winter 2025", "spring 2025"]
    assert [(p.first, p.last) for p in south] == [(p.first, p.last) for p in north]


def test_the_turn_of_the_century_keeps_two_digits() -> None:
    assert seasons(date(2099, 12, 1), date(2099, 12, 1))[0].name == "winter 2099/00"


@pytest.mark.parametrize("peak", [100, 1, 364])
def test_a_pure_wave_is_found_where_it_is(peak: int) -> None:
    found = yearly_test(wave(peak, 3), FIRST)
    assert found.wave is not None
    assert found.wave.amplitude == pytest.approx(2, abs=1e-3)
    assert abs((found.wave.peak - peak + YEAR / 2) % YEAR - YEAR / 2) < 0.2
    assert (found.years, found.verdict) == (3, "shown")
    assert found.p < 1e-6


def test_a_straight_trend_is_no_season() -> None:
    rng = np.random.default_rng(1)
    n = whole_years_length(4)
    found = yearly_test(np.round(3 + np.arange(n) / n + rng.normal(size=n) * 0.7), FIRST)
    assert found.verdict == "not shown"


def test_a_wave_is_found_whatever_the_day_on_which_the_record_begins() -> None:
    values = wave(200, 4)[180:]
    found = yearly_test(values, date(2021, 6, 30))
    assert found.years == 3
    assert found.wave is not None
    assert found.wave.peak == pytest.approx(200, abs=1)


@pytest.mark.parametrize(("years", "waves"), [(1, 1), (2, 2)])
def test_under_three_years_there_is_a_course_and_no_verdict(years: int, waves: int) -> None:
    found = yearly_test(wave(100, years), FIRST)
    assert (found.years, found.verdict, len(found.each)) == (years, "too little kept", waves)
    assert np.isnan([found.p, found.smallest, found.peak_within]).all()


def test_a_year_with_too_few_months_does_not_count() -> None:
    values = wave(100, 3)
    values[400:520] = NAN
    assert yearly_test(values, FIRST).years == 2


@pytest.mark.parametrize(
    "values", [np.full(1096, NAN), np.full(1096, 3.0), np.full(0, NAN), np.full(200, 3.0)]
)
def test_nothing_that_varies_gives_no_course(values: Floats) -> None:
    found = yearly_test(values, FIRST)
    assert (found.years, found.verdict, found.wave, found.each) == (0, "too little kept", None, ())


@pytest.mark.parametrize("years", [3, 5, 8])
def test_smallest_amplitude_agrees_with_scipy_stats(years: int) -> None:
    # scipy.special inverts the noncentral F to four digits; two are ever printed
    critical = stats.f.isf(0.01, 2, 2 * years - 3)
    needed = optimize.brentq(lambda x: stats.ncf.sf(critical, 2, 2 * years - 3, x) - 0.8, 0.1, 1e4)
    assert smallest_amplitude(years, 0.01) == pytest.approx(np.sqrt(needed / years), rel=1e-4)


@pytest.mark.parametrize(
    ("peak", "expected"), [(0.0, (1, 1)), (0.9, (1, 1)), (31.0, (2, 1)), (192.4, (7, 12)), (365.24, (12, 31))]
)
def test_a_peak_is_named_by_month_and_day(peak: float, expected: tuple[int, int]) -> None:
    assert day_of_year(peak) == expected


def mood_of(case: Case, years: int, rng: np.random.Generator) -> YearlyTest:
    series = simulate(case, whole_years_length(years), rng)
    return yearly_test(series.mood, series.first, alpha=0.05)


def test_a_record_without_a_season_seldom_claims_one() -> None:
    """300 records of three years under one step: at 5 % at most 5 % plus three standard errors (26)."""
    rng = np.random.default_rng(2)
    assert sum(mood_of(NO_LINK["one step"], 3, rng).p <= 0.05 for _ in range(300)) <= 26


def test_a_clear_wave_is_shown_in_most_records_of_five_years() -> None:
    rng = np.random.default_rng(3)
    assert sum(mood_of(Case(annual=0.6), 5, rng).verdict == "shown" for _ in range(50)) >= 45
