"""Which palette a terminal and a person's settings make, and the colours that Textual takes from it."""

from __future__ import annotations

import os
import sys
from dataclasses import replace

from textual.theme import BUILTIN_THEMES
from textual.theme import Theme as TextualTheme

from tracker.diary.scales import GRIDS, Scales
from tracker.diary.settings import Settings
from tracker.grids.palette import Palette, usable_marks
from tracker.grids.themes import (
    DEFAULT_THEME,
    BrokenTheme,
    Colours,
    Theme,
    is_own,
    load_theme,
    own_themes,
    ui_colours,
)

OWN_COLOURS = ("quiet", "faint", "focus", "focus-ink", "waiting")
"""Names of ours in the style sheets, beside those that Textual has."""


def chosen_theme(name: str, scales: Scales) -> tuple[Theme, list[str]]:
    """The theme that is set, or the default where it cannot serve, and what there is to say about it.

    The shipped themes are checked by our tests; one of her own each time it is put on.
    """
    folder = own_themes()
    if not is_own(name, folder):
        try:
            return load_theme(name), []
        except BrokenTheme as error:
            return load_theme(DEFAULT_THEME), [f"{error} {DEFAULT_THEME} is used instead."]
    from tracker.grids.theme_checks import usable_theme

    labels = {grid: [level.label for level in scales.newest(grid).levels] for grid in GRIDS}
    return usable_theme(name, folder, labels)


def palette_for(settings: Settings, theme: Theme, colours: Colours) -> Palette:
    """A theme made ready for this terminal."""
    # While the app runs, sys.stdout is Textual's own; the terminal's encoding is that of the real one.
    encoding = getattr(sys.__stdout__, "encoding", None) or "ascii"
    marks = usable_marks(settings.marks, encoding, os.environ.get("TERM", ""))
    return Palette(theme, colours, marks, settings.fills)


def textual_theme(palette: Palette) -> TextualTheme:
    """The colours of inputs, lists and scroll bars; the terminal's own where it has few."""
    ui, name = palette.theme.ui, f"{palette.theme.id}-{palette.colours}"
    named = ui_colours(palette.theme, palette.colours)
    own = {name: named[name.replace("-", "_")] or "ansi_default" for name in OWN_COLOURS}
    if palette.colours in ("standard", "windows", "none"):
        ansi = BUILTIN_THEMES["ansi-dark" if palette.theme.dark else "ansi-light"]
        return replace(ansi, name=name, variables=ansi.variables | own)
    return TextualTheme(
        name, dark=palette.theme.dark, primary=ui.accent, secondary=ui.accent, accent=ui.accent,
        warning=ui.warning, error=ui.warning, success=ui.accent, foreground=ui.text,
        background=ui.ground, surface=ui.panel, panel=ui.panel, boost=ui.panel,
        variables=own,
    )  # fmt: skip
