"""An SVG as PNG, with letters that can be read."""

from __future__ import annotations

import shutil
import subprocess
import sys
from functools import lru_cache

USUAL = ("DejaVu Sans Mono", "Noto Sans Mono", "Liberation Mono", "Menlo", "Consolas", "Courier New")
LETTER = '<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20">{}</svg>'
NO_FONT = (
    "No monospaced font is here to draw letters with, so no PNG was made; "
    "install one, such as DejaVu Sans Mono."
)


def png_of(svg: str) -> bytes | None:
    """The picture as PNG; None where resvg-py is not installed.

    Ends the program with a sentence where no font draws a letter.
    """
    try:
        import resvg_py
    except ImportError:
        return None
    return bytes(resvg_py.svg_to_bytes(svg_string=svg, monospace_family=font()))


@lru_cache(maxsize=1)
def font() -> str:
    """The first monospaced font that draws a letter."""
    for family in (*USUAL, *listed_fonts()):
        if draws_letters(family):
            return family
    sys.exit(NO_FONT)


def listed_fonts() -> list[str]:
    """The monospaced fonts that fontconfig knows, where it is installed."""
    program = shutil.which("fc-list")
    if program is None:
        return []
    found = subprocess.run([program, ":spacing=mono", "family"], capture_output=True, text=True, check=False)
    return sorted({line.split(",")[0].strip() for line in found.stdout.splitlines() if line.strip()})


def draws_letters(family: str) -> bool:
    """Whether a letter in a font is more than a blank."""
    import resvg_py

    letter = f'<text x="2" y="16" font-size="16" font-family="{family}">M</text>'
    blank, drawn = (bytes(resvg_py.svg_to_bytes(svg_string=LETTER.format(part))) for part in ("", letter))
    return blank != drawn
