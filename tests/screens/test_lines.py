"""The lines round the grids, without a screen. Cells: Unicode Standard Annex #11, East Asian Width."""

from __future__ import annotations

from textwrap import wrap

import pytest

from tests.grids.sheets import palette
from tracker.cells import text_width
from tracker.grids.canvas import PLAIN
from tracker.screens.lines import Said, draw_words, shortened, wrapped

LATIN = "  A long-term note, with an indent; caf\u00e9 \u2588\u25ba and  two blanks. " + "x" * 30


@pytest.mark.parametrize("width", [10, 24, 78])
def test_narrow_letters_are_wrapped_as_python_does(width: int) -> None:
    assert wrapped(LATIN, width) == wrap(LATIN, width)
    assert wrapped("", width) == [""]


@pytest.mark.parametrize("width", [4, 9, 10, 24])
def test_wide_letters_are_wrapped_by_their_cells(width: int) -> None:
    text = "note: " + "\u4e16\u754c" * 10 + " e\u0301 end"
    rows = wrapped(text, width)
    assert "".join(rows).replace(" ", "") == text.replace(" ", "")
    assert all(0 < text_width(row) <= width for row in rows)


def test_a_word_stays_whole_where_it_fits_and_an_indent_stays() -> None:
    assert wrapped("  \u4e16\u754c moon  night\nday", 8) == ["  \u4e16\u754c", "moon", "night", "day"]


def test_rows_that_are_left_out_are_told_by_dots() -> None:
    assert shortened(["abcdef", "b"], 1) == ["abc..."]
    assert shortened(["abcdef", "b"], 0) == []
    assert shortened(["\u4e16\u754c\u4e16", "b"], 1) == ["\u4e16..."]


def test_no_sign_of_a_note_is_lost() -> None:
    note = "\u4e16\u754c" * 40
    canvas = draw_words(palette(), 80, 8, Said(("", PLAIN), (f"Tue: note: {note}", "Tue")))
    assert "".join(canvas.lines()).replace(" ", "") == f"Tue:note:{note}"
