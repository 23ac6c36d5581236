"""How the parts of help are set in rows: bold heads between blank rows, keys and numbers before the text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tracker import words
from tracker.cells import padded, text_width, wrapped
from tracker.diary.command_table import COMMANDS, line_to_type
from tracker.diary.help_page import Part
from tracker.grids.palette import Palette
from tracker.screens.bindings import NamedKey
from tracker.screens.widgets.long_text import Line, Row

KEY_WIDTH = 10


def part_rows(palette: Palette, part: Part, width: int) -> list[Row]:
    """A head, and paragraphs; a blank row where numbered ones begin or end, and around a bold one."""
    paragraphs = [text if isinstance(text, str) else " ".join(text) for text in part.paragraphs]
    rows = head_rows(palette, f"{part.name}{part.behind}", width)
    for before, paragraph in pairwise(["", *paragraphs]):
        if before and _kind(before) != _kind(paragraph):
            rows.append([])
        rows += paragraph_rows(palette, paragraph, width)
    return rows


def head_rows(palette: Palette, head: str, width: int) -> list[Row]:
    """A bold head and the blank row under it."""
    return [*([(row, palette.title)] for row in wrapped(head, width)), []]


def paragraph_rows(palette: Palette, paragraph: str, width: int) -> list[Row]:
    """A paragraph; what follows the first row of a numbered one hangs under its words."""
    number, text = _number(paragraph)
    style = palette.title if paragraph == words.UNSAFE_HEAD else palette.text
    hung = text_width(number)
    return list(hanging((number, palette.key), hung, [(row, style) for row in wrapped(text, width - hung)]))


def key_rows(palette: Palette, listed: Sequence[NamedKey], width: int) -> Iterator[Row]:
    """Keys, and what they do in a column of its own."""
    column = max([KEY_WIDTH, *(text_width(named.sign) + 1 for named in listed)])
    for named in listed:
        said = [(row, palette.text) for row in wrapped(named.name, width - column)]
        yield from hanging((named.sign, palette.key), column, said)


def command_rows(palette: Palette, width: int) -> list[Row]:
    """Every command with a line to type, and under it what it does."""
    rows = head_rows(palette, "The command line", width)
    for name, command in COMMANDS.items():
        rows += [[(row, palette.key)] for row in wrapped(line_to_type(name), width)]
        rows += [[(f"  {row}", palette.text)] for row in wrapped(command.help, width - 2)]
    return [*rows, [], *paragraph_rows(palette, words.MORE_OF_A_COMMAND, width)]


def hanging(first: Line, column: int, rows: Sequence[Line]) -> Iterator[Row]:
    """Rows that begin at a column, with something before the first of them."""
    sign, style = first
    for place, row in enumerate(rows):
        yield [(padded("" if place else sign, column), style), row] if column else [row]


def _kind(paragraph: str) -> str:
    return "bold" if paragraph == words.UNSAFE_HEAD else "numbered" if _number(paragraph)[0] else "plain"


def _number(paragraph: str) -> tuple[str, str]:
    """`1. ` and the words behind it; no number before others."""
    found = re.match(r"\d+\. ", paragraph)
    end = found.end() if found else 0
    return paragraph[:end], paragraph[end:]
