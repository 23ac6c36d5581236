"""How far groups lie apart, against the Kruskal-Wallis statistic.

On mid-ranks of variance 1 the sum over the groups of (sum of values)^2 / days is H * n / (n - 1), where H is
Kruskal and Wallis's statistic corrected for ties (1952, J. Am. Stat. Assoc. 47:583-621). Values of H: R 4.2.2
kruskal.test, scipy the same; R's help prints 0.77143 and 29.267 for the first two.
"""

import numpy as np
import pytest

from tests.outside.tables import column, rows
from tracker.analysis.chance import group_statistics_of_shifts
from tracker.analysis.groups import one_hot
from tracker.analysis.series import Floats, standard_ranks

MUCUS = [2.9, 3.0, 2.5, 2.6, 3.2, 3.8, 2.7, 4.0, 2.4, 2.8, 3.4, 3.7, 2.2, 2.0]
"""Hollander & Wolfe 1973, p. 116: half-time of mucociliary clearance in three groups of people."""


def months() -> np.ndarray[tuple[int], np.dtype[np.str_]]:
    return np.array([row["date"][5:7] for row in rows("airquality-1973.csv")])


def kruskal_wallis(values: Floats, labels: np.ndarray[tuple[int], np.dtype[np.str_]]) -> float:
    kept = np.count_nonzero(~np.isnan(values))
    apart = group_statistics_of_shifts(standard_ranks(values), one_hot(labels))[0]
    return float(apart * (kept - 1) / kept)


def test_clearance_of_three_groups() -> None:
    groups = np.repeat(["well", "obstructed", "asbestosis"], [5, 4, 5])
    assert kruskal_wallis(np.array(MUCUS), groups) == pytest.approx(0.7714285714, rel=1e-9)


def test_ozone_by_month_with_ties_and_gaps() -> None:
    # New York 1973, 37 of 153 days without a value
    assert kruskal_wallis(column("airquality-1973.csv", "ozone"), months()) == pytest.approx(
        29.2665763061, rel=1e-9
    )


def test_insects_by_spray_with_many_ties() -> None:
    sprays = np.array([row["spray"] for row in rows("insect-sprays.csv")])
    assert kruskal_wallis(column("insect-sprays.csv", "count"), sprays) == pytest.approx(
        54.6913446224, rel=1e-9
    )


def test_reaction_by_day_of_lost_sleep() -> None:
    # Belenky et al. 2003, 18 people, ten days
    days = np.array([row["day"] for row in rows("sleepstudy.csv")])
    assert kruskal_wallis(column("sleepstudy.csv", "reaction_ms"), days) == pytest.approx(
        49.8388377328, rel=1e-9
    )
