"""Boards of cells: what is put on them, and what changed between two."""

from tracker.grids.picture import PLAIN, Area, Look, Picture, Run, cut, text_width

BOLD = Look(bold=True)


def test_text_is_put_where_it_was_told_and_gives_the_column_behind_it() -> None:
    picture = Picture(6, 2)
    assert picture.put(1, 0, "abc", BOLD) == 4
    assert picture.rows() == [
        [Run(" ", PLAIN), Run("abc", BOLD), Run("  ", PLAIN)],
        [Run("      ", PLAIN)],
    ]


def test_what_would_stand_outside_is_cut_off() -> None:
    picture = Picture(4, 1)
    picture.put(2, 0, "abc", PLAIN)
    picture.put(0, 1, "below", PLAIN)
    picture.put(3, 0, "日", PLAIN)
    assert picture.lines() == ["  ab"]


def test_a_wide_letter_takes_two_cells_and_a_combining_mark_none() -> None:
    picture = Picture(6, 1)
    assert picture.put(0, 0, "日e\u0301x", PLAIN) == 4
    assert picture.lines() == ["日e\u0301x"]
    assert text_width("日e\u0301x") == 4


def test_text_put_to_the_right_ends_before_its_column() -> None:
    picture = Picture(6, 1)
    picture.put_right(5, 0, "abc", PLAIN)
    assert picture.lines() == ["  abc"]


def test_a_text_is_cut_to_the_cells_there_are() -> None:
    assert [cut("very good", 4), cut("日本", 3), cut("ok", 9)] == ["very", "日", "ok"]


def test_changes_are_the_stretches_in_which_two_pictures_differ() -> None:
    before, after = Picture(9, 3), Picture(9, 3)
    after.put(1, 0, "ab", PLAIN)
    after.put(5, 0, "c", PLAIN)
    after.put(0, 2, " ", BOLD)
    assert list(after.changes(before)) == [Area(1, 0, 2, 1), Area(5, 0, 1, 1), Area(0, 2, 1, 1)]
    assert list(after.changes(after)) == []


def test_a_picture_of_another_size_has_changed_altogether() -> None:
    assert list(Picture(4, 2).changes(Picture(4, 3))) == [Area(0, 0, 4, 2)]


def test_an_area_holds_its_cells_and_no_other() -> None:
    area = Area(2, 1, 3, 2)
    held = [(x, y) for y in range(5) for x in range(7) if area.holds(x, y)]
    assert held == [(2, 1), (3, 1), (4, 1), (2, 2), (3, 2), (4, 2)]
