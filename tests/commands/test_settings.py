"""`tracker settings`, `tracker help`, `tracker history`, `tracker undo`, `tracker redo`."""

import re
from collections.abc import Callable
from datetime import date

import pytest

from tests.commands.conftest import Run
from tracker.diary.choices import Choices
from tracker.diary.days import Change
from tracker.diary.help_lines import HELP_LINES
from tracker.diary.help_page import help_page, how_it_works, where_to_turn
from tracker.diary.settings import SETTINGS, Settings
from tracker.grids.themes import own_themes, theme_files
from tracker.record.store import Record

Kept = Callable[[], Record]
TODAY = date(2026, 3, 17)


class TestSettings:
    def test_every_setting_is_shown_with_its_value_and_meaning(self, run: Run) -> None:
        lines = run("settings").stdout.splitlines()
        assert [line.split()[0] for line in lines] == list(SETTINGS)
        assert lines[1] == "first_weekday    monday        The first column of the month."

    def test_a_setting_is_changed_and_stands(self, run: Run) -> None:
        assert run("settings", "country", "scotland").stdout == "country is now Scotland.\n"
        assert run("settings", "country").stdout == "Scotland\n"
        assert run("settings", "first-weekday", "sun").stdout == "first_weekday is now sunday.\n"

    def test_a_theme_that_is_not_there_is_refused(self, run: Run) -> None:
        result = run("settings", "theme", "nosuch")
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith("There is no theme 'nosuch'; there are: ")
        assert run("settings", "theme", "cawbrook-lamps").stdout == "theme is now cawbrook-lamps.\n"
        assert run("settings", "theme", "Wenfold-Dusk").stdout == "theme is now wenfold-dusk.\n"
        assert run("settings", "theme", "selderby, morning").stdout == "theme is now selderby-morning.\n"

    @pytest.mark.parametrize(
        ("text", "why"),
        [("ground = ", "this is not TOML"), (None, "")],
    )
    def test_a_theme_of_her_own_that_could_not_be_used_is_refused_and_keeps_what_stood(
        self, run: Run, text: str | None, why: str
    ) -> None:
        folder = own_themes()
        folder.mkdir(parents=True)
        usual = (theme_files(None)["wenfold-dusk"]).read_text(encoding="utf-8")
        ground = re.search(r'ground = "(#\w+)"', usual)
        assert ground
        unreadable = re.sub(r'\btext = "#\w+"', f'text = "{ground[1]}"', usual)
        (folder / "mine.toml").write_text(unreadable if text is None else text)
        refused = run("settings", "theme", "mine")
        assert (refused.exit_code, refused.stdout) == (1, "")
        assert refused.stderr.startswith("theme mine.toml: ")
        assert why in refused.stderr
        assert run("settings", "theme").stdout == "wenfold-dusk\n"

    def test_capitals_part_neither_themes_nor_settings(self, run: Run) -> None:
        assert run("settings", "theme", "Cawbrook-Lamps").stdout == "theme is now cawbrook-lamps.\n"
        assert run("settings", "Theme", "wenfold-dusk").stdout == "theme is now wenfold-dusk.\n"

    def test_a_setting_can_be_undone(self, run: Run) -> None:
        run("settings", "lines", "yes")
        run("settings", "lines", "no")
        assert run("undo").stdout == (
            "Taken back: setting lines; it is yes again. tracker redo brings it back.\n"
        )
        assert run("settings", "lines").stdout == "yes\n"
        assert run("redo").stdout == "Brought back: setting lines; it is no again.\n"
        assert run("settings", "lines").stdout == "no\n"

    @pytest.mark.parametrize(
        ("arguments", "sentence"),
        [
            (["font"], "There is no setting 'font'"),
            (["font", "x"], "There is no setting 'font'"),
            (["lines", "perhaps"], "lines takes yes or no, not 'perhaps'."),
            (
                ["country", "Harrowmere"],
                "'Harrowmere' is no country known here; the nearest are ",
            ),
        ],
    )
    def test_wrong_ones_are_refused(self, run: Run, arguments: list[str], sentence: str) -> None:
        result = run("settings", *arguments)
        assert result.exit_code == 2
        assert result.stderr.startswith(sentence)


class TestHelp:
    def test_her_own_lines_come_first(self, run: Run) -> None:
        run("settings", "country", "England")
        lines = run("help", "--own", "My practice: 01632 960 011").stdout.splitlines()
        assert lines[:6] == [
            "WHERE TO TURN in England, as read on public pages in 2026-11; nobody called",
            "  the numbers",
            "My practice: 01632 960 011",
            "If you feel unsafe, or might harm yourself, get help now.",
            "1. In immediate danger: call 999 or 112.",
            "2. Need to talk to someone now: Samaritans 116 123.",
        ]
        assert "My practice" not in run("help", "--no-own").stdout

    def test_without_a_country_the_general_text_stands_and_says_how_to_choose(self) -> None:
        lines = where_to_turn(Choices())
        assert "1. In immediate danger: call your emergency number (112 in most of Europe)." in lines
        assert lines[-1] == "Your country's numbers: tracker settings country NAME"

    @pytest.mark.parametrize("country", [row.country for row in HELP_LINES])
    def test_every_line_that_ships_is_76_characters_or_less(self, country: str) -> None:
        page = help_page(Choices(Settings(country=country)))
        assert max(map(len, page)) <= 76
        assert not any(", ," in line or ": ," in line for line in page)

    def test_every_country_has_an_emergency_number_a_date_and_how_it_was_read(self) -> None:
        assert all(row.emergency and row.checked and row.how for row in HELP_LINES)

    @pytest.mark.parametrize("country", ["Austria", "elsewhere in the EU"])
    def test_members_of_the_eu_without_a_row_have_its_lines(self, country: str) -> None:
        assert "1. In immediate danger: call 112." in where_to_turn(Choices(Settings(country=country)))

    def test_members_of_the_eu_with_a_row_have_their_own(self) -> None:
        told = " ".join(where_to_turn(Choices(Settings(country="Germany"))))
        assert "TelefonSeelsorge" in told

    def test_the_united_kingdom_has_its_row_and_points_to_its_parts(self, run: Run) -> None:
        assert run("settings", "country", "UK").stdout == (
            "country is now United Kingdom.\n"
            "England, Scotland, Wales or Northern Ireland gives that country's lines.\n"
        )
        assert "1. In immediate danger: call 999 or 112.\n" in run("help").stdout

    def test_a_country_without_numbers_is_kept_and_says_what_to_do(self, run: Run) -> None:
        assert run("settings", "country", "Japan").stdout == (
            "country is now Japan.\n"
            "No numbers of it are known here: tracker help --own TEXT puts your own (4 lines).\n"
        )
        assert run("help").stdout.startswith("WHERE TO TURN\n")

    def test_ten_sentences_say_how_it_works(self) -> None:
        text = " ".join(how_it_works(Choices(Settings(day_change_hour=12))))
        assert text.startswith("1. A day begins at 12:00;")
        assert [f"{n}. " in text for n in range(1, 11)] == [True] * 10

    def test_help_is_the_same_whatever_was_kept(self, run: Run, kept: Kept) -> None:
        before = run("help").stdout
        with kept() as record:
            record.keep([Change(TODAY, "mood", "mood5-1"), Change(TODAY, "sleep", "sleep8-0")], "low")
        assert run("help").stdout == before


class TestHistory:
    def test_every_entry_is_shown_with_when_what_and_from_where(self, run: Run) -> None:
        run("put", "--mood", "4")
        run("put", "--mood", "2", "--note", "tea")
        run("undo")
        assert run("history", "today").stdout == (
            "Tue 17 March 2026\n"
            "  2026-03-17 21:00  mood 4 good (command, at the time)\n"
            "  2026-03-17 21:00  not anxious (command, at the time)\n"
            "  2026-03-17 21:00  mood 2 low (command, at the time)\n"
            "  2026-03-17 21:00  note: tea (command, at the time)\n"
            "  2026-03-17 21:00  mood 4 good (command, at the time, brought back by undo)\n"
            "  2026-03-17 21:00  note cleared (by undo)\n"
        )

    def test_what_undo_and_redo_wrote_is_not_called_typed(self, run: Run) -> None:
        run("rota", "--pattern", "n", "--from", "today", "--to", "today")
        run("undo")
        run("redo")
        assert [line.split("  ")[-1] for line in run("history", "today").stdout.splitlines()[1:]] == [
            "shift night (from a pattern, at the time)",
            "shift cleared (by undo)",
            "shift night (from a pattern, at the time, brought back by redo)",
        ]

    def test_a_day_without_entries_says_so(self, run: Run) -> None:
        assert run("history", "mon").stdout == "Mon 16 March 2026\nNothing was ever kept of this day.\n"


def test_nothing_to_undo_is_one_sentence(run: Run) -> None:
    result = run("undo")
    assert (result.exit_code, result.stderr) == (1, "There is nothing to undo.\n")
    assert run("redo").stderr == "There is nothing to bring back.\n"
