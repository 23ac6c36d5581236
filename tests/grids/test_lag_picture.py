"""The links lag by lag: which comes first in words, nought, intervals, and what could have been missed."""

import re

import pytest

from tests.grids.sheets import palette
from tracker.grids.lag_picture import LagBar, LagGroup, draw_lags

NOTES = ("615 pairs of days; p < 0.001, limit 0.004", "615 pairs; p < 0.001, limit 0.004")
MOOD = LagGroup(
    "A day's mood with ...",
    NOTES,
    (
        LagBar("the sleep before it", 0.31, 0.17, 0.38, smallest=0.26, shown=True),
        LagBar("the sleep 1 day earlier", -0.02, -0.13, 0.09, smallest=0.3),
    ),
)
SLEEP = LagGroup("A day's sleep with ...", (), (LagBar("the mood of the day before", None),))
DIRECTION = "right: longer sleep, higher mood"


def test_a_row_has_its_effect_its_interval_and_the_ends_between_which_it_could_be_missed() -> None:
    assert draw_lags([MOOD, SLEEP], DIRECTION, palette(marks="ascii"), 74).lines() == [
        "A day's mood with ...   615 pairs of days; p < 0.001, limit 0.004",
        "the sleep before it                 :             |        ========o====",
        "the sleep 1 day earlier           :        ------o+-----          :",
        "A day's sleep with ...",
        "the mood of the day before                        | too little kept",
        "                          -0.4                    0                   +0.4",
        "o link   -- 95 % interval   :  : a link inside could be missed   =o= shown",
        "right: longer sleep, higher mood",
    ]


def test_no_interval_is_broken_by_nought_or_by_what_could_be_missed() -> None:
    crossing = LagBar("x", 0.1, -0.3, 0.35, smallest=0.2)
    for shown, whole in ((True, " *━+┿━+●━+"), (False, " *─+┼─+●─+")):
        group = LagGroup("", (), (crossing._replace(shown=shown),))
        assert re.fullmatch(f"x{whole}", draw_lags([group], "", palette(), 60).lines()[1])


def test_in_colour_what_could_be_missed_is_a_tile_that_goes_on_under_the_interval() -> None:
    looks = palette("truecolor")
    canvas = draw_lags([MOOD], DIRECTION, looks, 74)
    tile = [x for x in range(74) if canvas.style_at(x, 2).bg == looks.panel]
    assert tile == list(range(tile[0], tile[-1] + 1))
    assert {canvas.text_at(x, 2) for x in tile} == {" ", "─", "┼", "●"}
    assert "┊" not in "".join(canvas.lines())


def test_what_is_shown_stands_out_by_the_colour_of_focus_and_without_colour_by_its_weight() -> None:
    looks = palette("truecolor")
    canvas = draw_lags([MOOD], DIRECTION, looks, 74)
    assert [canvas.style_at(0, y) for y in (1, 2)] == [looks.focused, looks.quiet]
    assert ["━" in line for line in canvas.lines()[1:3]] == [True, False]


def test_signs_that_are_not_there_are_not_explained() -> None:
    plain = LagGroup("x", (), (LagBar("y", 0.1, 0.0, 0.2),))
    assert draw_lags([plain], DIRECTION, palette(), 74).lines()[-1] == (
        "● link   ── 95 % interval   right: longer sleep, higher mood"
    )


@pytest.mark.parametrize(("width", "axes"), [(60, 1), (120, 2)])
def test_groups_share_an_axis_that_reaches_as_far_as_the_farthest_number(width: int, axes: int) -> None:
    far = LagGroup("x", (), (LagBar("y", 0.6, 0.2, 0.9),))
    told = [line.split() for line in draw_lags([far, SLEEP], "", palette(), width).lines() if "+" in line]
    assert told == [["-0.9", "0", "+0.9"] * axes]


def test_where_rows_are_many_a_blank_one_parts_the_groups() -> None:
    rows = draw_lags([MOOD, SLEEP], DIRECTION, palette(), 74, gap=1).lines()
    assert [y for y, row in enumerate(rows) if not row] == [3]


@pytest.mark.parametrize(
    ("width", "rows"),
    [
        (74, ["A day's mood with ...   615 pairs of days; p < 0.001, limit 0.004"]),
        (60, ["A day's mood with ...   615 pairs; p < 0.001, limit 0.004"]),
        (35, ["A day's mood with ...", "615 pairs; p < 0.001, limit 0.004"]),
    ],
)
def test_on_what_it_rests_stands_behind_the_head_or_under_it(width: int, rows: list[str]) -> None:
    assert draw_lags([MOOD], DIRECTION, palette(), width).lines()[: len(rows)] == rows


def test_where_there_is_room_groups_stand_side_by_side() -> None:
    rows = draw_lags([MOOD, SLEEP], DIRECTION, palette(), 117).lines()
    assert [row[59:81].rstrip() for row in rows[:2]] == ["A day's sleep with ...", "the mood of the day be"]
    assert len(rows) == 5


@pytest.mark.parametrize("width", [35, 57, 77, 117])
def test_nothing_leaves_the_picture(width: int) -> None:
    widest = LagBar("x" * 10, 1, -1, 1, smallest=1, shown=True)
    rows = draw_lags([LagGroup("x", NOTES, (widest,))] * 2, DIRECTION, palette(), width).lines()
    told = " ".join(" ".join(rows).split())
    assert "shown" in told
    assert "a link inside could be missed" in told
    assert told.endswith(DIRECTION)
    assert max(map(len, rows)) <= width
