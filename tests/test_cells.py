"""The cells that a text takes: Unicode Standard Annex #11, East Asian Width."""

from textwrap import wrap

import pytest

from tracker.cells import cut, named_in, padded, shortened, text_width, wrapped


def test_a_text_is_cut_to_the_cells_there_are() -> None:
    assert [cut("very good", 4), cut("日本", 3), cut("ok", 9), cut("ok", -1)] == ["very", "日", "ok", ""]


def test_a_text_is_filled_up_to_the_cells_there_are() -> None:
    assert [padded("good", 6), padded("\u65e5\u672c", 6), padded("very good", 4)] == [
        "good  ",
        "\u65e5\u672c  ",
        "very good",
    ]


@pytest.mark.parametrize(
    ("label", "short", "shown"),
    [
        ("low", "low", "low"),
        ("very good", "very good", "very good"),
        ("under 3 h", "< 3 h", "< 3 h"),
        ("so heavy that I stayed in bed", "so heavy ", "so hea..."),
        ("\u65e5\u672c\u8a9e\u65e5\u672c", "\u65e5\u672c\u8a9e\u65e5\u672c", "\u65e5\u672c\u8a9e..."),
    ],
)
def test_a_label_without_room_is_its_short_form_or_says_that_it_is_cut(
    label: str, short: str, shown: str
) -> None:
    assert named_in(9, label, short) == shown


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
