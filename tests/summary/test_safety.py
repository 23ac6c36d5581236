"""The page never judges: the same sentences whatever the days, no words of illness, the caution always."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date

import pytest

from tests.summary.sheets import CHOICES, CLOCK, TODAY, data, keep, page
from tests.summary.test_text import full
from tracker import words
from tracker.analysis.findings import find
from tracker.diary.days import Day
from tracker.summary.findings_text import page_findings
from tracker.summary.markdown import as_markdown
from tracker.summary.page_model import Page
from tracker.summary.text import as_text

# Words of illness and of judgement: no sentence of ours on the page may begin a word with one of them.
BARRED = re.compile(
    r"\b(depress|bipolar|mania|manic|insomni|disorder|syndrome|symptom|episode|relapse|remission|severe|"
    r"moderate|mild|risk|abnormal|normal|healthy|score|predict|alert|warning sign|sleep debt|recommended)",
    re.IGNORECASE,
)
WORST = keep(mood=400 * "1", sleep=400 * "0", anxious=200 * "yn", shifts=400 * "n")
BEST = keep(mood=400 * "5", sleep=400 * "8", anxious=200 * "yn", shifts=400 * "n")


def page_with_findings(days: Mapping[date, Day]) -> Page:
    found = find(days.values(), CHOICES, as_of=TODAY, clock=CLOCK)
    return page(days, tested=page_findings(found, data(days)))


def text_of(sheet: Page) -> str:
    return as_text(sheet)[0]


def without_counts(text: str) -> list[str]:
    """The lines with every run of digits, brackets and spaces as one space, every bound of hours alike."""
    bounds = re.sub(r"under 3 h|8 h or more", "0 h", text)
    return [re.sub(r"[\d() ]+", " ", line).strip() for line in bounds.splitlines()]


@pytest.mark.parametrize("render", [text_of, as_markdown])
def test_the_worst_and_the_best_year_say_the_same_in_the_same_places(render: Callable[[Page], str]) -> None:
    worst, best = render(page_with_findings(WORST)), render(page_with_findings(BEST))
    assert worst != best
    assert without_counts(worst) == without_counts(best)


@pytest.mark.parametrize("render", [text_of, as_markdown])
@pytest.mark.parametrize("days", [WORST, BEST, full(1), full(98), full(800)])
def test_no_word_of_illness_stands_on_it(days: dict[date, Day], render: Callable[[Page], str]) -> None:
    text = render(page_with_findings(days)).replace(words.CAUTION, "")
    assert BARRED.findall(text) == []


def test_the_barred_words_are_found_where_they_are() -> None:
    assert BARRED.findall("A Mild episode; normally no risk.") == ["Mild", "episode", "normal", "risk"]


@pytest.mark.parametrize("render", [text_of, as_markdown])
@pytest.mark.parametrize("days", [WORST, BEST, full(1), full(98)])
def test_the_caution_stands_on_every_page(days: dict[date, Day], render: Callable[[Page], str]) -> None:
    assert words.CAUTION in render(page_with_findings(days))


@pytest.mark.parametrize("render", [text_of, as_markdown])
def test_a_level_is_counted_and_never_averaged(render: Callable[[Page], str]) -> None:
    text = render(page_with_findings(full(98)))
    assert not re.search(r"\bmean|average|\d\.\d", text)


def test_every_count_of_days_says_what_it_is_out_of() -> None:
    sheet = page(full(98))
    of = [row for row in sheet.figures.rows if row.block != "shifts" and row.part != "half"]
    assert all(re.fullmatch(r"\d+ of \d+", cell) for row in of for cell in row.cells)
    assert all(re.fullmatch(r"\d+ of \d+", side.count) for pair in sheet.pairs for side in pair.sides)


def test_the_page_knows_nothing_of_who_she_is() -> None:
    named = CHOICES._replace(own_help=("my sister",))
    assert "sister" not in text_of(page(full(98), named))
