"""The calendar of verdicts."""

from datetime import date, timedelta

import pytest

from tracker.analysis.verdict_days import VerdictSchedule, link_looks, season_looks, whole_years_length

FIRST = date(2025, 1, 1)


def day(number: int) -> date:
    return FIRST + timedelta(days=number - 1)


@pytest.mark.parametrize(
    ("today", "last", "coming"),
    [
        (1, None, 120),
        (119, None, 120),
        (120, 120, 180),
        (179, 120, 180),
        (180, 180, 365),
        (365, 365, 730),
        (729, 365, 730),
        (3650, 3650, 4015),
    ],
)
def test_links_are_judged_on_day_120_180_365_and_every_365(today: int, last: int | None, coming: int) -> None:
    assert link_looks(FIRST, day(today)) == VerdictSchedule(day(last) if last else None, day(coming))


def test_the_first_year_is_judged_on_its_last_day() -> None:
    assert link_looks(FIRST, date(2025, 12, 31)).last == date(2025, 12, 31)


@pytest.mark.parametrize(
    ("today", "last", "coming"), [(1095, None, 1096), (1096, 1096, 1461), (1461, 1461, 1827)]
)
def test_seasons_are_judged_when_a_whole_year_is_full(today: int, last: int | None, coming: int) -> None:
    # ceil(365.2425 k): 1,096, 1,461 and 1,827 days for three, four and five years
    assert season_looks(FIRST, day(today)) == VerdictSchedule(day(last) if last else None, day(coming))


def test_whole_years_round_up() -> None:
    assert [whole_years_length(k) for k in (3, 4, 5, 400)] == [1096, 1461, 1827, 146097]
