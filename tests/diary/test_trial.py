"""A trial as it is planned and drawn: which block a day is in, and what cannot be planned."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from tracker.diary.errors import WrongTrial
from tracker.diary.trial import FORMS, Trial, check_plan, form_of, running, shares_days, told_arm, trial_on

TODAY = date(2026, 3, 17)
FIRST = date(2026, 3, 18)
DAY = timedelta(days=1)


def trial(**changed: Any) -> Trial:
    plan: dict[str, Any] = {
        "id": "one", "tried": "ear plugs", "usual": "none", "outcome": "sleep", "direction": "higher",
        "first": FIRST, "block_days": 7, "washout": 2, "pairs": 8, "seed": "07" * 32,
    }  # fmt: skip
    return Trial(**{**plan, **changed})


def test_blocks_follow_one_another_and_fill_the_days() -> None:
    blocks = list(trial().blocks())
    assert [block.pair for block in blocks] == [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8]
    assert blocks[0].first == FIRST
    assert all(one.last + DAY == other.first for one, other in pairwise(blocks))
    assert blocks[-1].last == trial().last == FIRST + 111 * DAY


def test_each_pair_holds_both_arms_once() -> None:
    blocks = list(trial().blocks())
    assert all(
        {one.arm, other.arm} == {"A", "B"} for one, other in zip(blocks[::2], blocks[1::2], strict=True)
    )


def test_other_seeds_draw_other_orders() -> None:
    orders = {tuple(block.arm for block in trial(seed=f"{n:02x}" * 32).blocks()) for n in range(20)}
    assert len(orders) > 15


def test_a_day_finds_the_block_it_lies_in() -> None:
    planned = trial()
    for block in planned.blocks():
        assert planned.block_of(block.first) == planned.block_of(block.last) == block
    assert planned.block_of(FIRST - DAY) is planned.block_of(planned.last + DAY) is None


def test_the_first_days_of_a_block_are_not_compared() -> None:
    assert [trial().counts(FIRST + n * DAY) for n in range(8)] == [False] * 2 + [True] * 5 + [False]


def test_blocks_of_two_days_have_no_washout() -> None:
    assert all(trial(block_days=2, washout=0).counts(FIRST + n * DAY) for n in range(4))


@pytest.mark.parametrize(
    ("day", "stage"),
    [
        (FIRST - DAY, "to come"),
        (FIRST, "running"),
        (FIRST + 111 * DAY, "running"),
        (FIRST + 112 * DAY, "closing"),
        (FIRST + 113 * DAY, "closing"),
        (FIRST + 114 * DAY, "ended"),
    ],
)
def test_the_one_look_is_on_the_third_day_after_the_end(day: date, stage: str) -> None:
    assert trial().stage(day) == stage


def test_a_trial_that_was_left_takes_up_no_later_day() -> None:
    left = trial(stopped=FIRST + 10 * DAY)
    assert (left.until, left.block_of(FIRST + 10 * DAY)) == (FIRST + 9 * DAY, None)
    assert left.stage(FIRST + 300 * DAY) == "stopped"


def test_two_copies_with_trials_on_the_same_days_share_them() -> None:
    later = trial(id="two", first=trial().last + DAY)
    assert shares_days(trial(), [trial(), trial(id="two", first=FIRST + 5 * DAY)])
    assert not shares_days(trial(), [trial(), later])
    assert trial_on([trial(), later], later.first) == later


def test_what_is_to_come_counts_as_going_on() -> None:
    assert running([trial()], TODAY) == trial()
    assert running([trial(stopped=FIRST)], TODAY) is None


def test_a_plan_of_the_advised_size_can_be_drawn() -> None:
    for form in FORMS:
        check_plan(trial(block_days=form.days, washout=form.washout, pairs=form.advised_pairs), TODAY)


@dataclass(frozen=True)
class Refused:
    changed: dict[str, Any]
    sentence: str


@pytest.mark.parametrize(
    "refused",
    [
        Refused({"tried": " "}, "Say what you try in a few words."),
        Refused({"usual": "x" * 41}, "Say what you compare it with in at most 40 letters; these are 41."),
        Refused({"usual": "Ear plugs"}, "What you try and what you compare it with are the same words."),
        Refused({"first": TODAY}, "A trial begins tomorrow or later, not on 17 March 2026."),
        Refused(
            {"pairs": 7},
            "7 pairs of blocks of 7 days could show nothing; take 8 or more, 12 if you can.",
        ),
        Refused({"pairs": 61}, "A trial has at most 60 pairs of blocks."),
        Refused({"washout": 0}, "Of a block of 7 days the first 2 are not counted."),
        Refused({"direction": "lower"}, "A trial of sleep hopes for higher, not lower."),
    ],
    ids=lambda refused: refused.sentence[:40],
)
def test_a_plan_that_cannot_be_carried_out_is_refused(refused: Refused) -> None:
    with pytest.raises(WrongTrial) as caught:
        check_plan(trial(**refused.changed), TODAY)
    assert str(caught.value) == refused.sentence


def test_days_of_another_trial_are_taken() -> None:
    with pytest.raises(
        WrongTrial, match=r"The days to 7 July 2026 belong to another trial; begin after it\."
    ):
        check_plan(trial(id="two", first=FIRST + 5 * DAY), TODAY, [trial()])


def test_blocks_of_other_lengths_are_refused() -> None:
    with pytest.raises(WrongTrial, match=r"A block has 2, 4, 7 or 14 days, not '5'\."):
        form_of(5)


def test_blocks_to_come_are_secret_but_for_the_next_one_on_the_last_day() -> None:
    planned = trial()
    first, second, *_ = planned.blocks()
    known = planned.words_for(first.arm), planned.words_for(second.arm)
    assert told_arm([planned], first.last, first.first) == known[0]
    assert told_arm([planned], second.first, first.last - DAY) == ""
    assert told_arm([planned], second.first, first.last) == known[1]
    assert told_arm([planned], second.first + DAY, first.last) == ""
    assert told_arm([planned], first.first, FIRST - DAY) == ""
    assert told_arm([planned], first.first, planned.last + DAY) == known[0]
