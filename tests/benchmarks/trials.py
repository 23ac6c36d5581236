"""How often a trial on oneself is wrong, and how often it finds what is there.

Run by `python -m tests.benchmarks.trials --records 400`. Days are simulated with what a life adds (own past,
rota, week, drift, a step, the time of year, bad spells). Nothing is put in for the false claims; for power,
mood is a level higher on a share of the days of A. Every trial is drawn, kept and judged by the program's own
rules.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import timedelta
from typing import NamedTuple

import numpy as np

from tests.benchmarks.rates import arguments, run, share, table
from tests.simulated import FIRST, NO_LINK, Case, simulate
from tracker.analysis.trials import judge
from tracker.diary.days import Day, Square
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SCALES
from tracker.diary.trial import FORMS, Trial

LIFE = 60
"""Days of life before a trial begins."""
SHARES = (0.3, 0.5, 0.7)
KEPT = 0.85
SKIPPED = 0.4
OWN_PAST = Case(0.3, 0.6)


class Task(NamedTuple):
    """One trial to simulate."""

    case: Case
    form: int
    pairs: int
    lifted: float
    """Share of A's days on which mood is a level higher."""
    low_skipped_under_a: bool
    seed: int


def planned(task: Task, rng: random.Random) -> Trial:
    """A trial of mood, its lot drawn from the task's seed."""
    form = FORMS[task.form]
    return Trial(
        "simulated", "a", "b", "mood", "higher", FIRST + timedelta(days=LIFE),
        form.days, form.washout, task.pairs, rng.randbytes(32).hex(),
    )  # fmt: skip


def is_shown(task: Task) -> bool:
    """Whether one simulated trial is shown."""
    coins, rng = random.Random(task.seed), np.random.default_rng(task.seed)  # noqa: S311
    trial = planned(task, coins)
    length = LIFE + (trial.last - trial.first).days + 1
    moods = simulate(task.case, length, rng).mood
    days = []
    for place, mood in enumerate(moods):
        day = FIRST + timedelta(days=place)
        block = trial.block_of(day)
        is_a = block is not None and block.arm == "A"
        level = 0 if np.isnan(mood) else int(mood) + (is_a and coins.random() < task.lifted)
        skipped = is_a and task.low_skipped_under_a and level <= 2 and coins.random() < SKIPPED
        if level and coins.random() < KEPT and not skipped:
            days.append(Day(day, mood=Square(DEFAULT_MOOD.levels[min(level, 5) - 1].id)))
    return judge(trial, days, DEFAULT_SCALES, trial.look_on, ()).verdict == "shown"


def false_claims(records: int, jobs: int, seed: int) -> list[Sequence[str]]:
    """Rows of how often a trial is shown although nothing is there."""
    cases = [(name, case, False) for name, case in NO_LINK.items()]
    cases.append(("low days skipped under A only", Case(0.5, 0.5), True))
    rows: list[Sequence[str]] = []
    for form in range(len(FORMS)):
        pairs = FORMS[form].advised_pairs
        tasks = [
            Task(case, form, pairs, 0.0, skipped, seed * 1_000_003 + at * records + n)
            for at, (_, case, skipped) in enumerate(cases)
            for n in range(records)
        ]
        found = run(is_shown, tasks, jobs)
        honest = found[: len(NO_LINK) * records]
        rows.append(
            [_named(form, pairs), share(sum(honest), len(honest)), share(sum(found[len(honest) :]), records)]
        )
    return rows


def power(records: int, jobs: int, seed: int) -> list[Sequence[str]]:
    """Rows of how often a change on a share of the days is shown."""
    rows: list[Sequence[str]] = []
    for form in range(len(FORMS)):
        pairs = FORMS[form].advised_pairs
        row = [_named(form, pairs)]
        for at, lifted in enumerate(SHARES):
            case = Case(0.3, 0.6)
            tasks = [
                Task(case, form, pairs, lifted, False, seed * 2_000_003 + at * records + n)
                for n in range(records)
            ]
            row.append(share(sum(run(is_shown, tasks, jobs)), records))
        rows.append(row)
    return rows


def _named(form: int, pairs: int) -> str:
    return f"{pairs} pairs of {FORMS[form].days} days"


def main() -> None:
    """Print both tables."""
    asked = arguments("Trials on oneself: false claims and power")
    how = (asked.records, asked.jobs, asked.seed)
    print(table(["trial", "nothing there", "low days skipped under A only"], false_claims(*how)))
    print()
    print(table(["trial", *(f"{100 * part:.0f} % of days" for part in SHARES)], power(*how)))


if __name__ == "__main__":
    main()
