"""Keys of one's own: everything that names a key follows them, and a file that cannot be used says why."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from datetime import date

import pytest
from textual.binding import Binding
from textual.pilot import Pilot

from tests.editing.test_keys import SITUATIONS, is_allowed, opened
from tests.keeping import keep
from tests.screens.looking import board, everything, screen_name
from tracker.diary.rota import ShiftKind
from tracker.editing.editor import Editor
from tracker.record.choice_rows import kind_value
from tracker.record.store import Record
from tracker.screens import bindings
from tracker.screens.app import TrackerApp, run_app
from tracker.screens.bindings import LETTER_ACTIONS, action_of, built_in_keys
from tracker.screens.keys_file import FILE, BrokenKeys, keys_file, load_own_keys, read_own_keys
from tracker.screens.own_keys import BUILT_IN_KEYS, OwnKeys

YESTERDAY = date(2026, 3, 16)
LETTERS = [key for key in built_in_keys() if len(key) == 1 and key.isalpha()]
ROTATED = "\n".join(
    f'{key} = "{other}"' for key, other in zip(LETTERS, LETTERS[1:] + LETTERS[:1], strict=True)
)
"""Every letter by the next one that is a key."""


@asynccontextmanager
async def app(
    text: str, record: Record, *keys: str, size: tuple[int, int] = (200, 60)
) -> AsyncIterator[Pilot[None]]:
    """The app with the keys of a file."""
    own = read_own_keys(text)
    async with TrackerApp(Editor(record, own.sign), own_keys=own).run_test(size=size) as pilot:
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        yield pilot


def message(pilot: Pilot[None]) -> str:
    """What the editor says."""
    return str(pilot.app.editor.state.message)  # type: ignore[attr-defined]


class TestWhatFollows:
    async def test_another_key_does_it_and_the_built_in_one_does_not(self, begun: Record) -> None:
        async with app('a = "z"', begun, "a", "A") as pilot:
            assert board(pilot, "keys") == [" A means nothing here; ? lists keys."]
            assert begun.day(YESTERDAY).is_anxious is None
            await pilot.press("Z")
            assert begun.day(YESTERDAY).is_anxious

    async def test_several_keys_do_it(self, begun: Record) -> None:
        async with app('Left = ["Left", "j"]\nRight = "k"', begun, "j", "left", "k") as pilot:
            assert pilot.app.editor.state.cursor == date(2026, 3, 15)  # type: ignore[attr-defined]

    async def test_the_foot_names_it_where_the_built_in_one_stood(self, begun: Record) -> None:
        async with app("", begun) as pilot:
            before, *_ = board(pilot, "keys")[0].partition(" walk")
        async with app('a = "z"\nleft = "j"', begun) as pilot:
            after, *_ = board(pilot, "keys")[0].partition(" walk")
            assert after == before.replace("a anxious", "z anxious").replace("arrows", "j Right Up Down")

    async def test_help_and_the_list_of_commands_name_it(self, begun: Record) -> None:
        async with app('h = "F9"', begun) as pilot:
            commands = pilot.app.get_system_commands(pilot.app.screen)
            assert [c.help for c in commands if c.title == "Hide both grids"] == ["F9"]
            await pilot.press("question_mark")
            await pilot.pause()
            assert "F9        Hide both grids" in everything(pilot)

    @pytest.mark.parametrize(
        ("text", "keys", "said"),
        [
            ('h = "z"', "z", "Both grids are hidden; z shows them."),
            ('b = "z"', "z", "Keep a square, or press z, to end it."),
            ('Backspace = "<"', "s", "A letter sets the shift of the day; < clears it."),
            ('Space = "_"\nx = "z"', ["c", "enter"], "a digit, z or _ goes on"),
        ],
    )
    async def test_sentences_name_it(self, begun: Record, text: str, keys: Sequence[str], said: str) -> None:
        async with app(text, begun, *keys) as pilot:
            assert said in message(pilot)

    async def test_the_title_of_the_year_names_it(self, begun: Record) -> None:
        async with app('Tab = "z"', begun, "y", "v", size=(80, 24)) as pilot:
            assert "(z: mood)" in board(pilot, "grids")[0]

    async def test_what_waits_names_it(self, begun: Record) -> None:
        async with app('g = "z"', begun) as pilot:
            assert "(z goes there)" in everything(pilot)

    @pytest.mark.parametrize(("place", "rows"), [("question_mark", 12), ("p", -1), ("f", -1)])
    async def test_what_is_longer_than_the_window_follows(self, begun: Record, place: str, rows: int) -> None:
        for day in range(8, 17):
            keep(begun, date(2026, 3, day), mood="3", sleep="5")
        seen = []
        for text, down in (("", "down"), ('Down = "j"', "j"), ('Down = "j"', "down")):
            async with app(text, begun, place, size=(80, 24)) as pilot:
                await pilot.app.workers.wait_for_complete()
                await pilot.pause(0.1)
                await pilot.press(down)
                await pilot.pause(0.1)
                seen.append(everything(pilot).splitlines()[:rows])
        assert (seen[0] == seen[1], seen[0] == seen[2]) == (True, False)

    async def test_choices_follow(self, begun: Record) -> None:
        async with app('Down = "j"\nRight = "+"', begun, "comma", "j", "+", "enter"):
            assert begun.choices().settings.first_weekday == 1

    async def test_the_list_of_commands_follows(self, begun: Record) -> None:
        async with app('"Ctrl+P" = "F8"', begun, "ctrl+p") as pilot:
            assert board(pilot, "keys") == [" Ctrl+P means nothing here; ? lists keys."]
            await pilot.press("f8")
            await pilot.pause()
            assert screen_name(pilot) == "CommandPalette"

    @pytest.mark.parametrize("opens", ["n", "slash"])
    async def test_what_types_a_sign_is_typed_into_a_field(self, begun: Record, opens: str) -> None:
        async with app('Enter = ["Enter", "+"]\nUp = "-"', begun, opens, *"f+-g") as pilot:
            assert getattr(pilot.app.focused, "value", "") == "f+-g"


@pytest.mark.parametrize("situation", SITUATIONS)
def test_each_key_does_what_it_did_under_its_other_name(situation: str) -> None:
    own = read_own_keys(ROTATED)
    rows, held = list(Binding.make_bindings(bindings.MONTH)), own.table(bindings.MONTH)
    with opened(situation) as editor:
        for key in built_in_keys():
            built_in, other = first(editor, rows, key), first(editor, held, own.keys_for(key)[0])
            claimed = {action_of(one) for one in (built_in, other) if one} & {*LETTER_ACTIONS}
            assert claimed or (built_in and built_in.action) == (other and other.action), key


def first(editor: Editor, table: Sequence[Binding], key: str) -> Binding | None:
    """What a key means now."""
    return next((one for one in table if one.key == key and is_allowed(editor, one)), None)


class TestLetters:
    """A letter that stands for a shift does so whatever its key does at other times."""

    async def test_of_shifts_stay(self, begun: Record) -> None:
        async with app('n = "k"', begun, "s", "n"):
            assert begun.day(YESTERDAY).shift_kind == "night"

    async def test_come_before_what_was_moved_to_their_keys(self, begun: Record) -> None:
        async with app('a = "n"\nn = "k"', begun, "s", "n"):
            assert (begun.day(YESTERDAY).shift_kind, begun.day(YESTERDAY).is_anxious) == ("night", None)

    async def test_may_be_those_of_digits(self, begun: Record) -> None:
        begun.choose(kind_value(ShiftKind("relief", "ř", "relief")))
        async with app('digit_row = "czech"', begun, "s", "ř", "ř"):
            day = begun.day(YESTERDAY)
            assert (day.shift_kind, day.sleep and day.sleep.value) == ("relief", "sleep8-4")


class TestRows:
    async def test_a_czech_keyboard_needs_one_line(self, begun: Record) -> None:
        async with app('digit_row = "Czech"', begun, "tab", "š") as pilot:
            assert "Kept for Mon 16 March 2026: mood 3 even" in message(pilot)

    @pytest.mark.parametrize(
        ("text", "keys"),
        [
            ("", {"é": "2", "ampersand": "1"}),
            ('digit_row = "czech"', {"é": "0", "ampersand": "", "plus": "1"}),
            ('digit_row = "1234567890"', {"é": ""}),
            ('digit_row = ""', {"é": "", "ampersand": ""}),
            ('u = "&"', {"é": "2", "ampersand": "u"}),
            ('digit_row = "ąčęėįšųū90"', {"č": "2", "9": "9"}),
        ],
    )  # fmt: skip
    def test_stand_for_digits(self, text: str, keys: dict[str, str]) -> None:
        table = read_own_keys(text).table([*bindings.ANSWER, bindings.UNDO])
        actions = {one.key: one.action for one in table}
        found = {key: actions.get(key, "").removeprefix("edit('digit', '").removesuffix("')") for key in keys}
        assert found == {key: "edit('undo" if does == "u" else does for key, does in keys.items()}


REFUSED = {
    "\nx = z": 'keys.toml is not TOML: Invalid value (at line 2, column 5); a line is like a = "z".',
    '# mine\nj = "z"': "keys.toml, line 2: 'j' is no key of the program; tracker keys lists them.",
    'hide = "z"': "keys.toml, line 1: 'hide' is no key of the program; tracker keys lists them.",
    "[keys]\nh = 1": "keys.toml: 'keys' is no key of the program; tracker keys lists them.",
    '\nh = "hop"': "keys.toml, line 2: 'hop' is no key; write one sign, or a name like 'Home' or 'Ctrl+N'.",
    "h = 7": "keys.toml, line 1: 7 is no key; write one sign, or a name like 'Home' or 'Ctrl+N'.",
    'h = ["z", 7]': "keys.toml, line 1: 7 is no key; write one sign, or a name like 'Home' or 'Ctrl+N'.",
    'h = "Ctrl+C"': "keys.toml, line 1: Ctrl+C is needed by the terminal or the program; take another key.",
    'h = "n"': "keys.toml, line 1: n is taken twice, for n and for h; give one of them another key.",
    'n = "m"': "keys.toml, line 1: m is taken twice, for m and for n; give one of them another key.",
    'h = "z"\nn = "Z"': "keys.toml, line 2: z is taken twice, for h and for n; give one of them another key.",
    'digit_row = "czech"\n"," = "š"':
        "keys.toml, line 2: š is taken twice, for 3 and for ,; give one of them another key.",
    'digit_row = "abcdefghij"':
        "keys.toml, line 1: a is taken twice, for 1 and for a; give one of them another key.",
    'digit_row = "welsh"':
        "keys.toml, line 1: digit_row takes french, belgian, czech, slovak and ten signs, those of the keys "
        'from 1 to 0 without Shift; or "" for none.',
    "q = []": "keys.toml, line 1: q needs a key, for no other does what it does; name one.",
    '"?" = []': "keys.toml, line 1: ? needs a key, for no other does what it does; name one.",
}  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
def test_a_file_that_cannot_be_used_says_in_one_sentence_where_and_what_to_do(text: str) -> None:
    with pytest.raises(BrokenKeys) as refused:
        read_own_keys(text)
    assert str(refused.value) == REFUSED[text]


class TestTheFile:
    @pytest.fixture
    def ran(self, monkeypatch: pytest.MonkeyPatch) -> list[TrackerApp]:
        """The apps that were run."""
        apps: list[TrackerApp] = []

        def run(app: TrackerApp, **_: bool) -> None:
            apps.append(app)

        monkeypatch.setattr(TrackerApp, "run", run)
        return apps

    def test_is_read_when_the_app_opens(self, begun: Record, ran: list[TrackerApp]) -> None:
        self.write('h = "z"')
        run_app(begun)
        assert (ran[0].own_keys.sign("h"), ran[0].editor.state.sign("h")) == ("z", "z")

    def test_need_not_be_there(self, begun: Record, ran: list[TrackerApp]) -> None:
        run_app(begun)
        assert ran[0].own_keys == BUILT_IN_KEYS
        assert FILE not in ran[0].editor.state.message

    def test_that_cannot_be_used_leaves_the_built_in_keys_and_is_told(
        self, begun: Record, ran: list[TrackerApp]
    ) -> None:
        self.write('h = "n"')
        run_app(begun)
        assert (ran[0].own_keys, ran[0].editor.state.message) == (
            BUILT_IN_KEYS,
            "keys.toml, line 1: n is taken twice, for n and for h; give one of them another key. "
            "The built-in keys hold.",
        )

    @pytest.mark.parametrize(
        ("data", "said"),
        [
            (b'\xef\xbb\xbfh = "z"', "z"),
            ('h = "é"'.encode("latin-1"), "keys.toml is no UTF-8 text; save it as that."),
        ],
    )
    def test_is_utf_8_with_or_without_a_mark_at_its_beginning(self, data: bytes, said: str) -> None:
        self.write("")
        keys_file().write_bytes(data)
        try:
            found = load_own_keys().sign("h")
        except BrokenKeys as error:
            found = str(error)
        assert found == said

    def test_that_is_a_folder_says_so(self) -> None:
        keys_file().mkdir(parents=True)
        with pytest.raises(BrokenKeys, match=r"keys\.toml cannot be read: is a directory; mend that\."):
            load_own_keys()

    def test_of_comments_alone_changes_nothing(self) -> None:
        assert read_own_keys('# h = "z"\n') == BUILT_IN_KEYS

    def write(self, text: str) -> None:
        keys_file().parent.mkdir(parents=True)
        keys_file().write_text(text, encoding="utf-8")


@pytest.mark.parametrize(
    "way_out",
    [("question_mark", "show('help')"), ("f1", "show('help')"), ("escape", "back"), ("enter", "keep")],
)
def test_no_file_takes_the_ways_out_and_to_where_to_turn(way_out: tuple[str, str]) -> None:
    key, action = way_out
    text = "".join(f'"{one}" = "F{at}"\n' for at, one in enumerate(("?", "F1", "Ctrl+G", "Esc", "Enter"), 13))
    table = read_own_keys(text).table([bindings.HELP, bindings.KEEP, bindings.BACK])
    assert [one.key for one in table if one.action == action].count(key) == 1


def test_every_table_is_among_those_whose_keys_may_be_others() -> None:
    tables = [table for name, table in vars(bindings).items() if isinstance(table, list) and name.isupper()]
    rows = [row for table in tables for row in table]
    known = [row for table in bindings.TOGETHER for row in table]
    assert [row for row in rows if row not in known] == []


def test_without_a_file_no_table_is_made_anew() -> None:
    assert OwnKeys({}).table(bindings.MONTH) == list(Binding.make_bindings(bindings.MONTH))
