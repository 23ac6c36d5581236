"""The counts of the page, against the same counts made by SQL in SQLite from the CSV export."""

from __future__ import annotations

import csv
import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from io import StringIO

import pytest

from tests.summary.sheets import CHOICES, TODAY, keep, page
from tracker.record.csv_days import days_as_csv

LENGTH = 500
RECENT, BEFORE, YEAR = (TODAY - timedelta(days=back) for back in (13, 97, 365))
COUNTED = """
    select count(nullif(mood, '?')),
           sum(mood in ('1', '2')), sum(mood in ('4', '5')),
           sum(anxious = 'yes'), sum(anxious in ('yes', 'no')),
           count(nullif(sleep, '?')),
           sum(sleep in ('none', 'under 3 h', '3-4 h', '4-5 h', '5-6 h')),
           sum(shift = 'n' and date < :today)
    from days where date between :first and :last
"""
SHORT = "coalesce(d.sleep in ('none', 'under 3 h', '3-4 h', '4-5 h', '5-6 h'), 0)"
AFTER_NIGHTS = f"""
    select sum({SHORT}), count(*) from days as d join days as eve on eve.date = date(d.date, '-1 day')
    where d.date between :first and :last and nullif(d.sleep, '?') notnull and eve.shift notnull
    group by eve.shift = 'n' order by eve.shift = 'n' desc
"""


@pytest.fixture
def table() -> Iterator[sqlite3.Connection]:
    """An empty table of days in memory."""
    with closing(sqlite3.connect(":memory:")) as database:
        database.execute("create table days (date, mood, sleep, hours, anxious, shift, note)")
        yield database


@pytest.mark.parametrize("seed", range(10))
def test_figures_and_sleep_after_nights_agree_with_sql(seed: int, table: sqlite3.Connection) -> None:
    dice = random.Random(seed)  # noqa: S311
    days = keep(
        mood="".join(dice.choices("12345?.", k=LENGTH - 1)) + "3",
        sleep="".join(dice.choices("02345678?.", k=LENGTH)),
        shifts="".join(dice.choices("nnoel.", k=LENGTH)),
        anxious="".join(dice.choices("yn.", k=LENGTH)),
    )
    _fill(table, days_as_csv(days.values(), CHOICES))
    sheet = page(days)
    spans = ((RECENT, TODAY), (BEFORE, RECENT - timedelta(days=1)), (BEFORE - timedelta(365), YEAR))
    ours = {row.label: row.cells for row in sheet.figures.rows}
    for column, (first, last) in enumerate(spans):
        named = {"first": str(first), "last": str(last), "today": str(TODAY)}
        mood, low, high, anxious, noted, sleep, short, nights = table.execute(COUNTED, named).fetchone()
        length = (last - first).days + 1
        assert [cells[column].strip("()") for cells in ours.values()][:6] == [
            f"{mood} of {length}", f"{low} of {mood}", f"{high} of {mood}", f"{anxious} of {noted}",
            f"{sleep} of {length}", f"{short} of {sleep}",
        ]  # fmt: skip
        assert ours["night shifts on the rota"][column] == str(nights)
    period = {"first": str(BEFORE), "last": str(TODAY)}
    by_sql = [f"{number} of {of}" for number, of in table.execute(AFTER_NIGHTS, period)]
    (pair,) = (
        one for one in sheet.pairs if (one.outcome, one.sides[1].label) == ("slept under 6 h", "other days")
    )
    assert [side.count for side in pair.sides] == by_sql


def _fill(table: sqlite3.Connection, text: str) -> None:
    """Put the export into the table; an empty cell is nothing."""
    rows = [[cell or None for cell in row.values()] for row in csv.DictReader(StringIO(text))]
    table.executemany(f"insert into days values ({', '.join('?' * len(rows[0]))})", rows)
