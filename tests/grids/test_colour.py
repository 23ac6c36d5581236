"""Colour arithmetic: inks that can be read, ramps that keep their order."""

from itertools import pairwise, product

import pytest

from tracker.grids.colour import (
    BLACK,
    WHITE,
    contrast,
    distance,
    from_oklab,
    hexed,
    ink,
    luminance,
    mixed,
    oklab,
    plain_ink,
    ramp,
)

DUSK_MOOD = ["#7f5187", "#b66ea5", "#ec88a2", "#ffb798", "#ffea8c"]
DUSK_SLEEP = ["#2462b9", "#427ed0", "#5c96e1", "#77acee", "#92c1f8", "#b0d5ff", "#d2e7ff", "#f4f9ff"]
LAMPS_MOOD = ["#4c2850", "#843e7d", "#e46f9e", "#ffac8f", "#fff081"]
CUBE = [hexed((r / 5, g / 5, b / 5)) for r, g, b in product(range(6), repeat=3)]


def test_a_colour_comes_back_from_oklab_as_it_went() -> None:
    assert [from_oklab(oklab(colour)) for colour in CUBE] == CUBE


def test_a_mix_begins_and_ends_with_its_two_colours() -> None:
    assert [mixed("#2462b9", "#f4f9ff", share) for share in (0, 1)] == ["#2462b9", "#f4f9ff"]


def test_lightness_of_oklab_is_nought_for_black_and_one_for_white() -> None:
    assert oklab(BLACK) == (0, 0, 0)
    assert oklab(WHITE) == pytest.approx((1, 0, 0), abs=1e-6)


def test_distance_of_black_and_white_is_a_hundred() -> None:
    assert distance(BLACK, WHITE) == pytest.approx(100, abs=1e-4)


@pytest.mark.parametrize(
    ("fill", "expected"),
    [("#ec88a2", "#46252d"), ("#2462b9", "#f3f6fc"), ("#427ed0", "#000000"), ("#f4f9ff", "#636568")],
)
def test_ink_is_a_tint_of_its_fill_just_dark_or_light_enough(fill: str, expected: str) -> None:
    assert ink(fill, 5.5) == expected


def test_ink_falls_back_to_the_better_of_black_and_white() -> None:
    assert ink("#808080", 7.05) == BLACK
    assert ink("#707070", 7.05) == WHITE


def test_every_fill_takes_a_mark_of_at_least_4_58_to_1() -> None:
    assert min(contrast(fill, plain_ink(fill)) for fill in CUBE) >= 21**0.5 - 1e-9
    assert min(contrast(fill, ink(fill, 5.5)) for fill in CUBE) >= 21**0.5 - 1e-9


def test_ink_reaches_what_was_asked_wherever_black_or_white_does() -> None:
    reachable = [fill for fill in CUBE if contrast(fill, plain_ink(fill)) >= 5.5]
    assert all(contrast(fill, ink(fill, 5.5)) >= 5.5 for fill in reachable)


def test_a_ramp_of_as_many_levels_as_fills_is_the_fills() -> None:
    assert ramp(DUSK_MOOD, 5) == DUSK_MOOD
    assert ramp(DUSK_SLEEP, 8) == DUSK_SLEEP
    assert ramp(LAMPS_MOOD, 5, dark=2) == LAMPS_MOOD


def test_fewer_levels_spread_over_the_whole_ramp() -> None:
    assert ramp(DUSK_MOOD, 3) == ["#7f5187", "#ec88a2", "#ffea8c"]
    assert ramp(DUSK_SLEEP, 4) == ["#2462b9", "#659de5", "#a6cefd", "#f4f9ff"]


def test_a_ramp_with_a_gap_is_stretched_on_either_side_of_it() -> None:
    low, high = ["#4c2850", "#673366", "#843e7d"], ["#e46f9e", "#f69895", "#ffc38c", "#fff081"]
    assert ramp(LAMPS_MOOD, 7, dark=2) == low + high


def test_a_run_of_one_level_takes_its_far_end() -> None:
    assert ramp(LAMPS_MOOD, 3, dark=2) == ["#4c2850", "#e46f9e", "#fff081"]
    assert ramp(LAMPS_MOOD, 2, dark=4) == ["#4c2850", "#fff081"]


@pytest.mark.parametrize("levels", range(3, 11))
def test_every_ramp_grows_lighter_level_by_level(levels: int) -> None:
    for fills in (DUSK_MOOD, DUSK_SLEEP):
        lightness = [luminance(fill) for fill in ramp(fills, levels)]
        assert all(below < above for below, above in pairwise(lightness))
