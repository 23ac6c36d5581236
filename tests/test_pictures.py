"""The pictures of the screens that a person looks at before a release."""

import argparse

import pytest
from rich.segment import Segment
from rich.style import Style

from tests.pictures import png
from tests.pictures.__main__ import KEYS, SIZES, piece_of, themes, wanted
from tests.pictures.svg import Piece, svg_of
from tracker.grids.themes import load_theme

ALL = argparse.Namespace(readme=False, theme=None, screen=None, size=None)


def test_every_screen_is_drawn_in_every_theme_at_every_size() -> None:
    found = [(picture.theme, picture.screen, picture.size) for picture in wanted(ALL)]
    assert set(found) == {(theme, screen, size) for theme in themes() for screen in KEYS for size in SIZES}
    assert len(found) == len(set(found))


@pytest.mark.parametrize("style", [None, Style(color="default", bgcolor="default")])
def test_a_terminals_own_colours_are_drawn_as_those_of_the_theme(style: Style | None) -> None:
    theme = load_theme("wenfold-dusk")
    assert piece_of(Segment("a", style), theme) == Piece("a", theme.ui.text, theme.ui.ground)


def test_a_font_that_is_none_of_the_usual_ones_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("resvg_py")
    drawn_by = png.font()
    monkeypatch.setattr(png, "USUAL", ("No Such Mono",))
    monkeypatch.setattr(png, "listed_fonts", lambda: ["Nor This Mono", drawn_by])
    png.font.cache_clear()
    assert png.font() == drawn_by
    png.font.cache_clear()


def test_a_letter_stands_in_its_cell_and_a_block_fills_its_part_of_one() -> None:
    svg = svg_of([[Piece("a▄", "#ffffff", "#000000", bold=True)]], 2, "#000000")
    assert '<text x="0" y="15" fill="#ffffff" font-weight="bold">a</text>' in svg
    assert '<rect x="9" y="10" width="9" height="10" fill="#ffffff"' in svg
    assert "▄" not in svg


def test_where_no_font_draws_a_letter_the_tool_ends_with_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("resvg_py")
    monkeypatch.setattr(png, "draws_letters", lambda family: False)
    png.font.cache_clear()
    with pytest.raises(SystemExit) as ended:
        png.png_of("<svg/>")
    assert ended.value.code == png.NO_FONT


def test_the_font_that_is_taken_draws_letters() -> None:
    pytest.importorskip("resvg_py")
    png.font.cache_clear()
    assert png.draws_letters(png.font())
