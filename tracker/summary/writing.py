"""The page as a file, by the ending of its name, written whole or not at all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tracker.diary.errors import CannotWrite, UnknownValue
from tracker.record.files import write_bytes
from tracker.summary.markdown import as_markdown
from tracker.summary.page_model import Page
from tracker.summary.text import as_text, scripts_lost
from tracker.summary.unprinted import lines_left_to_write_on

NO_FONT, NOT_ASCII = "no font here can print", "ASCII does not have"
TEXT_KEEPS_THEM = "A .txt page keeps them."
ENDINGS = (".pdf", ".txt", ".md")


@dataclass(frozen=True, slots=True)
class Print:
    """How a printed page looks."""

    letter: bool = False
    """US Letter instead of A4."""
    fax: bool = False
    """White squares with a black digit and a black foot for the level, for fax and one-bit copiers."""
    ascii: bool = False
    """ASCII alone in a page of text."""


def usual_name(made: date) -> str:
    """The name that is offered for a page: no person's name in it."""
    return f"mood-and-sleep-{made}.pdf"


def check_place(path: Path, over: bool) -> None:
    """Raise UnknownValue or CannotWrite if no page can be written there."""
    if path.suffix.lower() not in ENDINGS:
        raise UnknownValue(
            f"A page ends in .pdf, .txt or .md, which {path} does not; - prints it here as text."
        )
    if path.exists() and (path.is_dir() or not over):
        raise CannotWrite(f"{path} is there already; add --force to write over it, or name another file.")


def unprinted(page: Page, ending: str, look: Print | None = None) -> tuple[str, ...]:
    """What of her words will not stand on a page of an ending, in sentences; said before it is written."""
    if ending == ".pdf":
        from tracker.summary.typesetting import letters_in

        letters = letters_in([*page.own_lines, *page.own_labels])
        told = lines_left_to_write_on(page, letters.scripts_unshown, NO_FONT)
        return (*told, TEXT_KEEPS_THEM) if told else ()
    if ending == ".txt" and look and look.ascii:
        return lines_left_to_write_on(page, scripts_lost, NOT_ASCII)
    return ()


def write_page(page: Page, path: Path, look: Print | None = None) -> tuple[str, ...]:
    """Write the page and return the names of what was left out to fit it on one side.

    Raises CannotWrite when that fails; then nothing half-written is left.
    """
    content, left_out = contents(page, path.suffix.lower(), look or Print())
    write_bytes(path, content)
    return left_out


def contents(page: Page, ending: str, look: Print) -> tuple[bytes, tuple[str, ...]]:
    """The bytes of a page for an ending, and the names of what was left out."""
    if ending == ".pdf":
        from tracker.summary.pdf import as_pdf

        return as_pdf(page, look.letter, look.fax)
    if ending == ".md":
        return as_markdown(page).encode(), ()
    text, left_out = as_text(page, look.ascii)
    return text.encode(), left_out
