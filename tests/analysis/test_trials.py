"""What a trial may say and when: nothing by arm before its one look, then one exact verdict."""

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from tests.diary.test_trial import FIRST, trial
from tracker import words
from tracker.analysis.trial_wording import begun_in_words, present_block, result_in_words
from tracker.analysis.trials import foretell, judge, pair_differences, share_of_patterns
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_SCALES, DEFAULT_SLEEP, Scales
from tracker.diary.trial import Trial

DAY = timedelta(days=1)
BUCKETS = [level.id for level in DEFAULT_SLEEP.levels]
PLAN = trial()
LOOK = PLAN.look_on


def kept(plan: Trial, bucket: Callable[[str, date], int | None]) -> list[Day]:
    """Days of a trial whose sleep lies in the bucket that is given for the arm and the day."""
    days = []
    for block in plan.blocks():
        for n in range(plan.block_days):
            day = block.first + n * DAY
            place = bucket(block.arm, day)
            days.append(Day(day, sleep=None if place is None else Square(BUCKETS[place])))
    return days


def better(arm: str, day: date) -> int:
    return 6 if arm == "A" else 4


def found(plan: Trial, days: list[Day], today: date = LOOK, others: tuple[Trial, ...] = ()) -> Any:
    return judge(plan, days, DEFAULT_SCALES, today, others)


def test_what_is_longer_in_every_pair_is_shown_with_the_share_of_one_pattern() -> None:
    result = found(PLAN, kept(PLAN, better))
    assert (result.verdict, result.p, result.pairs) == ("shown", 1 / 2**8, 8)


def test_a_share_just_over_one_in_twenty_is_not_shown() -> None:
    # by hand: of 7 pairs that differ alike one is turned round, so 1 + 7 of 128 patterns reach the sum
    blocks = list(PLAN.blocks())
    lost, turned = blocks[0], blocks[2:4]

    def one_turned(arm: str, day: date) -> int | None:
        if lost.first <= day <= lost.last:
            return None
        is_turned = turned[0].first <= day <= turned[1].last
        return 10 - better(arm, day) if is_turned else better(arm, day)

    result = found(PLAN, kept(PLAN, one_turned))
    assert (result.pairs, result.p, result.verdict) == (7, 8 / 128, "not shown")


def test_what_is_shorter_is_never_claimed() -> None:
    result = found(PLAN, kept(PLAN, lambda arm, day: 10 - better(arm, day)))
    assert (result.verdict, result.p) == ("not shown", 1.0)


@pytest.mark.parametrize("day", [FIRST, PLAN.last, LOOK - DAY])
def test_nothing_is_told_by_arm_before_the_one_look(day: date) -> None:
    result = found(PLAN, kept(PLAN, better), day)
    assert (result.verdict, result.p, result.planned, result.done) == (None, None, (), ())


def test_a_trial_that_was_left_has_counts_and_no_verdict() -> None:
    left = trial(stopped=FIRST + 90 * DAY)
    result = found(left, kept(PLAN, better), FIRST + 90 * DAY)
    assert (result.verdict, result.p, result.hindrance) == (None, None, words.TRIAL_LEFT_EARLY)
    assert sum(counts.kept for counts in result.planned) == 64


def test_trials_that_share_days_are_not_judged() -> None:
    other = trial(id="two", first=FIRST + 5 * DAY)
    assert found(PLAN, kept(PLAN, better), others=(PLAN, other)).hindrance == words.TRIALS_SHARE_DAYS


def test_levels_that_changed_within_leave_only_counts() -> None:
    halves = DEFAULT_SLEEP._replace(id="mine", from_day=FIRST + 20 * DAY)
    scales = Scales((*DEFAULT_SCALES.versions, halves))
    result = judge(PLAN, kept(PLAN, better), scales, LOOK, ())
    assert (result.verdict, result.hindrance) == (None, words.TRIAL_LEVELS_CHANGED)


def test_a_block_with_one_kept_day_drops_its_pair() -> None:
    first = next(iter(PLAN.blocks()))
    days = kept(PLAN, lambda arm, day: None if first.first <= day <= first.last - DAY else better(arm, day))
    assert found(PLAN, days).pairs == 7


def test_days_of_the_washout_move_nothing() -> None:
    def washed(arm: str, day: date) -> int:
        return better(arm, day) if PLAN.counts(day) else 0

    assert found(PLAN, kept(PLAN, washed)).planned == found(PLAN, kept(PLAN, better)).planned


def test_fewer_than_six_pairs_are_too_little() -> None:
    days = [day for day in kept(PLAN, better) if day.date < FIRST + 5 * 14 * DAY]
    result = found(PLAN, days)
    assert (result.verdict, result.p, result.pairs) == ("too little kept", None, 5)


def test_arms_that_were_kept_unequally_are_too_little() -> None:
    def gappy(arm: str, day: date) -> int | None:
        return None if arm == "A" and (day - FIRST).days % 7 in (3, 4) else better(arm, day)

    assert found(PLAN, kept(PLAN, gappy)).verdict == "too little kept"


def test_days_not_done_as_planned_stay_where_the_lot_put_them() -> None:
    missed = frozenset(FIRST + n * DAY for n in range(2, 7))
    plain, marked = found(PLAN, kept(PLAN, better)), found(trial(missed=missed), kept(PLAN, better))
    assert (marked.p, marked.planned) == (plain.p, plain.planned)
    assert sum(c.kept for c in marked.done) == sum(c.kept for c in plain.done) - 5


def test_differences_are_of_mid_ranks_over_all_compared_days() -> None:
    # by hand: blocks of two days, values 1 2 | 3 3 and 2 2 | 1 3, ranks 1.5 4 | 7 7 and 4 4 | 1.5 7
    plan = trial(block_days=2, washout=0, pairs=2)
    numbers = dict(zip((FIRST + n * DAY for n in range(8)), (1, 2, 3, 3, 2, 2, 1, 3), strict=True))
    signs = [1 if block.arm == "A" else -1 for block in list(plan.blocks())[::2]]
    assert pair_differences(plan, numbers).tolist() == [signs[0] * (2.75 - 7), signs[1] * (4 - 4.25)]


def test_the_drawn_patterns_are_the_same_each_time() -> None:
    differences = np.random.default_rng(1).normal(0.3, 1, 20)
    assert share_of_patterns(differences, PLAN.seed) == share_of_patterns(differences, PLAN.seed)


def past(values: Mapping[int, int]) -> list[Day]:
    return [Day(FIRST - (n + 1) * DAY, sleep=Square(BUCKETS[values[n]])) for n in values]


def test_under_180_days_nothing_is_foretold() -> None:
    days = past({n: 3 + n % 3 for n in range(179)})
    assert foretell(PLAN, days, DEFAULT_SCALES, FIRST) is None


def test_a_change_on_more_days_is_seen_more_often_and_the_forecast_repeats_itself() -> None:
    rng = np.random.default_rng(4)
    days = past({n: int(place) for n, place in enumerate(rng.integers(2, 7, 400))})
    foretold = foretell(PLAN, days, DEFAULT_SCALES, FIRST)
    assert foretold is not None
    assert 0.02 < foretold.seen[0.3] < foretold.seen[0.5] < foretold.seen[0.7] < 1
    assert foretold == foretell(PLAN, days, DEFAULT_SCALES, FIRST)


def test_who_is_always_at_the_best_level_has_nothing_to_show() -> None:
    foretold = foretell(PLAN, past(dict.fromkeys(range(300), 7)), DEFAULT_SCALES, FIRST)
    assert foretold is not None
    assert foretold.is_hopeless
    assert foretold.advised_pairs is None


def test_the_sentence_of_a_shown_trial_says_what_its_p_stands_beside() -> None:
    assert result_in_words(found(PLAN, kept(PLAN, better)), None) == [
        'Shown: on the days of "ear plugs" the sleep tended to be longer than on those of "none" '
        "(8 pairs of blocks, p = 0.0039, limit 0.05). "
        "You knew which block it was, and that alone can do something.",
        '"ear plugs": 40 of 40 days kept: 7-8 h 40.',
        '"none": 40 of 40 days kept: 5-6 h 40.',
    ]


def test_only_the_present_block_is_told_and_on_its_last_day_the_next() -> None:
    first, second, *_ = PLAN.blocks()
    assert len(present_block(PLAN, first.first)) == 1
    assert present_block(PLAN, first.last) == [
        f'Today: "{PLAN.words_for(first.arm)}", to 24 March 2026.',
        f'Tomorrow: "{PLAN.words_for(second.arm)}".',
    ]


def test_how_many_trials_were_begun_is_told() -> None:
    two = (trial(stopped=FIRST + 20 * DAY), trial(id="two", first=FIRST + 30 * DAY))
    assert begun_in_words(two[:1], LOOK) == ""
    assert begun_in_words(two, LOOK) == (
        "2 trials were begun, 1 of them left early; each has its own 5 in 100 of a false result."
    )
