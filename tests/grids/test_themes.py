"""Themes: what a file must hold, and what becomes of it in terminals with fewer colours."""

from itertools import pairwise
from pathlib import Path

import pytest
from rich.color import Color, ColorSystem

from tracker.diary.scales import GRIDS, Grid
from tracker.grids.colour import contrast
from tracker.grids.theme_checks import labels_of, refuse_misleading, usable_theme, warnings
from tracker.grids.themes import (
    DEFAULT_THEME,
    NO_FILL,
    BrokenTheme,
    Colours,
    ansi,
    colour_of_number,
    cube_number,
    fills,
    load_theme,
    read_theme,
    theme_files,
    ui_colours,
    unknown_names,
    usual_waiting,
)

SHIPPED = ["cawbrook-lamps", "harrowmere-timetable", "selderby-morning", "wenfold-dusk"]
DUSK = theme_files()[DEFAULT_THEME].read_text(encoding="utf-8")


def changed(old: str, new: str) -> str:
    assert old in DUSK
    return DUSK.replace(old, new)


def test_four_themes_come_with_the_program() -> None:
    assert sorted(theme_files()) == SHIPPED
    assert [load_theme(id).name for id in SHIPPED] == [
        "Cawbrook, lamps",
        "Harrowmere, timetable",
        "Selderby, morning",
        "Wenfold, dusk",
    ]


@pytest.mark.parametrize("id", SHIPPED)
@pytest.mark.parametrize(("mood", "sleep"), [(5, 8), (3, 4), (4, 6)])
def test_a_shipped_theme_is_never_refused_and_gives_no_warning(id: str, mood: int, sleep: int) -> None:
    theme, labels = load_theme(id), labels_of(mood, sleep)
    refuse_misleading(theme, labels)
    assert warnings(theme, labels) == []


@pytest.mark.parametrize("id", SHIPPED)
@pytest.mark.parametrize("colours", ["truecolor", "256"])
@pytest.mark.parametrize("grid", GRIDS)
def test_every_level_has_a_fill_and_an_ink_that_can_be_read(id: str, colours: Colours, grid: Grid) -> None:
    for levels in range(4, 8):
        for fill in fills(load_theme(id), grid, levels, colours):
            assert fill.ground
            assert fill.ink
            assert contrast(fill.ground, fill.ink) >= 4.58


@pytest.mark.parametrize("id", SHIPPED)
@pytest.mark.parametrize("grid", GRIDS)
def test_the_usual_levels_all_look_different_in_256_colours(id: str, grid: Grid) -> None:
    theme = load_theme(id)
    shown = fills(theme, grid, len(theme.anchors(grid)), "256")
    assert len(set(shown)) == len(shown)


@pytest.mark.parametrize("system", ["standard", "windows"])
def test_the_usual_levels_all_look_different_in_16_colours(system: Colours) -> None:
    theme = load_theme(DEFAULT_THEME)
    for grid, levels in (("mood", 5), ("sleep", 8)):
        shown = fills(theme, grid, levels, system)
        assert len(set(shown)) == levels


def test_in_16_colours_the_outer_of_two_like_levels_fills_its_square() -> None:
    shown = fills(load_theme(DEFAULT_THEME), "mood", 5, "standard")
    magenta, grey, yellow = (ansi(number, "standard") for number in (5, 7, 11))
    assert [(fill.ground, fill.whole) for fill in shown] == [
        (magenta, True),
        (magenta, False),
        (grey, True),
        (yellow, False),
        (yellow, True),
    ]


@pytest.mark.parametrize("colours", ["standard", "windows"])
def test_a_sixteen_colour_terminal_gets_the_number_that_was_meant(colours: Colours) -> None:
    system = ColorSystem[colours.upper()]
    for number in (0, 2, 4, 5, 6, 7, 10, 11, 14, 15):
        emitted = Color.parse(ansi(number, colours))
        assert emitted.downgrade(system).number == number


@pytest.mark.parametrize("id", SHIPPED)
@pytest.mark.parametrize("grid", GRIDS)
def test_a_256_colour_terminal_gets_the_number_that_was_meant(id: str, grid: Grid) -> None:
    for number in load_theme(id).numbers(grid):
        emitted = Color.parse(colour_of_number(number))
        assert emitted.downgrade(ColorSystem.EIGHT_BIT).number == number


def test_numbers_and_colours_of_the_cube_go_there_and_back() -> None:
    assert [cube_number(colour_of_number(number)) for number in range(16, 232)] == list(range(16, 232))
    assert [colour_of_number(number) for number in (16, 231, 232, 255)] == [
        "#000000",
        "#ffffff",
        "#080808",
        "#eeeeee",
    ]


def test_without_colour_no_level_has_a_fill_and_nothing_has_a_colour() -> None:
    theme = load_theme(DEFAULT_THEME)
    assert fills(theme, "mood", 5, "none") == (NO_FILL,) * 5
    assert set(ui_colours(theme, "none").values()) == {None}


def test_the_panel_is_the_ground_in_256_colours() -> None:
    shown = ui_colours(load_theme(DEFAULT_THEME), "256")
    assert shown["panel"] == shown["ground"] == "#14121a"


def test_a_theme_without_numbers_takes_the_nearest_of_the_cube() -> None:
    theme = read_theme(DUSK[: DUSK.index("# Numbers")], "night")
    assert theme.numbers("mood") == (97, 133, 174, 216, 222)


def test_a_ramp_whose_colours_fall_together_has_no_fills_in_256_colours() -> None:
    blues = '"#202060", "#242468", "#282870", "#2c2c78", "#303080", "#343488", "#383890", "#3c3c98"'
    sleep = next(line for line in DUSK.splitlines() if line.startswith("sleep = "))
    text = DUSK[: DUSK.index("# Numbers")].replace(sleep, f"sleep = [{blues}]")
    theme = read_theme(text, "night")
    assert fills(theme, "sleep", 8, "256") == (NO_FILL,) * 8
    told = "theme night.toml: two colours of sleep are the same among 256, so sleep has no fills there."
    assert told in warnings(theme)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("dark = true", "dark = 1", "dark is 1; it takes true or false."),
        ("need = 5.5", "need = 50", "need is 50; it takes a contrast from 1 to 21."),
        ('"#89409f"', '"plum"', "mood is 'plum'; it takes a colour like #7f5187."),
        ('"#89409f", "#c1549d", "#e67b91",', "", "mood is '2 colours'; it takes 3 to 7 colours."),
        ('faint = "#756d85"\n', "", "ui.faint is missing; it takes a colour like #7f5187."),
        ("[ui]", "[colours]", "ui is missing; it takes a section [ui]."),
        ("[96, 133,", "[6, 133,", "xterm256.mood is 6; it takes numbers from 16 to 255."),
        (
            "216, 228]",
            "216]",
            "xterm256.mood is [96, 133, 211, 216]; it takes 5 numbers, one a colour of mood.",
        ),
        ("dark = true", "dark = true\nmood_dark = 5", "mood_dark is 5; it takes a number from 0 to 4."),
    ],
)
def test_a_wrong_value_is_refused_by_file_name_and_value(old: str, new: str, sentence: str) -> None:
    with pytest.raises(BrokenTheme) as refused:
        read_theme(changed(old, new), "night")
    assert str(refused.value) == f"theme night.toml: {sentence}"


def test_a_file_that_is_not_toml_is_refused_with_its_line() -> None:
    with pytest.raises(BrokenTheme, match=r"^theme night\.toml: this is not TOML: .*line 2"):
        read_theme("name = 'night'\ndark =\n", "night")


def test_a_theme_that_does_not_exist_is_refused_with_the_names_of_those_that_do() -> None:
    with pytest.raises(BrokenTheme) as refused:
        load_theme("fog")
    assert str(refused.value) == f"There is no theme 'fog'; there are: {', '.join(SHIPPED)}."


def test_levels_out_of_order_are_refused() -> None:
    theme = read_theme(changed('"#89409f", "#c1549d"', '"#c1549d", "#89409f"'), "night")
    with pytest.raises(BrokenTheme, match=r"^theme night\.toml: mood level 2 is not lighter than level 1\.$"):
        refuse_misleading(theme)


def test_levels_that_nobody_can_tell_apart_are_refused() -> None:
    theme = read_theme(changed('"#89409f", "#c1549d"', '"#bf529b", "#c1549d"'), "night")
    with pytest.raises(BrokenTheme, match=r"level 1 and level 2 look the same \(0\.6, wanted 2\.0\)"):
        refuse_misleading(theme)


@pytest.mark.parametrize(("text", "contrast"), [("#403a48", r"1\.7"), ("#606068", r"3\.0")])
def test_text_that_cannot_be_read_is_refused(text: str, contrast: str) -> None:
    theme = read_theme(changed('text = "#ece7f1"', f'text = "{text}"'), "night")
    with pytest.raises(BrokenTheme, match=rf"text on the ground cannot be read \({contrast}:1, wanted 3:1\)"):
        refuse_misleading(theme)


def test_a_careless_theme_is_told_which_levels_which_eyes_and_by_how_much() -> None:
    careless = changed(
        '["#89409f", "#c1549d", "#e67b91", "#faab8b", "#fce086"]',
        '["#b02020", "#2f8f2f", "#e08a20", "#f0e040", "#eaf2fa"]',
    )
    night = "theme night.toml: mood"
    assert warnings(read_theme(careless, "night")) == [
        f"{night} level 1 and level 2 are hard to tell apart without green cones (7.0, wanted 9.0).",
        f"{night} level 2 and level 3 are hard to tell apart without red cones (5.9, wanted 9.0).",
        f"{night} level 5 and sleep bucket 8 are hard to tell apart without red cones (1.2, wanted 4.5).",
    ]


def test_levels_out_of_order_to_some_eyes_are_told() -> None:
    text = changed('"#89409f", "#c1549d"', '"#4646c4", "#c83c32"')
    told = [sentence for sentence in warnings(read_theme(text, "night")) if "not lighter" in sentence]
    assert told == ["theme night.toml: mood level 2 is not lighter than level 1 without red cones."]


def test_marks_that_are_asked_for_too_faintly_are_told() -> None:
    told = warnings(read_theme(changed("need = 5.5", "need = 3"), "night"))
    assert "theme night.toml: the mark of mood level 1 is hard to read (3.0:1, wanted 4.5:1)." in told
    assert len(told) == 13


def test_the_text_of_a_high_contrast_theme_must_reach_seven_to_one() -> None:
    told = warnings(read_theme(changed("need = 5.5", "need = 7.05"), "night"))
    assert told == ["theme night.toml: quiet on the panel is hard to read (6.3:1, wanted 7:1)."]


BEFORE = DUSK.replace('waiting = "#26242d" # behind a square that waits\n', "")


def test_a_theme_that_names_no_colour_for_what_waits_gets_a_little_of_its_text_in_its_ground() -> None:
    assert "waiting" not in BEFORE
    dusk = read_theme(BEFORE, "night")
    assert (dusk.ui.waiting, warnings(dusk)) == ("#27252e", [])
    assert usual_waiting("#f7f8f6", "#1d2524", dark=False) == "#d0d2d0"
    assert usual_waiting("#000000", "#404040", dark=True) == "#1f1f1f"


def test_a_theme_of_before_with_a_gap_in_its_ramps_still_loads() -> None:
    gap = "dark = true\nmood_dark = 2\nsleep_dark = 3"
    old = read_theme(BEFORE.replace("dark = true", gap), "night")
    assert (old.dark_run("mood"), old.dark_run("sleep")) == (2, 3)
    refuse_misleading(old)


def test_what_waits_is_a_grey_among_256_colours() -> None:
    greys = [ui_colours(load_theme(id), "256")["waiting"] for id in SHIPPED]
    assert greys == [colour_of_number(number) for number in (234, 252, 252, 235)]


def test_numbers_whose_colours_do_not_grow_lighter_are_told() -> None:
    told = warnings(read_theme(changed("[96, 133, 211", "[133, 96, 211"), "night"))
    assert told == ["theme night.toml: the colours of mood do not grow lighter among 256."]


def test_names_that_stand_for_nothing_are_told() -> None:
    text = changed("dark = true", "dark = true\nbright = 3").replace("[ui]", '[ui]\nsky = "#ffffff"')
    assert unknown_names(text) == ["bright", "ui.sky"]


def test_an_own_theme_stands_beside_the_shipped_ones_and_is_checked(tmp_path: Path) -> None:
    (tmp_path / "night.toml").write_text(changed('quiet = "#a69db3"', 'quiet = "#60586c"'))
    theme, told = usable_theme("night", tmp_path)
    assert theme.id == "night"
    assert told == [
        "theme night.toml: quiet on the ground is hard to read (2.7:1, wanted 4.5:1).",
        "theme night.toml: quiet on the panel is hard to read (2.4:1, wanted 4.5:1).",
        "theme night.toml: quiet on what waits is hard to read (2.3:1, wanted 3:1).",
    ]


def test_levels_are_named_once_as_they_are_called_where_it_is_used(tmp_path: Path) -> None:
    (tmp_path / "night.toml").write_text(changed('focus = "#7cf0c4"', 'focus = "#ffe9a0"'))
    labels: dict[Grid, list[str]] = {
        "mood": ["bleak", "low", "even", "good", "glad"],
        "sleep": list("12345678"),
    }
    _, told = usable_theme("night", tmp_path, labels)
    assert [sentence.split(" (")[0] for sentence in told] == [
        "theme night.toml: mood glad and the focus are hard to tell apart without blue cones"
    ]


def test_where_an_own_theme_is_refused_the_default_one_is_used_and_the_reason_told(tmp_path: Path) -> None:
    (tmp_path / "night.toml").write_text(changed("dark = true", ""))
    theme, told = usable_theme("night", tmp_path)
    assert theme.id == DEFAULT_THEME
    assert told == [
        "theme night.toml: dark is missing; it takes true or false. wenfold-dusk is used instead."
    ]


def test_the_accent_and_focus_of_16_colours_follow_the_ground() -> None:
    dark, light = (ui_colours(load_theme(id), "standard") for id in ("wenfold-dusk", "selderby-morning"))
    assert (dark["focus"], light["focus"]) == (ansi(10, "standard"), ansi(2, "standard"))
    assert dark["ground"] is light["ground"] is None


def test_fills_of_every_number_of_levels_grow_lighter() -> None:
    for id in SHIPPED:
        for levels in range(3, 8):
            shades = [fill.ground or "" for fill in fills(load_theme(id), "mood", levels, "truecolor")]
            lightness = [contrast(shade, "#000000") for shade in shades]
            assert all(low < high for low, high in pairwise(lightness))
