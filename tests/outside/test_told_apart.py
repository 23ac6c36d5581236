"""What groups of days explain beyond others, against a least-squares fit made anew for every shift.

The sum of squares that columns explain beyond others is the difference of two residual sums of squares
(Frisch & Waugh 1933, Econometrica 1:387-401); `numpy.linalg.lstsq` makes both fits. The p-value is counted
out over all shifts of eight days or more.
"""

import numpy as np
import pytest

from tests.simulated import Case, simulate
from tracker.analysis import told_apart
from tracker.analysis.adjust import day_before, slow_columns, weekday_columns
from tracker.analysis.chance import cross_sums, far_share, group_statistics_of_shifts
from tracker.analysis.groups import one_hot
from tracker.analysis.series import Floats, Series, standard_ranks
from tracker.analysis.told_apart import BesideOthers

DAYS = 150


def series() -> Series:
    found = simulate(Case(rota=1), DAYS, np.random.default_rng(4))
    found.shift[[20, 21, 70, 71, 72, 110]] = ""
    return found


def taken_out(days: Series, other: np.ndarray) -> Floats:
    return np.column_stack(
        [np.ones(DAYS), weekday_columns(days.weekdays), slow_columns(DAYS, 90), one_hot(other).T]
    )


def left(values: Floats, columns: Floats) -> float:
    return float(((values - columns @ np.linalg.lstsq(columns, values, rcond=None)[0]) ** 2).sum())


def refitted(ranked: Floats, columns: Floats, labels: np.ndarray, shift: int) -> float:
    """What the kinds explain beyond the columns and the blank days."""
    kept = ~np.isnan(ranked)
    moved = np.roll(one_hot(labels).astype(float), shift, axis=1).T[kept]
    base = np.column_stack([columns[kept], moved[:, :1]])  # the first label is the blank one
    return left(ranked[kept], base) - left(ranked[kept], np.column_stack([base, moved[:, 1:]]))


def test_every_shift_agrees_with_two_fits() -> None:
    days = series()
    ranked, labels = standard_ranks(days.mood), day_before(days.shift)
    columns = taken_out(days, days.shift)
    kept = ~np.isnan(ranked)
    columns = columns[:, np.count_nonzero(columns[kept], axis=0) >= 5]
    beside, every = BesideOthers(ranked, columns), np.ones(columns.shape[1], dtype=bool)
    ours = beside.explained(labels, every)
    fitted = [refitted(ranked, columns, labels, shift) for shift in range(DAYS)]
    assert ours == pytest.approx(fitted, abs=1e-4)
    reached = sum(fitted[shift] >= fitted[0] - 1e-6 for shift in range(8, DAYS - 7))
    assert beside.p(labels, every) == pytest.approx((1 + reached) / (1 + DAYS - 15))


def test_what_is_not_taken_out_counts_as_if_it_were_not_there() -> None:
    days = series()
    ranked, labels = standard_ranks(days.mood), day_before(days.shift)
    columns = taken_out(days, days.shift)
    some = np.arange(columns.shape[1]) < 7  # the intercept and the weekdays
    whole, alone = BesideOthers(ranked, columns), BesideOthers(ranked, columns[:, some])
    assert whole.explained(labels, some) == pytest.approx(alone.explained(labels, some[:7]), abs=1e-6)


@pytest.mark.parametrize("step", [2, 5])
def test_every_second_or_fifth_shift_is_as_among_all(step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    days = series()
    columns = taken_out(days, day_before(days.shift))
    told = (standard_ranks(days.mood), columns)
    every = np.ones(columns.shape[1], dtype=bool)
    all_of_them = BesideOthers(*told).explained(days.shift, every)
    monkeypatch.setattr(told_apart, "LONG", DAYS)
    monkeypatch.setattr(told_apart, "STEP", step)
    some = BesideOthers(*told).explained(days.shift, every)
    assert some == pytest.approx(all_of_them[::step], abs=1e-6)
    far = [some[place] for place in range(len(some)) if 8 <= place * step <= DAYS - 8]
    reached = sum(one >= some[0] - 1e-9 for one in far)
    assert far_share(some, step) == pytest.approx((1 + reached) / (1 + len(far)))


def test_far_shifts_are_counted_out_one_by_one() -> None:
    days = series()
    values = standard_ranks(days.mood)
    groups = one_hot(days.shift, unlabelled=False)
    statistics = group_statistics_of_shifts(values, groups)
    filled, kept = np.where(np.isnan(values), 0.0, values), ~np.isnan(values)
    by_hand = []
    for shift in range(DAYS):
        moved = np.roll(groups, shift, axis=1)
        sums, counts = moved @ filled, moved @ kept.astype(float)
        together = sums.sum() ** 2 / counts.sum()
        by_hand.append((sums**2 / counts).sum() - together)
    assert statistics == pytest.approx(by_hand)
    reached = sum(by_hand[shift] >= by_hand[0] - 1e-9 for shift in range(8, DAYS - 7))
    assert far_share(statistics) == pytest.approx((1 + reached) / (DAYS - 14))


def test_cross_sums_move_the_labels_onto_later_days() -> None:
    labels, values = np.array([1.0, 0, 0, 0]), np.array([10.0, 20, 30, 40])
    assert cross_sums(labels, values) == pytest.approx([10, 20, 30, 40])
