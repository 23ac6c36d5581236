"""What is said of a trial on oneself, for screen, command and page: each sentence once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from tracker import words
from tracker.analysis.trials import LEVEL, SHARES, ArmCounts, Foretold, TrialResult, foretell, judge
from tracker.analysis.wording import chance
from tracker.diary.choices import Choices
from tracker.diary.dates import long_day
from tracker.diary.days import Day
from tracker.diary.errors import WrongTrial
from tracker.diary.scales import Scales
from tracker.diary.trial import Trial, check_plan
from tracker.words import counted

OUTCOMES = {"mood": "mood", "sleep": "sleep", "anxious": "anxious days"}
TENDED = {
    "mood": "mood tended to be higher",
    "sleep": "the sleep tended to be longer",
    "anxious": "days were marked anxious less often",
}
SHARE_WORDS = dict(zip(SHARES, ("three days in ten", "half the days", "seven days in ten"), strict=True))
"""Shares of A's days on which a change is put in when a trial is foretold."""


def told(
    trial: Trial, days: Sequence[Day], scales: Scales, today: date, trials: Iterable[Trial]
) -> list[str]:
    """All that may be said of a trial on a day: the plan, and today's block or what it has shown."""
    result = judge(trial, days, scales, today, trials)
    if result.stage not in ("ended", "stopped"):
        return [*plan_in_words(trial), *present_block(trial, today), words.TRIAL_STOP]
    foretold = foretell(trial, days, scales, trial.first) if result.verdict == "not shown" else None
    return [*plan_in_words(trial)[:2], *result_in_words(result, foretold)]


def could_show(trial: Trial, days: Iterable[Day], choices: Choices, today: date) -> list[str]:
    """How long a plan takes and what it could show.

    Raises WrongTrial for a plan that cannot be carried out, or that could hardly show anything.
    """
    check_plan(trial, today, choices.trials)
    foretold = foretell(trial, days, choices.scales, today)
    said = [*plan_in_words(trial), *foretold_in_words(foretold, trial)]
    if foretold and foretold.is_hopeless:
        raise WrongTrial(f"{' '.join(said[3:])} Nothing was drawn: such a trial could hardly show anything.")
    return said


def plan_in_words(trial: Trial) -> list[str]:
    """What was drawn: what against what, how long, and when its result is shown."""
    blocks = f"{trial.pairs} pairs of blocks of {trial.block_days} days"
    washout = (
        f"; the first {words.counted(trial.washout, 'day')} of each block not counted"
        if trial.washout
        else ""
    )
    return [
        f'"{trial.tried}" against "{trial.usual}", looking at {OUTCOMES[trial.outcome]}.',
        f"{blocks}{washout}; from {long_day(trial.first)} to {long_day(trial.last)}.",
        f"The result is shown on {long_day(trial.look_on)}, and nothing of it before.",
    ]


def present_block(trial: Trial, today: date) -> list[str]:
    """What is done today and, on the last day of a block, tomorrow; nothing of later blocks."""
    if today < trial.first:
        return [f"It begins on {long_day(trial.first)}."]
    block = trial.block_of(today)
    if block is None:
        return [f"Its days are over; the result is shown on {long_day(trial.look_on)}."]
    said = [f'Today: "{trial.words_for(block.arm)}", to {long_day(block.last)}.']
    if today in trial.missed:
        said.append("Today is marked as not done as planned.")
    following = trial.block_of(date.fromordinal(block.last.toordinal() + 1))
    if today == block.last and following:
        said.append(f'Tomorrow: "{trial.words_for(following.arm)}".')
    return said


def foretold_in_words(foretold: Foretold | None, trial: Trial) -> list[str]:
    """What such a trial could show, tried out on her own past."""
    if foretold is None:
        return ["Under 180 days of record cannot tell what such a trial could show."]
    said = [
        f"{_seen(foretold, SHARES[1])}; one on {SHARE_WORDS[SHARES[2]]} in {_of_ten(foretold, SHARES[2])}."
    ]
    if foretold.is_doubtful:
        said.append(_advice(foretold, trial))
    return said


def _advice(foretold: Foretold, trial: Trial) -> str:
    if foretold.advised_pairs is None or foretold.advised_pairs <= trial.pairs:
        return "Shorter blocks, and more of them, would show more, where the effect is gone as soon."
    more = f"With {foretold.advised_pairs} pairs it would be seen in 8 of 10"
    return f"{more}; shorter blocks may need fewer days."


def _seen(foretold: Foretold, share: float) -> str:
    return f"A change on {SHARE_WORDS[share]} would be seen in about {_of_ten(foretold, share)} such trials"


def _of_ten(foretold: Foretold, share: float) -> str:
    return f"{round(10 * foretold.seen[share])} of 10"


def result_in_words(result: TrialResult, foretold: Foretold | None) -> list[str]:
    """The verdict in plain words, and what it rests on; before the one look only when that will be."""
    trial = result.trial
    if result.stage not in ("ended", "stopped"):
        return present_block(trial, trial.last) if result.stage == "closing" else []
    return [*_verdict(result, foretold), *_counts_in_words(result), *_not_as_planned(result)]


def _verdict(result: TrialResult, foretold: Foretold | None) -> list[str]:
    trial = result.trial
    if result.hindrance:
        return [result.hindrance]
    if result.verdict == "too little kept":
        return [
            f"Too little kept: {counted(result.pairs, 'pair')} of {trial.pairs} has enough in both blocks. "
            "It takes 6 of them, and shares of kept days that are alike."
        ]
    blocks = f"{result.pairs} pairs of blocks, {chance(result.p or 0.0)}, limit {LEVEL:g}"
    if result.verdict == "shown":
        return [
            f'Shown: on the days of "{trial.tried}" {TENDED[trial.outcome]} than on those of "{trial.usual}" '
            f"({blocks}). {words.TRIAL_KNOWN}"
        ]
    could = f" {_seen(foretold, SHARES[1])}." if foretold else ""
    return [f"Not shown, which is no proof ({blocks}).{could}"]


def _counts_in_words(result: TrialResult) -> list[str]:
    return [_arm(result.trial, counts) for counts in result.planned]


def _not_as_planned(result: TrialResult) -> list[str]:
    """The other way of counting, described beside the one that counts."""
    missed = len(result.trial.missed)
    if not missed:
        return []
    day = "day was" if missed == 1 else "days were"
    return [
        f"{missed} {day} not done as planned, and counted where the lot put them. Without, described only:",
        *(_arm(result.trial, counts) for counts in result.done),
    ]


def _arm(trial: Trial, counts: ArmCounts) -> str:
    spread = ", ".join(f"{label} {number}" for label, number in counts.values.items())
    name = trial.words_for(counts.arm)
    return f'"{name}": {counts.kept} of {counts.days} days kept{": " if spread else ""}{spread}.'


def begun_in_words(trials: Sequence[Trial] | Iterable[Trial], today: date) -> str:
    """How many trials were begun, which tells how often chance had its turn; empty for one alone."""
    begun = [trial for trial in trials if trial.first <= today]
    left = sum(trial.stopped is not None for trial in begun)
    if len(begun) < 2:
        return ""
    early = f", {left} of them left early" if left else ""
    return f"{len(begun)} trials were begun{early}; each has its own 5 in 100 of a false result."
