"""Days as arrays."""

from datetime import date

import numpy as np
import pytest
from scipy import stats

from tracker.analysis.series import Series, enough_variety, ranks, standard_ranks

NAN = float("nan")


def series(mood: list[float], sleep: list[float]) -> Series:
    n = len(mood)
    return Series(date(2026, 3, 1), np.array(mood), np.array(sleep), np.full(n, NAN), np.full(n, ""))


def test_place_zero_is_the_first_day_and_weekdays_follow() -> None:
    days = series([1, 2, 3], [1, 2, 3])
    assert days.dates == [date(2026, 3, 1), date(2026, 3, 2), date(2026, 3, 3)]
    assert days.last == date(2026, 3, 3)
    assert days.weekdays.tolist() == [6, 0, 1]


def test_a_record_begins_and_ends_with_a_kept_mood_or_sleep() -> None:
    trimmed = series([NAN, NAN, 3, NAN, NAN], [NAN, 2, NAN, NAN, NAN]).trimmed()
    assert (trimmed.first, trimmed.last) == (date(2026, 3, 2), date(2026, 3, 3))
    assert trimmed.sleep.tolist()[0] == 2


def test_nothing_kept_leaves_no_days() -> None:
    assert len(series([NAN, NAN], [NAN, NAN]).trimmed()) == 0


def test_a_cut_keeps_both_ends_and_never_reaches_beyond() -> None:
    days = series([1, 2, 3, 4], [1, 2, 3, 4])
    assert days.between(date(2026, 3, 2), date(2026, 3, 3)).mood.tolist() == [2, 3]
    assert days.between(date(2020, 1, 1), date(2030, 1, 1)).mood.tolist() == [1, 2, 3, 4]
    assert len(days.between(date(2027, 1, 1), date(2027, 2, 1))) == 0


def test_arrays_of_different_lengths_are_refused() -> None:
    with pytest.raises(ValueError, match="equally long"):
        Series(date(2026, 3, 1), np.zeros(2), np.zeros(3), np.zeros(2), np.full(2, ""))


def test_an_unknown_outcome_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="'steps'"):
        series([1], [1]).values("steps")


def test_ranks_agree_with_scipy() -> None:
    values = np.random.default_rng(1).integers(1, 6, 200).astype(float)
    assert ranks(values).tolist() == stats.rankdata(values).tolist()


def test_standard_ranks_leave_missing_days_missing() -> None:
    found = standard_ranks(np.array([3.0, NAN, 1.0, 2.0]))
    assert np.isnan(found[1])
    assert (np.nanmean(found), np.nanstd(found)) == pytest.approx((0, 1))


@pytest.mark.parametrize("values", [[], [NAN, NAN], [2.0, 2.0, NAN]])
def test_standard_ranks_of_no_variety_are_all_missing(values: list[float]) -> None:
    assert np.isnan(standard_ranks(np.array(values))).all()


@pytest.mark.parametrize(("others", "enough"), [(9, False), (10, True)])
def test_ten_days_away_from_the_commonest_value_are_enough(others: int, enough: bool) -> None:
    assert enough_variety(np.array([1.0] * 50 + [2.0] * others + [NAN])) is enough
