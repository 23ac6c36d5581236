"""Quick returns are compared with other days of the same kind of shift."""

from dataclasses import replace
from datetime import date

import numpy as np

from tests.simulated import MOOD_CUTS, autoregression
from tracker.analysis.groups import group_tests
from tracker.analysis.rota_runs import QUICK, UNHURRIED
from tracker.analysis.series import Floats, Series

DAYS = 1095
BLOCKS = (["early"] * 3, ["late"] * 2 + ["early"] * 2, ["long"] * 3)
"""An early after a late is a quick return, and no other day is."""


def record(rng: np.random.Generator, *, of_early: float, of_quick: float) -> tuple[Series, Floats]:
    """Days whose mood is moved by earlies and by quick returns, with 1 for a quick return."""
    rota: list[str] = []
    while len(rota) < DAYS:
        rota += BLOCKS[rng.integers(len(BLOCKS))] + ["off"] * int(rng.integers(1, 4))
    shift = np.array(rota[:DAYS])
    early = shift == "early"
    quick = early & (np.roll(shift, 1) == "late")
    mood = autoregression(DAYS, 0.5, rng) + of_early * early + of_quick * quick
    levels = np.digitize(mood, MOOD_CUTS).astype(float) + 1
    nothing = np.full(DAYS, np.nan)
    return Series(date(2023, 1, 2), levels, nothing, nothing, shift), quick.astype(float)


def p_of_quick_returns(rng: np.random.Generator, *, of_early: float = 0, of_quick: float = 0) -> float:
    series, quick = record(rng, of_early=of_early, of_quick=of_quick)
    labels = np.where(quick == 1, QUICK, np.where(series.shift == "off", "", UNHURRIED))
    page = group_tests(series, ("mood",), level=0.05, weekdays=False, runs={"quick return": labels})
    return next(test.p for test in page if test.by == "quick return")


def test_what_earlies_do_is_not_claimed_of_quick_returns() -> None:
    """60 single tests at 5 %: at most 5 % and three standard errors (8)."""
    rng = np.random.default_rng(1)
    assert sum(p_of_quick_returns(rng, of_early=-1.2) <= 0.05 for _ in range(60)) <= 8


def test_what_quick_returns_do_beyond_their_kind_is_found() -> None:
    rng = np.random.default_rng(2)
    found = [p_of_quick_returns(rng, of_early=-0.5, of_quick=-1) <= 0.05 for _ in range(20)]
    assert sum(found) >= 18


def test_days_off_belong_to_neither_side() -> None:
    """Whatever a day off is like, the two sides are the same days and as many."""
    series, quick = record(np.random.default_rng(3), of_early=0, of_quick=0)
    labels = np.where(quick == 1, QUICK, np.where(series.shift == "off", "", UNHURRIED))
    off = series.shift == "off"
    brighter = replace(series, mood=np.where(off, 5.0, series.mood))
    pages = [
        group_tests(s, ("mood",), level=0.05, weekdays=False, runs={"quick return": labels})
        for s in (series, brighter)
    ]
    assert [page[-1].days for page in pages] == [int(np.count_nonzero(~off))] * 2
