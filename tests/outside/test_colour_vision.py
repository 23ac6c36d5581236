"""Colour vision and colour distance against outside values.

Checked against: the matrices printed by Machado, Oliveira and Fernandes 2009 (IEEE Trans. Vis. Comput.
Graph. 15, 1291-1298), severity 1.0; the package colorspacious 1.1.2, asked here; Oklab as published by
Ottosson 2020 (his table of four colours).
"""

import colorspacious  # type: ignore[import-untyped]
import pytest

from tracker.grids.colour import DEFICIENCIES, channels, linear, oklab, seen, times

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
    assert seen("#808080", vision) == "#808080"


# colour: luminance is in test_contrast; protan, deutan, tritan computed with colorspacious 1.1.2
SEEN = {
    "#7f5187": ["#4a5e89", "#566485", "#805766"],
    "#ffea8c": ["#fbe684", "#ffed90", "#ffddd3"],
    "#2462b9": ["#326bbc", "#035db7", "#007784"],
    "#f4f9ff": ["#f7f9ff", "#f6f8ff", "#f2fafb"],
}


@pytest.mark.parametrize(("colour", "expected"), SEEN.items())
def test_colours_of_the_squares_look_as_simulated(colour: str, expected: list[str]) -> None:
    assert [seen(colour, vision) for vision in DEFICIENCIES] == expected


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
