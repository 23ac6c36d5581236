"""How often is something shown that is there?

Links of a known latent correlation are put into mood and sleep at one lag, shift kinds, days after nights and
weekdays are given known differences, the year a known wave. Each record is judged on successive verdict days
by the rules of the program; beside the rate stands what the program says it could have seen.

    python -m tests.benchmarks.power_of_findings --records 1000 --jobs 2
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from tests.benchmarks.rates import arguments, run, share, table
from tests.simulated import Case, after_nights, lag_table, planted, simulate
from tracker.analysis.groups import group_tests
from tracker.analysis.lags import LAGS
from tracker.analysis.seasons import yearly_test
from tracker.analysis.series import Series
from tracker.analysis.verdict_days import group_level, whole_years_length

LINKS = {
    f"{link} at lag {lag}{', rota' if rota else ''}": planted(link, lag, rota=rota)
    for rota in (0, 1)
    for lag in (0, -1)
    for link in (0.2, 0.3, 0.4, 0.5)
}
GROUPS = {
    "weekend 0.25": Case(weekly=0.25),
    "weekend 0.5": Case(weekly=0.5),
    "weekend 1": Case(weekly=1),
}
SHIFTS = {
    "rota 0.25": Case(rota=0.25),
    "rota 0.5": Case(rota=0.5),
    "rota 1": Case(rota=1),
    "the day's kind alone": Case(kinds=1),
    "rota 1, second and third day after nights 0.5 lower": Case(rota=1, after_nights=0.5),
}
WAVES = {f"wave {height}": Case(annual=height) for height in (0.3, 0.6, 1.0, 1.5)}
LENGTHS = (120, 180, 365, 730, 1095)
YEARS = (3, 4, 5, 8)


@dataclass(frozen=True)
class Judged:
    """One record on one verdict day."""

    case: str
    length: int
    shown: bool
    wrong: bool
    """Shown on the side where nothing was put in; links only."""
    effect: float
    """Correlation, at the lag put in; height of the wave; nan for groups."""
    smallest: float
    """What the program says would have been shown in 8 of 10 such records."""


def judge(task: tuple[str, int, int]) -> list[Judged]:
    """Make one record of a case and judge it on each verdict day."""
    name, seed, number = task
    rng = np.random.default_rng([seed, sum(map(ord, name)), number])
    if name in WAVES:
        return _judge_wave(name, simulate(WAVES[name], whole_years_length(max(YEARS)), rng))
    series = simulate({**LINKS, **GROUPS, **SHIFTS}[name], max(LENGTHS), rng)
    if name in SHIFTS:
        looks = [length for length in LENGTHS if group_level(length)]
        return [one for length in looks for one in _judge_shifts(name, length, _beginning(series, length))]
    one: Callable[[str, int, Series], Judged] = _judge_link if name in LINKS else _judge_group
    return [one(name, length, _beginning(series, length)) for length in LENGTHS]


def _beginning(series: Series, days: int) -> Series:
    return series.between(series.first, series.first + timedelta(days=days - 1))


def _judge_link(name: str, length: int, series: Series) -> Judged:
    found = lag_table(series.trimmed(), "mood", works_shifts=True)
    lag = LINKS[name].lag
    at = int(np.flatnonzero(lag == LAGS)[0])
    right, wrong = ("sleep", "mood") if lag >= 0 else ("mood", "sleep")
    effect, smallest = float(found.beyond_own_past[at]), float(found.smallest[at])
    return Judged(
        name, length, found.first in (right, "both"), found.first in (wrong, "both"), effect, smallest
    )


def _judge_group(name: str, length: int, series: Series) -> Judged:
    page = group_tests(series, level=group_level(length))
    found = next(test for test in page if (test.outcome, test.by) == ("mood", "weekday"))
    return Judged(name, length, found.verdict == "shown", False, np.nan, found.smallest)


def _judge_shifts(name: str, length: int, series: Series) -> Iterator[Judged]:
    """Judge the kinds of shift by both days, each alone and as it is named, and the days after nights."""
    level = group_level(length)
    page = group_tests(series, level=level, weekdays=True, after_nights=after_nights(series))
    for outcome in ("mood", "sleep"):
        kinds = next(test for test in page if (test.outcome, test.by) == (outcome, "kinds of shift"))
        after = [test for test in page if (test.outcome, test.by) == (outcome, "days after nights")]
        told = {
            "shown": kinds.verdict == "shown",
            "by the day": kinds.p_of.get("day", 1.0) <= level,
            "by the day before": kinds.p_of.get("day before", 1.0) <= level,
            "day named": "day" in kinds.named,
            "day before named": "day before" in kinds.named,
            "days after nights": any(test.verdict == "shown" for test in after),
        }
        for what, so in told.items():
            yield Judged(f"{name}: {outcome}, {what}", length, so, False, np.nan, kinds.smallest)


def _judge_wave(name: str, series: Series) -> list[Judged]:
    found = {years: _beginning(series, whole_years_length(years)) for years in YEARS}
    tests = {years: yearly_test(until.mood, until.first) for years, until in found.items()}
    return [
        Judged(
            name,
            years,
            test.verdict == "shown",
            False,
            test.wave.amplitude if test.wave else np.nan,
            test.smallest,
        )
        for years, test in tests.items()
    ]


def rows(judged: Iterable[Judged], cases: Iterable[str]) -> list[list[str]]:
    """Return a row for each case and verdict day."""
    groups: dict[tuple[str, int], list[Judged]] = defaultdict(list)
    for one in judged:
        groups[one.case, one.length].append(one)
    wanted = list(cases)
    return [[name, str(length), *_cells(group)] for (name, length), group in groups.items() if name in wanted]


def _cells(group: list[Judged]) -> list[str]:
    return [
        share(sum(one.shown for one in group), len(group)),
        share(sum(one.wrong for one in group), len(group)),
        _middle([one.effect for one in group]),
        _middle([one.smallest for one in group]),
    ]


def _middle(values: list[float]) -> str:
    known = [value for value in values if not np.isnan(value)]
    return f"{np.median(known):.3f}" if known else "-"


def without(column: int, lines: list[list[str]]) -> list[list[str]]:
    """Return rows without one column."""
    return [line[:column] + line[column + 1 :] for line in lines]


def main() -> None:
    """Print the three tables."""
    options = arguments("How often what is there is shown.")
    cases = [*LINKS, *GROUPS, *SHIFTS, *WAVES]
    tasks = [(name, options.seed, i) for name in cases for i in range(options.records)]
    judged = [one for record in run(judge, tasks, options.jobs) for one in record]
    print(f"Records with the verdict shown, per cent (95 % interval); {options.records} records a case.\n")
    print("## Links of mood and sleep, latent correlation put in\n")
    head = ["put in", "day", "shown on its side", "shown on the other side", "median effect", "smallest said"]
    print(table(head, rows(judged, LINKS)))
    print("\n## Differences in mood between weekdays, in standard deviations\n")
    said = "smallest share said"
    print(table(["put in", "day", "shown", said], without(3, without(4, rows(judged, GROUPS)))))
    print("\n## Differences between kinds of shift, and in the days after nights\n")
    told = dict.fromkeys(one.case for one in judged if one.case.split(":")[0] in SHIFTS)
    head = ["put in: outcome, what is told", "day", "so", said]
    print(table(head, without(3, without(4, rows(judged, told)))))
    print("\n## A yearly wave in mood, in standard deviations\n")
    head = ["put in", "years", "shown", "median height", "smallest said"]
    print(table(head, without(3, rows(judged, WAVES))))


if __name__ == "__main__":
    main()
