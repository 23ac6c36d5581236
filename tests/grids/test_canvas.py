"""Boards of cells: what is put on them, and what changed between two.

What takes two cells and what takes none: Unicode Standard Annex #11, East Asian Width.
"""

import subprocess
import sys

import pytest

from tracker.cells import text_width
from tracker.grids.canvas import PLAIN, Canvas, CellStyle, Rect, StyledText

BOLD = CellStyle(bold=True)


def test_text_is_put_where_it_was_told_and_gives_the_column_behind_it() -> None:
    canvas = Canvas(6, 2)
    assert canvas.put(1, 0, "abc", BOLD) == 4
    assert [canvas.row(y) for y in range(canvas.height)] == [
        [StyledText(" ", PLAIN), StyledText("abc", BOLD), StyledText("  ", PLAIN)],
        [StyledText("      ", PLAIN)],
    ]


def test_what_would_stand_outside_is_cut_off() -> None:
    canvas = Canvas(4, 1)
    canvas.put(2, 0, "abc", PLAIN)
    canvas.put(0, 1, "below", PLAIN)
    canvas.put(3, 0, "日", PLAIN)
    assert canvas.lines() == ["  ab"]


def test_a_wide_letter_takes_two_cells_and_a_combining_mark_none() -> None:
    canvas = Canvas(6, 1)
    assert canvas.put(0, 0, "日e\u0301x", PLAIN) == 4
    assert canvas.lines() == ["日e\u0301x"]
    assert text_width("日e\u0301x") == 4


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("caf\u00e9 \u00b7 \u2588\u25ba", 9),
        ("\u65e5\u672c", 4),  # wide letters
        ("\uff21", 2),  # a fullwidth A
        ("\u0e01\u0e31", 1),  # Thai: the vowel stands above its consonant
        ("\u0915\u0941", 1),  # Devanagari: the vowel stands below
        ("\U0001f469\u200d\U0001f527", 2),  # a woman and a wrench, joined to one sign
        ("\u2764\ufe0f", 2),  # a heart, drawn as a picture
    ],
)
def test_a_text_is_as_wide_as_the_letters_that_are_read(text: str, cells: int) -> None:
    canvas = Canvas(10, 1)
    assert (text_width(text), canvas.put(0, 0, text, PLAIN)) == (cells, cells)
    assert canvas.lines() == [text]


def as_wide_as(canvas: Canvas) -> list[int]:
    """Cells of every row, as they stand there."""
    return [text_width("".join(run.text for run in canvas.row(y))) for y in range(canvas.height)]


@pytest.mark.parametrize("text", ["ab", "\u65e5\u672c", "a\u65e5"])
@pytest.mark.parametrize("x", range(7))
def test_no_row_is_shifted_by_half_of_a_wide_letter(x: int, text: str) -> None:
    put, laid, part = Canvas(6, 1), Canvas(6, 1), Canvas(3, 1)
    part.put(0, 0, text, BOLD)
    for canvas in (put, laid):
        canvas.put(0, 0, "\u65e5\u672c\u8a9e", PLAIN)
    put.put(x, 0, text, BOLD)
    laid.lay(part, x, 0)
    assert as_wide_as(put) == as_wide_as(laid) == [6]


def test_a_control_character_is_a_blank() -> None:
    canvas = Canvas(9, 2)
    assert canvas.put(0, 0, "a\nb\x1bc", PLAIN) == 5
    assert canvas.put(0, 1, "\u65e5\n\u672c", PLAIN) == 5
    assert canvas.lines() == ["a b c", "\u65e5 \u672c"]


def test_texts_and_signs_of_the_program_need_no_tables_of_widths() -> None:
    program = """
import sys
from tracker.grids.palette import UNICODE_SIGNS
from tracker.cells import text_width
from tracker.grids.canvas import PLAIN, Canvas
for text in ("mood", *UNICODE_SIGNS):
    Canvas(9, 1).put(0, 0, text, PLAIN)
    text_width(text)
print([name for name in sys.modules if name.startswith("rich")])
"""
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout == "[]\n"


def test_text_put_to_the_right_ends_before_its_column() -> None:
    canvas = Canvas(6, 1)
    canvas.put_right(5, 0, "abc", PLAIN)
    assert canvas.lines() == ["  abc"]


def test_changes_are_the_stretches_in_which_two_pictures_differ() -> None:
    before, after = Canvas(9, 3), Canvas(9, 3)
    after.put(1, 0, "ab", PLAIN)
    after.put(5, 0, "c", PLAIN)
    after.put(0, 2, " ", BOLD)
    assert list(after.changes(before)) == [Rect(1, 0, 2, 1), Rect(5, 0, 1, 1), Rect(0, 2, 1, 1)]
    assert list(after.changes(after)) == []


def test_both_halves_of_a_wide_letter_change_together() -> None:
    before, after = Canvas(6, 1), Canvas(6, 1)
    before.put(1, 0, "\u65e5", PLAIN)
    after.put(1, 0, "\u672c", PLAIN)
    assert list(after.changes(before)) == [Rect(1, 0, 2, 1)]


def test_a_picture_of_another_size_has_changed_altogether() -> None:
    assert list(Canvas(4, 2).changes(Canvas(4, 3))) == [Rect(0, 0, 4, 2)]


def test_an_area_holds_its_cells_and_no_other() -> None:
    rect = Rect(2, 1, 3, 2)
    held = [(x, y) for y in range(5) for x in range(7) if rect.holds(x, y)]
    assert held == [(2, 1), (3, 1), (4, 1), (2, 2), (3, 2), (4, 2)]
