"""Marks, signs and looks of one terminal."""

import pytest

from tests.grids.sheets import FIRST, day, grid_data, palette
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, GRIDS, Scale, mood_scale, sleep_scale
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import CellStyle
from tracker.grids.palette import ASCII_SIGNS, UNICODE_SIGNS, Marks, colours_of, shapes_of, usable_marks
from tracker.grids.squares import square_style


def marks(scale: Scale, kind: Marks) -> str:
    ready = palette(marks=kind)
    return "".join(ready.mark(scale, level) for level in scale.levels)


def test_the_mark_of_a_level_is_the_digit_that_is_pressed() -> None:
    assert marks(DEFAULT_MOOD, "digits") == marks(DEFAULT_MOOD, "ascii") == "12345"
    assert marks(DEFAULT_SLEEP, "digits") == marks(DEFAULT_SLEEP, "ascii") == "02345678"


def test_shapes_grow_with_the_level() -> None:
    assert marks(DEFAULT_MOOD, "shapes") == "○◔◑◕●"
    assert marks(DEFAULT_SLEEP, "shapes") == "▁▂▃▄▅▆▇█"


@pytest.mark.parametrize(
    ("scale", "shapes"),
    [
        (mood_scale(["low", "even", "good"], None), "○◑●"),
        (mood_scale(["lower", "low", "good", "better"], None), "○◔◕●"),
        (sleep_scale([0, 4, 6], None), "▁▃▆█"),
        (sleep_scale([0, 3, 4, 5, 6], None), "▁▂▄▅▇█"),
    ],
)
def test_fewer_levels_take_shapes_spread_from_the_least_to_the_most(scale: Scale, shapes: str) -> None:
    assert shapes_of(scale) == shapes


def test_a_bar_is_never_turned_round_where_there_are_no_colours() -> None:
    data = grid_data([day(FIRST, mood=0, sleep=2)])
    shapes = palette(marks="shapes")
    styles = [square_style(data, shapes, SquareKey(FIRST, grid)) for grid in GRIDS]
    assert [(style.mark, style.style.reverse) for style in styles] == [("○", True), ("▃", False)]


def test_where_there_are_too_many_levels_for_shapes_digits_stay() -> None:
    moods = mood_scale(["a", "b", "c", "d", "e", "f"], None)
    sleeps = sleep_scale([0, 3, 4, 5, 6, 7, 8, 9], None)
    assert marks(moods, "shapes") == "123456"
    assert marks(sleeps, "shapes") == "023456789"


def test_ascii_marks_use_ascii_signs_alone() -> None:
    assert palette(marks="ascii").signs is ASCII_SIGNS
    assert palette(marks="shapes").signs is palette().signs is UNICODE_SIGNS
    assert all(sign.isascii() for sign in ASCII_SIGNS)


def test_anxious_is_the_letter_of_its_key_and_a_break_a_dash_whatever_the_marks() -> None:
    assert {(signs.anxious, signs.in_break) for signs in (ASCII_SIGNS, UNICODE_SIGNS)} == {("a", "-")}


@pytest.mark.parametrize(
    ("encoding", "term", "expected"),
    [
        ("utf-8", "xterm-256color", "digits"),
        ("ascii", "xterm", "ascii"),
        ("latin-1", "xterm", "ascii"),
        ("no such encoding", "xterm", "ascii"),
        ("utf-8", "linux", "ascii"),
    ],
)
def test_a_terminal_that_cannot_show_the_signs_takes_ascii(encoding: str, term: str, expected: str) -> None:
    assert usable_marks("digits", encoding, term) == expected


def test_marks_that_were_asked_for_are_taken_where_they_can_be_shown() -> None:
    assert [usable_marks(wanted, "utf-8") for wanted in ("shapes", "ascii", "runes")] == [
        "shapes",
        "ascii",
        "digits",
    ]


def test_colours_follow_the_console_and_no_color() -> None:
    systems = ["truecolor", "256", "standard", "windows", None]
    assert [colours_of(system) for system in systems] == ["truecolor", "256", "standard", "windows", "none"]
    assert colours_of("truecolor", no_color=True) == "none"


def test_without_colour_nothing_carries_one() -> None:
    plain = palette("none")
    looks = [plain.text, plain.quiet, plain.faint, plain.accent, plain.focus]
    assert set(looks) == {CellStyle()}
    assert plain.title == CellStyle(bold=True)


def test_fills_can_be_switched_off_by_themselves() -> None:
    ready = palette("truecolor", with_fills=False)
    assert ready.style(ready.fill("mood", 4, 5)) == ready.text


def test_a_mark_stands_in_ink_on_its_fill() -> None:
    ready = palette("truecolor")
    assert ready.style(ready.fill("mood", 2, 5)) == CellStyle("#3c1c23", "#e67b91")
