"""Themes: the colours of the squares and of what stands round them, read from small TOML files.

A theme names fills for the levels of both grids, lowest first; inks are never stored but computed from
the fill. Terminals with fewer colours get fewer fills; the mark stays exact in all of them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal, NamedTuple, TypeVar

from tracker.diary.errors import TrackerError, UnknownValue
from tracker.diary.scales import FEWEST_AND_MOST, GRIDS, Grid
from tracker.grids.colour import channels, from_oklab, ink, luminance, mixed, oklab, plain_ink, ramp
from tracker.words import FOLDER_NAME

Colours = Literal["truecolor", "256", "standard", "windows", "none"]
"""How many colours a terminal has; ``standard`` and ``windows`` are sixteen, as their owner set them."""

DEFAULT_THEME = "wenfold-dusk"
Kind = TypeVar("Kind")
_HEX = re.compile(r"#[0-9a-fA-F]{6}")


class BrokenTheme(TrackerError):
    """A theme file that cannot be used."""


class NoSuchTheme(BrokenTheme, UnknownValue):
    """A theme by a name that none has."""


class Ui(NamedTuple):
    """Colours of everything that is not a square."""

    ground: str
    panel: str
    text: str
    quiet: str
    """Names, numbers and hints round the squares."""
    faint: str
    """Hatching of days that do not exist; never text."""
    accent: str
    warning: str
    focus: str
    focus_ink: str
    waiting: str
    """Behind a square that waits; made from ground and text where a file names none."""


class Theme(NamedTuple):
    """One theme as its file gives it."""

    id: str
    """Name of the file without its ending."""
    name: str
    dark: bool
    need: float
    """Contrast asked of a mark on its fill."""
    mood: tuple[str, ...]
    """Fills, lowest level first."""
    sleep: tuple[str, ...]
    ui: Ui
    mood_dark: int = 0
    """So many fills lie below a gap in which no ink could be read; 0: there is no gap."""
    sleep_dark: int = 0
    mood256: tuple[int, ...] = ()
    """Numbers of the fills among 256 colours; empty where the file names none."""
    sleep256: tuple[int, ...] = ()

    def anchors(self, grid: Grid) -> tuple[str, ...]:
        """The fills that the file names for a grid."""
        return self.mood if grid == "mood" else self.sleep

    def dark_run(self, grid: Grid) -> int:
        """How many of them lie below a gap."""
        return self.mood_dark if grid == "mood" else self.sleep_dark

    def numbers(self, grid: Grid) -> tuple[int, ...]:
        """Numbers among 256 colours: those of the file, or the nearest of the cube."""
        named = self.mood256 if grid == "mood" else self.sleep256
        return named or tuple(cube_number(fill) for fill in self.anchors(grid))


class Fill(NamedTuple):
    """What a level looks like on a square."""

    ground: str | None
    """Colour behind the mark; None: the terminal's own."""
    ink: str | None
    """Colour of the mark; None: the terminal's own."""
    whole: bool = True
    """Whether it fills the square by itself; of neighbours that share one of sixteen colours the inner ones
    have a texture."""


NO_FILL = Fill(None, None)
SIXTEEN = ("standard", "windows")
"""Colours that are too few for a ramp."""
LEAST_WAITING = 0.24
"""Lightness in Oklab under which a waiting square would look like a ground near black."""

_STEPS = (0, 95, 135, 175, 215, 255)

# Fills by number, lowest level first: blue, cyan and white; magenta, grey and yellow. Bright blue and
# bright magenta are left out: their order or contrast fails on one or another of the usual tables.
_SIXTEEN: Mapping[Grid, tuple[int, ...]] = {
    "mood": (5, 5, 7, 11, 11),
    "sleep": (4, 4, 6, 6, 14, 14, 15, 15),
}
_LIGHT_INK = (4, 5)
_TABLES: Mapping[str, Mapping[int, str]] = {
    "standard": {
        0: "#000000",
        2: "#00aa00",
        4: "#0000aa",
        5: "#aa00aa",
        6: "#00aaaa",
        7: "#aaaaaa",
        10: "#55ff55",
        11: "#ffff55",
        14: "#55ffff",
        15: "#ffffff",
    },
    "windows": {
        0: "#0c0c0c",
        2: "#13a10e",
        4: "#0037da",
        5: "#881798",
        6: "#3a96dd",
        7: "#cccccc",
        10: "#16c60c",
        11: "#f9f1a5",
        14: "#61d6d6",
        15: "#f2f2f2",
    },
}


@lru_cache(maxsize=128)
def fills(theme: Theme, grid: Grid, levels: int, colours: Colours) -> tuple[Fill, ...]:
    """The look of each of ``levels`` levels, lowest first, in a terminal with so many colours."""
    if colours == "none":
        return (NO_FILL,) * levels
    if colours == "truecolor":
        shades = ramp(theme.anchors(grid), levels, theme.dark_run(grid))
        return tuple(Fill(shade, ink(shade, theme.need)) for shade in shades)
    if colours == "256":
        return _fills_of_256(theme.numbers(grid), levels)
    return tuple(_fills_of_16(_SIXTEEN[grid], levels, colours))


def _fills_of_256(numbers: tuple[int, ...], levels: int) -> tuple[Fill, ...]:
    if len(set(numbers)) < len(numbers):
        return (NO_FILL,) * levels
    shades = [colour_of_number(numbers[at]) for at in nearest_places(len(numbers), levels)]
    return tuple(Fill(shade, plain_ink(shade)) for shade in shades)


def _fills_of_16(numbers: tuple[int, ...], levels: int, colours: Colours) -> Iterator[Fill]:
    taken = [numbers[at] for at in nearest_places(len(numbers), levels)]
    for level, number in enumerate(taken):
        alike = [at for at, other in enumerate(taken) if other == number]
        outer = alike[0] if alike[0] + alike[-1] < levels - 1 else alike[-1]
        ink_number = 15 if number in _LIGHT_INK else 0
        yield Fill(ansi(number, colours), ansi(ink_number, colours), whole=level == outer)


def nearest_places(anchors: int, levels: int) -> list[int]:
    """For each level the place of the nearest of so many fills, spread evenly."""
    return [int(level * (anchors - 1) / (levels - 1) + 0.5) for level in range(levels)]


def ansi(number: int, colours: Colours) -> str:
    """The colour that a sixteen-colour terminal turns back into this number."""
    return _TABLES[colours][number]


def colour_of_number(number: int) -> str:
    """The colour of a number of the 256-colour cube and its greys, 16 to 255."""
    if number >= 232:
        return "#" + f"{8 + 10 * (number - 232):02x}" * 3
    place = number - 16
    return "#" + "".join(f"{_STEPS[at]:02x}" for at in (place // 36, place // 6 % 6, place % 6))


def grey_number(colour: str) -> int:
    """The number, among 256, of the grey that is nearest in luminance."""
    return min(
        range(232, 256), key=lambda number: abs(luminance(colour_of_number(number)) - luminance(colour))
    )


def usual_waiting(ground: str, text: str, dark: bool) -> str:
    """The colour behind a waiting square for a theme that names none: a little of the text in the ground."""
    lightness, a, b = oklab(mixed(ground, text, 0.11 if dark else 0.16))
    return from_oklab((max(lightness, LEAST_WAITING), a, b))


def cube_number(colour: str) -> int:
    """The number of the nearest colour of the cube, channel by channel."""
    red, green, blue = (
        min(range(6), key=lambda step: abs(_STEPS[step] - 255 * value)) for value in channels(colour)
    )
    return 16 + 36 * red + 6 * green + blue


def ui_colours(theme: Theme, colours: Colours) -> Mapping[str, str | None]:
    """The colours round the squares; None stands for the terminal's own."""
    named = theme.ui._asdict()
    if colours == "truecolor":
        return named
    if colours == "256":
        waiting = colour_of_number(grey_number(theme.ui.waiting))
        return named | {"panel": theme.ui.ground, "waiting": waiting}
    own: dict[str, str | None] = dict.fromkeys(named)
    if colours == "none":
        return own
    bright, inverse = (10, 0) if theme.dark else (2, 15)
    own |= {"focus": ansi(bright, colours), "focus_ink": ansi(inverse, colours)}
    return own | {"accent": ansi(14 if theme.dark else 6, colours)}


def themes_folder() -> Path:
    """The folder of the themes that come with the program."""
    package = Path(__file__).parents[1]
    inside = package / "themes"
    return inside if inside.is_dir() else package.with_name("themes")  # a checkout


def own_themes() -> Path:
    """The folder in the platform's place for settings where a person puts themes of her own."""
    from platformdirs import user_config_path

    return user_config_path(FOLDER_NAME, appauthor=False) / "themes"


def theme_files(own: Path | None = None) -> dict[str, Path]:
    """Every theme by its id: those that come with the program, then a person's own folder.

    A file of her own takes the place of a shipped one with the same name.
    """
    folders: list[Path] = [themes_folder()]
    if own is not None and own.is_dir():
        folders.append(own)
    return {file.stem: file for folder in folders for file in sorted(folder.glob("*.toml"))}


def is_own(id: str, own: Path | None) -> bool:
    """Whether a theme comes from a person's own folder."""
    return own is not None and (own / f"{id}.toml").is_file()


def theme_names() -> list[tuple[str, str]]:
    """Id and name of every theme; of one that cannot be read, that it cannot."""
    folder = own_themes()
    return [(id, _shown_name(id, folder)) for id in theme_files(folder)]


def _shown_name(id: str, folder: Path) -> str:
    try:
        return load_theme(id, folder).name
    except BrokenTheme:
        return f"{id} (cannot be used)"


def load_theme(id: str, own: Path | None = None) -> Theme:
    """The theme with an id, from the person's own folder or the program's.

    Raises BrokenTheme if there is none, or its file cannot be used.
    """
    files = theme_files(own)
    if id not in files:
        raise NoSuchTheme(f"There is no theme '{id}'; there are: {', '.join(sorted(files))}.")
    try:
        text = files[id].read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as trouble:
        raise BrokenTheme(f"theme {id}.toml: the file cannot be read ({trouble}).") from None
    return read_theme(text, id)


def read_theme(text: str, id: str) -> Theme:
    """The theme that a file's text describes.

    Raises BrokenTheme and names the file, the name and the value that is wrong.
    """
    reader = _Reader(f"theme {id}.toml")
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise BrokenTheme(f"theme {id}.toml: this is not TOML: {trouble}.") from None
    return reader.theme(data, id)


def unknown_names(text: str) -> list[str]:
    """Names in a theme's file that stand for nothing."""
    data: dict[str, Any] = tomllib.loads(text)
    known = {"name", "dark", "need", "mood", "sleep", "mood_dark", "sleep_dark", "ui", "xterm256"}
    inner: dict[str, set[str]] = {"ui": set(Ui._fields), "xterm256": set(GRIDS)}
    found = [name for name in data if name not in known]
    for section, names in inner.items():
        found += [f"{section}.{name}" for name in data.get(section, {}) if name not in names]
    return found


class _Reader:
    """Reads values of a theme's file and says what is wrong with one."""

    def __init__(self, file: str) -> None:
        self.file = file

    def theme(self, data: Mapping[str, Any], id: str) -> Theme:
        ramps = {grid: self.ramp(data, grid) for grid in GRIDS}
        numbers = self.section(data, "xterm256") if "xterm256" in data else {}
        dark = self.value(data, "dark", bool, "true or false")
        return Theme(
            id=id,
            name=self.value(data, "name", str, "a text"),
            dark=dark,
            need=self.need(data),
            mood=ramps["mood"],
            sleep=ramps["sleep"],
            ui=self.ui(self.section(data, "ui"), dark),
            mood_dark=self.dark_run(data, "mood"),
            sleep_dark=self.dark_run(data, "sleep"),
            mood256=self.numbers(numbers, "mood", len(ramps["mood"])),
            sleep256=self.numbers(numbers, "sleep", len(ramps["sleep"])),
        )

    def ui(self, section: Mapping[str, Any], dark: bool) -> Ui:
        required = [name for name in Ui._fields if name != "waiting" or name in section]
        named = {name: self.colour(f"ui.{name}", section.get(name)) for name in required}
        return Ui(**({"waiting": usual_waiting(named["ground"], named["text"], dark)} | named))

    def value(self, data: Mapping[str, Any], name: str, kind: type[Kind], wanted: str) -> Kind:
        value = data.get(name)
        if not isinstance(value, kind):
            raise self.fault(name, value, wanted)
        return value

    def section(self, data: Mapping[str, Any], name: str) -> Mapping[str, Any]:
        section: Mapping[str, Any] = self.value(data, name, dict, f"a section [{name}]")
        return section

    def need(self, data: Mapping[str, Any]) -> float:
        value = data.get("need")
        if isinstance(value, bool) or not isinstance(value, int | float) or not 1 <= value <= 21:
            raise self.fault("need", value, "a contrast from 1 to 21")
        return float(value)

    def colour(self, name: str, value: object) -> str:
        if not isinstance(value, str) or not _HEX.fullmatch(value):
            raise self.fault(name, value, "a colour like #7f5187")
        return value.lower()

    def ramp(self, data: Mapping[str, Any], grid: Grid) -> tuple[str, ...]:
        fewest, most = FEWEST_AND_MOST[grid]
        listed: Sequence[object] = self.value(data, grid, list, "a list of colours")
        if not fewest <= len(listed) <= most:
            raise self.fault(grid, f"{len(listed)} colours", f"{fewest} to {most} colours")
        return tuple(self.colour(grid, value) for value in listed)

    def dark_run(self, data: Mapping[str, Any], grid: Grid) -> int:
        name = f"{grid}_dark"
        value, most = data.get(name, 0), len(data[grid]) - 1
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
            raise self.fault(name, value, f"a number from 0 to {most}")
        return value

    def numbers(self, section: Mapping[str, Any], grid: Grid, count: int) -> tuple[int, ...]:
        if not section:
            return ()
        name = f"xterm256.{grid}"
        listed = section.get(grid)
        if not isinstance(listed, list) or len(listed) != count:
            raise self.fault(name, listed, f"{count} numbers, one a colour of {grid}")
        for value in listed:
            if isinstance(value, bool) or not isinstance(value, int) or not 16 <= value <= 255:
                raise self.fault(name, value, "numbers from 16 to 255")
        return tuple(listed)

    def fault(self, name: str, value: object, wanted: str) -> BrokenTheme:
        found = "is missing" if value is None else f"is {value!r}"
        return BrokenTheme(f"{self.file}: {name} {found}; it takes {wanted}.")
