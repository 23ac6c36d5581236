"""A record as its links are judged: which days count, and what is taken out of every series."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tracker.analysis.lags import LagTable, compare, covariates, only, prepare, shifts_known, sided
from tracker.analysis.series import Flags, Series
from tracker.analysis.sitting import Sittings
from tracker.analysis.skipping import SUSPECT, skipping

COMPARED = ("mood", "anxious")
"""What is set against sleep."""


class Links:
    """The links of one record, each made when it is asked for.

    Parameters
    ----------
    series : Series
        From the first day of the record.
    places : slice
        The days that are looked at.
    sittings : mapping of str to Sittings
        When moods and anxious marks were kept, a place for each day of the series.
    waits : mapping of str to (n,) array of bool
        Days of the series on which the mood, or the sleep, is not answered and no break is marked.
    works_shifts : bool
        Whether days count only where their own shift and that of the day before are entered.
    """

    def __init__(
        self,
        series: Series,
        places: slice,
        sittings: Mapping[str, Sittings],
        waits: Mapping[str, Flags],
        *,
        works_shifts: bool,
    ) -> None:
        known = shifts_known(series) if works_shifts else np.ones(len(series), dtype=bool)
        self.kept = series.at(places)
        """Every day that was kept."""
        self.series = only(series, known).at(places)
        """The days that count."""
        self.sittings = {name: sittings[name].cut(places) for name in COMPARED}
        design = covariates(self.series)
        self.sleep = prepare(self.series.sleep, design)
        self.outcomes = {
            name: sided(self.series.values(name), design, sat) for name, sat in self.sittings.items()
        }
        self.skipping = {
            "mood": skipping(self.outcomes["mood"].whole, (waits["mood"] & known)[places], design),
            "sleep": skipping(self.sleep, (waits["sleep"] & known)[places], design),
        }

    def table(self, outcome: str) -> LagTable:
        """Compare an outcome with sleep; a negative link of mood is doubted where days seem to be skipped."""
        doubted = outcome == "mood" and any(test.p <= SUSPECT for test in self.skipping.values())
        return compare(self.sleep, self.outcomes[outcome], doubted=doubted)
