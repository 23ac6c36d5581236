"""The cells that a text takes: Unicode Standard Annex #11, East Asian Width."""

import pytest

from tracker.cells import cut, named_in, padded


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
