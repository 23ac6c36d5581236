"""The cells that a text takes: Unicode Standard Annex #11, East Asian Width."""

from tracker.cells import cut, padded


def test_a_text_is_cut_to_the_cells_there_are() -> None:
    assert [cut("very good", 4), cut("日本", 3), cut("ok", 9), cut("ok", -1)] == ["very", "日", "ok", ""]


def test_a_text_is_filled_up_to_the_cells_there_are() -> None:
    assert [padded("good", 6), padded("\u65e5\u672c", 6), padded("very good", 4)] == [
        "good  ",
        "\u65e5\u672c  ",
        "very good",
    ]
