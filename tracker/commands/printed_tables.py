"""Tables as commands print them: laid out for a terminal, a line each row for whoever reads a pipe."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import click

from tracker.cells import padded, text_width
from tracker.commands import terminal

Rows = Sequence[Sequence[str]]
NONE: Collection[int] = ()


def print_table(
    rows: Rows, head: Sequence[str] = (), *, numbers: Collection[int] = NONE, indent: int = 0
) -> None:
    """Print rows of cells under their heads, which may be left out.

    Parameters
    ----------
    numbers
        Columns that stand to the right, from 0.
    indent
        Blanks before each row.
    """
    if terminal.is_looked_at():
        _lay_out(rows, head, numbers, indent)
    else:
        for line in plain_lines(rows, head, numbers):
            click.echo(" " * indent + line)


def plain_lines(rows: Rows, head: Sequence[str] = (), numbers: Collection[int] = NONE) -> list[str]:
    """Every row as one line, however long, its cells one under the other."""
    every = [head, *rows] if head else rows
    columns = [_aligned(column, at in numbers) for at, column in enumerate(zip(*every, strict=True))]
    return ["  ".join(cells).rstrip() for cells in zip(*columns, strict=True)]


def _aligned(column: Sequence[str], is_number: bool) -> list[str]:
    width = max(map(text_width, column))
    return [" " * (width - text_width(cell)) + cell if is_number else padded(cell, width) for cell in column]


def _lay_out(rows: Rows, head: Sequence[str], numbers: Collection[int], indent: int) -> None:
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=bool(head))
    for at in range(max(map(len, [head, *rows]))):
        header = Text(head[at]) if head else ""
        table.add_column(header, justify="right" if at in numbers else "left")
    for row in rows:
        table.add_row(*map(Text, row))  # as text, for a word of hers may have brackets
    Console(highlight=False).print(Padding(table, (0, 0, 0, indent)))
