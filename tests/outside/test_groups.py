"""Counts of groups against R's quantiles and medians."""

import numpy as np
import pytest

from tests.outside.tables import column, rows
from tracker.analysis.describe import actual_quartiles
from tracker.analysis.series import Floats


def sprays(letter: str) -> Floats:
    return np.array([float(row["count"]) for row in rows("insect-sprays.csv") if row["spray"] == letter])


@pytest.mark.parametrize(
    ("letter", "low_median"),
    # R median by spray: 14 16.5 1.5 5 3 15; where it lies between two counts, ours is the lower of the two
    [("A", 14), ("B", 16), ("C", 1), ("D", 5), ("E", 3), ("F", 15)],
)
def test_the_median_of_a_scale_is_a_value_that_occurs(letter: str, low_median: int) -> None:
    found = actual_quartiles(sprays(letter))
    assert found[1] == low_median
    assert set(found) <= set(sprays(letter).astype(int).tolist())


def test_quartiles_of_presidents_approval() -> None:
    # R quantile, type 7: 46 59 69; the same values occur among the 114 quarters
    approval = column("presidents-approval.csv", "approval")
    assert actual_quartiles(approval[~np.isnan(approval)]) == (46, 59, 69)
