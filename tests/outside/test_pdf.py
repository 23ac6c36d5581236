"""The written page as other programs read it: pypdf, and poppler where it is installed.

Paper: A4 is 595.276 x 841.890 points (ISO 216, 210 x 297 mm), US Letter 612 x 792. Tagging: ISO 14289-1
(PDF/UA-1): title shown, language set, marked, every figure with a text of its own.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from tests.summary.sheets import own_words, page
from tests.summary.test_text import full
from tracker import words
from tracker.summary import page_model as parts
from tracker.summary.alt_text import alt_text
from tracker.summary.pdf import as_pdf

PAGE = page(full(400), own_words(("To talk about nights.",), ("Lower since spring.",)))


@pytest.fixture(scope="module")
def reader() -> PdfReader:
    return PdfReader(io.BytesIO(as_pdf(PAGE)[0]))


def structure(reader: PdfReader) -> Iterator[DictionaryObject]:
    """Every element of the structure tree, in reading order."""

    def walk(kid: Any) -> Iterator[DictionaryObject]:
        kid = kid.get_object()
        if isinstance(kid, list):
            for one in kid:
                yield from walk(one)
        elif isinstance(kid, DictionaryObject):
            yield kid
            yield from walk(kid["/K"]) if "/K" in kid else ()

    yield from walk(reader.root_object["/StructTreeRoot"])


@pytest.mark.parametrize(("letter", "width", "height"), [(False, 595.276, 841.890), (True, 612, 792)])
def test_it_is_one_page_of_the_size_of_the_paper(letter: bool, width: float, height: float) -> None:
    (one,) = PdfReader(io.BytesIO(as_pdf(PAGE, letter)[0])).pages
    assert float(one.mediabox.width) == pytest.approx(width, abs=0.5)
    assert float(one.mediabox.height) == pytest.approx(height, abs=0.5)


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler is not installed")
def test_the_parts_are_read_in_their_order(tmp_path: Path) -> None:
    """The order of the structure tree is the one in which the page is read aloud (ISO 14289-1, 7.1)."""
    text = " ".join(re.findall(r'^ *"(.*)"$', poppler("pdfinfo", "-struct-text", tmp_path), re.MULTILINE))
    told = [
        parts.TITLE, "Name", words.CAUTION, parts.WANTS_HEAD, "To talk about nights.",
        parts.CHANGED_HEAD, "Lower since spring.", parts.FIGURES_HEAD, "mood kept",
        "night shifts on the rota", parts.SIDE_BY_SIDE_HEAD, "after a sleep under 6 h",
        "Tested, with the rota allowed for",
        "Not shown: mood and sleep.", parts.DAYS_HEAD, "1 very low 2 low", "hours I think I slept",
        "8 h or more",
        parts.YEAR_HEAD, parts.READING_HEAD, parts.NO_GUESS, "Not kept: bedtimes",
    ]  # fmt: skip
    places = [text.index(part) for part in told]
    assert places == sorted(places)


def test_it_is_tagged_with_a_title_and_a_language(reader: PdfReader) -> None:
    root = reader.root_object
    assert str(root["/Lang"]) == "en-GB"
    assert root["/MarkInfo"]["/Marked"] is not None  # type: ignore[index]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]  # type: ignore[index]
    assert "pdfuaid" in ((reader.xmp_metadata and str(reader.xmp_metadata.stream.get_data())) or "")


def test_heads_tables_and_lists_are_what_they_are(reader: PdfReader) -> None:
    roles = [str(element.get("/S", "")) for element in structure(reader)]
    assert roles.count("/H1") == 1
    assert roles.count("/H2") == 8
    assert roles.count("/Table") == 3
    assert roles.count("/TH") >= 15


def test_the_squares_have_a_text_of_their_own(reader: PdfReader) -> None:
    texts = [str(element["/Alt"]) for element in structure(reader) if str(element.get("/S")) == "/Figure"]
    assert texts == [alt_text(PAGE.strip)]


def test_the_squares_are_not_read_out_one_by_one(reader: PdfReader) -> None:
    content = reader.pages[0].get_contents()
    assert content is not None
    passed_over = b"".join(re.findall(rb"/Artifact.*?\bEMC", content.get_data(), re.DOTALL))
    assert passed_over.count(b"TJ") + passed_over.count(b"Tj") >= 2 * 98


def test_it_tells_nothing_of_who_made_it_or_where(reader: PdfReader) -> None:
    info = dict(reader.metadata or {})
    assert set(info) <= {"/Title", "/Creator", "/CreationDate", "/ModDate"}
    assert str(info["/Title"]) == parts.TITLE
    raw = as_pdf(PAGE)[0]
    assert str(Path.home()).encode() not in raw
    assert b"/Author" not in raw
    assert b"dc:creator" not in raw


def test_every_font_is_in_the_file(reader: PdfReader) -> None:
    fonts = reader.pages[0]["/Resources"]["/Font"].values()  # type: ignore[index]
    below = [font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"] for font in fonts]
    assert below
    assert all({"/FontFile2", "/FontFile3"} & set(font.get_object()) for font in below)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_a_second_reader_finds_the_caution_and_every_digit(tmp_path: Path) -> None:
    text = poppler("pdftotext", "-layout", tmp_path, "-")
    lines = [" ".join(line.split()) for line in text.splitlines()]
    assert words.CAUTION in lines
    for row in PAGE.strip.rows:
        days = [day for week in row for day in week.days if day]
        for digits in ([day.sleep.sign for day in days], [_mood(day) for day in days]):
            assert any(line.endswith(" ".join(digits)) for line in lines)


def poppler(program: str, option: str, folder: Path, *more: str) -> str:
    """What a program of poppler says of the page."""
    written = folder / "page.pdf"
    written.write_bytes(as_pdf(PAGE)[0])
    return subprocess.run(
        [program, option, str(written), *more], check=True, capture_output=True, text=True
    ).stdout


def _mood(day: parts.DaySquares) -> str:
    return day.mood.sign + ("a" if day.anxious else "")
