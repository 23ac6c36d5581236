"""Every key of every screen: what it does, and its name at the foot, in help and among the commands.

They stand in the order in which the foot offers them. Of several bindings of one key the first that is
allowed counts; `edit(...)` is an action of the editor, which `tracker.editing.modes` allows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from string import ascii_lowercase, digits
from typing import NamedTuple

from textual.actions import parse
from textual.binding import Binding, BindingType
from textual.keys import Keys, key_to_character

from tracker.editing.modes import Mode

SIGNS = {"escape": "Esc", "pageup": "PgUp", "pagedown": "PgDn", "space": "Space"}
"""How keys are written that are neither a sign nor written as Textual names them."""
RENAMED = {"slash": "/", "backslash": "\\", "minus": "-", "plus": "+", "underscore": "_", "at": "@"}
"""Signs that Textual does not find again by its names of their keys."""
FRENCH_ROW = {
    "1": "ampersand", "2": "é", "3": "quotation_mark", "4": "apostrophe", "5": "left_parenthesis",
    "6": "minus", "7": "è", "8": "underscore", "9": "ç", "0": "à",
}  # fmt: skip
"""What the keys of the digits type without Shift on a French keyboard; none of it has another meaning."""
LETTERS = (*ascii_lowercase, *filter(str.isalpha, (key for key in FRENCH_ROW.values() if len(key) == 1)))
"""What may stand for a shift or a colour, though its key does something else at other times."""

PRESSED = frozenset(key.value for key in Keys)
"""Keys that are pressed to do something: others are a Shift alone, a lock, or the volume."""


def key(keys: str, action: str, text: str = "", name: str = "", group: str = "", sign: str = "") -> Binding:
    """A key that is answered before any widget sees it; a letter holds in either case.

    Parameters
    ----------
    keys
        As Textual names them, with commas between; the first is shown.
    text
        For the foot; empty: not shown there.
    name
        What it does, for help and the list of commands; empty: in neither.
    group
        What keys do that are named together, for help; they share one place at the foot.
    sign
        How the keys of a group are written, where that is not by each of them.
    """
    together = Binding.Group(group) if group else None
    return Binding(
        in_both_cases(keys),
        action,
        text,
        priority=True,
        tooltip=name,
        group=together,
        key_display=sign or None,
    )


def in_both_cases(keys: str) -> str:
    """Keys with the capital of each letter among them."""
    each = keys.split(",")
    return ",".join([*each, *(one.upper() for one in each if len(one) == 1 and one.isalpha())])


def digit_key(digit: str) -> str:
    """The keys that stand for a digit."""
    return f"{digit},{FRENCH_ROW[digit]}"


def character_of(key: str) -> str:
    """What a key types; empty for one that types nothing."""
    character = key_to_character(key) or RENAMED.get(key, "")
    return character if character.isprintable() else ""


class NamedKey(NamedTuple):
    """One or several keys as they are named together."""

    sign: str
    text: str
    """For the foot."""
    name: str
    """For help."""
    key: str
    """The key that does it; empty where each of them does something else."""


def named_keys(bindings: Iterable[Binding]) -> list[NamedKey]:
    """Bindings as they are named: an action once, by its first key, and those of a group together."""
    first: dict[str, Binding] = {}
    for binding in bindings:
        first.setdefault(binding.action, binding)
    together: dict[object, list[Binding]] = {}
    for binding in first.values():
        together.setdefault(binding.group or binding.action, []).append(binding)
    return [_named(*alike) for alike in together.values()]


def _named(first: Binding, *others: Binding) -> NamedKey:
    signs = list(dict.fromkeys(sign_of(binding) for binding in (first, *others)))
    sign = f"{signs[0]}-{signs[-1]}" if len(signs) > 1 and all(map(str.isdigit, signs)) else " ".join(signs)
    name = first.group.description if first.group else first.tooltip
    return NamedKey(sign, first.description, name, "" if others else first.key)


def action_of(binding: Binding) -> str:
    """The name of what a binding does, as `modes` knows it; of the editor's actions, theirs."""
    _, action, parameters = parse(binding.action)
    return str(parameters[0]) if action == "edit" else action


def sign_of(binding: Binding) -> str:
    """How the key of a binding is written."""
    return binding.key_display or sign(binding.key.split(",")[0])


def sign(key: str) -> str:
    """How a key is written."""
    return SIGNS.get(key) or character_of(key) or key.title()


def key_named(written: str) -> str:
    """A key as Textual names it, by its sign, small or capital, or Textual's name; empty where it is none."""
    wanted = written if len(written) == 1 else written.strip().casefold()
    if len(wanted) != 1:
        found = {sign.casefold(): key for key, sign in SIGNS.items()}.get(wanted, wanted)
        return found if found in PRESSED else ""
    if not wanted.isprintable():
        return ""
    (binding,) = Binding.make_bindings([Binding("comma" if wanted == "," else wanted.lower(), "")])
    return binding.key


HELP_KEYS = "question_mark,f1,ctrl+g"
"""A field takes the first as a letter, and some terminals keep the second for themselves."""
HELP = key(HELP_KEYS, "show('help')", "help", "Help, and where to turn; while typing: F1 or Ctrl+G")
LEAVE = key("q", "leave", "leave", "Leave; everything is kept already")
BACK = key("escape", "back", "back", "Back")
ANYWHERE = (
    key("ctrl+c", "interrupt", "", "Leave, as q does; where text is selected: copy it"),
    key("ctrl+z", "suspend_program", "", "To the shell; fg there comes back"),
)
"""Keys of the app itself, the same for everybody, as in every program of a terminal."""
COMMANDS = key("ctrl+p", "app.command_palette", "", "Every command by name")

SCROLL: list[BindingType] = [
    key("down", "scroll_down", "scroll", group="Scroll", sign="arrows"),
    key("up", "scroll_up", "scroll", group="Scroll", sign="arrows"),
    key("pagedown,space", "page_down", "", "Scroll by a page"),
    key("pageup", "page_up"),
    key("home", "scroll_home"),
    key("end", "scroll_end"),
]
"""Keys of a long text, on every screen that has one; the actions are Textual's."""

STATEMENTS: list[BindingType] = [
    key("down", "walk(1)", "scroll", group="Scroll, and choose a statement", sign="up down"),
    key("up", "walk(-1)", "scroll", group="Scroll, and choose a statement", sign="up down"),
    key("pagedown,space", "page_down"),
    key("pageup", "page_up"),
    key("home", "to_edge(0)"),
    key("end", "to_edge(-1)"),
]
"""Keys of the page of findings; the actions are its own, and of pages Textual's."""

HELP_PAGE: list[BindingType] = [
    *(key(digit_key(digit), f"jump({digit})", "part", group="To a part of the help") for digit in "12345"),
    key(f"escape,{HELP_KEYS}", "back", "back", "Back"), LEAVE, COMMANDS,
]  # fmt: skip

LETTER_ACTIONS = ("shift", "colour")


def shift_keys(letters: Iterable[str]) -> list[Binding]:
    """Letters that stand for a shift."""
    group = "The shift of the day"
    return [
        key(letter, f"edit('shift', '{letter}')", "the shift", group=group, sign="letter")
        for letter in letters
    ]


def colour_keys(letters: Iterable[str]) -> list[Binding]:
    """Letters that stand for a colour of the old grid."""
    group = "What a colour of the old grid meant"
    return [
        key(letter, f"edit('colour', '{letter}')", "old colour", group=group, sign="letter")
        for letter in letters
    ]


AWAITED = "Ten hours or more, after a 1 in sleep"
MODES = [
    *(
        key(digit_key(digit), f"edit('ten_hours', '{digit}')", "10 to 14 hours", group=AWAITED)
        for digit in "01234"
    ),
    key("enter", "edit('one_hour')", "1 hour", "After a 1 in sleep: one hour"),
    *shift_keys(LETTERS),
    key("backspace,delete", "edit('no_shift')", "none", "No shift on this day"),
    key("escape", "edit('leave_it')", "leave it", "Leave it as it is"),
    key("enter", "edit('next_month')", "go on", "Go on with the other grid, or the next month"),
    *colour_keys(LETTERS),
    key("space", "edit('skip')", "leave waiting", "Leave the square waiting and go on"),
    key("escape", "edit('end_catching_up')", "end", "End catching up"),
    key("escape", "edit('leave_shifts')", "back", "Back to the grid"),
    key("h", "edit('show_grids')", "show both grids", "Show both grids"),
]
"""What keys do in one of the editor's modes alone; these come before their usual meanings."""

ANSWER = [
    key(digit_key(digit), f"edit('digit', '{digit}')", "keep", group="Keep the square under the cursor")
    for digit in digits
]
ANXIOUS = key("a", "edit('anxious')", "anxious", "Mark anxious: yes, no, not noted, round again")
UNSAID = key("x", "edit('could_not_say')", "could not say", "Answer: could not say")
TAB = [
    key("tab", "edit('next_stop')", "other grid", "Go to the other grid; again: to the shifts"),
    key("shift+tab", "edit('to_shifts')"),
]
CLEAR = key("backspace,delete", "edit('clear')", "clear", "Clear what stands")
UNDO = key("u", "edit('undo')", "undo", "Undo the last action, again and again")
REDO = key("r", "edit('redo')", "redo", "Bring back what was taken back")
NOTE = key("n", "show('note')", "note", "Write a note")
SHIFT = key("s", "edit('ask_for_shift')", "shift", "Set the shift: then its letter")
CATCH_UP = key("c", "show('catch_up')", "catch up", "Catch up: put in past days, a key a day")
TO_FINDINGS = key("f", "show('findings')", "findings", "What goes with what")
TO_PAGE = key("p", "show('page')", "page", "The page for the GP")
WAITING = key(
    "g", "edit('to_waiting')", "waiting", "Go to the nearest earlier day that waits: its sleep, then its mood"
)
TODAY = key("t", "edit('to_today')", "today", "Go to today")
BREAK = key("b", "edit('mark_break')", "break", "Begin or end a break from this day")
HIDE = key("h", "edit('hide')", "hide", "Hide both grids")
SEARCH = key("slash", "show('search')", "search", "Search notes and changes, or the last days of a kind")
LEVELS = "Levels, buckets, shift kinds, breaks, own lines"
SETTINGS = [
    key("comma,f2", "show('settings')", "settings", "Settings"),
    key("l,f3", "show('more_settings')", "levels, shifts", LEVELS),
]
ROTA = key("d,f4", "show('rota')", "a rota", "Lay down a rota: a pattern of shifts that repeats")


def walk(up: str, down: str, name: str) -> list[Binding]:
    """The arrow keys: a day to either side, and what is above and below."""
    steps = {"left": "edit('move', -1)", "right": "edit('move', 1)", "up": up, "down": down}
    return [key(arrow, action, "walk", group=name, sign="arrows") for arrow, action in steps.items()]


def pages(months: int, text: str) -> list[Binding]:
    """To the month or the year before, and the one after."""
    group = f"The {text} before, or after"
    return [
        key(
            "left_square_bracket,pageup", f"edit('move_months', -{months})", text, f"The {text} before", group
        ),
        key(
            "right_square_bracket,pagedown",
            f"edit('move_months', {months})",
            text,
            f"The {text} after",
            group,
        ),
    ]


def edges(text: str) -> list[Binding]:
    """To the first and the last day."""
    group = f"First or last day of the {text}"
    return [
        key("home", f"edit('edge_of_{text}', 0)", "", f"First day of the {text}", group),
        key("end", f"edit('edge_of_{text}', -1)", "", f"Last day of the {text}", group),
    ]


MONTH: list[BindingType] = [
    *MODES, *ANSWER, ANXIOUS, UNSAID, *TAB, UNDO,
    key("y", "show('year')", "year", "Open the year"),
    HELP, LEAVE, NOTE, SHIFT, CATCH_UP, TO_FINDINGS, TO_PAGE,
    key("enter", "show('day')", "the day", "Everything about the day, with its history"),
    *walk("edit('move', -7)", "edit('move', 7)", "Walk days and weeks"), WAITING, TODAY,
    *pages(1, "month"), *edges("month"),
    CLEAR, REDO, BREAK, HIDE, SEARCH, *SETTINGS, ROTA, COMMANDS,
]  # fmt: skip

YEAR: list[BindingType] = [
    *MODES, *walk("edit('move_months', -1)", "edit('move_months', 1)", "Walk days and months"),
    *pages(12, "year"), *TAB,
    key("enter", "to_month", "month", "Go to this day in the month"),
    HELP, *ANSWER,
    key("equals_sign", "compare", "compare", "Put the year before above this one"),
    CATCH_UP,
    key("v", "next_view", "view", "Both grids in one, one grid, with its shifts or the daylight"),
    ANXIOUS, UNSAID, UNDO, TO_FINDINGS, TO_PAGE, REDO, CLEAR, NOTE, SHIFT, WAITING, TODAY, *edges("year"),
    BREAK, HIDE, SEARCH, *SETTINGS, ROTA,
    key("escape,y", "back", "back", "Back to the month"), LEAVE, COMMANDS,
]  # fmt: skip

PAGE: list[BindingType] = [
    key("left", "columns(-1)", "columns", group="Other columns, in a narrow window", sign="left right"),
    key("right", "columns(1)", "columns", group="Other columns, in a narrow window", sign="left right"),
    key("l", "own_lines", "my lines", "My own lines for the appointment"),
    key("o", "choose_parts", "what goes on it", "Period, notes and shifts"),
    key("w", "write", "write it", "Write the page to a file"),
    key("escape,p", "back", "back", "Back"), HELP, LEAVE, COMMANDS,
]  # fmt: skip

FINDINGS: list[BindingType] = [
    key("enter", "turn_to('meaning')", "meaning", "What a statement and its verdict mean, or all again"),
    HELP,
    key("v", "lags", "picture", "The picture of the links, lag by lag; again: of the anxious mark, of mood"),
    key("d", "turn_to('numbers')", "numbers", "The numbers behind a statement, or all again"),
    key("right", "choose_period(1)", "period", group="Another period", sign="left right"),
    key("left", "choose_period(-1)", "period", group="Another period", sign="left right"),
    key("t", "show('trial')", "trial", "A trial on yourself: plan it, today's block, what it has shown"),
    key("escape,f", "back", "back", "Back"), LEAVE, COMMANDS,
]  # fmt: skip

TRIAL: list[BindingType] = [
    key("n", "plan", "new trial", "Plan a trial of your own"),
    key("m", "miss", "not done", "Today was not done as planned, or was after all"),
    key("x", "stop", "leave the trial", "Leave the trial early; pressed twice, for good"),
    key("escape,t", "back", "back", "Back"), HELP, LEAVE, COMMANDS,
]  # fmt: skip

TABLES = {
    "in the month": MONTH, "in the year": YEAR, "in the findings": FINDINGS, "at the page": PAGE,
    "in a trial": TRIAL, "anywhere": ANYWHERE,
}  # fmt: skip
"""The keys of each screen, as help lists them."""
MODE_NAMES: Mapping[Mode, str] = {
    "after a 1": "after a 1 in sleep",
    "shift letter": "while the letter of a shift is awaited",
    "shifts": "in the shifts",
    "catching up": "while catching up",
    "month full": "at the end of a month that is caught up",
    "hidden": "while both grids are hidden",
}

CHOOSE: list[BindingType] = [
    key("left", "turn(-1)", "choose", "The option before", "Choose", "left right"),
    key("right", "turn(1)", "choose", "The next option", "Choose", "left right"),
]
"""Of a choice in a form."""
PICK: list[BindingType] = [
    key(digit_key(digit), f"pick('{digit}')", group="Choose the level of a digit") for digit in digits
]
"""Of a choice among levels."""
ROWS = [
    key("up,shift+tab", "walk(-1)", "walk", "The row before", "Walk the rows", "up down"),
    key("down,tab", "walk(1)", "walk", "The row after", "Walk the rows", "up down"),
]
KEEP = key("enter", "keep", "keep all", "Keep all of it")
LEAVE_IT = key("escape", "cancel", "leave it", "Leave it as it was; what is typed waits here")
THROW_AWAY = key("ctrl+t", "throw_away", "throw away", "Throw away what is typed here and not kept")
PAGES = [
    key("pageup", "page(-1)", "", "Back in what is longer than its room", "Scroll", "PgUp PgDn"),
    key("pagedown", "page(1)", "", "On in what is longer than its room", "Scroll", "PgUp PgDn"),
]
REST = [*ROWS, LEAVE_IT, THROW_AWAY, *PAGES, HELP]
"""Of a form, beside the key that keeps it."""
FORM: list[BindingType] = [KEEP, *REST]
DAY: list[BindingType] = [
    *ROWS, KEEP, LEAVE_IT, THROW_AWAY,
    key("pageup", "page(-1)", "history", "Back in the history", "Scroll the history", "PgUp PgDn"),
    key("pagedown", "page(1)", "history", "On in the history", "Scroll the history", "PgUp PgDn"),
    HELP,
]  # fmt: skip
NOTE_OF_A_DAY: list[BindingType] = [
    key("enter", "keep", "keep", "Keep the note; an empty one takes it away"), LEAVE_IT,
    THROW_AWAY, *PAGES, HELP,
]  # fmt: skip
SETTINGS_FORM: list[BindingType] = [
    KEEP, LEAVE_IT, key("ctrl+l,f3", "more", "levels, shifts", LEVELS), *ROWS, THROW_AWAY, *PAGES, HELP,
]  # fmt: skip
FIRST_RUN: list[BindingType] = [
    key("enter", "keep", "begin", "Take these choices and begin"), *ROWS,
    key("escape", "leave", "leave", "Leave; nothing is kept"), *PAGES, HELP,
]  # fmt: skip
CATCH_UP_FORM: list[BindingType] = [key("enter", "keep", "begin", "Begin"), *REST]
ROTA_FORM: list[BindingType] = [
    key("enter", "keep", "go on", "Say what would change; again: keep it"), *REST,
]  # fmt: skip
PERIOD: list[BindingType] = [key("enter", "keep", "look", "Look at these days"), *REST]
TRIAL_FORM: list[BindingType] = [
    key("enter", "keep", "go on", "Say what it could show; again: draw it"), *REST,
]  # fmt: skip
WRITE: list[BindingType] = [key("enter", "keep", "write", "Write the page"), *REST]
SEARCH_NOTES: list[BindingType] = [
    key("enter", "go", "go there", "Go to the chosen day"), BACK,
    key("up", "choose('cursor_up')", "choose", "The day before in the list", "Choose a day", "up down"),
    key("down", "choose('cursor_down')", "choose", "The day after in the list", "Choose a day", "up down"),
    key("pageup", "choose('page_up')"),
    key("pagedown", "choose('page_down')"),
    HELP,
]  # fmt: skip

FORMS = (
    FORM, DAY, NOTE_OF_A_DAY, SETTINGS_FORM, FIRST_RUN, CATCH_UP_FORM, ROTA_FORM, PERIOD, TRIAL_FORM, WRITE,
)  # fmt: skip
TOGETHER = (
    MONTH, YEAR, SEARCH_NOTES, [*FINDINGS, *STATEMENTS, *SCROLL],
    *([*table, *SCROLL] for table in (TRIAL, PAGE, HELP_PAGE)),
    *([*form, *CHOOSE, *PICK] for form in FORMS),
)  # fmt: skip
"""All keys of each screen, with those of what stands on it."""


@cache
def built_in_keys() -> Mapping[str, Sequence[str]]:
    """Every key that does something of its own, a letter once, and what it does."""
    does: dict[str, list[str]] = {}
    for row in (row for table in TOGETHER for row in own_rows(table)):
        name = row.tooltip or (row.group.description if row.group else "")
        does.setdefault(row.key, []).extend([name] if name else [])
    return {key: tuple(dict.fromkeys(names)) for key, names in does.items()}


def own_rows(table: Iterable[BindingType]) -> list[Binding]:
    """What the keys of a table do, a letter once; no key that stands for a digit, no letter for a shift."""
    others = FRENCH_ROW.values()
    rows = [row for row in Binding.make_bindings(table) if not (row.key in others or row.key.isupper())]
    return [row for row in rows if action_of(row) not in LETTER_ACTIONS]


@cache
def first_keys() -> frozenset[str]:
    """The keys by which things are named: without one of them something could not be done."""
    rows = (row for table in TOGETHER for row in table if isinstance(row, Binding))
    return frozenset(row.key.split(",")[0] for row in rows)
