"""Do days differ between kinds of shift, or between weekdays?

References
----------
.. [1] Edgington ES, Onghena P (2007). Randomization Tests, 4th ed. Chapman & Hall/CRC.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

import numpy as np
import numpy.typing as npt

from tracker.analysis.adjust import Design, day_before, residual, shift_columns, slow_columns, weekday_columns
from tracker.analysis.chance import Permuted, circular_shifts, holm, smallest_share, weekday_rotations
from tracker.analysis.lags import Verdict
from tracker.analysis.series import OUTCOMES, Flags, Floats, Series, enough_variety, standard_ranks

By = Literal["shift of the day", "shift of the day before", "weekday", "night of a run", "quick return"]
Labels = npt.NDArray[np.str_]

SLOW_FOR_GROUPS = 90
"""Days; slower change than this is taken out. Measured: at most 8 % false claims of a single test at 5 %, in
records with drift, steps, bad spells and gaps."""
FEWEST_FOR_GROUPS = 120
"""Days. Measured from here on."""
FEWEST_WEEKS = 8
FEWEST_OF_A_KIND = 10
"""Kept days of a kind of shift from which it counts as one. Both: common practice, no source."""
DRAWS = 1999
"""With the true labels one of 2,000: p-values in steps of 0.0005. Common practice, no source."""
SEED = 2718
"""Of the turned weeks; fixed, so that a printed page can be repeated."""
REPEATS = 0.95
"""Share of days on which a rota equals itself some days later from which it is too regular to test:
one that repeats every q days cannot have a p-value far below 1/q. Common practice, no source."""


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
    equal = ((np.count_nonzero(codes[q:] == codes[:-q]), n - q) for q in range(1, n // 4 + 1))
    return any(days / possible >= REPEATS for days, possible in equal)


def one_hot(labels: npt.NDArray[np.str_], *, unlabelled: bool = True) -> Flags:
    """Return (k, n) one row a label, true on its days; with or without one for the label ""."""
    names = np.unique(labels)
    out: Flags = (names if unlabelled else names[names != ""])[:, None] == labels
    return out


def group_tests(
    series: Series,
    outcomes: tuple[str, ...] = OUTCOMES,
    *,
    level: float,
    shifts: bool = True,
    weekdays: bool = True,
    runs: Mapping[By, Labels] = MappingProxyType({}),
) -> tuple[GroupTest, ...]:
    """Make all group tests of a page and judge them together.

    Parameters
    ----------
    series : Series
        From the first day of the record to the verdict day.
    outcomes : tuple of str
        Which of "mood", "sleep", "anxious", the most wanted first.
    level : float
        Level of all tests of the page together; 0 makes none.
    shifts, weekdays : bool
        Whether the rota and the weekdays are looked at.
    runs : mapping of str to (n,) array of str
        Labels of further groups that follow from the rota, "" for days that belong to none. They are tested
        after all others, as far as the number of tests allows, and left out where it does not.

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
    further = [(outcome, by) for by in runs for outcome in outcomes if outcome != "anxious"]
    labelled = _Labelled(series, runs)
    possible = [ask for ask in [*asked, *further] if labelled.can_be_tested(*ask, regular=regular)]
    makeable = possible[: int(level * len(series) + 1e-9)]
    made = _make(labelled, makeable)
    judged = dict(zip(made, holm(np.array([found.p for found in made.values()])), strict=True))
    return tuple(
        _judged(labelled, ask, made.get(ask), judged.get(ask, np.nan), _Page(level, len(made), regular))
        for ask in [*asked, *(ask for ask in further if ask in made)]
    )


class _Labelled:
    """A series with the groups its days can be put in."""

    def __init__(self, series: Series, runs: Mapping[By, Labels]) -> None:
        self.series = series
        self.runs = runs
        labels: dict[By, Labels] = {
            "shift of the day": series.shift,
            "shift of the day before": day_before(series.shift),
            "weekday": series.weekdays.astype(np.str_),
            **runs,
        }
        self.named = {by: one_hot(of_days, unlabelled=False) for by, of_days in labels.items()}
        """(k, n) the days of each group that has a name."""
        self.groups = {by: self.named[by] if by in runs else one_hot(labels[by]) for by in labels}
        """(k, n) the days of each group; days without a shift are one, days outside a run are none."""

    def can_be_tested(self, outcome: str, by: By, *, regular: bool) -> bool:
        values, n = self.series.values(outcome), len(self.series)
        if not enough_variety(values):
            return False
        if by == "weekday":
            return n >= 7 * FEWEST_WEEKS
        return not regular and n >= FEWEST_FOR_GROUPS and _two_kinds(values, self.named[by])


def _two_kinds(values: Floats, groups: Flags) -> bool:
    kept_days = np.count_nonzero(groups & ~np.isnan(values), axis=1)
    return bool(np.count_nonzero(kept_days >= FEWEST_OF_A_KIND) >= 2)


def _make(labelled: _Labelled, asked: list[tuple[str, By]]) -> dict[tuple[str, By], Permuted]:
    """Make tests by rearranging labels [1]_: all circular shifts of the rota, random turns of the weeks.

    Slow change is taken out first, and with it the weekday for shifts, the rota for weekdays. Both tests of
    shifts rest on the same residual. For runs and returns the kind of shift is taken out as well: most quick
    returns are earlies, and without it whatever earlies do is claimed of quick returns (measured, where only
    earlies did anything: by 21 % of single tests at 5 % after two years and 37 % after four; with it by 3 %).
    """
    series = labelled.series
    slow, weekday = slow_columns(len(series), SLOW_FOR_GROUPS), weekday_columns(series.weekdays)
    taken_out = {
        "weekday": (slow, shift_columns(series.shift)),
        "shift": (weekday, slow),
        "run": (weekday, slow, one_hot(series.shift)[1:].T.astype(float)),
    }

    @cache
    def design(asked: str) -> Design:
        return Design.of(*taken_out[asked])

    @cache
    def rest(outcome: str, asked: str) -> Floats:
        return residual(standard_ranks(series.values(outcome)), design(asked)).values

    def shifted(outcome: str, by: By) -> Permuted:
        return circular_shifts(rest(outcome, "run" if by in labelled.runs else "shift"), labelled.groups[by])

    weekly = [ask for ask in asked if ask[1] == "weekday"]
    rests = np.array([rest(outcome, "weekday") for outcome, _ in weekly]).reshape(len(weekly), len(series))
    turned = dict(zip(weekly, weekday_rotations(rests, DRAWS, SEED), strict=True))
    return {ask: turned[ask] if ask in turned else shifted(*ask) for ask in asked}


@dataclass(frozen=True)
class _Page:
    """What all tests of a page share."""

    level: float
    tests: int
    """How many were made."""
    regular: bool
    """Whether the rota is too regular to be tested."""

    def verdict(self, p_holm: float) -> Verdict:
        if np.isnan(p_holm):
            return "too little kept"
        return "shown" if p_holm <= self.level + 1e-12 else "not shown"


def _judged(
    labelled: _Labelled, ask: tuple[str, By], made: Permuted | None, p_holm: float, page: _Page
) -> GroupTest:
    outcome, by = ask
    kept = ~np.isnan(labelled.series.values(outcome)) & labelled.groups[by].any(axis=0)
    groups = int(np.count_nonzero((labelled.groups[by] & kept).any(axis=1)))
    stuck = page.regular and by != "weekday"
    days = int(kept.sum())
    return GroupTest(
        outcome=outcome,
        by=by,
        days=days,
        p=made.p if made else np.nan,
        p_holm=float(p_holm),
        smallest=smallest_share(made.mean, groups, int(kept.sum()), page.level / page.tests)
        if made
        else np.nan,
        verdict=None if stuck else page.verdict(float(p_holm)),
        too_regular=stuck,
    )
