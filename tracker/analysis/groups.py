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
from tracker.analysis.chance import Permuted, circular_shifts, holm, smallest_share, weekday_rotations
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
    """`mood`, `sleep` or `anxious`."""
    by: By
    days: int
    """Days with the outcome."""
    p: float
    """p-value of this test alone, nan if it was not made."""
    p_holm: float
    """p-value after Holm's adjustment over the page, nan if it was not made."""
    smallest: float
    """Share of the differences between days that groups must account for to be found in 8 of 10 such
    records, 0 to 1; nan if the test was not made."""
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


def shift_test(values: Floats, weekday: Floats, labels: npt.NDArray[np.str_]) -> Permuted:
    """Compare an outcome between kinds of shift with all circular shifts of the rota [1]_.

    Parameters
    ----------
    values : (n,) array
        nan for a missing day.
    weekday : (n, 6) array
        Dummies of the weekdays, taken out together with slow change.
    labels : (n,) array of str
        The kind that each day belongs to; "" is a kind of its own.
    """
    columns = np.column_stack([weekday, slow_columns(len(values), SHORTEST_CYCLE)])
    rest = residual(standard_ranks(values), columns).values
    return circular_shifts(rest, one_hot(labels))


def weekday_test(values: Floats, shift: npt.NDArray[np.str_], seed: int = SEED) -> Permuted:
    """Compare an outcome between weekdays with random turns of the labels of each week.

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
    return weekday_rotations(rest, DRAWS, seed)


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
        From the first day of the record to the verdict day.
    outcomes : tuple of str
        Which of "mood", "sleep", "anxious", the most wanted first.
    shifts, weekdays : bool
        Whether the rota and the weekdays are looked at.

    Returns
    -------
    tuple of GroupTest
        Verdict "too little kept" under 120 days (weekdays: eight weeks), or with fewer than two kinds of
        at least ten kept days, or with fewer than ten days away from the commonest value. A test by n
        shifts cannot go below 1/n, so no more tests are made than could be shown.
    """
    wanted: list[By] = ["shift of the day", "shift of the day before"] if shifts else []
    wanted += ["weekday"] if weekdays else []
    regular = shifts and bool((series.shift != "").any()) and too_regular(series.shift)
    asked = [(outcome, by) for outcome in outcomes for by in wanted]
    possible = [ask for ask in asked if _is_possible(series, *ask, regular=regular)]
    makeable = possible[: int(ALPHA * len(series) + 1e-9)]
    made = {ask: _test(series, *ask) for ask in makeable}
    judged = dict(zip(made, holm(np.array([found.p for found in made.values()])), strict=True))
    return tuple(
        _judged(series, ask, made.get(ask), judged.get(ask, np.nan), len(made), regular=regular)
        for ask in asked
    )


def _is_possible(series: Series, outcome: str, by: By, *, regular: bool) -> bool:
    values = series.values(outcome)
    if not enough_variety(values):
        return False
    if by == "weekday":
        return len(series) >= 7 * FEWEST_WEEKS
    return not regular and len(series) >= FEWEST_DAYS and _two_kinds(values, _labels(series, by))


def _labels(series: Series, by: By) -> npt.NDArray[np.str_]:
    if by == "weekday":
        return series.weekdays.astype(np.str_)
    return series.shift if by == "shift of the day" else day_before(series.shift)


def _two_kinds(values: Floats, labels: npt.NDArray[np.str_]) -> bool:
    entered = labels[~np.isnan(values) & (labels != "")]
    return bool(np.count_nonzero(np.unique(entered, return_counts=True)[1] >= FEWEST_OF_A_KIND) >= 2)


def _test(series: Series, outcome: str, by: By) -> Permuted:
    values = series.values(outcome)
    if by == "weekday":
        return weekday_test(values, series.shift)
    return shift_test(values, weekday_columns(series.weekdays), _labels(series, by))


def _judged(
    series: Series, ask: tuple[str, By], made: Permuted | None, p_holm: float, tests: int, *, regular: bool
) -> GroupTest:
    outcome, by = ask
    kept = ~np.isnan(series.values(outcome))
    groups = len(np.unique(_labels(series, by)[kept]))
    stuck = regular and by != "weekday"
    return GroupTest(
        outcome=outcome,
        by=by,
        days=int(kept.sum()),
        p=made.p if made else np.nan,
        p_holm=float(p_holm),
        smallest=smallest_share(made.mean, groups, int(kept.sum()), ALPHA / tests) if made else np.nan,
        verdict=None if stuck else _verdict(float(p_holm)),
        too_regular=stuck,
    )


def _verdict(p_holm: float) -> Verdict:
    if np.isnan(p_holm):
        return "too little kept"
    return "shown" if p_holm <= ALPHA + 1e-12 else "not shown"
