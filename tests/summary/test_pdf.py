"""The page on paper: one side whatever is kept, nothing smaller than 9 points."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pytest
from pypdf import PageObject, PdfReader

from tests.summary.sheets import CHOICES, LONG_LABELS, TESTED, TODAY, keep, mark, own_words, page
from tests.summary.test_text import LONG_WORDS, TALKATIVE, full
from tracker import words
from tracker.diary.choices import PageLines
from tracker.diary.errors import UnknownValue
from tracker.diary.scales import DEFAULT_SCALES, DEFAULT_SLEEP, Scales, renamed
from tracker.grids.colour import contrast
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import CHANGED_HINT, Mark, Page, PageFindings
from tracker.summary.pdf import as_pdf
from tracker.summary.print_colours import PrintColours
from tracker.summary.typesetting import breakable


def read(sheet: Page, letter: bool = False, fax: bool = False) -> PageObject:
    """The only page of the PDF."""
    (one,) = PdfReader(io.BytesIO(as_pdf(sheet, letter, fax)[0])).pages
    return one


def text_of(one: PageObject) -> str:
    return " ".join(one.extract_text().split())


def text_sizes(one: PageObject) -> set[float]:
    """Every size of text on the page, in points."""
    sizes: set[float] = set()

    def note(text: str, _: object, matrix: list[float], __: object, size: float) -> None:
        if text.strip():
            sizes.add(round(abs(size * matrix[3]), 2))

    one.extract_text(visitor_text=note)
    return sizes


@pytest.mark.parametrize("tested", [TESTED, TALKATIVE])
@pytest.mark.parametrize("lines", [PageLines(), LONG_WORDS])
@pytest.mark.parametrize("scales", [CHOICES.scales, LONG_LABELS])
@pytest.mark.parametrize("length", [1, 98, 3653])
def test_it_is_one_side_in_at_least_9_points(
    length: int, scales: Scales, lines: PageLines, tested: PageFindings
) -> None:
    choices = CHOICES._replace(scales=scales, page_lines=lines)
    one = read(page(full(length, choices), choices, tested=tested))
    assert min(text_sizes(one)) >= 9
    assert words.CAUTION in text_of(one)


@pytest.mark.parametrize("letter", [False, True])
def test_nothing_of_an_ordinary_page_is_left_out(letter: bool) -> None:
    ordinary = page(full(400), own_words(("To talk about nights.",), ("Lower since spring.",)))
    assert as_pdf(ordinary, letter)[1] == ()


def test_what_matters_least_goes_first() -> None:
    days = full(98)
    days[TODAY] = days[TODAY]._replace(note=mark("Long. " * 320))
    assert as_pdf(page(days, options=PageOptions(note_days=(TODAY,))))[1] == ("the notes",)


def test_the_same_page_gives_the_same_bytes() -> None:
    sheet = page(full(98))
    assert as_pdf(sheet) == as_pdf(sheet)


def test_her_words_stay_words() -> None:
    nasty = '"]#panic() $x$ *bold* // <a> \\'
    sheet = page(full(98), own_words((nasty,), (nasty,)))
    assert text_of(read(sheet)).count(nasty) == 2


def test_without_words_of_hers_a_hint_stands_over_ruled_lines() -> None:
    assert CHANGED_HINT in text_of(read(page(full(98))))


def test_letters_beyond_ascii_stay_as_they_are() -> None:
    sheet = page(full(98), own_words(("Schlaf nach Nachtdiensten, größte Müdigkeit",), ()))
    assert "Schlaf nach Nachtdiensten, größte Müdigkeit" in text_of(read(sheet))


@pytest.mark.parametrize("levels", [3, 5, 7])
def test_every_digit_is_black_or_white_and_can_be_read_on_its_fill(levels: int) -> None:
    for grid in ("mood", "sleep"):
        for place in range(levels):
            drawn = PrintColours(fax=False).of(Mark("3", place, levels), grid)
            assert drawn["ink"] in ("#000000", "#ffffff")
            assert contrast(drawn["ink"], drawn["fill"]) >= 4.5


def test_a_word_that_never_ends_stays_on_the_paper() -> None:
    assert breakable("no " + 45 * "w") == "no " + "\u200b".join((20 * "w", 20 * "w", 5 * "w"))
    assert breakable("A line of words as any other, broken where it may.").isascii()


def test_a_fax_has_no_colours_and_no_greys() -> None:
    sheet = page(full(98))
    colours = re.compile(r"(?:[\d.]+ ){1,3}(?:rg|RG|g|G|sc|SC|scn|SCN)\b")
    contents = read(sheet, fax=True).get_contents()
    assert contents is not None
    stated = {
        tuple(map(float, found.split()[:-1])) for found in colours.findall(contents.get_data().decode())
    }
    assert {value for colour in stated for value in colour} <= {0.0, 1.0}


def test_on_a_fax_the_worst_is_the_blackest_and_the_best_has_no_foot() -> None:
    feet = [PrintColours(fax=True).of(Mark("3", place, 5), "mood")["foot"] for place in range(5)]
    assert feet == pytest.approx([2.5, 1.95, 1.4, 0.85, 0])
    assert PrintColours(fax=True).of(Mark("."), "mood")["foot"] == 0


DOTS = 200 / 72
"""Dots of a fax in a point of the page."""


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
@pytest.mark.parametrize(("grid", "digits"), [("mood", "12345"), ("sleep", "02345678")])
def test_on_one_bit_paper_the_ink_of_a_square_falls_with_the_level(
    grid: str, digits: str, tmp_path: Path
) -> None:
    """The squares of one week, drawn as a fax at 200 dots an inch does."""
    kept = {"mood": len(digits) * "3", grid: digits}
    days = keep(last=date(2026, 3, 1), **kept)  # type: ignore[arg-type]
    (tmp_path / "fax.pdf").write_bytes(as_pdf(page(days, today=date(2026, 3, 1)), fax=True)[0])
    drawn = subprocess.run(
        ["pdftoppm", "-r", "200", "-mono", "fax.pdf"], cwd=tmp_path, check=True, capture_output=True
    ).stdout
    squares = squares_of(words_of(tmp_path / "fax.pdf"), grid, digits)
    ink = [ink_around(drawn, word) for word in squares]
    assert ink == sorted(ink, reverse=True)
    assert all(darker - lighter > 20 for darker, lighter in pairwise(ink))


class Word(NamedTuple):
    """A word on the page, in points from its upper left corner."""

    left: float
    top: float
    right: float
    text: str


def words_of(pdf: Path) -> list[Word]:
    """Every word, by poppler."""
    told = subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], check=True, capture_output=True, text=True
    ).stdout
    found = re.findall(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax=".*?">(.*?)</word>', told)
    return [Word(float(left), float(top), float(right), text) for left, top, right, text in found]


def squares_of(found: list[Word], grid: str, digits: str) -> list[Word]:
    """The digits of the days, which stand in one line with the name of the grid."""
    names = [word for word in found if word.text.strip(",") == grid and word.left < 50]
    rows = ([w for w in found if abs(w.top - name.top) < 7 and w.left > 70] for name in names)
    return next(row for row in rows if "".join(word.text for word in row) == digits)


def ink_around(bitmap: bytes, word: Word) -> int:
    """Black dots in the square whose digit is a word; the bitmap is a binary PBM."""
    header = re.match(rb"P4\s+(\d+)\s+(\d+)\s", bitmap)
    assert header
    across = (int(header[1]) + 7) // 8
    middle = (word.left + word.right) / 2
    columns = range(round((middle - 6) * DOTS), round((middle + 6) * DOTS))
    rows = range(round((word.top - 1) * DOTS), round((word.top + 17) * DOTS))
    dots = bitmap[header.end() :]
    return sum(dots[row * across + column // 8] >> (7 - column % 8) & 1 for row in rows for column in columns)


@pytest.mark.parametrize("length", [7, 98])
def test_every_bucket_of_hours_stands_in_the_key_in_her_words(length: int) -> None:
    named = Scales((*DEFAULT_SCALES.of("mood"), renamed(DEFAULT_SLEEP, {7: "plenty"})))
    choices = CHOICES._replace(scales=named)
    told = text_of(read(page(keep(mood=length * "3", sleep=length * "7", scales=named), choices)))
    assert all(label in told for label in ("under 3 h", "3-4 h", "7-8 h", "plenty"))


def test_nights_are_white_on_black_and_the_head_says_so() -> None:
    assert "nights in black" in text_of(read(page(keep(mood="333", shifts="noo"))))
    assert "nights in black" not in text_of(read(page(keep(mood="333", shifts="eoo"))))


def test_a_name_stands_in_the_place_of_the_line_for_it() -> None:
    told = text_of(read(page(full(98)).named("A. Relief Signaller", "1 April 1980")))
    assert "Name A. Relief Signaller Born 1 April 1980" in told


@pytest.mark.parametrize(
    ("name", "born", "sentence"),
    [
        (41 * "n", "", "The name may have 40 letters; shorten it."),
        ("", 31 * "b", "The date of birth may have 30 letters; shorten it."),
    ],
)
def test_a_name_that_is_too_long_is_refused(name: str, born: str, sentence: str) -> None:
    with pytest.raises(UnknownValue, match=sentence):
        page(full(1)).named(name, born)
