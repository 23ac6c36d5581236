"""How often is something shown that is not there?

Each question is asked only of records that hold no answer, once on day 365 and on every verdict day of five
years; beside it stands what a table of plain tests claims on the day 365:

- a link of mood or the anxious mark with sleep, also where something that is no link looks like one;
- a difference between kinds of shift (by the day or by the day before), or between weekdays;
- the day before named, or days after nights shown, where only the day's own shift acts;
- squares left waiting according to the day before;
- a season.

    python -m tests.benchmarks.false_claims --records 1000 --jobs 2
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from scipy import stats

from tests.benchmarks.rates import arguments, run, share, table
from tests.simulated import (
    DAY_ALONE,
    HARD,
    NO_GROUPS,
    NO_LINK,
    NO_SEASON,
    ROTA_NOT_ENTERED,
    Simulated,
    after_nights,
    simulated,
)
from tracker.analysis.adjust import day_before
from tracker.analysis.groups import group_tests
from tracker.analysis.lags import LAGS, pairs_at
from tracker.analysis.links import COMPARED, Links
from tracker.analysis.seasons import yearly_test
from tracker.analysis.series import OUTCOMES, Series
from tracker.analysis.skipping import ALPHA, holm_of
from tracker.analysis.verdict_days import YEAR, group_level, link_looks, season_looks, whole_years_length

DAYS = whole_years_length(5)
ONE_LOOK, THREE_YEARS = 365, whole_years_length(3)
CASES = {**NO_LINK, **HARD, "rota not entered": ROTA_NOT_ENTERED, **DAY_ALONE}
NOTHING_SKIPPED = [name for name, case in NO_LINK.items() if not case.low_days_skipped]

Answer = tuple[bool, bool, bool]
"""Claimed on one look, on any of five years, by plain tests on the one look."""


@dataclass(frozen=True)
class Claims:
    """What one record was made to claim."""

    case: str
    answers: dict[str, Answer]
    """By question; those that have a true answer are left out."""


def judge(task: tuple[str, int, int]) -> Claims:
    """Make one record and ask it everything that it has no answer to."""
    name, seed, number = task
    rng = np.random.default_rng([seed, list(CASES).index(name), number])
    record = simulated(CASES[name], DAYS, rng)
    looks = list(_looks(record.series))
    early = _first(record.series, ONE_LOOK)
    asked: dict[str, Answer] = {}
    if name in NO_LINK or name in HARD or name == "rota not entered":
        links = {length: _links(record, length) for length in looks}
        asked["link"] = _answer(links, "link", plain=_plain_link(early))
        if name in NOTHING_SKIPPED:
            asked["skipped"] = _answer(links, "skipped", plain=False)
    if name in NO_GROUPS or name in DAY_ALONE:
        pages = {length: _page(_first(record.series, length)) for length in looks}
        if name in NO_GROUPS:
            asked["group"] = _answer(pages, *BY, plain=_plain_group(early))
        else:
            asked["beyond"] = _answer(pages, *BEYOND, plain=_plain_day_before(early))
    if name in NO_SEASON:
        asked["season"] = _season(record.series)
    return Claims(name, asked)


BY = ("kinds of shift", "weekday", "days after nights")
BEYOND = ("day before", "days after nights")


def _looks(series: Series) -> Iterator[int]:
    """Return the length of the record on each verdict day."""
    day = link_looks(series.first, series.first).next
    while day <= series.last:
        yield (day - series.first).days + 1
        day = link_looks(series.first, day).next


def _first(series: Series, days: int) -> Series:
    return series.at(slice(0, days))


def _answer(claims: dict[int, set[str]], *wanted: str, plain: bool) -> Answer:
    found = {length: bool(claimed & set(wanted)) for length, claimed in claims.items()}
    return found[ONE_LOOK], any(found.values()), plain


def _links(record: Simulated, days: int) -> set[str]:
    """Return whether a link, and whether waiting according to the day before, is shown."""
    places = slice(0, days)
    links = Links(record.series, places, record.sittings, record.waits, works_shifts=True)
    shown = any(links.table(outcome).verdict == "shown" for outcome in COMPARED)
    skipped = any(p <= ALPHA for p in holm_of(links.skipping).values())
    return {*(["link"] if shown else []), *(["skipped"] if skipped else [])}


def _page(series: Series) -> set[str]:
    """Return by what a difference is shown, and which day is named."""
    page = group_tests(series, level=group_level(len(series)), after_nights=after_nights(series))
    shown = [test for test in page if test.verdict == "shown"]
    return {test.by for test in shown} | {which for test in shown for which in test.named}


def _season(series: Series) -> Answer:
    day = season_looks(series.first, series.first).next
    shown = []
    while day <= series.last:
        until = series.between(series.first, day)
        verdicts = (yearly_test(until.values(name), series.first).verdict for name in OUTCOMES)
        shown.append(any(verdict == "shown" for verdict in verdicts))
        day = season_looks(series.first, day).next
    return shown[0], any(shown), _plain_season(_first(series, THREE_YEARS))


def _plain_link(series: Series) -> bool:
    """Fifteen plain Spearman tests of mood and sleep at 5 % each."""
    pairs = [pairs_at(series.sleep, series.mood, int(lag)) for lag in LAGS]
    return any(stats.spearmanr(*pair).pvalue < 0.05 for pair in pairs)


def _plain_group(series: Series) -> bool:
    """Plain Kruskal-Wallis tests of mood and sleep by shift, shift before, weekday, at 5 % each."""
    labels = (series.shift, day_before(series.shift), series.weekdays.astype(str))
    return any(
        _kruskal(series.values(outcome), label) < 0.05
        for outcome, label in itertools.product(("mood", "sleep"), labels)
    )


def _plain_day_before(series: Series) -> bool:
    """Plain Kruskal-Wallis tests of mood and sleep by the shift of the day before, at 5 % each."""
    labels = day_before(series.shift)
    return any(_kruskal(series.values(outcome), labels) < 0.05 for outcome in ("mood", "sleep"))


def _kruskal(values: np.ndarray, labels: np.ndarray) -> float:
    kept = ~np.isnan(values)
    groups = [values[kept & (labels == label)] for label in np.unique(labels)]
    large = [group for group in groups if len(group) > 4]
    return float(stats.kruskal(*large).pvalue) if len(large) > 1 else 1.0


def _plain_season(series: Series) -> bool:
    """A plain cosinor of daily mood and of daily sleep at 5 % each."""
    return any(_cosinor_p(series.values(outcome)) < 0.05 for outcome in ("mood", "sleep"))


def _cosinor_p(values: np.ndarray) -> float:
    kept = np.flatnonzero(~np.isnan(values))
    angle = 2 * np.pi * kept / YEAR
    design = np.column_stack([np.ones(len(kept)), np.cos(angle), np.sin(angle)])
    y = values[kept]
    rest = ((y - design @ np.linalg.lstsq(design, y, rcond=None)[0]) ** 2).sum()
    f = (((y - y.mean()) ** 2).sum() - rest) / 2 / (rest / (len(kept) - 3))
    return float(stats.f.sf(f, 2, len(kept) - 3))


def report(
    claims: Iterable[Claims],
    question: str,
    cases: Iterable[str],
    ours: str,
    plain: str,
    *,
    together: bool = True,
) -> str:
    """Return the table of one question, with a row for all cases together where they are of one kind."""
    answers = [(claim.case, claim.answers[question]) for claim in claims if question in claim.answers]
    names = list(cases)
    groups = {name: [name] for name in names} | ({"all of these": names} if together else {})
    rows = []
    for title, group in groups.items():
        of_group = [answer for case, answer in answers if case in group]
        rows.append([title, *(share(sum(hits), len(hits)) for hits in zip(*of_group, strict=True))])
    return table(["case", f"one look, {ours}", "five years of verdict days", f"plain tests: {plain}"], rows)


def main() -> None:
    """Print a table for each question."""
    options = arguments("Rates of false claims.")
    tasks = [(name, options.seed, i) for name in CASES for i in range(options.records)]
    claims = run(judge, tasks, options.jobs)
    print(f"Records with a claim, per cent (95 % interval); {options.records} records a case.\n")
    print("## A link of mood or the anxious mark with sleep\n")
    print(report(claims, "link", NO_LINK, "day 365 (nominal 0.8 %)", "15 Spearman"))
    print("\nWhere something that is no link looks like one:\n")
    hard = (*HARD, "rota not entered")
    print(report(claims, "link", hard, "day 365", "15 Spearman", together=False))
    print("\n## A difference between kinds of shift, weekdays or days after nights\n")
    print(report(claims, "group", NO_GROUPS, "day 365 (nominal 2 %)", "6 Kruskal-Wallis"))
    print("\nThe day before named, or days after nights shown, where only the day's own shift acts:\n")
    print(report(claims, "beyond", DAY_ALONE, "day 365", "2 Kruskal-Wallis"))
    print("\n## Squares left waiting according to the day before\n")
    print(report(claims, "skipped", NOTHING_SKIPPED, "day 365 (nominal 1 %)", "none"))
    print("\n## A season\n")
    print(report(claims, "season", NO_SEASON, "three years (nominal 1 %)", "2 cosinors of days"))


if __name__ == "__main__":
    main()
