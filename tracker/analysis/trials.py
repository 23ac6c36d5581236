"""What a trial on oneself has shown, by the lot that was drawn before its first day.

Each pair of blocks could as well have stood the other way round: that coin is the only chance that counts, so
the days may depend on each other, on the rota and on the season as they like [1]_, [2]_.

References
----------
.. [1] Edgington ES, Onghena P (2007). Randomization Tests, 4th ed. Chapman & Hall/CRC.
.. [2] Bulté I, Onghena P (2008). An R package for single-case randomization tests. Behav. Res. Methods
   40:467-478.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from tracker import words
from tracker.analysis.series import Counts, Floats, ranks
from tracker.diary.days import Day
from tracker.diary.months import each_day
from tracker.diary.scales import Scales
from tracker.diary.trial import MOST_PAIRS, Arm, Stage, Trial, form_of, shares_days

Verdict = Literal["shown", "not shown", "too little kept"]

LEVEL = 0.05
EXACT_PAIRS = 15
"""Up to so many pairs every pattern of signs is looked at; beyond, 9,999 drawn from the seed."""
DRAWN = 9_999
FEWEST_PAIRS_LEFT = 6
"""Of 5 pairs the rarest pattern has a share of 1 in 32, and one that is nearly as rare is no verdict."""
UNEQUAL = 0.2
"""Kept shares of the two arms further apart than this: what was not kept may have been different."""
TIE = 1e-9
PAST_DAYS = 180
"""Days of the record that it takes to foretell what a trial could show."""
RUNS = 300
SHARES = (0.3, 0.5, 0.7)
"""Of the days of A, those on which what is tried lifts the outcome by one level, when it is foretold."""
HOPELESS = 0.2
DOUBTFUL = 0.5


@dataclass(frozen=True, kw_only=True)
class ArmCounts:
    """The days of one arm that are compared, as they stand."""

    arm: Arm
    days: int
    """Days past their washout, kept or not."""
    kept: int
    values: Mapping[str, int]
    """Kept days by the label of their level, lowest first; of the mark by `anxious` or not."""

    @property
    def share_kept(self) -> float:
        """Kept days of all days; 0 where there is none."""
        return self.kept / self.days if self.days else 0.0


@dataclass(frozen=True, kw_only=True)
class TrialResult:
    """What is said of a trial; before its one look it holds no count by arm."""

    trial: Trial
    stage: Stage
    caution: str
    verdict: Verdict | None
    """None before the look, and where there is a hindrance."""
    hindrance: str
    """Why there is no verdict though the look has come; empty where there is one."""
    p: float | None
    """One-sided, exact up to 15 pairs."""
    pairs: int
    """Pairs with enough days kept in both blocks."""
    planned: tuple[ArmCounts, ...]
    """A and B as the lot put the days."""
    done: tuple[ArmCounts, ...]
    """The same without the days that were not done as planned; described only."""


def judge(
    trial: Trial, days: Iterable[Day], scales: Scales, today: date, others: Iterable[Trial]
) -> TrialResult:
    """Return what may be said of a trial on a day.

    Parameters
    ----------
    days
        Of the record; those of the trial are picked out.
    scales
        Other levels of the outcome within the trial leave only counts.
    others
        All trials of the record: two that share days, as after a merge, are not judged.
    """
    stage = trial.stage(today)
    if stage not in ("ended", "stopped"):
        return _result(trial, stage)
    numbers = _outcomes(trial, days, scales)
    labels = _labels(trial, scales)
    planned = tuple(_counts(trial, numbers, arm, frozenset(), labels) for arm in ("A", "B"))
    done = tuple(_counts(trial, numbers, arm, trial.missed, labels) for arm in ("A", "B"))
    hindrance = _hindrance(trial, scales, others)
    if hindrance:
        return _result(trial, stage, hindrance=hindrance, planned=planned, done=done)
    differences = pair_differences(trial, numbers)
    too_little = (
        len(differences) < FEWEST_PAIRS_LEFT
        or abs(planned[0].share_kept - planned[1].share_kept) > UNEQUAL + TIE
    )
    p = None if too_little else share_of_patterns(differences, trial.seed)
    verdict: Verdict = "too little kept" if p is None else "shown" if p <= LEVEL else "not shown"
    return _result(trial, stage, verdict=verdict, p=p, pairs=len(differences), planned=planned, done=done)


def _result(
    trial: Trial,
    stage: Stage,
    *,
    verdict: Verdict | None = None,
    hindrance: str = "",
    p: float | None = None,
    pairs: int = 0,
    planned: tuple[ArmCounts, ...] = (),
    done: tuple[ArmCounts, ...] = (),
) -> TrialResult:
    return TrialResult(
        trial=trial,
        stage=stage,
        caution=words.CAUTION,
        verdict=verdict,
        hindrance=hindrance,
        p=p,
        pairs=pairs,
        planned=planned,
        done=done,
    )


def _hindrance(trial: Trial, scales: Scales, others: Iterable[Trial]) -> str:
    if trial.stopped is not None:
        return words.TRIAL_LEFT_EARLY
    if trial.outcome != "anxious" and scales.on(trial.outcome, trial.first) != scales.on(
        trial.outcome, trial.last
    ):
        return words.TRIAL_LEVELS_CHANGED
    return words.TRIALS_SHARE_DAYS if shares_days(trial, others) else ""


def _outcomes(trial: Trial, days: Iterable[Day], scales: Scales) -> dict[date, int]:
    """The outcome of each kept day that is compared, as a place in an order."""
    inside = (day for day in days if trial.counts(day.date))
    listed = ((day.date, outcome_of(day, trial.outcome, scales)) for day in inside)
    return {day: number for day, number in listed if number is not None}


def outcome_of(day: Day, outcome: str, scales: Scales) -> int | None:
    """The place of a day's level, 1 the lowest, or 1 for anxious and 0 for not; None where it is not kept.

    Findings leave out what was remembered too late, and so does a trial.
    """
    if outcome == "anxious":
        return None if day.is_anxious is None else int(day.is_anxious)
    square = day.mood if outcome == "mood" else day.sleep
    if square is None or not square.is_kept or square.is_left_out:
        return None
    return scales.placed(square.value).place + 1


def _labels(trial: Trial, scales: Scales) -> dict[int, str]:
    """What each place is called."""
    if trial.outcome == "anxious":
        return {0: "not anxious", 1: "anxious"}
    return {place: level.label for place, level in enumerate(scales.on(trial.outcome, trial.first).levels, 1)}


def _counts(
    trial: Trial, numbers: Mapping[date, int], arm: Arm, without: frozenset[date], labels: Mapping[int, str]
) -> ArmCounts:
    days = [
        day
        for block in trial.blocks()
        if block.arm == arm
        for day in each_day(block.first, block.last)
        if trial.counts(day) and day not in without
    ]
    kept = [numbers[day] for day in days if day in numbers]
    values = {labels.get(value, str(value)): kept.count(value) for value in sorted(set(kept))}
    return ArmCounts(arm=arm, days=len(days), kept=len(kept), values=values)


def pair_differences(trial: Trial, numbers: Mapping[date, int]) -> Floats:
    """Return (k,) the mean rank of A less that of B in each pair; positive where it is as hoped.

    Mid-ranks run over all kept days that are compared. A pair in which either block has fewer than two of
    them (in blocks of two days: none) drops.
    """
    days = sorted(numbers)
    ranked = (
        dict(zip(days, ranks(np.array([float(numbers[day]) for day in days])), strict=True)) if days else {}
    )
    fewest = 1 if trial.block_days == 2 else 2
    found: dict[int, dict[Arm, float]] = {}
    for block in trial.blocks():
        kept = [float(ranked[day]) for day in each_day(block.first, block.last) if day in ranked]
        if len(kept) >= fewest:
            found.setdefault(block.pair, {})[block.arm] = sum(kept) / len(kept)
    whole = [means for means in found.values() if len(means) == 2]
    sign = 1 if trial.direction == "higher" else -1
    return np.array([sign * (means["A"] - means["B"]) for means in whole], dtype=float)


def share_of_patterns(differences: Floats, seed: str) -> float:
    """Return the share of the patterns of signs whose sum reaches the true one.

    All 2^k of them up to 15 pairs; beyond, 9,999 drawn from the seed and the true one: (1 + hits) / 10,000.
    """
    return float(_shares(differences[:, np.newaxis], _patterns(len(differences), seed))[0])


def _patterns(pairs: int, seed: str) -> Floats:
    """Return (m, k) rows of 1 and -1: every pattern, or those that are drawn."""
    if pairs <= EXACT_PAIRS:
        numbers = np.arange(2**pairs)[:, np.newaxis]
        return np.where((numbers >> np.arange(pairs)) & 1, -1.0, 1.0)
    coins = np.random.default_rng(int(seed, 16)).integers(0, 2, size=(DRAWN, pairs))
    return np.where(coins, -1.0, 1.0)


def _shares(differences: Floats, patterns: Floats) -> Floats:
    """Return (t,) the share of the patterns that reach the true sum, for (k, t) differences of t trials."""
    reach = (patterns @ differences >= differences.sum(axis=0) - TIE).sum(axis=0)
    exact = len(patterns) == 2 ** differences.shape[0]
    share: Floats = reach / len(patterns) if exact else (1 + reach) / (len(patterns) + 1)
    return share


@dataclass(frozen=True, kw_only=True)
class Foretold:
    """What a trial like this could show, tried out on her own past."""

    seen: Mapping[float, float]
    """By the share of A's days that are a level better: the share of such trials that would show it."""
    advised_pairs: int | None
    """Fewest pairs with which 8 of 10 would show a change on half the days; None where 60 are too few."""

    @property
    def is_hopeless(self) -> bool:
        """Whether even a change on most days would be seen in fewer than 2 of 10."""
        return self.seen[SHARES[-1]] < HOPELESS

    @property
    def is_doubtful(self) -> bool:
        """Whether a change on half the days would be seen in fewer than 5 of 10."""
        return self.seen[SHARES[1]] < DOUBTFUL


def foretell(trial: Trial, days: Iterable[Day], scales: Scales, today: date) -> Foretold | None:
    """Return what a plan could show, from stretches of her own record with a change put in.

    None where fewer than 180 days of record lie before today, or too few of them hold the outcome. Stretches
    begin at random, coins are thrown anew, and on each day of A the outcome is a level better with a given
    chance; the best level stays.
    """
    past = _past(trial, days, scales, today)
    if len(past) < PAST_DAYS or np.count_nonzero(~np.isnan(past)) < len(past) / 2:
        return None
    seen = {share: _seen(past, trial, trial.pairs, share) for share in SHARES}
    return Foretold(seen=seen, advised_pairs=_fewest_pairs(past, trial))


def _past(trial: Trial, days: Iterable[Day], scales: Scales, today: date) -> Floats:
    """Return (n,) the outcome of each day before today on the levels of now, the hoped-for end highest."""
    levels = scales.on(trial.outcome, today).levels if trial.outcome != "anxious" else ()
    ids = {level.id for level in levels}
    numbers = {}
    for day in days:
        square = day.square(trial.outcome)
        number = outcome_of(day, trial.outcome, scales)
        if number is not None and day.date < today and (not ids or (square and square.value in ids)):
            numbers[day.date] = float(number)
    if not numbers:
        return np.empty(0)
    run = each_day(min(numbers), today - timedelta(days=1))
    values = np.array([numbers.get(day, np.nan) for day in run])
    return values if trial.direction == "higher" else -values


def _fewest_pairs(past: Floats, trial: Trial) -> int | None:
    few, many = form_of(trial.block_days).fewest_pairs, MOST_PAIRS
    if _seen(past, trial, many, SHARES[1]) < 0.8:
        return None
    while few < many:
        middle = (few + many) // 2
        if _seen(past, trial, middle, SHARES[1]) >= 0.8:
            many = middle
        else:
            few = middle + 1
    return many


def _seen(past: Floats, trial: Trial, pairs: int, share: float) -> float:
    """Return the share of 300 simulated trials of so many pairs that would be shown."""
    rng = np.random.default_rng([int(trial.seed, 16), pairs, round(100 * share)])
    best = float(np.nanmax(past))
    by_count: dict[int, list[Floats]] = {}
    for _ in range(RUNS):
        found = _one_run(past, trial, pairs, share, best, rng)
        by_count.setdefault(len(found), []).append(found)
    shown = 0
    for left, group in by_count.items():
        if left >= FEWEST_PAIRS_LEFT:
            p = _shares(np.array(group).T, _patterns(left, trial.seed))
            shown += int(np.count_nonzero(p <= LEVEL))
    return shown / RUNS


def _one_run(
    past: Floats, trial: Trial, pairs: int, share: float, best: float, rng: np.random.Generator
) -> Floats:
    """Return (k,) the differences of one simulated trial, hoped-for end positive."""
    length, block = len(past), trial.block_days
    starts = rng.integers(0, max(length - 2 * block + 1, 1), size=pairs)
    values = past[(starts[:, np.newaxis] + np.arange(2 * block)) % length].reshape(pairs, 2, block)
    first_is_a = rng.integers(0, 2, size=pairs) == 1
    is_a = np.stack([first_is_a, ~first_is_a], axis=1)[:, :, np.newaxis]
    lifted = is_a & (rng.random(values.shape) < share)
    values = np.where(lifted, np.minimum(values + 1, best), values)[:, :, trial.washout :]
    return _differences_of(values, first_is_a, 1 if block == 2 else 2)


def _differences_of(values: Floats, first_is_a: Counts, fewest: int) -> Floats:
    kept = ~np.isnan(values)
    ranked = np.zeros(values.shape)
    ranked[kept] = ranks(values[kept])
    count = kept.sum(axis=2)
    means = ranked.sum(axis=2) / np.maximum(count, 1)
    whole = (count >= fewest).all(axis=1)
    difference: Floats = np.where(first_is_a, 1, -1) * (means[:, 0] - means[:, 1])
    whole_pairs: Floats = difference[whole]
    return whole_pairs
