"""Whether the colours of a theme can be told apart and read, by every eye.

A theme that would mislead is refused; one that is merely hard on some eyes is used, and says so.
Distances are 100 times those in Oklab.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations, pairwise, product
from pathlib import Path

from tracker.diary.scales import GRIDS, Grid
from tracker.grids.colour import NORMAL, VISIONS, contrast, distance, ink, luminance, oklab, ramp
from tracker.grids.themes import (
    DEFAULT_THEME,
    BrokenTheme,
    Theme,
    colour_of_number,
    is_own,
    load_theme,
    theme_files,
    unknown_names,
)

SAME = 2.0
"""Two levels nearer than this look the same to everybody."""
APART: Mapping[Grid, float] = {"mood": 9.0, "sleep": 5.5}
ACROSS = 4.5
"""Between a level of one grid and a level of the other."""
FROM_GROUND = 4.0
FROM_FOCUS = 5.0
TEXT, ENHANCED, NOT_TEXT = 4.5, 7.0, 3.0
"""Contrasts of WCAG 2.2: success criteria 1.4.3, 1.4.6 and 1.4.11."""

_EYES = {
    NORMAL: "",
    "protan": " without red cones",
    "deutan": " without green cones",
    "tritan": " without blue cones",
}
Labels = Mapping[Grid, Sequence[str]]
"""The words of the levels in use, lowest first."""


def labels_of(mood: int, sleep: int) -> Labels:
    """Numbers in place of words, for so many levels."""
    return {
        "mood": [f"level {rank}" for rank in range(1, mood + 1)],
        "sleep": [f"bucket {rank}" for rank in range(1, sleep + 1)],
    }


USUAL = labels_of(mood=5, sleep=8)


def refuse_misleading(theme: Theme, labels: Labels = USUAL) -> None:
    """Raises BrokenTheme if levels are out of order or alike to every eye, or text cannot be read."""
    for grid in GRIDS:
        shades = ramp(theme.anchors(grid), len(labels[grid]), theme.dark_run(grid))
        for fault in _misleading(theme, grid, shades, labels):
            raise BrokenTheme(f"theme {theme.id}.toml: {fault}")
    found = contrast(theme.ui.text, theme.ui.ground)
    if found < NOT_TEXT:
        raise BrokenTheme(
            f"theme {theme.id}.toml: text on the ground cannot be read ({found:.1f}:1, wanted 3:1)."
        )


def _misleading(theme: Theme, grid: Grid, shades: Sequence[str], labels: Labels) -> Iterator[str]:
    named = list(zip(labels[grid], shades, strict=True))
    for (low, dark), (high, light) in pairwise(named):
        if oklab(light)[0] <= oklab(dark)[0]:
            yield f"{grid} {high} is not lighter than {low}."
    for (one, shade), (other, second) in combinations(named, 2):
        if (apart := distance(shade, second)) < SAME:
            yield f"{grid} {one} and {other} look the same ({apart:.1f}, wanted {SAME:.1f})."


def warnings(theme: Theme, labels: Labels = USUAL) -> list[str]:
    """One sentence for each thing in a theme that some eyes will find hard, with figure and limit."""
    shades = {
        grid: list(
            zip(labels[grid], ramp(theme.anchors(grid), len(labels[grid]), theme.dark_run(grid)), strict=True)
        )
        for grid in GRIDS
    }
    found = [
        *_order(shades),
        *_distances(shades),
        *_across(shades),
        *_marks(theme, shades),
        *_grounds(theme, shades),
        *_texts(theme),
        *_numbers(theme),
    ]
    return [f"theme {theme.id}.toml: {sentence}" for sentence in found]


Shades = Mapping[Grid, Sequence[tuple[str, str]]]


def _order(shades: Shades) -> Iterator[str]:
    for grid, vision in product(GRIDS, VISIONS[1:]):
        for (low, dark), (high, light) in pairwise(shades[grid]):
            if oklab(light, vision)[0] <= oklab(dark, vision)[0]:
                yield f"{grid} {high} is not lighter than {low}{_EYES[vision]}."


def _distances(shades: Shades) -> Iterator[str]:
    for grid in GRIDS:
        for (one, shade), (other, second) in combinations(shades[grid], 2):
            yield from _near(f"{grid} {one} and {other}", shade, second, APART[grid])


def _across(shades: Shades) -> Iterator[str]:
    for (mood, shade), (sleep, second) in product(shades["mood"], shades["sleep"]):
        yield from _near(f"mood {mood} and sleep {sleep}", shade, second, ACROSS)


def _near(names: str, one: str, other: str, wanted: float) -> Iterator[str]:
    """A sentence for the eye that finds two colours hardest to tell apart, if they are too near."""
    apart, vision = min((distance(one, other, vision), vision) for vision in VISIONS)
    if apart < wanted:
        yield f"{names} are hard to tell apart{_EYES[vision]} ({apart:.1f}, wanted {wanted:.1f})."


def _marks(theme: Theme, shades: Shades) -> Iterator[str]:
    for grid in GRIDS:
        for label, shade in shades[grid]:
            yield from _faint(f"the mark of {grid} {label}", ink(shade, theme.need), shade, TEXT)


def _grounds(theme: Theme, shades: Shades) -> Iterator[str]:
    for grid in GRIDS:
        for label, shade in shades[grid]:
            yield from _near(f"{grid} {label} and the ground", shade, theme.ui.ground, FROM_GROUND)
            yield from _near(f"{grid} {label} and the focus", shade, theme.ui.focus, FROM_FOCUS)
            yield from _near(f"{grid} {label} and what waits", shade, theme.ui.waiting, FROM_GROUND)


def _texts(theme: Theme) -> Iterator[str]:
    ui, limit = theme.ui, ENHANCED if theme.need >= ENHANCED else TEXT
    texts = {"text": ui.text, "quiet": ui.quiet, "accent": ui.accent, "warning": ui.warning}
    for (name, colour), (place, behind) in product(
        texts.items(), [("ground", ui.ground), ("panel", ui.panel)]
    ):
        yield from _faint(f"{name} on the {place}", colour, behind, limit)
    yield from _faint("focus on the ground", ui.focus, ui.ground, NOT_TEXT)
    yield from _faint("faint on the ground", ui.faint, ui.ground, NOT_TEXT)
    yield from _faint("focus_ink on focus", ui.focus_ink, ui.focus, TEXT)
    yield from _faint("quiet on what waits", ui.quiet, ui.waiting, NOT_TEXT)


def _faint(names: str, colour: str, behind: str, wanted: float) -> Iterator[str]:
    found = contrast(colour, behind)
    if found < wanted:
        yield f"{names} is hard to read ({found:.1f}:1, wanted {wanted:g}:1)."


def _numbers(theme: Theme) -> Iterator[str]:
    for grid in GRIDS:
        numbers = theme.numbers(grid)
        if len(set(numbers)) < len(numbers):
            yield f"two colours of {grid} are the same among 256, so {grid} has no fills there."
        elif not _rises(luminance(colour_of_number(number)) for number in numbers):
            yield f"the colours of {grid} do not grow lighter among 256."


def _rises(values: Iterable[float]) -> bool:
    return all(low < high for low, high in pairwise(values))


def usable_theme(id: str, own: Path | None = None, labels: Labels = USUAL) -> tuple[Theme, list[str]]:
    """The theme with an id, or the default one where its file cannot serve, and what to say about it.

    Parameters
    ----------
    id
        Name of the theme's file without its ending.
    own
        Folder of a person's own themes; only these are checked here, the shipped ones are by our tests.
    labels
        The words of the levels in use.
    """
    try:
        theme = load_theme(id, own)
        if not is_own(id, own):
            return theme, []
        refuse_misleading(theme, labels)
    except BrokenTheme as refused:
        return load_theme(DEFAULT_THEME), [f"{refused} {DEFAULT_THEME} is used instead."]
    unknown = unknown_names(theme_files(own)[id].read_text(encoding="utf-8"))
    strange = [f"theme {id}.toml: {name} stands for nothing and is left aside." for name in unknown]
    return theme, [*strange, *warnings(theme, labels)]
