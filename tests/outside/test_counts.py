"""Counts side by side, against the same counts made by SQL joins in SQLite."""

import sqlite3
from contextlib import closing

import numpy as np

from tests.simulated import NO_LINK, as_days, simulate
from tracker.analysis.counts import side_by_side
from tracker.diary.days import Day
from tracker.diary.scales import DEFAULT_SCALES

LIMIT = 6
JOINED = "from d left join d as b on b.number = d.number - 1"
COUNTS = f"""
    select 'low', 'short sleep', sum(d.mood <= 2), count(*) {JOINED}
        where d.mood notnull and d.sleep notnull group by d.sleep > 4
    union all select 'anxious', 'short sleep', sum(d.anxious), count(*) {JOINED}
        where d.anxious notnull and d.sleep notnull group by d.sleep > 4
    union all select 'low', 'night shift', sum(d.mood <= 2), count(*) {JOINED}
        where d.mood notnull and b.shift != '' group by b.shift != 'night'
    union all select 'short sleep', 'night shift', sum(d.sleep <= 4), count(*) {JOINED}
        where d.sleep notnull and b.shift != '' group by b.shift != 'night'
    union all select 'short sleep', 'low day', sum(d.sleep <= 4), count(*) {JOINED}
        where d.sleep notnull and b.mood notnull group by b.mood > 2
    union all select 'short sleep', 'anxious day', sum(d.sleep <= 4), count(*) {JOINED}
        where d.sleep notnull and b.anxious notnull group by not b.anxious
"""


def by_sql(days: list[Day]) -> list[tuple[str, str, int, int]]:
    with closing(sqlite3.connect(":memory:")) as found:
        found.execute(
            "create table d (number integer, mood integer, sleep integer, anxious integer, shift text)"
        )
        found.executemany("insert into d values (?, ?, ?, ?, ?)", map(_row, days))
        return found.execute(COUNTS).fetchall()


def _row(day: Day) -> tuple[int, int | None, int | None, bool | None, str]:
    mood, sleep = (int(square.value[-1]) if square else None for square in (day.mood, day.sleep))
    return day.date.toordinal(), mood, sleep, day.is_anxious, day.shift_kind


def test_all_comparisons_of_three_years_agree_with_sql() -> None:
    days = as_days(simulate(NO_LINK["mixture"], 1095, np.random.default_rng(5)))
    nights = {day.date for day in days if day.shift_kind == "night"}
    found = side_by_side(days, DEFAULT_SCALES, LIMIT, nights).comparisons
    ours = [(one.outcome, one.after, *side) for one in found for side in (one.there, one.elsewhere)]
    assert sorted(ours) == sorted(by_sql(days))
    assert min(of for *_, of in ours) > 50
