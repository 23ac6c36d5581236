"""Draw every screen in every theme at every size from the invented record: `python -m tests.pictures FOLDER`.

Each picture is an SVG, and a PNG where resvg-py is installed (`pip install resvg-py`), with whatever
monospaced font is there. `--colours` and `--marks` draw as in other terminals; `--readme` redraws those
that the README shows.
"""

from __future__ import annotations

import argparse
import asyncio
import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple
from zoneinfo import ZoneInfo

from rich.segment import Segment
from rich.style import Style

from tests.pictures.png import png_of
from tests.pictures.svg import Piece, svg_of
from tracker.diary.clock import Clock
from tracker.diary.settings import setting
from tracker.grids.themes import Theme, load_theme
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.screens.app import TrackerApp

NOW = datetime(2026, 11, 23, 9, 30, tzinfo=UTC)
"""A Monday morning: the invented record ended the evening before."""
KEYS: dict[str, tuple[str, ...]] = {
    "month": (),
    "month-full": ("left_square_bracket",) * 8,
    "month-sleep": ("tab",),
    "month-shifts": ("tab", "tab"),
    "year": ("y",),
    "year-mood": ("y", "v"),
    "year-sleep": ("y", "v", "tab"),
    "year-shifts": ("y", "v", "v"),
    "year-compared": ("y", "equals_sign"),
    "findings": ("f",),
    "findings-lags": ("f", "v"),
    "findings-anxious": ("f", "v", "v"),
    "findings-all": ("f", "end"),
    "findings-meaning": ("f", "enter"),
    "findings-numbers": ("f", "d"),
    "page": ("p",),
    "day": ("enter",),
    "settings": ("comma",),
    "search": ("slash",),
    "catching-up": ("c",),
    "caught-up": ("tab", "c", "enter"),
    "levels": ("f3",),
    "rota": ("f4", *"L L N N - -", "enter"),
    "help": ("question_mark",),
    "hidden": ("h",),
    "first-run": (),
}
"""Every screen with the keys that lead to it from the month."""
COLOURS = ("truecolor", "256", "standard")
"""As the library of the terminal names them; without them, `none`."""
SIZES = ((38, 14), (40, 20), (60, 20), (80, 24), (100, 30), (120, 40), (160, 50), (200, 60))
README = {"month": "month-full", "year": "year", "findings": "findings"}
"""The pictures in the README with their screens, 120 by 40 in the theme that is set at first."""


def themes() -> list[str]:
    """The ids of the shipped themes."""
    from tracker.grids.themes import themes_folder

    return sorted(path.name.removesuffix(".toml") for path in themes_folder().iterdir())


def records(folder: Path) -> tuple[Record, Record]:
    """The invented record, and an empty one for the first run."""
    from tracker.demo import fill, last_sunday

    clock = Clock(now=lambda: NOW, zone=ZoneInfo("Europe/London"))
    invented = Record.open(folder / "invented.sqlite", clock)
    fill(invented, last_sunday(invented.today()))
    return invented, Record.open(folder / "empty.sqlite", clock)


async def draw(record: Record, keys: tuple[str, ...], size: tuple[int, int], invented: bool) -> str:
    """One screen as SVG."""
    from tracker.editing.editor import Editor
    from tracker.screens.app import TrackerApp

    app = TrackerApp(Editor(record), invented)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause(0.2)
            await app.workers.wait_for_complete()
        await pilot.pause(0.3)
        theme = load_theme(record.choices().settings.theme)
        rows = [[piece_of(segment, theme) for segment in row] for row in rows_of(app)]
        return svg_of(rows, size[0], theme.ui.ground)


def rows_of(app: TrackerApp) -> list[list[Segment]]:
    """The rows of the terminal as they are shown, those of the screens behind included."""
    from textual._compositor import LayoutUpdate  # what the terminal has is read on loading

    shown = app.screen._compositor.render_update(full=True, screen_stack=app._background_screens)
    assert isinstance(shown, LayoutUpdate)
    return [[segment for strip in strips for segment in strip] for strips in shown.strips]


def piece_of(segment: Segment, theme: Theme) -> Piece:
    """Text in the colours that a terminal shows it in."""
    style = segment.style or Style()
    fg, bg = (
        usual if colour is None or colour.is_default else colour.get_truecolor().hex
        for colour, usual in ((style.color, theme.ui.text), (style.bgcolor, theme.ui.ground))
    )
    if style.reverse:
        fg, bg = bg, fg
    return Piece(segment.text, fg, bg, bool(style.bold))


class Wanted(NamedTuple):
    """One picture to draw."""

    name: str
    theme: str
    screen: str
    size: tuple[int, int]


def wanted(options: argparse.Namespace) -> Iterator[Wanted]:
    """The pictures that the options ask for."""
    if options.readme:
        yield from (Wanted(name, "wenfold-dusk", screen, (120, 40)) for name, screen in README.items())
        return
    for theme in options.theme or themes():
        for screen in options.screen or KEYS:
            for width, height in options.size or SIZES:
                yield Wanted(f"{screen}-{width}x{height}-{theme}", theme, screen, (width, height))


def size_of(text: str) -> tuple[int, int]:
    """A size as it is written: `80x24`."""
    width, height = map(int, text.split("x"))
    return width, height


def main() -> None:
    """Draw what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--theme", action="append", choices=themes())
    parser.add_argument("--screen", action="append", choices=list(KEYS))
    parser.add_argument("--size", action="append", type=size_of, metavar="80x24")
    marks = [value for value, _ in setting("marks").offered()]
    parser.add_argument("--colours", choices=[*COLOURS, "none"], default=COLOURS[0])
    parser.add_argument("--marks", choices=marks, default=marks[0])
    parser.add_argument("--readme", action="store_true")
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    os.environ.pop("NO_COLOR", None)
    no_colours = {"NO_COLOR": "1", "TEXTUAL_COLOR_SYSTEM": COLOURS[0]}
    has_colours = options.colours != "none"
    os.environ |= {"TEXTUAL_COLOR_SYSTEM": options.colours} if has_colours else no_colours
    os.environ["TERM"] = "xterm-256color"
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        invented, empty = records(Path(folder))
        with invented, empty:
            for picture in wanted(options):
                record = empty if picture.screen == "first-run" else invented
                settings = record.choices().settings.with_value("theme", picture.theme)
                if record is invented:
                    record.keep_settings(settings.with_value("marks", options.marks))
                svg = asyncio.run(draw(record, KEYS[picture.screen], picture.size, record is invented))
                (options.folder / f"{picture.name}.svg").write_text(svg)
                if png := png_of(svg):
                    (options.folder / f"{picture.name}.png").write_bytes(png)


if __name__ == "__main__":
    main()
