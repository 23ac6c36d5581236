"""The cells of a terminal that a text takes: a wide letter two, a mark above another none."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

_NARROW = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x300), *range(0x2500, 0x25FD))))
_CONTROLS = dict.fromkeys([*range(32), *range(127, 160)], " ")


def all_narrow(text: str) -> bool:
    """Whether every letter is known to take one cell: Latin, and the signs that boxes are drawn with.

    It spares nearly every text the tables of widths.
    """
    return (text.isascii() and text.isprintable()) or _NARROW.issuperset(text)


def letters_of(text: str) -> Iterator[tuple[str, int]]:
    """What is read as one letter each, marks and joined signs included, and the cells that it takes.

    Cells as the screen library counts them (Unicode UAX #11 and UTS #51); a control character is a blank.
    """
    if all_narrow(text):
        yield from ((letter, 1) for letter in text)
        return
    from rich.cells import split_graphemes

    text = text.translate(_CONTROLS)
    for start, end, cells in split_graphemes(text)[0]:
        yield text[start:end], cells


def text_width(text: str) -> int:
    """Cells that a text takes."""
    return len(text) if all_narrow(text) else sum(cells for _, cells in letters_of(text))


def cut(text: str, width: int) -> str:
    """As much of a text as fits into so many cells."""
    if all_narrow(text):
        return text[: max(width, 0)]
    shown = ""
    for letter, cells in letters_of(text):
        width -= cells
        if width < 0:
            break
        shown += letter
    return shown


def padded(text: str, width: int) -> str:
    """A text with blanks behind it up to so many cells; a longer one stays as it is."""
    return text + " " * (width - text_width(text))


def begun(text: str, width: int) -> str:
    """The beginning of a text in so many cells; dots say that there is more."""
    return text if text_width(text) <= width else f"{cut(text, width - 3).rstrip()}..."


def named_in(width: int, label: str, short: str) -> str:
    """A label in so many cells; one that would fill them gives way to its short form.

    Where the short form is no more than its beginning, dots say so.
    """
    if text_width(label) < width or label.startswith(short):
        return begun(label, width)
    return begun(short, width)


def wrapped(text: str, width: int) -> list[str]:
    """A text in lines of so many cells."""
    return list(_wrapped(text, width))


@lru_cache(maxsize=64)
def _wrapped(text: str, width: int) -> Sequence[str]:
    import textwrap  # not at the top: commands that print no long text need not wait for it

    if text.isascii() or all_narrow(text):
        return textwrap.wrap(text, width) or [""]
    return _wrapped_by_cells(re.sub(r"\s", " ", text.rstrip(), flags=re.ASCII), width)


def _wrapped_by_cells(text: str, width: int) -> list[str]:
    rows, room = [""], width
    for word in re.findall(" |[^ ]+", text):
        whole = text_width(word)
        for piece, cells in [(word, whole)] if whole <= width else letters_of(word):
            if cells > room:
                rows.append("")
                room = width
            if rows[-1] or piece != " " or len(rows) == 1:
                rows[-1] += piece
                room -= cells
    return [row.rstrip() for row in rows]


def shortened(rows: list[str], room: int) -> list[str]:
    """As many rows as there is room for; dots say that there were more."""
    if len(rows) <= room:
        return rows
    if room < 1:
        return []
    last = rows[room - 1]
    return [*rows[: room - 1], f"{cut(last, text_width(last) - 3).rstrip()}..."]
