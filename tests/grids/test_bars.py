"""Pictures of findings: bars with intervals, and spreads of levels."""

from hypothesis import given
from hypothesis import strategies as st

from tests.grids.sheets import palette
from tracker.diary.scales import DEFAULT_MOOD
from tracker.grids.bars import Bar, Spread, draw_bars, draw_spreads, shares

BARS = [
    Bar("mood the day before", -0.02, -0.13, 0.09, smallest=0.26),
    Bar("the sleep before", 0.31, 0.17, 0.38, smallest=0.26, shown=True),
    Bar("sleep two days before", None, smallest=None),
]


def test_a_bar_has_its_effect_its_interval_and_the_smallest_that_could_be_shown() -> None:
    assert draw_bars(BARS, palette(marks="ascii"), 79).lines() == [
        "mood the day before                :       -------o-|-----          :",
        "the sleep before                   :                |         ======:==o===== *",
        "sleep two days before                               | too little kept",
        "                        -0.4                        0                       0.4",
        "o effect  - 95 % interval  : smallest effect that could be shown  * shown",
    ]


def test_a_shown_bar_differs_from_one_that_is_not_without_colour() -> None:
    shown, not_shown = (
        draw_bars([Bar("the sleep before", 0.3, 0.1, 0.4, shown=shown)], palette(), 80).lines()[0]
        for shown in (True, False)
    )
    assert (shown.replace("━", "─").rstrip(" *"), "*" in not_shown) == (not_shown, False)
    assert "━" in shown


def test_the_axis_reaches_as_far_as_the_farthest_number() -> None:
    axis = draw_bars([Bar("x", 0.6, 0.2, 0.9)], palette(), 60).lines()[1]
    assert axis.split() == ["-0.9", "0", "0.9"]


def test_no_bar_leaves_its_picture() -> None:
    wide = draw_bars(
        [Bar("a very long label for a bar" * 3, 1, -1, 1, smallest=1, shown=True)], palette(), 40
    )
    assert {len(line) <= 40 for line in wide.lines()} == {True}


def test_what_the_signs_mean_takes_as_many_rows_as_the_width_asks_for() -> None:
    wide, narrow = (
        draw_bars([Bar("x", 0.1)], palette(marks="ascii"), width).lines()[2:] for width in (78, 58)
    )
    assert wide == ["o effect  - 95 % interval  : smallest effect that could be shown  * shown"]
    assert narrow == ["o effect  - 95 % interval", ": smallest effect that could be shown  * shown"]


def test_a_spread_stacks_the_marks_of_its_levels_in_proportion() -> None:
    spreads = [
        Spread("Jan", (0, 4, 12, 8, 0), 31),
        Spread("Feb", (1, 0, 0, 0, 2), 28),
        Spread("Mar", (0,) * 5, 0),
    ]
    assert draw_spreads(spreads, DEFAULT_MOOD, palette(), 44).lines() == [
        "Jan 2222333333333333344444444 24 of 31",
        "Feb 1111111155555555555555555 3 of 28 ?",
        "Mar                           0 of 0",
    ]


def test_a_spread_in_colour_uses_the_fills_of_the_levels() -> None:
    ready = palette("truecolor")
    canvas = draw_spreads([Spread("Jan", (1, 0, 0, 0, 1), 2)], DEFAULT_MOOD, ready, 40)
    assert canvas.style_at(4, 0).bg == "#89409f"
    assert canvas.style_at(20, 0).bg == "#fce086"


@given(st.lists(st.integers(0, 400), min_size=3, max_size=10), st.integers(10, 120))
def test_cells_are_shared_out_to_the_last_one(counts: list[int], cells: int) -> None:
    given_cells = shares(counts, cells)
    assert sum(given_cells) == (cells if sum(counts) else 0)
    assert all(bool(count) <= cell for count, cell in zip(counts, given_cells, strict=True))
    assert all(cell == 0 for count, cell in zip(counts, given_cells, strict=True) if count == 0)
