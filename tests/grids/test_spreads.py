"""Pictures of groups of days: so many on each level."""

from hypothesis import given
from hypothesis import strategies as st

from tests.grids.sheets import palette
from tracker.diary.scales import DEFAULT_MOOD
from tracker.grids.spreads import Spread, draw_spreads, shares


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


def test_with_little_room_the_marks_stand_under_what_they_are_of() -> None:
    spreads = [Spread("the day after: night", (0, 4, 12, 8, 0), 31), Spread("off", (1, 0, 0, 0, 2), 28)]
    assert draw_spreads(spreads, DEFAULT_MOOD, palette(), 35).lines() == [
        "the day after: night",
        "  222333333333444444 24 of 31",
        "off",
        "  111111555555555555 3 of 28 ?",
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
