"""The page as Markdown: the same parts, and no sign of hers taken for layout."""

from __future__ import annotations

from tests.summary.sheets import CHOICES, SAID, keep, own_words, page
from tracker import words
from tracker.diary.choices import PageLines
from tracker.summary.markdown import as_markdown
from tracker.summary.page_model import (
    COMPLETE_HEAD,
    FIGURES_HEAD,
    READING_HEAD,
    SAID_HEAD,
    WANTS_HEAD,
    WEEKS_HEAD,
)

DAYS = keep(mood="3.2?43" + "12345123451234", sleep=20 * "6", shifts="nnooee" + "nnoollleooosso", anxious="y")


def test_a_small_table_in_full() -> None:
    text = as_markdown(page(DAYS))
    assert (
        """\
| from | We | Th | Fr | Sa | Su | Mo | Tu | sleep | shift |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
| 25 Feb 2026 |  | 3a | . | 2 | ? | 4 | 3 | 6 6 6 6 6 6 | n n o o e e |
| 4 Mar 2026 | 1 | 2 | 3 | 4 | 5 | 1 | 2 | 6 6 6 6 6 6 6 | n n o o l l l |
| 11 Mar 2026 | 3 | 4 | 5 | 1 | 2 | 3 | 4 | 6 6 6 6 6 6 6 | e o o o s s o |
"""
        in text
    )


def test_the_parts_stand_in_their_order_under_the_caution() -> None:
    text = as_markdown(page(DAYS))
    parts = [words.CAUTION, WANTS_HEAD, FIGURES_HEAD, SAID_HEAD, COMPLETE_HEAD, WEEKS_HEAD, READING_HEAD]
    places = [text.index(part) for part in parts]
    assert places == sorted(places)
    assert all(statement in text for statement in SAID.statements)


def test_her_words_are_never_taken_for_layout() -> None:
    text = as_markdown(page(DAYS, own_words(("# *Nights* | and [days]", "- off"), ("1. nothing", "<b>"))))
    assert r"1. \# \*Nights\* \| and \[days\]" in text
    assert r"2. \- off" in text
    assert r"- 1\. nothing" in text
    assert r"- \<b\>" in text


def test_without_words_of_hers_there_is_room_for_them() -> None:
    text = as_markdown(page(DAYS, CHOICES._replace(page_lines=PageLines())))
    assert "1. ...\n" in text
    assert "(since when; what it stops; tried; medicines; coffee, alcohol; nights a month)\n" in text
