"""What a person decides about the page: period, notes, shifts, her own lines, and the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from tracker.diary.dates import day_for_text
from tracker.diary.days import Day
from tracker.diary.errors import WrongDay
from tracker.summary.ground import RECENT, Wishes, usual_period


@dataclass(frozen=True, slots=True)
class Parts:
    """What goes on the page, as it was chosen and typed; empty: as usual."""

    first: str = ""
    last: str = ""
    notes: str = "no"
    shifts: str = ""

    def wishes(self, days: Mapping[date, Day], today: date) -> Wishes:
        """The same as values.

        Raises UnknownValue or WrongDay for days that cannot be.
        """
        end = day_for_text(self.last, today) if self.last else None
        usual = usual_period(days, end or today)
        first = day_for_text(self.first, today) if self.first else usual[0]
        last = end or usual[1]
        if first > last:
            raise WrongDay(f"The page would begin on {first}, after it ends on {last}; change one of them.")
        if last > today:
            raise WrongDay(f"{last} is still to come; the page can end today at the latest.")
        notes = tuple(last - timedelta(days=n) for n in range(RECENT)) if self.notes == "yes" else ()
        return Wishes((first, last), notes, {"yes": True, "no": False}.get(self.shifts))


def place_for(text: str) -> Path:
    """The file meant by what was typed; `~` is the home folder."""
    return Path(text.strip()).expanduser()


def own_lines(answers: Mapping[str, str], name: str) -> Sequence[str]:
    """The typed lines of one kind, in their order."""
    return [answer for key, answer in answers.items() if key.startswith(name)]
