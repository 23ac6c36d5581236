"""The commands of the command line, for itself and for the app, which names them with a line to type."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from tracker.words import PROGRAM


class CommandLine(NamedTuple):
    """One command."""

    help: str
    """What it does, in a line."""
    example: str
    """What may be typed behind its name."""


COMMANDS: Mapping[str, CommandLine] = {
    "put": CommandLine("Keep a day.", "yesterday --mood good --sleep 6 --anxious no --shift night"),
    "undo": CommandLine("Take the last action back.", ""),
    "redo": CommandLine("Bring back what was last taken back.", ""),
    "show": CommandLine("Show a month or a year; in sentences a week too.", "--year 2026 --plain"),
    "history": CommandLine("Every entry of a day: when, what, from where.", "yesterday"),
    "findings": CommandLine("What goes with what, and what is not shown.", "--numbers"),
    "summary": CommandLine("Write the page for the GP.", "page.pdf"),
    "paper": CommandLine("Print grids for a paper notebook.", "year.pdf --year 2026"),
    "export": CommandLine("Write the days as CSV, or the whole record as JSON.", "days.csv"),
    "import": CommandLine("Take days from a CSV file, or a whole record from JSON.", "days.csv --dry-run"),
    "rota": CommandLine(
        "Take shifts from a calendar file, or from a pattern.",
        '--pattern "L L N N off off" --from 2027-01-01 --to 2027-02-28',
    ),
    "break": CommandLine("Mark a time of not keeping.", "2026-04-01 2026-04-14"),
    "change": CommandLine("Note what changed on a day: tablets started, a new post.", 'today "new post"'),
    "scales": CommandLine(
        "Show and change the levels of mood and the buckets of sleep.", "mood --rename 4=bright"
    ),
    "trial": CommandLine("Try out on yourself whether something helps, in blocks drawn by lot.", ""),
    "kinds": CommandLine("Show and change the kinds of shifts.", "n --hours 22:00-06:00"),
    "settings": CommandLine("Show and change settings.", "day_change_hour 5"),
    "keys": CommandLine("Show every key of the app, to name some of your own.", ""),
    "backup": CommandLine("Write a copy of the record, or show the daily ones.", "copy.sqlite"),
    "restore": CommandLine("Bring the record back to what a backup holds.", "copy.sqlite --dry-run"),
    "check": CommandLine("Look whether the record is whole.", ""),
    "merge": CommandLine("Join another copy of the record to this one.", "laptop.sqlite"),
    "lock": CommandLine("Lock the record with a passphrase, for one who shares a computer.", ""),
    "unlock": CommandLine("Make a locked record an open one again, for good.", ""),
    "erase": CommandLine("Erase days, or everything, for good.", "2026-03-12"),
    "demo": CommandLine("Open two invented years.", ""),
    "help": CommandLine("Where to turn, and how days and findings work.", ""),
}
"""In the order of a day's use; each has a module of its own in `tracker.commands`."""


def line_to_type(name: str) -> str:
    """A whole line: `tracker export days.csv`."""
    return " ".join(filter(None, [PROGRAM, name, COMMANDS[name].example]))
