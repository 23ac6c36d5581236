"""The commands of the grids, and those of all screens: the keys that give each, its name, its word.

One table feeds the row of keys at the foot, the help screen and the search for commands by name.
"""

from __future__ import annotations

from typing import NamedTuple


class Command(NamedTuple):
    """Something that a key does."""

    keys: tuple[str, ...]
    """As the terminal names them; letters hold in either case."""
    sign: str
    """The keys as they are shown."""
    short: str
    """For the row of keys; empty: not shown there."""
    name: str
    """What it does, in plain words."""


def _command(keys: str, sign: str, short: str, name: str) -> Command:
    return Command(tuple(keys.split()), sign, short, name)


DIGITS = _command("0 1 2 3 4 5 6 7 8 9", "0-9", "keep", "Keep the square under the cursor")
ONE = _command("", "1", "", "In sleep it waits: then 0 to 4 for 10 to 14 hours, or Enter for one hour")
ONE_ALONE = _command("", "1", "", "In sleep it waits for Enter (one hour) or Esc, so that no slip runs on")
TAB = _command("tab shift+tab", "Tab", "other grid", "Go to the other grid; again: to the shifts")
ANXIOUS = _command("a", "a", "anxious", "Mark anxious: yes, no, not noted, round again")
UNSAID = _command("x", "x", "could not say", "Answer: could not say")
UNDO = _command("u", "u", "undo", "Undo the last action, again and again")
YEAR = _command("y", "y", "year", "Open the year")
HELP = _command("question_mark f1", "?", "help", "Help, and where to turn; while typing: F1")
HELP_WHILE_TYPING = _command("f1", "F1", "help", "Help, and where to turn")
QUIT = _command("q", "q", "leave", "Leave; everything is kept already")
ESCAPE = _command("escape", "Esc", "back", "Back")
WALK = _command("left right up down", "arrows", "walk", "Walk days and weeks")
ENTER_DAY = _command("enter", "Enter", "the day", "Everything about the day, with its history")
NOTE = _command("n", "n", "note", "Write a note")
SHIFT = _command("s", "s", "shift", "Set the shift: then its letter")
CATCH_UP = _command("c", "c", "catch up", "Catch up: put in past days, a key a day")
FINDINGS = _command("f", "f", "findings", "What goes with what")
PAGE = _command("p", "p", "page", "The page for the GP")
SETTINGS = _command("comma f2", ",", "settings", "Settings")
MORE_SETTINGS = _command("f3", "F3", "levels, shifts", "Levels, buckets, shift kinds, breaks, own lines")
CLEAR = _command("backspace delete", "Backspace", "clear", "Clear what stands")
REDO = _command("r", "r", "redo", "Bring back what was taken back")
WAITING = _command("g", "g", "waiting", "Go to the nearest earlier day that waits: its sleep, then its mood")
TODAY = _command("t", "t", "today", "Go to today")
MONTHS = _command(
    "pageup pagedown left_square_bracket right_square_bracket", "[ ]", "month", "The month before, or after"
)
EDGES = _command("home end", "Home End", "", "First or last day of the month")
BREAK = _command("b", "b", "break", "Begin or end a break from this day")
HIDE = _command("h", "h", "hide", "Hide both grids, or show them")
SEARCH = _command("slash", "/", "search", "Search notes, or the last days of a kind")
BY_NAME = _command("ctrl+p", "Ctrl+P", "", "Every command by name")
COMPARE = _command("equals_sign", "=", "compare", "Put the year before above this one")
STRIP = _command("v", "v", "strip", "The strip under the months: shifts, daylight, nothing")

ANSWERS = (DIGITS, ANXIOUS, UNSAID)
"""What a day that is still to come does not take."""
MONTH = (
    DIGITS, ONE, TAB, ANXIOUS, UNSAID, UNDO, YEAR, HELP, QUIT, NOTE, SHIFT, CATCH_UP, FINDINGS, PAGE,
    ENTER_DAY, WALK, WAITING, TODAY, MONTHS, EDGES, CLEAR, REDO, BREAK, HIDE, SEARCH, SETTINGS, MORE_SETTINGS,
    BY_NAME,
)  # fmt: skip
"""The month's commands, the most wanted first: as many as fit stand in the row of keys."""

YEARS = _command(
    "left_square_bracket right_square_bracket pageup pagedown", "[ ]", "year", "The year before, or after"
)
YEARS_EDGES = _command("home end", "Home End", "", "First or last day of the year")
TO_MONTH = _command("enter", "Enter", "month", "Go to this day in the month")
YEAR_COMMANDS = (
    WALK, YEARS, TAB, TO_MONTH, HELP, DIGITS, COMPARE, CATCH_UP, STRIP, ANXIOUS, UNSAID, UNDO, FINDINGS, PAGE,
    REDO, CLEAR, NOTE, SHIFT, WAITING, TODAY, YEARS_EDGES, BREAK, HIDE, SEARCH, SETTINGS, MORE_SETTINGS,
    ESCAPE, QUIT, BY_NAME,
)  # fmt: skip

AFTER_A_ONE = (
    _command("0 1 2 3 4", "0-4", "10 to 14 hours", ""),
    _command("enter", "Enter", "1 hour", ""),
    _command("escape", "Esc", "neither", ""),
)
AFTER_A_ONE_WHILE_CATCHING_UP = AFTER_A_ONE[1:]
LETTER_OF_A_SHIFT = (
    _command("", "letter", "the shift", ""),
    _command("backspace", "Backspace", "none", ""),
    _command("escape", "Esc", "leave as it is", ""),
)
WHILE_CATCHING_UP = (
    DIGITS,
    ONE_ALONE,
    UNSAID,
    _command("space", "Space", "leave waiting", "Leave the square waiting and go on"),
    _command("a", "a", "anxious", ""),
    UNDO,
    _command("escape", "Esc", "end", "End catching up"),
    TAB,
)
WHEN_A_MONTH_IS_DONE = (
    _command("enter", "Enter", "next month", ""),
    UNDO,
    TAB,
    _command("escape", "Esc", "end", ""),
)
IN_THE_SHIFTS = (
    _command("", "letters", "the shift", ""),
    CLEAR,
    ESCAPE,
    TAB,
    WALK,
    UNDO,
    HELP,
    QUIT,
)
WHILE_HIDDEN = (_command("h", "h", "show both grids", ""), DIGITS, TAB, UNDO, HELP, QUIT)
