"""Letters of every script: printed, or a line left to write on and said before; never a question mark."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.summary.sheets import CHOICES, keep, own_words, page
from tests.summary.test_pdf import words_of
from tests.summary.test_text import full
from tracker.diary.scales import DEFAULT_SLEEP, Scales, mood_scale
from tracker.summary import typesetting
from tracker.summary.letters import is_right_to_left, script_of
from tracker.summary.page_model import Page
from tracker.summary.pdf import as_pdf
from tracker.summary.typesetting import Letters, letters_in
from tracker.summary.writing import unprinted

SHIPPED = (
    "Mất ngủ sau ca đêm.", "Ύπνος μετά.", "Тоскливо с Нового года.", "Քուն գիշերից հետո", "ძილი ღამის შემდეგ",
    "שינה אחרי משמרות", "ນອນບໍ່ຫຼັບ",
)  # fmt: skip
BENGALI = "রাতের পালার পর ঘুম"


def text_of(sheet: Page) -> str:
    (one,) = PdfReader(io.BytesIO(as_pdf(sheet)[0])).pages
    return one.extract_text()


@pytest.fixture
def without_fonts(monkeypatch: pytest.MonkeyPatch) -> None:
    """A computer that has no fonts of its own."""
    compile_with = typesetting._compile
    monkeypatch.setattr(
        typesetting, "_compile", lambda source, data, stamp, _: compile_with(source, data, stamp, False)
    )


@pytest.mark.parametrize("text", SHIPPED)
def test_scripts_that_are_shipped_need_no_fonts_of_the_computer(text: str) -> None:
    sheet = page(full(98), own_words((text,), ()))
    assert letters_in(sheet.own_lines) == Letters()
    assert unprinted(sheet, ".pdf") == ()


@pytest.mark.usefixtures("without_fonts")
def test_a_line_that_no_font_prints_is_left_to_write_on_and_said_before() -> None:
    sheet = page(full(98), own_words((BENGALI, "To talk about nights."), ("Since spring.", BENGALI)))
    assert unprinted(sheet, ".pdf") == (
        "'What I would like', line 1, has letters that no font here can print (Bengali): "
        "that line is left to write on.",
        "'What has changed', line 2, has letters that no font here can print (Bengali): "
        "that line is left to write on.",
        "A .txt page keeps them.",
    )
    printed = text_of(sheet)
    assert "To talk about nights." in printed
    assert "Since spring." in printed
    assert not set(BENGALI.replace(" ", "")) & set(printed)
    assert printed.count("?") == count_of_unsaid(sheet)


def count_of_unsaid(sheet: Page) -> int:
    """Squares with `could not say`, and the sign in the key."""
    marks = [mark.sign for day in sheet.strip.days for mark in (day.mood, day.sleep)]
    return marks.count("?") + 1


@pytest.mark.usefixtures("without_fonts")
def test_of_a_label_that_no_font_prints_the_digit_stands_alone() -> None:
    scales = Scales((mood_scale([BENGALI, "low", "even", "good", "glad"], None), DEFAULT_SLEEP))
    sheet = page(keep(mood=40 * "1", scales=scales), CHOICES._replace(scales=scales))
    assert unprinted(sheet, ".pdf") == (
        "A label of yours has letters that no font here can print (Bengali): its digit stands alone.",
        "A .txt page keeps them.",
    )
    printed = " ".join(text_of(sheet).split())
    assert "levels 1, 2 14 of 14" in printed
    assert "?" not in printed


@pytest.mark.usefixtures("without_fonts")
def test_a_name_that_no_font_prints_is_a_line_to_write_on() -> None:
    sheet = page(full(1)).named(BENGALI, "")
    assert unprinted(sheet, ".pdf")[0].startswith(
        "The name has letters that no font here can print (Bengali)"
    )
    assert "Name Born" in " ".join(text_of(sheet).split())


@pytest.mark.parametrize(
    ("text", "runs_left"),
    [("שינה, then nights", True), ("1. نوم", True), ("Nights, שינה", False), ("12 - 14", False), ("", False)],
)
def test_a_line_runs_as_its_first_strong_letter_does(text: str, runs_left: bool) -> None:
    assert is_right_to_left(text) is runs_left


@pytest.mark.parametrize(
    ("letter", "script"),
    [
        ("ক", "Bengali"), ("中", "Chinese"), ("の", "Japanese"), ("한", "Korean"), ("က", "Burmese"),
        ("अ", "Devanagari"), ("ع", "Arabic"), ("é", "Latin"), ("😴", "signs"), ("\a", "signs"),
    ],
)  # fmt: skip
def test_a_script_is_called_by_its_name(letter: str, script: str) -> None:
    assert script_of(letter) == script


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_a_hebrew_line_stands_at_the_right_edge(tmp_path: Path) -> None:
    sheet = page(full(98), own_words((), ("שינה אחרי משמרות",)))
    (tmp_path / "page.pdf").write_bytes(as_pdf(sheet)[0])
    hebrew = [word for word in words_of(tmp_path / "page.pdf") if script_of(word.text[0]) == "Hebrew"]
    assert len(hebrew) == 3
    assert max(word.right for word in hebrew) == pytest.approx(552.8, abs=1)
