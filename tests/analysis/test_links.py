"""Which days the links of a record rest on."""

from dataclasses import replace

import numpy as np
import pytest

from tests.simulated import Case, Simulated, simulated
from tracker.analysis.links import Links
from tracker.analysis.sitting import Sittings

DAYS = 500
ALL = slice(0, DAYS)


@pytest.fixture(scope="module")
def record() -> Simulated:
    """A record of which shifts of two months are not entered."""
    found = simulated(Case(rota=1), DAYS, np.random.default_rng(1))
    found.series.shift[200:260] = ""
    return found


def links(record: Simulated, places: slice = ALL, *, works_shifts: bool = True) -> Links:
    return Links(record.series, places, record.sittings, record.waits, works_shifts=works_shifts)


def test_days_without_their_shifts_count_only_for_those_who_work_none(record: Simulated) -> None:
    with_shifts, without = links(record), links(record, works_shifts=False)
    assert np.isnan(with_shifts.series.mood[200:261]).all()
    assert not np.isnan(with_shifts.series.mood[261:270]).all()
    assert np.array_equal(without.series.mood, record.series.mood, equal_nan=True)
    assert np.array_equal(with_shifts.kept.mood, record.series.mood, equal_nan=True)


def test_such_days_neither_wait_nor_are_kept(record: Simulated) -> None:
    waits = {name: flags.copy() for name, flags in record.waits.items()}
    waits["mood"][200:261] = True
    waits["sleep"][200:261] = True
    assert links(replace(record, waits=waits)).skipping == links(record).skipping


def test_the_first_day_of_some_days_knows_the_shift_of_the_day_before(record: Simulated) -> None:
    assert not np.isnan(links(record, slice(100, 400)).series.sleep[:3]).all()
    assert len(links(record, slice(100, 400)).series) == 300


def test_moods_are_left_out_on_the_days_on_which_they_were_rated_beside_a_sleep(record: Simulated) -> None:
    nothing, some = np.zeros(DAYS, dtype=bool), np.arange(DAYS) == 150
    sat = Sittings(some, nothing, nothing)
    found = links(replace(record, sittings={"mood": sat, "anxious": sat}), slice(100, 400))
    assert np.flatnonzero(found.sittings["mood"].beside_sleep).tolist() == [50]
    assert np.isnan(found.outcomes["mood"].before.kept[50])
    assert not np.isnan(found.outcomes["mood"].after.kept[50])
