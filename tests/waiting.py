"""Looks at every square, one by one, to see which ones wait: the slow way round, for comparison."""

from datetime import date, timedelta

from tracker.diary.scales import GRIDS
from tracker.diary.waiting import SquareKey, Waiting


def older(waiting: Waiting, since: date = date(2025, 1, 1)) -> list[SquareKey]:
    """The waiting squares before yesterday, the nearest first."""
    days = [waiting.today - timedelta(days=n) for n in range(2, (waiting.today - since).days)]
    places = [SquareKey(day, grid) for day in days for grid in GRIDS]
    return [place for place in places if waiting.waits(place)]
