"""Lags of mood and sleep: edge cases, known truth, and the steps once more by scipy.stats."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest
from scipy import stats

from tests.simulated import NO_LINK, ROTA_NOT_ENTERED, SLEEP_CUTS, Case, lag_table, planted, simulate
from tracker.analysis.adjust import shift_columns, shift_columns_by_year
from tracker.analysis.lags import (
    ALPHA,
    LAGS,
    LagTable,
    covariates,
    lagged_correlation,
    prepare,
    shifts_known,
)
from tracker.analysis.series import Series
from tracker.analysis.sitting import Sittings

NAN = float("nan")


def record(case: Case, days: int, seed: int) -> Series:
    return simulate(case, days, np.random.default_rng(seed))


def beginning(days: int) -> Series:
    series = record(planted(0.9, 0), 200, 1)
    return series.between(series.first, series.first + timedelta(days=days - 1))


def with_mood(days: int, mood: float) -> Series:
    return replace(record(Case(), days, 1), mood=np.full(days, mood))


@pytest.mark.parametrize(
    "series",
    [
        with_mood(200, NAN),
        with_mood(200, 3.0),
        beginning(59),
        beginning(5),
        beginning(0),
    ],
    ids=["nothing kept", "one level only", "59 days", "5 days", "no day"],
)
def test_too_little_is_said_and_nothing_is_tested(series: Series) -> None:
    found = lag_table(series, "mood")
    assert (found.verdict, found.first, found.strongest) == ("too little kept", None, None)
    assert np.isnan([*found.p_holm, *found.smallest]).all()


def test_days_that_are_never_kept_together_have_no_pairs_at_lag_zero() -> None:
    series = record(Case(), 300, 2)
    apart = np.arange(300) % 2 == 0
    series = replace(series, mood=np.where(apart, series.mood, NAN), sleep=np.where(apart, NAN, series.sleep))
    found = lag_table(series, "mood")
    assert (found.tested_before, found.tested_after) == (False, True)
    assert found.pairs[LAGS == 0].tolist() == [0]


def test_three_anxious_days_are_too_few() -> None:
    series = record(Case(), 300, 3)
    rare = np.zeros(300)
    rare[[20, 90, 200]] = 1
    assert lag_table(replace(series, anxious=rare), "anxious").verdict == "too little kept"


def test_a_mood_that_is_all_weekday_is_not_tested() -> None:
    series = record(Case(), 210, 4)
    found = lag_table(replace(series, mood=series.weekdays.astype(float)), "mood")
    assert found.verdict == "too little kept"
    assert np.isnan(found.beyond_own_past).all()


def test_a_series_against_itself_is_shown_at_lag_zero() -> None:
    series = record(Case(), 365, 5)
    found = lag_table(replace(series, mood=series.sleep), "mood")
    assert (found.verdict, found.strongest) == ("shown", 0)
    assert found.unadjusted[LAGS == 0] == pytest.approx([1])


def test_without_any_rota_the_record_is_still_compared() -> None:
    series = record(planted(0.5, 0), 365, 6)
    assert lag_table(replace(series, shift=np.full(365, "")), "mood").verdict == "shown"


@pytest.mark.parametrize(("lag", "first"), [(0, "sleep"), (2, "sleep"), (-1, "mood"), (-3, "mood")])
def test_a_planted_link_is_found_at_its_lag_and_on_its_side(lag: int, first: str) -> None:
    found = lag_table(record(planted(0.5, lag), 1095, 7), "mood")
    assert (found.verdict, found.first, found.strongest) == ("shown", first, lag)
    assert set(LAGS[found.claimed] >= 0) == {lag >= 0}


def test_the_echo_of_a_strong_link_names_no_direction() -> None:
    """Ten years, mood first: the other side passes Holm at lag 0 and is still not claimed (half rule)."""
    found = lag_table(record(planted(0.5, -1), 3650, 2), "mood")
    assert found.p_holm[LAGS == 0] <= ALPHA
    assert (found.first, bool(found.claimed[LAGS >= 0].any())) == ("mood", False)


def test_links_both_ways_are_shown_both_ways() -> None:
    """Sleep lifts the mood of the day, and the mood the next sleep."""
    rng = np.random.default_rng(16)
    sleep, mood = np.zeros(1095), np.zeros(1095)
    for t in range(1, 1095):
        sleep[t] = 0.35 * mood[t - 1] + rng.normal()
        mood[t] = 0.35 * sleep[t] + 0.3 * mood[t - 1] + rng.normal()
    series = replace(
        record(Case(), 1095, 16), sleep=np.digitize(sleep, SLEEP_CUTS).astype(float), mood=np.round(mood)
    )
    assert lag_table(series, "mood").first == "both"


def test_a_link_that_is_only_the_rota_is_not_shown() -> None:
    found = lag_table(record(NO_LINK["rota"], 1095, 8), "mood")
    assert found.verdict == "not shown"
    assert found.unadjusted_interval.low[LAGS == 0] > 0


def test_more_days_show_smaller_effects() -> None:
    year = lag_table(record(Case(), 365, 9), "mood").smallest[LAGS == 0]
    three = lag_table(record(Case(), 1095, 9), "mood").smallest[LAGS == 0]
    assert three < year


def test_a_missing_month_costs_its_pairs_and_no_more() -> None:
    series = record(Case(), 365, 10)
    mood = series.mood.copy()
    mood[100:130] = NAN
    found = lag_table(replace(series, mood=mood), "mood")
    both = ~np.isnan(mood) & ~np.isnan(series.sleep)
    expected = stats.spearmanr(series.sleep[both], mood[both]).statistic
    assert found.unadjusted[LAGS == 0] == pytest.approx([expected])
    assert found.pairs[LAGS == 0] == both.sum()


def second_opinion(series: Series) -> tuple[float, float]:
    """Return the statistic at lag 0 and its p-value, step by step in another form.

    Ranks by scipy, residuals by the normal equations on hand-made columns, own past by a loop.
    """
    n = len(series)
    columns = [np.ones(n)]
    columns += [series.weekdays == k for k in range(1, 7)]
    before = np.concatenate([[""], series.shift[:-1]])
    kinds = sorted({*series.shift.tolist()} - {"off"})
    columns += [labels == kind for labels in (series.shift, before) for kind in kinds]
    columns += [np.cos(np.pi * j * (np.arange(n) + 0.5) / n) for j in range(1, n // 30 + 1)]
    design = np.column_stack(columns).astype(float)
    news = []
    for values in (series.sleep, series.mood):
        ranked = stats.zscore(stats.rankdata(values))
        rest = ranked - design @ np.linalg.pinv(design) @ ranked
        rest /= rest.std()
        phi = rest[1:] @ rest[:-1] / np.sqrt((rest[1:] @ rest[1:]) * (rest[:-1] @ rest[:-1]))
        added = [rest[0]] + [(b - phi * a) / np.sqrt(1 - phi**2) for a, b in pairwise(rest)]
        news.append(np.array(added))
    r = stats.pearsonr(*news).statistic
    a, b = ([np.mean(e[j:] * e[:-j]) / np.mean(e * e) for j in range(1, 15)] for e in map(np.asarray, news))
    taper = 1 - np.arange(1, 15) / n
    factor = max(1.0, 1 + 2 * float((np.array(a) * np.array(b) * taper).sum()) - 2 * np.sqrt(14) / n)
    dof = (n - 1 - np.linalg.matrix_rank(design)) / factor
    return float(r), float(2 * stats.t.sf(abs(r) * np.sqrt(dof / (1 - r * r)), dof))


def test_the_steps_agree_with_a_second_implementation() -> None:
    series = record(planted(0.3, 0), 365, 11)
    rng = np.random.default_rng(11)
    full = replace(
        series,
        mood=np.where(np.isnan(series.mood), rng.integers(1, 6, 365), series.mood),
        sleep=np.where(np.isnan(series.sleep), rng.integers(1, 9, 365), series.sleep),
    )
    found = lag_table(full, "mood")
    r, p = second_opinion(full)
    assert found.beyond_own_past[LAGS == 0] == pytest.approx([r], abs=1e-10)
    assert found.p_holm[LAGS == 0] == pytest.approx([3 * p], rel=1e-8)


def test_over_years_each_kind_of_shift_weighs_by_itself() -> None:
    """Three years, refitted by hand-made columns: a weight for all years, and one more for each later one."""
    series = record(planted(0.3, 0), 1095, 17)
    kept = ~np.isnan(series.mood)
    year = np.arange(1095) // 365
    before = np.concatenate([[""], series.shift[:-1]])
    kinds = sorted({*series.shift.tolist()} - {"off"})
    one = np.column_stack([labels == kind for labels in (series.shift, before) for kind in kinds]).astype(
        float
    )
    columns = [np.ones(1095), *(series.weekdays == k for k in range(1, 7))]
    columns += [np.cos(np.pi * j * (np.arange(1095) + 0.5) / 1095) for j in range(1, 1095 // 30 + 1)]
    design = np.column_stack([*columns, one, *(one * (year == k)[:, None] for k in (1, 2))])
    ranked = stats.zscore(stats.rankdata(series.mood[kept]))
    rest = ranked - design[kept] @ np.linalg.lstsq(design[kept], ranked, rcond=None)[0]
    ours = prepare(series.mood, covariates(series)).adjusted[kept]
    assert ours == pytest.approx(rest / rest.std(), abs=1e-8)


@pytest.mark.parametrize(("days", "years"), [(365, 1), (544, 1), (545, 2), (909, 2), (910, 3), (1095, 3)])
def test_a_last_year_of_under_180_days_belongs_to_the_one_before(days: int, years: int) -> None:
    shift = record(Case(), days, 18).shift
    assert shift_columns_by_year(shift).shape[1] == years * shift_columns(shift).shape[1]


def test_days_count_only_where_their_own_shift_and_the_one_before_are_entered() -> None:
    series = record(Case(), 6, 19)
    shift = np.array(["off", "", "night", "off", "", ""])
    assert shifts_known(replace(series, shift=shift)).tolist() == [True, False, False, True, False, False]


def test_a_rota_that_was_never_entered_makes_no_link() -> None:
    hidden = record(ROTA_NOT_ENTERED, 1095, 20)
    found = [lag_table(hidden, "mood", works_shifts=works) for works in (False, True)]
    assert [table.verdict for table in found] == ["shown", "too little kept"]


def heard(days: int, share: float, seed: int) -> tuple[Series, Sittings]:
    """Moods that hear the next sleep, kept when it was known, on a share of the days."""
    series = record(Case(), days, seed)
    rng = np.random.default_rng(seed)
    hears = rng.random(days) < share
    next_sleep = np.append(series.sleep[1:], NAN)
    pull = np.where(hears & ~np.isnan(next_sleep), np.sign(next_sleep - 5), 0)
    nothing = np.zeros(days, dtype=bool)
    return replace(series, mood=np.clip(series.mood + pull, 1, 5)), Sittings(nothing, hears, nothing)


def test_moods_kept_when_the_next_sleep_was_known_are_left_out_of_the_link_with_it() -> None:
    series, sat = heard(1095, 0.7, 21)
    naive, found = lag_table(series, "mood"), lag_table(series, "mood", sat=sat)
    assert (naive.first, found.verdict) == ("mood", "not shown")
    assert found.pairs[LAGS == -1] < naive.pairs[LAGS == -1]
    assert found.pairs[LAGS == 0] == naive.pairs[LAGS == 0]


def test_a_side_with_too_few_moods_of_its_own_is_not_tested() -> None:
    series, sat = heard(365, 0.95, 22)
    found = lag_table(series, "mood", sat=sat)
    assert (found.tested_before, found.tested_after, found.verdict) == (True, False, "not shown")


def test_the_echo_of_a_link_names_no_direction_where_the_link_itself_is_left_out() -> None:
    """Ten years, mood first, nearly every mood rated when the next sleep was known: only the echo is left."""
    series = record(planted(0.5, -1), 3650, 2)
    nothing, nearly_all = np.zeros(3650, dtype=bool), np.arange(3650) % 50 > 0
    found = lag_table(series, "mood", sat=Sittings(nothing, nearly_all, nothing))
    assert found.p_holm[LAGS == 0] <= ALPHA
    assert (found.tested_after, found.first) == (False, None)


def test_moods_kept_beside_the_sleep_before_are_left_out_of_the_link_with_it() -> None:
    series = record(planted(0.5, 0), 730, 23)
    nothing, all_days = np.zeros(730, dtype=bool), np.ones(730, dtype=bool)
    found = lag_table(series, "mood", sat=Sittings(all_days, nothing, nothing))
    assert (found.tested_before, found.tested_after) == (False, True)
    assert found.verdict == "not shown"  # the echo of what was left out names no direction either


def test_a_negative_link_is_not_believed_where_days_seem_to_be_skipped() -> None:
    series = record(planted(-0.5, 0), 730, 24)
    believed, doubted = (lag_table(series, "mood", doubted=doubt) for doubt in (False, True))
    assert (believed.first, doubted.verdict, doubted.not_believed) == ("sleep", None, True)
    assert not doubted.claimed.any()
    assert lag_table(record(planted(0.5, 0), 730, 24), "mood", doubted=True).first == "sleep"


def test_the_plain_interval_allows_for_days_that_hang_together() -> None:
    """Else two unrelated series of phi 0.85 would seem to move together in 26 of 100 records, not in 3."""
    rng = np.random.default_rng(25)
    tables = [lag_table(simulate(Case(0.85, 0.85), 365, rng), "mood") for _ in range(100)]
    zero = LAGS == 0
    covered = [bool(t.unadjusted_interval.low[zero] <= 0 <= t.unadjusted_interval.high[zero]) for t in tables]
    assert sum(covered) >= 88


def shown(table: LagTable) -> bool:
    return table.verdict == "shown"


def test_unrelated_series_are_seldom_shown() -> None:
    """300 pairs of unrelated autoregressions of phi 0.8: at most 0.4 % plus three standard errors (4)."""
    rng = np.random.default_rng(12)
    found = [shown(lag_table(simulate(Case(0.8, 0.8), 365, rng), "mood")) for _ in range(300)]
    assert sum(found) <= 4


def test_days_under_a_common_rota_are_seldom_shown() -> None:
    rng = np.random.default_rng(13)
    found = [shown(lag_table(simulate(NO_LINK["mixture"], 365, rng), "mood")) for _ in range(200)]
    assert sum(found) <= 5


def test_a_clear_link_is_shown_within_a_year() -> None:
    """Latent 0.3 at lag 0 is shown in some 8 of 10 records; 60 of 100 are four standard errors less."""
    rng = np.random.default_rng(14)
    found = [shown(lag_table(simulate(planted(0.3, 0), 365, rng), "mood")) for _ in range(100)]
    assert sum(found) >= 60


def test_the_first_day_is_only_a_name() -> None:
    """Moving the record by whole weeks changes nothing."""
    series = record(planted(0.3, 0), 200, 15)
    moved = replace(series, first=date(2031, 6, 2))
    assert moved.first.weekday() == series.first.weekday()
    assert lag_table(moved, "mood").p_holm.tolist() == lag_table(series, "mood").p_holm.tolist()


def test_what_a_trial_does_to_both_series_is_no_link_of_them() -> None:
    rng = np.random.default_rng(3)
    arm = np.where(np.arange(400) // 7 % 2, "one A", "one B")
    lifted = 1.5 * (arm == "one A")
    sleep, mood = rng.normal(size=400) + lifted, rng.normal(size=400) + lifted
    plain = Series(date(2025, 1, 1), mood, sleep, np.full(400, np.nan), np.full(400, "", dtype=np.str_))
    told = replace(plain, arm=arm)

    def at_lag_0(series: Series) -> float:
        design = covariates(series)
        (found,) = lagged_correlation(
            prepare(series.sleep, design).news, prepare(series.mood, design).news, np.array([0])
        )
        return float(found)

    assert at_lag_0(plain) > 0.2
    assert abs(at_lag_0(told)) < 0.12
