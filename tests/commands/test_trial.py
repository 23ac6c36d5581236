"""`tracker trial`: planned with eyes open, drawn once, left at any time, looked at once."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest

from tests.commands.conftest import Run
from tracker import words
from tracker.diary.changes import sleep_change
from tracker.diary.scales import DEFAULT_SLEEP
from tracker.record.store import Record

PLAN = ("trial", "plan", "--try", "ear plugs", "--usual", "none", "--outcome", "sleep", "--block", "4")
DRAWN = (*PLAN, "--pairs", "12", "--none-of-these", "--yes")
Kept = Callable[[], Record]


def test_a_plan_says_what_is_never_tried_how_long_it_takes_and_the_caution(run: Run) -> None:
    told = run(*PLAN, "--pairs", "12", "--dry-run")
    assert told.exit_code == 0
    for line in (words.TRIAL_NEVER, words.TRIAL_NOT_WHILE_UNWELL, words.TRIAL_STOP, words.CAUTION):
        assert line in told.stdout
    assert "12 pairs of blocks of 4 days; the first 1 day of each block not counted;" in told.stdout
    assert "from 18 March 2026 to 21 June 2026." in told.stdout
    assert told.stdout.endswith("Nothing was drawn, because this was a dry run.\n")


def test_a_dry_run_keeps_nothing(run: Run, kept: Kept) -> None:
    run("put", "--sleep", "6")
    run(*PLAN, "--pairs", "12", "--dry-run")
    with kept() as record:
        assert record.choices().trials == ()


def test_nothing_is_drawn_unless_she_says_it_is_nothing_of_these(run: Run, kept: Kept) -> None:
    told = run(*PLAN, "--pairs", "12", "--yes")
    assert told.stdout.endswith("Nothing was drawn.\n")
    with kept() as record:
        assert record.choices().trials == ()


def test_what_is_drawn_stands_before_the_first_day_with_its_seed(run: Run, kept: Kept) -> None:
    assert run(*DRAWN).exit_code == 0
    with kept() as record:
        (trial,) = record.choices().trials
    assert (trial.tried, trial.usual, trial.first, trial.pairs) == (
        "ear plugs",
        "none",
        date(2026, 3, 18),
        12,
    )
    assert len(bytes.fromhex(trial.seed)) == 32


def test_two_plans_have_two_lots(run: Run, kept: Kept) -> None:
    seeds = set()
    for _ in range(2):
        run(*DRAWN)
        with kept() as record:
            seeds |= {trial.seed for trial in record.choices().trials}
        run("trial", "stop", "--yes")
    assert len(seeds) == 2


def test_undo_takes_back_what_was_kept_since_but_no_trial(run: Run, kept: Kept) -> None:
    run("put", "--sleep", "6")
    run(*DRAWN)
    assert run("undo").stdout.startswith("Taken back: Tue 17 March, sleep")
    with kept() as record:
        assert len(record.choices().trials) == 1


def test_leaving_cannot_be_taken_back_either(run: Run, kept: Kept) -> None:
    run(*DRAWN)
    run("trial", "stop", "--yes")
    assert run("undo").exit_code == 1
    with kept() as record:
        assert record.choices().trials[0].stopped == date(2026, 3, 17)


def test_a_second_trial_waits_for_the_first(run: Run) -> None:
    run(*DRAWN)
    told = run(*DRAWN)
    assert told.exit_code == 2
    assert told.stderr == "A trial is going on to 21 June 2026; tracker trial stop leaves it.\n"


def test_before_it_begins_it_says_when_and_nothing_of_its_blocks(run: Run) -> None:
    run(*DRAWN)
    shown = run("trial").stdout
    assert "It begins on 18 March 2026." in shown
    assert "Today" not in shown
    assert words.CAUTION in shown


def test_a_day_that_no_trial_has_come_to_cannot_be_marked(run: Run) -> None:
    run(*DRAWN)
    told = run("trial", "missed", "tomorrow")
    assert (told.exit_code, told.stderr) == (2, "No trial has come to 18 March 2026.\n")


@pytest.fixture
def ended(run: Run, kept: Kept) -> None:
    """A trial of 96 days that ended long ago, with longer sleeps in every block of ear plugs."""
    run("put", "--sleep", "6")
    with kept() as record:
        from tests.diary.test_trial import trial
        from tracker.record.trial_rows import trial_value

        plan = trial(first=date(2025, 9, 1), block_days=4, washout=1, pairs=12)
        record.choose(trial_value(plan))
        buckets = {"A": DEFAULT_SLEEP.levels[6], "B": DEFAULT_SLEEP.levels[4]}
        days = [(block.first + timedelta(days=n), block.arm) for block in plan.blocks() for n in range(4)]
        record.keep([sleep_change(day, buckets[arm]) for day, arm in days], basis="at the time")


@pytest.mark.usefixtures("ended")
def test_what_it_has_shown_stands_with_its_counts_and_the_caution(run: Run) -> None:
    assert run("trial").stdout.splitlines() == [
        '"ear plugs" against "none", looking at sleep.',
        "12 pairs of blocks of 4 days; the first 1 day of each block not counted; "
        "from 1 September 2025 to 5 December 2025.",
        'Shown: on the days of "ear plugs" the sleep tended to be longer than on those of "none" '
        "(12 pairs of blocks, p < 0.001, limit 0.05). "
        "You knew which block it was, and that alone can do something.",
        '"ear plugs": 36 of 36 days kept: 7-8 h 36.',
        '"none": 36 of 36 days kept: 5-6 h 36.',
        "",
        words.CAUTION,
    ]


@pytest.mark.usefixtures("ended")
def test_a_day_not_done_as_planned_can_be_marked_and_unmarked(run: Run, kept: Kept) -> None:
    assert run("trial", "missed", "2 September 2025").stdout == "2 September 2025: not done as planned.\n"
    with kept() as record:
        assert record.choices().trials[0].missed == {date(2025, 9, 2)}
    run("trial", "missed", "2 September 2025", "--off")
    with kept() as record:
        assert record.choices().trials[0].missed == frozenset()


def without(option: str) -> tuple[str, ...]:
    at = DRAWN.index(option)
    return (*DRAWN[:at], *DRAWN[at + 2 :])


def test_what_nobody_can_answer_names_the_options(run: Run) -> None:
    told = run(*without("--try"))
    assert told.exit_code == 2
    assert told.stderr.endswith("is not answered; tracker trial plan --help names the options.\n")


def test_what_is_left_out_is_as_advised_where_nobody_can_answer(run: Run) -> None:
    assert "16 pairs of blocks of 4 days;" in run(*without("--pairs")).stdout


@pytest.mark.usefixtures("at_a_terminal")
def test_an_answer_that_cannot_be_read_is_asked_for_again(run: Run) -> None:
    typed = "ear plugs\n\nhunger\nsleep\nsome\n4\nfew\n12\n"
    told = run("trial", "plan", "--dry-run", typed=typed).stdout
    for error in (
        "A trial looks at mood, sleep or anxious, not at 'hunger'.",
        "A block has 2, 4, 7 or 14 days, not 'some'.",
        "'few' is no number of pairs; write 12.",
    ):
        assert error in told
    assert '"ear plugs" against "as usual", looking at sleep.' in told
    assert "12 pairs of blocks of 4 days;" in told
