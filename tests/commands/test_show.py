"""`tracker show` prints squares, or sentences in their place."""

from collections.abc import Callable
from datetime import date

import pytest
from click.testing import Result

from tracker.diary.days import Change
from tracker.grids.themes import own_themes
from tracker.record.store import Record
from tracker.words import CAUTION

Run = Callable[..., Result]

MARCH = """\
 March 2026                                    both squares kept on 2 of 3 days
   Mood                                      Sleep, the sleep before
   Mo   Tu   We   Th   Fr   Sa   Su          Mo   Tu   We   Th   Fr   Sa   Su
                                  1                                         1
 9                                         9
    2    3    4    5    6    7    8           2    3    4    5    6    7    8
10                                        10
    9   10   11   12   13   14   15"          9   10   11   12   13   14   15"
11                               N 4a     11                               N 5a
   16   17<  18   19   20   21   22          16   17<  18   19   20   21   22
12   2    .                               12   2    ?
   23   24   25   26   27   28   29          23   24   25   26   27   28   29
13                                        13
   30   31                                   30   31
14                                        14
   5  very good      2  low                  8  8 h or more    4  4-5 h
   4  good           1  very low             7  7-8 h          3  3-4 h
   3  even                                   6  6-7 h          2  under 3 h
   N night                                   5  5-6 h          0  none
 a anxious  . waiting  ? could not say  " note  - break  v a change  < today
   March: night shifts on 15.
"""


@pytest.fixture(autouse=True)
def _three_days(kept: Callable[[], Record]) -> None:
    fifteenth, sixteenth, seventeenth = (date(2026, 3, on) for on in (15, 16, 17))
    changes = [
        Change(fifteenth, "mood", "mood5-4"),
        Change(fifteenth, "sleep", "sleep8-4"),
        Change(fifteenth, "anxious", "yes"),
        Change(fifteenth, "shift", "night"),
        Change(sixteenth, "mood", "mood5-2"),
        Change(sixteenth, "sleep", "sleep8-1"),
        Change(seventeenth, "sleep", state="could not say"),
        Change(fifteenth, "note", "Fog at Selderby Halt."),
    ]
    with kept() as record:
        record.keep(changes, what="three days", source="typed")


def test_a_plain_month_is_ascii_of_at_most_80_columns(run: Run) -> None:
    shown = run("show", "--plain")
    assert (shown.exit_code, shown.stdout) == (0, MARCH)
    assert shown.stdout.isascii()
    assert max(len(line) for line in shown.stdout.splitlines()) <= 80


def test_a_month_that_goes_nowhere_near_a_terminal_has_no_colour(run: Run) -> None:
    shown = run("show")
    assert "\x1b" not in shown.stdout
    assert shown.stdout == MARCH.replace("<", "◄").replace(" .", " ·").replace("v a change", "▼ a change")


def test_colours_are_sent_where_they_are_asked_for(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.setenv("TERM", "xterm")
    coloured = run("show").stdout
    assert "48;2;250;171;139" in coloured  # the fill of mood 4 in the default theme, #faab8b


def test_no_color_wins_over_everything(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b" not in run("show").stdout


def test_one_grid_alone_stands_at_the_left(run: Run) -> None:
    lines = run("show", "--plain", "--grid", "sleep").stdout.splitlines()
    assert lines[0].endswith(" kept on 2 of 3 days")
    assert lines[1] == "   Sleep, the sleep before"
    assert lines[10] == "12   2    ?"


def test_another_month_can_be_named(run: Run) -> None:
    assert run("show", "--plain", "--month", "2024-02").stdout.startswith(" February 2024\n")


def test_a_year_shows_both_grids_and_the_caution(run: Run) -> None:
    lines = run("show", "--plain", "--year", "2026").stdout.splitlines()
    titles = [line[:14].rstrip() for line in lines if "2026" in line]
    assert titles == [" 2026   Mood", " 2026   Sleep,"]
    assert lines[4] == " Mar                             4a2 . <                             1===     1"
    assert lines[-1] == f" {CAUTION}"
    assert max(len(line) for line in lines) <= 80


def test_a_month_in_words_gives_sentences_and_never_the_text_of_a_note(run: Run) -> None:
    assert run("show", "--words").stdout.splitlines() == [
        "March 2026, mood: kept on 2 of 3 days; most often level 2, low and level 4, good, 1 day each; "
        "longest run of waiting squares 1 day, 17 March 2026.",
        "March 2026, sleep: kept on 2 of 3 days, could not say on 1; "
        "most often under 3 hours and 5 to under 6 hours, 1 day each; no square waits.",
        "March 2026, anxious: 1 of 1 noted day.",
        "The sleep of a day is the sleep before.",
        "Sunday 15 March: mood 4 good, sleep 5 to under 6 hours, night shift, anxious, note",
        "Monday 16 March: mood 2 low, sleep under 3 hours",
        "Tuesday 17 March: mood waiting, sleep could not say",
        "March: night shifts on 15.",
    ]


def test_a_week_is_told_in_sentences_from_its_first_weekday(run: Run) -> None:
    assert run("show", "--week", "2026-03-15", "--grid", "mood").stdout.splitlines() == [
        "9 to 15 March 2026, mood: kept on 1 of 1 day; most often level 4, good, 1 day; no square waits.",
        "9 to 15 March 2026, anxious: 1 of 1 noted day.",
        "Sunday 15 March: mood 4 good, night shift, anxious, note",
    ]
    assert run("show", "--week", "2026-03-15", "--words", "--year", "2026").exit_code == 2


def test_a_year_in_words_ends_with_the_caution(run: Run) -> None:
    lines = run("show", "--words", "--year", "2026", "--grid", "mood").stdout.splitlines()
    assert lines[-2:] == [
        "March, mood: kept on 2 of 3 days; most often level 2, low and level 4, good, 1 day each.",
        CAUTION,
    ]
    assert not any("sleep" in line for line in lines)


def test_a_month_and_a_year_together_are_wrong_use(run: Run) -> None:
    wrong = run("show", "--month", "2026-03", "--year", "2026")
    assert wrong.exit_code == 2
    assert wrong.stderr.startswith("--month, --week and --year do not go together; give one of them;")


def test_a_month_that_is_none_is_refused_in_one_sentence(run: Run) -> None:
    wrong = run("show", "--month", "2026-13")
    assert (wrong.exit_code, wrong.stderr) == (
        2,
        "'2026-13' is no month; write it like March 2026 or 2026-03.\n",
    )


def test_an_own_theme_that_cannot_serve_is_told_and_the_default_one_used(run: Run) -> None:
    folder = own_themes()
    folder.mkdir(parents=True)
    (folder / "wenfold-dusk.toml").write_text("name = 3\n")
    shown = run("show", "--plain")
    assert shown.stdout == MARCH
    assert "theme wenfold-dusk.toml: " in shown.stderr
