"""`tracker paper`."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands.conftest import Run


def test_it_writes_a_private_pdf_and_says_how_to_print_it(run: Run, tmp_path: Path) -> None:
    paper = tmp_path / "year.pdf"
    result = run("paper", str(paper))
    assert result.stdout == (
        f"1 sheet in {paper}. Print at 100 %, not fitted to the page; measure the ruler.\n"
    )
    assert stat.S_IMODE(paper.stat().st_mode) == 0o600
    assert "Mood 2026" in PdfReader(paper).pages[0].extract_text()


def test_a_month_of_one_grid(run: Run, tmp_path: Path) -> None:
    paper = tmp_path / "march.pdf"
    run("paper", str(paper), "--month", "2026-03", "--grid", "sleep", "--filled", "--letter", "--grey")
    text = PdfReader(paper).pages[0].extract_text()
    assert "Sleep, March 2026" in text
    assert "Mood" not in text


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--pitch", "1"), "The pitch is 2 to 10 mm, not 1.\n"),
        (("--pitch", "nan"), "The pitch is 2 to 10 mm, not nan.\n"),
        (("--dots", "4"), "'4' is no place of a dot; give two numbers of mm, like 4.2,6.\n"),
        (("--dots", "4,-1"), "A dot at 4,-1 mm lies off the paper; give 0 to 300 each way.\n"),
        (("--month", "2026-13"), "'2026-13' is no month; write it like March 2026 or 2026-03.\n"),
    ],
)
def test_what_cannot_be_printed_is_refused(
    run: Run, tmp_path: Path, arguments: tuple[str, ...], sentence: str
) -> None:
    result = run("paper", str(tmp_path / "grid.pdf"), *arguments)
    assert (result.stderr, result.exit_code) == (sentence, 2)
    assert not (tmp_path / "grid.pdf").exists()


def test_a_file_that_is_there_is_left_alone_without_force(run: Run, tmp_path: Path) -> None:
    paper = tmp_path / "grid.pdf"
    paper.write_text("mine")
    assert run("paper", str(paper)).exit_code == 1
    assert paper.read_text() == "mine"
    assert run("paper", str(paper), "--force").exit_code == 0
    assert paper.read_bytes().startswith(b"%PDF")


def test_another_ending_is_refused(run: Run, tmp_path: Path) -> None:
    result = run("paper", str(tmp_path / "grid.png"))
    assert result.stderr == f"{tmp_path / 'grid.png'} is no PDF by its name; end it in .pdf.\n"


def test_a_year_and_a_month_together_are_wrong_use(run: Run, tmp_path: Path) -> None:
    assert run("paper", str(tmp_path / "grid.pdf"), "--year", "2026", "--month", "2026-03").exit_code == 2


def test_a5_takes_both_grids_in_columns_on_one_sheet(run: Run, tmp_path: Path) -> None:
    paper = tmp_path / "notebook.pdf"
    assert run("paper", str(paper), "--paper", "a5").exit_code == 0
    (one,) = PdfReader(paper).pages
    assert float(one.mediabox.width) == pytest.approx(148 / 25.4 * 72, abs=0.5)
    assert "Sleep 2026" in one.extract_text()


@pytest.mark.parametrize(
    "arguments", [("--paper", "a5", "--letter"), ("--month", "2026-03", "--turned"), ("--paper", "a3")]
)
def test_papers_that_contradict_each_other_are_wrong_use(
    run: Run, tmp_path: Path, arguments: tuple[str, ...]
) -> None:
    assert run("paper", str(tmp_path / "grid.pdf"), *arguments).exit_code == 2
