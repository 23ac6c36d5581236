"""What of her own words cannot be printed, said before a page is written: such a line is left to write on."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tracker import words
from tracker.summary.page_model import CHANGED_HEAD, WANTS_HEAD, Page

Scripts = Callable[[str], list[str]]
"""The scripts of the letters of a text that cannot be printed; nothing where all can."""


def lines_left_to_write_on(page: Page, scripts: Scripts, why: str) -> tuple[str, ...]:
    """A sentence for each line of hers that cannot be printed, and one for her labels.

    Parameters
    ----------
    why
        What cannot print it: `no font here can print`.
    """
    told = [
        f"{what} has letters that {why} ({words.listed(found)}): that line is left to write on."
        for what, text in _lines(page)
        if (found := scripts(text))
    ]
    found = sorted({script for label in page.own_labels for script in scripts(label)})
    if found:
        told.append(
            f"A label of yours has letters that {why} ({words.listed(found)}): its digit stands alone."
        )
    return tuple(told)


def _lines(page: Page) -> Iterator[tuple[str, str]]:
    """Every line of hers, and how it is named."""
    for head, lines in ((WANTS_HEAD, page.wants), (CHANGED_HEAD, page.changed)):
        short = head.removesuffix(" from today").split(",")[0]
        yield from ((f"'{short}', line {number},", line) for number, line in enumerate(lines, start=1))
    yield "What was tried", page.tried
    for change in page.strip.changes:
        yield f"Your change {change[:1]}", change
    yield from ((f"The note of {note.partition(':')[0]}", note) for note in page.notes)
    yield from (("The name", page.name), ("The date of birth", page.born))
