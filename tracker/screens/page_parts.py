"""What a person decides about the page: period, notes, shifts, her own lines, and the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

from tracker.diary.dates import read_day
from tracker.diary.days import Day
from tracker.summary.page_data import PageOptions, chosen_period
from tracker.summary.thresholds import RECENT


class Parts(NamedTuple):
    """What goes on the page, as it was chosen and typed; empty: as usual."""

    first: str = ""
    last: str = ""
    notes: str = "no"
    shifts: str = ""
    changes: str = ""
    trial: str = "no"

    def wishes(self, days: Mapping[date, Day], today: date) -> PageOptions:
        """The same as values.

        Raises UnknownValue or WrongDay for days that cannot be.
        """
        first, last = (read_day(text, today) if text else None for text in (self.first, self.last))
        period = chosen_period(days, first, last, today)
        notes = tuple(period[1] - timedelta(days=n) for n in range(RECENT)) if self.notes == "yes" else ()
        chosen = {"yes": True, "no": False}
        return PageOptions(
            period, notes, chosen.get(self.shifts), chosen.get(self.changes), self.trial == "yes"
        )


def place_for(text: str) -> Path:
    """The file meant by what was typed; `~` is the home folder."""
    return Path(text.strip()).expanduser()


def own_lines(answers: Mapping[str, str], name: str) -> Sequence[str]:
    """The typed lines of one kind, in their order."""
    return [answer for key, answer in answers.items() if key.startswith(name)]
