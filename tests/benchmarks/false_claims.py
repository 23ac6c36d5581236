"""How often is something shown that is not there?

Four questions, each asked only of records that hold no answer: a link of mood or the anxious mark with
sleep, a difference between groups of days, one by the day before or in the days after nights where only the
day's own shift acts, a season.
Each is asked once, and on every verdict day of five years; beside it stands what a table of plain tests
claims on the same days.

    python -m tests.benchmarks.false_claims --records 1000 --jobs 2
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from scipy import stats

from tests.benchmarks.rates import arguments, run, share, table
from tests.simulated import (
    DAY_ALONE,
    NO_GROUPS,
    NO_LINK,
    NO_SEASON,
    ROTA_NOT_ENTERED,
    after_nights,
    simulate,
)
from tracker.analysis.adjust import day_before
from tracker.analysis.groups import group_tests
from tracker.analysis.lags import LAGS, lag_table, pairs_at
from tracker.analysis.seasons import yearly_test
from tracker.analysis.series import OUTCOMES, Series
from tracker.analysis.verdict_days import YEAR, group_level, link_looks, season_looks, whole_years_length

DAYS = whole_years_length(5)
ONE_LOOK = 365
CASES = {**NO_LINK, "rota not entered": ROTA_NOT_ENTERED, **DAY_ALONE}


@dataclass(frozen=True)
class Claims:
    """What one record was made to claim; None where the question has an answer."""

    case: str
    link: tuple[bool, bool, bool] | None
    """On one look, on any of five years, by plain tests on the one look."""
    group: tuple[bool, bool, bool] | None
    beyond_the_day: tuple[bool, bool, bool] | None
    season: tuple[bool, bool, bool] | None


def judge(task: tuple[str, int, int]) -> Claims:
    """Make one record and ask it everything that it has no answer to."""
    name, seed, number = task
    rng = np.random.default_rng([seed, list(CASES).index(name), number])
    series = simulate(CASES[name], DAYS, rng)
    looks = list(_looks(series))
    early = _first_days(series, ONE_LOOK)
    pages = {look.last: _page(look) for look in looks}
    return Claims(
        case=name,
        link=_asked(_link, looks, ONE_LOOK, _plain_link(early)),
        group=_asked(lambda look: bool(pages[look.last]), looks, ONE_LOOK, _plain_group(early))
        if name in NO_GROUPS
        else None,
        beyond_the_day=_asked(
            lambda look: bool(pages[look.last] & {"day before", "days after nights"}),
            looks,
            ONE_LOOK,
            _plain_day_before(early),
        )
        if name in DAY_ALONE
        else None,
        season=_season(series) if name in NO_SEASON else None,
    )


def _looks(series: Series) -> Iterator[Series]:
    """Return the record as it stood on each verdict day."""
    day = link_looks(series.first, series.first).next
    while day <= series.last:
        yield series.between(series.first, day)
        day = link_looks(series.first, day).next


def _first_days(series: Series, days: int) -> Series:
    return series.between(series.first, series.first + timedelta(days=days - 1))


def _asked(
    question: Callable[[Series], bool], looks: list[Series], one: int, plain: bool
) -> tuple[bool, bool, bool]:
    answers = {look.last: question(look) for look in looks}
    at_one = [answers[look.last] for look in looks if (look.last - looks[0].first).days < one]
    return at_one[-1], any(answers.values()), plain


def _link(series: Series) -> bool:
    return any(lag_table(series.trimmed(), outcome).verdict == "shown" for outcome in ("mood", "anxious"))


def _page(series: Series) -> set[str]:
    """Return by what a difference is shown, and which day is named."""
    page = group_tests(series, level=group_level(len(series)), after_nights=after_nights(series))
    shown = [test for test in page if test.verdict == "shown"]
    return {test.by for test in shown} | {which for test in shown for which in test.named}


def _season(series: Series) -> tuple[bool, bool, bool]:
    day = season_looks(series.first, series.first).next
    shown = []
    while day <= series.last:
        until = series.between(series.first, day)
        shown.append(
            any(yearly_test(until.values(name), series.first).verdict == "shown" for name in OUTCOMES)
        )
        day = season_looks(series.first, day).next
    return shown[0], any(shown), _plain_season(_first_days(series, whole_years_length(3)))


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


def _of(
    answers: list[tuple[str, tuple[bool, bool, bool]]], cases: list[str]
) -> list[tuple[bool, bool, bool]]:
    return [answer for case, answer in answers if case in cases]


def report(claims: Iterable[Claims], question: str, cases: Iterable[str], ours: str, plain: str) -> str:
    """Return the table of one question."""
    answers = [(claim.case, getattr(claim, question)) for claim in claims]
    names = list(cases)
    groups = {name: [name] for name in names} | ({"all of these": names} if len(names) > 1 else {})
    rows = [
        [title, *(share(sum(hits), len(hits)) for hits in zip(*_of(answers, group), strict=True))]
        for title, group in groups.items()
    ]
    return table(["case", f"one look, {ours}", "five years of verdict days", f"plain tests: {plain}"], rows)


def main() -> None:
    """Print the four tables."""
    options = arguments("Rates of false claims.")
    tasks = [(name, options.seed, i) for name in CASES for i in range(options.records)]
    claims = run(judge, tasks, options.jobs)
    print(f"Records with a claim, per cent (95 % interval); {options.records} records a case.\n")
    print("## A link of mood or the anxious mark with sleep\n")
    print(report(claims, "link", NO_LINK, "day 365 (nominal 1 %)", "15 Spearman"))
    print("\nA rota that moves both and was never entered cannot be told from a link:\n")
    print(report(claims, "link", ["rota not entered"], "day 365", "15 Spearman"))
    print("\n## A difference between shift kinds or weekdays\n")
    print(report(claims, "group", NO_GROUPS, "day 365 (nominal 2 %)", "6 Kruskal-Wallis"))
    print("\nThe day before named, or days after nights shown, where only the day's own shift acts:\n")
    print(report(claims, "beyond_the_day", DAY_ALONE, "day 365", "2 Kruskal-Wallis"))
    print("\n## A season\n")
    print(report(claims, "season", NO_SEASON, "three years (nominal 1 %)", "2 cosinors of days"))


if __name__ == "__main__":
    main()
