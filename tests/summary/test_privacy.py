"""What she has not chosen to show stands in no form of the page, not in the alt text of its PDF either."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.summary.sheets import CHOICES, TESTED, TODAY, keep, mark, own_words, page
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind
from tracker.summary.alt_text import alt_text
from tracker.summary.markdown import as_markdown
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import Page
from tracker.summary.pdf import as_pdf
from tracker.summary.shift_names import on_the_page
from tracker.summary.text import as_text

WORDS = own_words(("To talk about sleep.",), ("Since spring.",))
DAYS = keep(mood=98 * "3", sleep=98 * "7", shifts=14 * "nnoeloo", anxious=98 * "n")
Form = Callable[[Page], str]


def pdf_text(sheet: Page) -> str:
    return PdfReader(io.BytesIO(as_pdf(sheet)[0])).pages[0].extract_text()


FORMS: list[Form] = [
    lambda sheet: as_text(sheet)[0],
    as_markdown,
    pdf_text,
    lambda sheet: alt_text(sheet.strip),
]
every_form = pytest.mark.parametrize("form", FORMS, ids=["text", "markdown", "pdf", "alt text"])


@every_form
def test_without_shifts_no_kind_no_letter_and_no_night_is_left(form: Form) -> None:
    told = form(page(DAYS, WORDS, PageOptions(shifts=False), replace(TESTED, with_rota=False)))
    assert not re.search(r"\b(night|shift|early|late|off)s?\b", without_reading(told))
    assert re.search(r"\b(night|shift)s?\b", form(page(DAYS)))


def without_reading(told: str) -> str:
    """Without the words of every page that mean another night, and no shift."""
    return re.sub(r"days late|the\s+night\s+can", "", told)


@every_form
@pytest.mark.parametrize(
    "own",
    [
        ShiftKind("box7", "b", "Cawbrook box"),
        ShiftKind("night", "n", "Wenfold nights"),
        ShiftKind("late", "q", "Selderby late"),
    ],
    ids=["her own", "renamed", "renamed and another letter"],
)
def test_a_kind_of_her_own_is_named_only_where_she_asks(form: Form, own: ShiftKind) -> None:
    kinds = tuple(kind for kind in DEFAULT_KINDS if kind.id != own.id)
    choices = CHOICES._replace(kinds=(*kinds, own))
    days = {**DAYS, TODAY: DAYS[TODAY]._replace(shift=mark(own.id))}
    assert own.label not in form(page(days, choices))
    assert "another shift" in form(page(days, choices))
    assert own.label in form(page(days, choices, PageOptions(shifts=True)))


def test_every_default_kind_is_named_as_it_is() -> None:
    assert [on_the_page(kind, own_names=False) for kind in DEFAULT_KINDS] == list(DEFAULT_KINDS)


@every_form
def test_her_name_stands_on_the_page_it_was_typed_for_alone(form: Form) -> None:
    named = page(DAYS).named("A. Relief Signaller", "1 April 1980")
    stands = form is not FORMS[-1]
    assert ("A. Relief Signaller" in form(named), "1 April 1980" in form(named)) == (stands, stands)
    assert "Relief" not in form(page(DAYS))


def test_her_name_stands_in_no_metadata() -> None:
    reader = PdfReader(io.BytesIO(as_pdf(page(DAYS).named("A. Relief Signaller", ""))[0]))
    assert (
        "Relief" not in f"{reader.metadata}{reader.xmp_metadata and reader.xmp_metadata.stream.get_data()!r}"
    )
    assert str(Path.home()) not in str(reader.metadata)
