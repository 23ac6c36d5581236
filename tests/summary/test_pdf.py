"""The page on paper: one side whatever is kept, nothing smaller than 9 points."""

from __future__ import annotations

import io
import re
from datetime import date

import pytest
from pypdf import PageObject, PdfReader

from tests.summary.sheets import CHOICES, LONG_LABELS, SAID, TODAY, keep, mark, own_words, page
from tests.summary.test_text import LONG_WORDS, TALKATIVE, full
from tracker import words
from tracker.diary.choices import PageLines
from tracker.diary.scales import DEFAULT_SCALES, DEFAULT_SLEEP, Scales, mood_scale, renamed
from tracker.grids.colour import contrast
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import CHANGED_HINT, UNSHOWN, Mark, Page, Said
from tracker.summary.pdf import as_pdf, breakable, spoken
from tracker.summary.print_colours import PrintColours
from tracker.summary.typesetting import Letters, letters_in


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


@pytest.mark.parametrize("said", [SAID, TALKATIVE])
@pytest.mark.parametrize("lines", [PageLines(), LONG_WORDS])
@pytest.mark.parametrize("scales", [CHOICES.scales, LONG_LABELS])
@pytest.mark.parametrize("length", [1, 98, 3653])
def test_it_is_one_side_in_at_least_9_points(
    length: int, scales: Scales, lines: PageLines, said: Said
) -> None:
    choices = CHOICES._replace(scales=scales, page_lines=lines)
    one = read(page(full(length, choices), choices, said=said))
    assert min(text_sizes(one)) >= 9
    assert words.CAUTION in text_of(one)


@pytest.mark.parametrize("letter", [False, True])
def test_nothing_of_an_ordinary_page_is_left_out(letter: bool) -> None:
    ordinary = page(full(400), own_words(("To talk about nights.",), ("Lower since spring.",)))
    assert as_pdf(ordinary, letter)[1] == ()


def test_what_matters_least_goes_first() -> None:
    days = full(98)
    days[TODAY] = days[TODAY]._replace(note=mark("Long. " * 320))
    assert as_pdf(page(days, wishes=PageOptions(note_days=(TODAY,))))[1] == ("the notes",)


def test_the_same_page_gives_the_same_bytes() -> None:
    sheet = page(full(98))
    assert as_pdf(sheet) == as_pdf(sheet)


def test_her_words_stay_words() -> None:
    nasty = '"]#panic() $x$ *bold* // <a> \\'
    sheet = page(full(98), own_words((nasty,), (nasty,)))
    assert text_of(read(sheet)).count(nasty) == 2


def test_without_words_of_hers_a_hint_stands_over_ruled_lines() -> None:
    assert CHANGED_HINT in text_of(read(page(full(98))))


@pytest.mark.parametrize("text", ["夜勤の睡眠", "ไทย", "한국어", "😴 \a"], ids=["ja", "th", "ko", "face"])
def test_letters_that_no_font_shows_are_said_to_be_missing(text: str) -> None:
    """Fonts differ from computer to computer: all can be read, or a sentence says why not."""
    scales = Scales((mood_scale([text, "low", "even"], None), DEFAULT_SLEEP))
    choices = own_words((text,), ())._replace(scales=scales)
    printed = text_of(read(page(keep(mood=40 * "1", scales=scales), choices)))
    assert (UNSHOWN in printed) != (text in printed)


def test_an_alphabet_that_is_shipped_needs_no_other_fonts_and_no_sentence() -> None:
    sheet = page(full(98), own_words(("Тоскливо с Нового года.", "שינה אחרי משמרות", "Ύπνος"), ()))
    assert letters_in(sheet.own_words) == Letters()
    printed = text_of(read(sheet))
    assert "Тоскливо с Нового года." in printed
    assert UNSHOWN not in printed


def test_a_letter_that_no_font_has_becomes_a_question_mark() -> None:
    letters = letters_in(["one \a", {"two": "\a two"}])
    assert letters.unshown == {"\a"}
    assert letters.shown(["one \a", {"two": "\a two"}, 3, None]) == ["one ?", {"two": "? two"}, 3, None]


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


def test_on_a_fax_a_bar_grows_with_the_level() -> None:
    bars = [PrintColours(fax=True).of(Mark("3", place, 5), "mood")["bar"] for place in range(5)]
    assert bars == [0, 0.25, 0.5, 0.75, 1]
    assert PrintColours(fax=True).of(Mark("."), "mood")["bar"] is None


@pytest.mark.parametrize("length", [7, 98])
def test_the_buckets_of_hours_are_explained_once_beside_the_squares(length: int) -> None:
    """In the key, or where she gave them words of her own in a line below it."""
    told = text_of(read(page(keep(mood=length * "3", sleep=length * "7"))))
    assert ("8 h or more" in told, "8: 8 or more" in told) == (True, False)
    named = Scales((*DEFAULT_SCALES.of("mood"), renamed(DEFAULT_SLEEP, {7: "plenty"})))
    own = page(keep(mood=length * "3", sleep=length * "7", scales=named), CHOICES._replace(scales=named))
    told = text_of(read(own))
    assert ("plenty" in told, "8: 8 or more" in told) == (True, True)


def test_the_squares_are_told_row_by_row() -> None:
    days = keep(last=date(2026, 3, 17), mood="3.2", sleep="67.", shifts="noo", anxious="y")
    assert spoken(page(days).weeks) == (
        "Rows of seven days, each with the digits of mood (a: anxious) and of hours I think I slept "
        "(5: from 5 to under 6; 2: under 3; 8: 8 or more). "
        "From 11 March 2026: mood 3a . 2; hours 6 7 .; shifts n o o."
    )
