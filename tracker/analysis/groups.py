"""Do days differ between kinds of shift, or between weekdays?

References
----------
.. [1] Edgington ES, Onghena P (2007). Randomization Tests, 4th ed. Chapman & Hall/CRC.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from tracker.analysis.adjust import day_before, residual, shift_columns, slow_columns, weekday_columns
from tracker.analysis.chance import circular_shift_p, holm, weekday_rotation_p
from tracker.analysis.lags import Verdict
from tracker.analysis.series import OUTCOMES, Flags, Floats, Series, enough_variety, standard_ranks

By = Literal["shift of the day", "shift of the day before", "weekday"]

ALPHA = 0.05
"""Level of all group tests of a page together, on one verdict day."""
SHORTEST_CYCLE = 90
"""Days; slower change than this is taken out."""
FEWEST_DAYS = 120
FEWEST_WEEKS = 8
FEWEST_OF_A_KIND = 10
DRAWS = 1999
SEED = 2718
"""Of the turned weeks; fixed, so that a printed page can be repeated."""
REPEATS = 0.95
"""Share of days on which a rota equals itself some days later from which it is too regular to test."""


@dataclass(frozen=True)
class GroupTest:
    """One outcome compared between groups of days."""

    outcome: str
    """"mood", "sleep" or "anxious"."""
    by: By
    p: float
    """p-value of this test alone, nan if it was not made."""
    p_holm: float
    """p-value after Holm's adjustment over the page, nan if it was not made."""
    verdict: Verdict | None
    """None if the rota is too regular for a verdict."""
    too_regular: bool = False


def too_regular(shift: npt.NDArray[np.str_]) -> bool:
    """Tell whether a rota repeats itself so exactly that its shifted copies cannot serve as chance.

    Parameters
    ----------
    shift : (n,) array of str
        True if it equals itself moved by some number of days up to n/4 on at least 95 % of the days.
    """
    n = len(shift)
    codes = np.unique(shift, return_inverse=True)[1]
    return any(np.mean(codes[q:] == codes[:-q]) >= REPEATS for q in range(1, n // 4 + 1))


def shift_test_p(values: Floats, weekday: Floats, labels: npt.NDArray[np.str_]) -> float:
    """Test whether an outcome differs between kinds of shift, by all circular shifts of the rota [1]_.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day.
    weekday : (n, 6) array
        Dummies of the weekdays, taken out together with slow change.
    labels : (n,) array of str
        The kind that each day belongs to; "" is a kind of its own.

    Returns
    -------
    float
        p-value, at least 1/n.
    """
    columns = np.column_stack([weekday, slow_columns(len(values), SHORTEST_CYCLE)])
    rest = residual(standard_ranks(values), columns).values
    return circular_shift_p(rest, one_hot(labels))


def weekday_test_p(values: Floats, shift: npt.NDArray[np.str_], seed: int = SEED) -> float:
    """Test whether an outcome differs between weekdays, by turning the labels of each week at random.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day.
    shift : (n,) array of str
        The rota; the kind of the day and of the day before are taken out together with slow change.
    seed : int
        Seed of the 1,999 sets of turns.
    """
    columns = np.column_stack([slow_columns(len(values), SHORTEST_CYCLE), shift_columns(shift)])
    rest = residual(standard_ranks(values), columns).values
    return weekday_rotation_p(rest, DRAWS, seed)


def one_hot(labels: npt.NDArray[np.str_]) -> Flags:
    """Return (k, n) one row a label, true on its days."""
    out: Flags = np.unique(labels)[:, None] == labels
    return out


def group_tests(
    series: Series, outcomes: tuple[str, ...] = OUTCOMES, *, shifts: bool = True, weekdays: bool = True
) -> tuple[GroupTest, ...]:
    """Make all group tests of a page and judge them together.

    Parameters
    ----------
    series : Series
        From the first to the last kept day.
    outcomes : tuple of str
        Which of "mood", "sleep", "anxious".
    shifts, weekdays : bool
        Whether the rota and the weekdays are looked at.

    Returns
    -------
    tuple of GroupTest
        Verdict "too little kept" under 120 days (weekdays: eight weeks), or with fewer than two kinds of
        at least ten kept days, or with fewer than ten days away from the commonest value.
    """
    wanted: list[By] = ["shift of the day", "shift of the day before"] if shifts else []
    wanted += ["weekday"] if weekdays else []
    regular = shifts and bool((series.shift != "").any()) and too_regular(series.shift)
    asked = [(outcome, by) for outcome in outcomes for by in wanted]
    p = np.array([_p(series, outcome, by, regular=regular) for outcome, by in asked])
    return tuple(
        GroupTest(outcome, by, float(alone), float(judged), _verdict(judged, stuck), stuck)
        for (outcome, by), alone, judged in zip(asked, p, holm(p), strict=True)
        for stuck in [regular and by != "weekday"]
    )


def _p(series: Series, outcome: str, by: By, *, regular: bool) -> float:
    values = series.values(outcome)
    if not enough_variety(values):
        return np.nan
    if by == "weekday":
        return weekday_test_p(values, series.shift) if len(series) >= 7 * FEWEST_WEEKS else np.nan
    labels = series.shift if by == "shift of the day" else day_before(series.shift)
    if regular or len(series) < FEWEST_DAYS or not _two_kinds(values, labels):
        return np.nan
    return shift_test_p(values, weekday_columns(series.weekdays), labels)


def _two_kinds(values: Floats, labels: npt.NDArray[np.str_]) -> bool:
    entered = labels[~np.isnan(values) & (labels != "")]
    return bool(np.count_nonzero(np.unique(entered, return_counts=True)[1] >= FEWEST_OF_A_KIND) >= 2)


def _verdict(p_holm: float, stuck: bool) -> Verdict | None:
    if stuck:
        return None
    if np.isnan(p_holm):
        return "too little kept"
    return "shown" if p_holm <= ALPHA else "not shown"
