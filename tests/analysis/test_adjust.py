"""Taking out weekday, rota, slow change and own past; checked against plain formulas and by consistency."""

import numpy as np
import pytest

from tests.simulated import autoregression
from tracker.analysis.adjust import (
    Design,
    arm_columns,
    day_before,
    residual,
    shift_columns,
    slow_columns,
    weekday_columns,
    without_own_past,
)

NAN = float("nan")


def test_the_day_before_the_first_is_not_entered() -> None:
    assert day_before(np.array(["night", "off", ""])).tolist() == ["", "night", "off"]


def test_shift_columns_tell_the_day_and_the_day_before_from_the_commonest_kind() -> None:
    found = shift_columns(np.array(["off", "night", "off", ""]))
    night, none, night_before, none_before = found.T.tolist()
    assert night == [0, 1, 0, 0]
    assert none == [0, 0, 0, 1]
    assert night_before == [0, 0, 1, 0]
    assert none_before == [1, 0, 0, 0]


def test_without_a_rota_there_are_no_shift_columns() -> None:
    assert shift_columns(np.full(5, "")).shape == (5, 0)


@pytest.mark.parametrize(("days", "waves"), [(29, 0), (30, 1), (365, 12)])
def test_slow_columns_reach_down_to_the_shortest_cycle(days: int, waves: int) -> None:
    assert slow_columns(days, 60).shape == (days, waves)


def test_a_residual_knows_nothing_of_what_was_taken_out() -> None:
    rng = np.random.default_rng(2)
    columns = np.column_stack([weekday_columns(np.arange(200) % 7), slow_columns(200, 60)])
    values = columns @ rng.normal(size=columns.shape[1]) + rng.normal(size=200)
    values[rng.random(200) < 0.2] = NAN
    found = residual(values, Design.of(columns))
    kept = ~np.isnan(values)
    assert np.abs(columns[kept].T @ found.values[kept]).max() < 1e-9
    assert found.values[kept].std() == pytest.approx(1)
    assert found.rank == 1 + 6 + 6


@pytest.mark.parametrize(("longest_gap", "tolerance"), [(10, 1e-11), (400, 1e-6)])
def test_a_residual_is_that_of_plain_least_squares(longest_gap: int, tolerance: float) -> None:
    """Also over a gap of a year, where slow waves nearly depend on each other."""
    rng = np.random.default_rng(11)
    values = rng.normal(size=1200)
    values[rng.random(1200) < 0.1] = NAN
    values[500 : 500 + longest_gap] = NAN
    columns = np.column_stack([weekday_columns(np.arange(1200) % 7), slow_columns(1200, 60)])
    found = residual(values, Design.of(columns))
    kept = ~np.isnan(values)
    fitted = np.column_stack([np.ones(1200), columns])[kept]
    rest = values[kept] - fitted @ np.linalg.pinv(fitted) @ values[kept]
    assert found.values[kept] == pytest.approx(rest / rest.std(), abs=tolerance)
    assert found.rank == np.linalg.matrix_rank(fitted)


def test_a_column_that_is_the_sum_of_others_adds_nothing() -> None:
    """All seven weekdays make up the intercept."""
    rng = np.random.default_rng(12)
    values = rng.normal(size=400)
    values[rng.random(400) < 0.1] = NAN
    weekdays = np.arange(400) % 7
    all_seven = np.asarray(weekdays[:, None] == np.arange(7), dtype=float)
    found, plain = (
        residual(values, Design.of(columns)) for columns in (all_seven, weekday_columns(weekdays))
    )
    assert found.values == pytest.approx(plain.values, abs=1e-11, nan_ok=True)
    assert (found.rank, plain.rank) == (7, 7)


def test_a_column_of_few_days_is_left_out() -> None:
    values = np.random.default_rng(3).normal(size=50)
    rare = np.zeros((50, 1))
    rare[:4] = 1
    assert residual(values, Design.of(rare)).rank == 1


def test_a_series_that_is_all_weekday_leaves_nothing() -> None:
    weekdays = np.arange(70) % 7
    assert (
        residual(weekdays.astype(float), Design.of(weekday_columns(weekdays))).values.tolist() == [0.0] * 70
    )


def test_what_is_left_without_its_own_past_has_no_past() -> None:
    """Box & Jenkins 1970: the innovations of a first-order autoregression are white and of variance 1."""
    found = without_own_past(autoregression(5000, 0.7, np.random.default_rng(4)))
    assert found.phi == pytest.approx(0.7, abs=0.03)
    assert found.values[1:] @ found.values[:-1] / 5000 == pytest.approx(0, abs=0.05)
    assert found.values.std() == pytest.approx(1, abs=0.04)


def test_across_a_gap_the_past_fades_by_its_power() -> None:
    values = np.array([1.0, 0.5, NAN, 1.0, -1.0, -0.5])
    found = without_own_past(values)
    faded = found.phi**2
    assert found.values[3] == pytest.approx((1.0 - faded * 0.5) / np.sqrt(1 - faded**2))
    assert np.isnan(found.values[2])


def test_a_series_that_swings_has_no_past_to_take_out() -> None:
    swinging = np.tile([1.0, -1.0], 20)
    assert without_own_past(swinging).phi == 0
    assert without_own_past(swinging).values.tolist() == swinging.tolist()


def test_arms_of_a_trial_have_a_column_each_and_days_outside_none() -> None:
    arm = np.array(["", "one A", "one A", "one B", "", "two B"])
    found = arm_columns(arm)
    assert found is not None
    assert found.T.tolist() == [[0, 1, 1, 0, 0, 0], [0, 0, 0, 1, 0, 0], [0, 0, 0, 0, 0, 1]]
    assert arm_columns(None) is None
