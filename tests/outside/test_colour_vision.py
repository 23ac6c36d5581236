"""Colour vision and colour distance against outside values.

Checked against: the matrices printed by Machado, Oliveira and Fernandes 2009 (IEEE Trans. Vis. Comput.
Graph. 15, 1291-1298), severity 1.0; the package colorspacious 1.1.2, asked here; Oklab as published by
Ottosson 2020; CAM02-UCS of Luo, Cui and Li 2006 through colorspacious. That the shipped themes keep what
was asked of them is judged by CAM02-UCS, which the program does not use.
"""

from collections.abc import Iterable
from itertools import combinations, pairwise, product
from math import dist

import colorspacious  # type: ignore[import-untyped]
import pytest

from tracker.diary.scales import GRIDS
from tracker.grids.colour import DEFICIENCIES, VISIONS, channels, linear, oklab, times
from tracker.grids.themes import Theme, colour_of_number, load_theme, theme_files

ANOMALY = {"protan": "protanomaly", "deutan": "deuteranomaly", "tritan": "tritanomaly"}
COLOURS = ["#7f5187", "#ffea8c", "#2462b9", "#f4f9ff", "#ff0000", "#00ff00", "#0000ff", "#14121a"]


def outside(colour: str, vision: str) -> list[float]:
    space = {"name": "sRGB1-linear"}
    simulated = {"name": "sRGB1+CVD", "cvd_type": ANOMALY[vision], "severity": 100}
    through = colorspacious.cspace_convert(channels(colour), simulated, "sRGB1")
    return [min(max(value, 0.0), 1.0) for value in colorspacious.cspace_convert(through, "sRGB1", space)]


@pytest.mark.parametrize("vision", DEFICIENCIES)
@pytest.mark.parametrize("colour", COLOURS)
def test_a_deficiency_is_simulated_as_colorspacious_does(colour: str, vision: str) -> None:
    assert linear(colour, vision) == pytest.approx(outside(colour, vision), abs=1e-5)


@pytest.mark.parametrize("vision", DEFICIENCIES)
def test_greys_stay_grey_without_a_kind_of_cone(vision: str) -> None:
    """The rows of each matrix sum to one (Machado et al. 2009)."""
    assert times(DEFICIENCIES[vision], (0.5, 0.5, 0.5)) == pytest.approx((0.5, 0.5, 0.5), abs=1e-6)


# Ottosson 2020, "A perceptual color space for image processing": sRGB red, green and blue in Oklab,
# three decimals as commonly tabled (CSS Color Module Level 4 prints the same)
OKLAB = {
    "#ff0000": (0.628, 0.225, 0.126),
    "#00ff00": (0.866, -0.234, 0.179),
    "#0000ff": (0.452, -0.032, -0.312),
    "#ffffff": (1.000, 0.000, 0.000),
}


@pytest.mark.parametrize(("colour", "expected"), OKLAB.items())
def test_oklab_has_the_published_values_of_the_primaries(
    colour: str, expected: tuple[float, float, float]
) -> None:
    assert oklab(colour) == pytest.approx(expected, abs=6e-4)


# CAM02-UCS (Luo, Cui and Li 2006) as colorspacious 1.1.2 computes it judges the shipped themes; the
# program itself uses Oklab.
THEMES = [load_theme(id) for id in sorted(theme_files())]


def uniform(colour: str, vision: str) -> tuple[float, float, float]:
    """Lightness J' and the two opponent axes of CAM02-UCS, as an eye of the given vision sees them."""
    lightness, a, b = colorspacious.cspace_convert(linear(colour, vision), "sRGB1-linear", "CAM02-UCS")
    return float(lightness), float(a), float(b)


def smallest(pairs: Iterable[tuple[str, str]]) -> float:
    """The smallest distance of any pair to any eye."""
    return min(dist(uniform(one, eye), uniform(two, eye)) for one, two in pairs for eye in VISIONS)


# colour: J', a', b' in normal vision, colorspacious 1.1.2
UNIFORM = {
    "#7f5187": (44.584, 15.215, -13.284),
    "#ffea8c": (93.973, -1.582, 21.579),
    "#2462b9": (43.032, -8.616, -28.259),
    "#f4f9ff": (98.006, -3.043, -4.484),
}


@pytest.mark.parametrize(("colour", "expected"), UNIFORM.items())
def test_the_judge_itself_gives_what_it_gave(colour: str, expected: tuple[float, float, float]) -> None:
    assert uniform(colour, "normal") == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.id)
class TestShippedThemes:
    """What was asked of the colours, in normal vision and without red, green or blue cones."""

    def test_any_two_mood_levels_are_twelve_apart(self, theme: Theme) -> None:
        assert smallest(combinations(theme.mood, 2)) >= 12

    def test_any_two_sleep_buckets_are_seven_and_a_half_apart(self, theme: Theme) -> None:
        assert smallest(combinations(theme.sleep, 2)) >= 7.5

    def test_no_mood_level_is_nearer_than_eight_to_a_sleep_bucket(self, theme: Theme) -> None:
        assert smallest(product(theme.mood, theme.sleep)) >= 8

    def test_every_level_stands_out_from_the_ground(self, theme: Theme) -> None:
        assert smallest((fill, theme.ui.ground) for fill in (*theme.mood, *theme.sleep)) >= 9

    def test_every_level_stands_out_from_a_waiting_square(self, theme: Theme) -> None:
        apart = smallest((fill, theme.ui.waiting) for fill in (*theme.mood, *theme.sleep))
        assert apart >= (30 if theme.dark else 9)

    def test_a_waiting_square_stands_out_from_the_ground(self, theme: Theme) -> None:
        assert smallest([(theme.ui.waiting, theme.ui.ground)]) >= 7

    def test_the_focus_stands_out_from_every_level(self, theme: Theme) -> None:
        assert smallest((fill, theme.ui.focus) for fill in (*theme.mood, *theme.sleep)) >= 9

    @pytest.mark.parametrize("vision", VISIONS)
    def test_lightness_rises_with_every_level(self, theme: Theme, vision: str) -> None:
        for grid in GRIDS:
            lightness = [uniform(fill, vision)[0] for fill in theme.anchors(grid)]
            assert all(low < high for low, high in pairwise(lightness))

    def test_levels_stay_apart_in_256_colours(self, theme: Theme) -> None:
        mood, sleep = ([colour_of_number(number) for number in theme.numbers(grid)] for grid in GRIDS)
        found = [smallest(combinations(mood, 2)), smallest(combinations(sleep, 2))]
        assert all(apart >= asked for apart, asked in zip(found, [8.5, 5], strict=True))
        assert smallest(product(mood, sleep)) >= 4.9
