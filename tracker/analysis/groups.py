"""Do days differ between kinds of shift, or between weekdays?

References
----------
.. [1] Edgington ES, Onghena P (2007). Randomization Tests, 4th ed. Chapman & Hall/CRC.
.. [2] Westfall PH, Krishen A (2001). Optimally weighted, fixed sequence and gatekeeper multiple testing
   procedures. J. Stat. Plan. Inference 99:25-40. (Gates: a test made only where another is shown.)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from tracker.analysis.adjust import Design, day_before, residual, slow_columns, weekday_columns
from tracker.analysis.chance import Permuted, circular_shifts, holm, smallest_share, weekday_rotations
from tracker.analysis.lags import Verdict
from tracker.analysis.series import OUTCOMES, Flags, Floats, Series, enough_variety, standard_ranks
from tracker.analysis.told_apart import NAMED, BesideOthers

By = Literal["kinds of shift", "weekday", "days after nights"]
"""What a verdict is on."""
Which = Literal["day", "day before"]
"""The day whose shift tells a day's kind."""
Labels = npt.NDArray[np.str_]
_Grouping = Literal["day", "day before", "weekday", "after nights"]
_Part = Literal["day", "day before", "weekday", "slow change"]
_Ask: TypeAlias = tuple[str, _Grouping]
"""An outcome and what it is compared by."""

WHICH: tuple[Which, Which] = ("day", "day before")
AFTER: Literal["after nights"] = "after nights"
TAKEN_OUT: dict[_Grouping, tuple[_Part, ...]] = {
    "day": ("weekday", "slow change"),
    "day before": ("weekday", "slow change"),
    "weekday": ("slow change", "day", "day before"),
    AFTER: ("weekday", "slow change", "day", "day before"),
}
"""What is taken out of the ranks before they are compared."""
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
    """Days with the outcome that belong to a group."""
    p: float
    """p-value after Holm's adjustment, of kinds of shift the smaller of the two; nan if not tested."""
    smallest: float
    """Share of the differences between days that groups must account for to be found in 8 of 10 such
    records, 0 to 1, of kinds of shift the larger of the two; nan if not tested."""
    verdict: Verdict | None
    """None if the rota is too regular for a verdict."""
    too_regular: bool = False
    p_of: Mapping[Which, float] = field(default_factory=dict)
    """Kinds of shift: the adjusted p-values of the day and of the day before, as far as they were tested."""
    p_beyond: Mapping[Which, float] = field(default_factory=dict)
    """Kinds of shift, if shown: the p-value of each with the other taken out."""

    @property
    def named(self) -> tuple[Which, ...]:
        """Return the day, the day before, or both; nothing where they cannot be told apart."""
        return tuple(which for which, p in self.p_beyond.items() if p <= NAMED)


def too_regular(shift: Labels) -> bool:
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


def one_hot(labels: Labels, *, unlabelled: bool = True) -> Flags:
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
    after_nights: Labels | None = None,
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
    after_nights : (n,) array of str, optional
        How long after a night a day lies, "" for days that belong to no group. Mood and sleep are compared
        between these groups at the same level once more, each only where its kinds of shift are shown.

    Returns
    -------
    tuple of GroupTest
        For each outcome the kinds of shift, one verdict for the day and the day before, and the weekday; then
        the days after nights. Verdict "too little kept" under 120 days (weekdays: eight weeks), or with fewer
        than two kinds of at least ten kept days, or with fewer than ten days away from the commonest value.
        Labels moved by far cannot give a p-value below 1/(n - 14), so no more tests are made than could be
        shown.
    """
    page = _Page(series, after_nights)
    regular = shifts and bool((series.shift != "").any()) and too_regular(series.shift)
    wanted: list[_Grouping] = [*(WHICH if shifts else ()), *(("weekday",) if weekdays else ())]
    asked = [(outcome, grouping) for outcome in outcomes for grouping in wanted]
    possible = [ask for ask in asked if page.can_be_tested(*ask) and not (regular and ask[1] in WHICH)]
    made = page.tests(possible[: max(int(level * (len(series) - 14) + 1e-9), 0)])
    judge = _Judge(page, made, level)
    kinds = [judge.kinds(outcome, regular=regular) for outcome in outcomes if shifts]
    weekly = [judge.verdict(outcome, "weekday", ("weekday",)) for outcome in outcomes if weekdays]
    shown = [one.outcome for one in kinds if one.verdict == "shown" and one.outcome != "anxious"]
    later: list[_Ask] = [(outcome, AFTER) for outcome in shown if page.can_be_tested(outcome, AFTER)]
    judge_later = _Judge(page, page.tests(later), level)
    return (*kinds, *weekly, *(judge_later.verdict(one, "days after nights", (AFTER,)) for one, _ in later))


class _Page:
    """A series, the groups its days can be put in, and what is taken out before they are compared [2]_."""

    def __init__(self, series: Series, after_nights: Labels | None) -> None:
        self.series = series
        nowhere = np.full(len(series), "")
        self._labels: dict[_Grouping, Labels] = {
            "day": series.shift,
            "day before": day_before(series.shift),
            "weekday": series.weekdays.astype(np.str_),
            AFTER: nowhere if after_nights is None else after_nights,
        }
        self.groups = {by: one_hot(labels, unlabelled=False) for by, labels in self._labels.items()}
        """(k, n) the days of each group; days without a label are in none."""
        self._beside: dict[str, BesideOthers] = {}
        self._rests: dict[tuple[str, tuple[_Part, ...]], Floats] = {}

    @cached_property
    def _columns(self) -> dict[_Part, Floats]:
        return {
            "weekday": weekday_columns(self.series.weekdays),
            "slow change": slow_columns(len(self.series), SLOW_FOR_GROUPS),
            **{which: one_hot(self._labels[which])[1:].T.astype(float) for which in WHICH},
        }

    @cached_property
    def _design(self) -> Design:
        """All parts; each test takes some of its columns out."""
        return Design.of(*self._columns.values())

    @cached_property
    def _part(self) -> list[str]:
        """The part of each column of the design, "" for the intercept."""
        return ["", *(part for part, block in self._columns.items() for _ in range(block.shape[1]))]

    def can_be_tested(self, outcome: str, grouping: _Grouping) -> bool:
        values, n = self.series.values(outcome), len(self.series)
        if not enough_variety(values):
            return False
        if grouping == "weekday":
            return n >= 7 * FEWEST_WEEKS
        of_each = np.count_nonzero(self.groups[grouping] & ~np.isnan(values), axis=1)
        return n >= FEWEST_FOR_GROUPS and bool(np.count_nonzero(of_each >= FEWEST_OF_A_KIND) >= 2)

    def tests(self, asked: list[_Ask]) -> dict[_Ask, Permuted]:
        """Make tests by rearranging labels [1]_: far shifts of the rota, random turns of the weeks."""
        weekly = {ask: self._rest(*ask) for ask in asked if ask[1] == "weekday"}
        turned = weekday_rotations(np.array([*weekly.values()]), DRAWS, SEED) if weekly else ()
        tests = dict(zip(weekly, turned, strict=True))
        for outcome, by in [ask for ask in asked if ask not in weekly]:
            tests[outcome, by] = circular_shifts(self._rest(outcome, by), self.groups[by])
        return {ask: tests[ask] for ask in asked}

    def beyond(self, outcome: str, which: Which) -> float:
        """Return the p-value of the day, or of the day before, with the other taken out."""
        if outcome not in self._beside:
            ranked = standard_ranks(self.series.values(outcome))
            self._beside[outcome] = BesideOthers(ranked, self._design.columns)
        other = WHICH[1 - WHICH.index(which)]
        taken_out = np.isin(self._part, ("", "weekday", "slow change", other))
        return self._beside[outcome].p(self._labels[which], taken_out)

    def _rest(self, outcome: str, grouping: _Grouping) -> Floats:
        parts = TAKEN_OUT[grouping]
        if (outcome, parts) not in self._rests:
            ranked = standard_ranks(self.series.values(outcome))
            design = self._design._replace(fitted=np.isin(self._part, parts))
            self._rests[outcome, parts] = residual(ranked, design).values
        return self._rests[outcome, parts]


class _Judge:
    """Verdicts on tests that are judged together."""

    def __init__(self, page: _Page, made: Mapping[_Ask, Permuted], level: float) -> None:
        self._page = page
        self._made = made
        self._level = level
        self._p = dict(zip(made, holm(np.array([found.p for found in made.values()])).tolist(), strict=True))

    def kinds(self, outcome: str, *, regular: bool) -> GroupTest:
        """Judge the kinds of shift, and tell the day and the day before apart where they are shown."""
        found = self.verdict(outcome, "kinds of shift", WHICH)
        if regular:
            return replace(found, verdict=None, too_regular=True)
        p_of = {which: self._p[outcome, which] for which in WHICH if (outcome, which) in self._p}
        if found.verdict != "shown":
            return replace(found, p_of=p_of)
        return replace(found, p_of=p_of, p_beyond={one: self._page.beyond(outcome, one) for one in WHICH})

    def verdict(self, outcome: str, by: By, groupings: tuple[_Grouping, ...]) -> GroupTest:
        """Judge an outcome by tests of which one is enough."""
        made = [(outcome, one) for one in groupings if (outcome, one) in self._p]
        p = min((self._p[ask] for ask in made), default=np.nan)
        shown: Verdict = "shown" if p <= self._level + 1e-12 else "not shown"
        return GroupTest(
            outcome=outcome,
            by=by,
            days=self._days(outcome, groupings[0]),
            p=p,
            smallest=max((self._smallest(*ask) for ask in made), default=np.nan),
            verdict=shown if made else "too little kept",
        )

    def _days(self, outcome: str, grouping: _Grouping) -> int:
        kept = ~np.isnan(self._page.series.values(outcome))
        return int(np.count_nonzero(kept & self._page.groups[grouping].any(axis=0)))

    def _smallest(self, outcome: str, grouping: _Grouping) -> float:
        kept = ~np.isnan(self._page.series.values(outcome))
        groups = int(np.count_nonzero((self._page.groups[grouping] & kept).any(axis=1)))
        days, alpha = self._days(outcome, grouping), self._level / len(self._made)
        return smallest_share(self._made[outcome, grouping].mean, groups, days, alpha)
