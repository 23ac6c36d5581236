"""Draw every screen in every theme at two sizes from the invented record: `python -m tests.pictures FOLDER`.

Each picture is an SVG, and a PNG where resvg-py is installed (`pip install resvg-py`; the font is Fira
Code, with DejaVu Sans Mono for the signs it lacks). `--readme` redraws those that the README shows.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from tracker.diary.clock import Clock
from tracker.record.store import Record

NOW = datetime(2026, 11, 23, 9, 30, tzinfo=UTC)
"""A Monday morning: the invented record ended the evening before."""
KEYS: dict[str, tuple[str, ...]] = {
    "month": (),
    "month-sleep": ("tab",),
    "month-shifts": ("tab", "tab"),
    "year": ("y",),
    "year-sleep": ("y", "tab"),
    "year-compared": ("y", "equals_sign"),
    "findings": ("f",),
    "findings-numbers": ("f", "d"),
    "page": ("p",),
    "day": ("enter",),
    "settings": ("comma",),
    "search": ("slash",),
    "catching-up": ("c",),
    "caught-up": ("tab", "c", "enter"),
    "levels": ("f3",),
    "help": ("question_mark",),
    "hidden": ("h",),
    "first-run": (),
}
"""Every screen with the keys that lead to it from the month."""
SIZES = ((80, 24), (120, 40))
README = (("month", 80), ("year", 120), ("findings", 120))
"""Screen and columns of the pictures in the README, in the theme that is set at first."""


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
        return without_web_fonts(app.export_screenshot())


def without_web_fonts(svg: str) -> str:
    """The same picture, which then asks nobody on the network for a font."""
    return re.sub(r"@font-face\s*{[^}]*}", "", svg)


def write(svg: str, path: Path) -> None:
    """The picture as SVG, and as PNG where that can be made."""
    path.with_suffix(".svg").write_text(svg)
    try:
        import resvg_py
    except ImportError:
        return
    png = resvg_py.svg_to_bytes(svg_path=str(path.with_suffix(".svg")), monospace_family="Fira Code")
    path.with_suffix(".png").write_bytes(bytes(png))


def wanted(options: argparse.Namespace) -> Iterator[tuple[str, str, tuple[int, int]]]:
    """Theme, screen and size of each picture."""
    if options.readme:
        yield from (("wenfold-dusk", screen, size) for screen, w in README for size in SIZES if size[0] == w)
        return
    for theme in options.theme or themes():
        for screen in options.screen or KEYS:
            yield from ((theme, screen, size) for size in SIZES)


def main() -> None:
    """Draw what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--theme", action="append", choices=themes())
    parser.add_argument("--screen", action="append", choices=list(KEYS))
    parser.add_argument("--readme", action="store_true")
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    os.environ |= {"TERM": "xterm-256color", "TEXTUAL_COLOR_SYSTEM": "truecolor"}
    os.environ.pop("NO_COLOR", None)
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        invented, empty = records(Path(folder))
        with invented, empty:
            for theme, screen, size in wanted(options):
                record = empty if screen == "first-run" else invented
                settings = record.choices().settings.with_value("theme", theme)
                if screen != "first-run":
                    record.keep_settings(settings)
                svg = asyncio.run(draw(record, KEYS[screen], size, invented=record is invented))
                write(svg, options.folder / f"{screen}-{size[0]}x{size[1]}-{theme}")


if __name__ == "__main__":
    main()
