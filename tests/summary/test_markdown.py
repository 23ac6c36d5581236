"""The page as Markdown: the same parts, and no sign of hers taken for layout."""

from __future__ import annotations

from tests.summary.sheets import CHOICES, TESTED, keep, own_words, page
from tracker import words
from tracker.diary.choices import PageLines
from tracker.summary.markdown import as_markdown
from tracker.summary.page_model import (
    CHANGED_HEAD,
    DAYS_HEAD,
    FIGURES_HEAD,
    READING_HEAD,
    SIDE_BY_SIDE_HEAD,
    WANTS_HEAD,
    YEAR_HEAD,
)

DAYS = keep(mood="3.2?43" + "12345123451234", sleep=20 * "6", shifts="nnooee" + "nnoollleooosso", anxious="y")


def test_the_days_stand_in_columns_in_a_block_of_their_own() -> None:
    assert """\
```
            26 Feb   2 Mar          9 Mar          16 Mar
shift       N N o o |e e N N o o l |l l e o o o s |s o
sleep       6 6 6 6 |6 6 6 6 6 6 6 |6 6 6 6 6 6 6 |6 6
mood        3a. 2 ? |4 3 1 2 3 4 5 |1 2 3 4 5 1 2 |3 4
```
""" in as_markdown(page(DAYS))


def test_counts_stand_in_tables_and_pairs_in_a_list() -> None:
    text = as_markdown(page(keep(mood=400 * "12", sleep=400 * "57")))
    assert "| low or very low (1, 2) | 14 of 14 | 84 of 84 | 98 of 98 |" in text
    assert "- low or very low: after a sleep under 6 h 49 of 49; after 6 h or more 49 of 49" in text
    assert "|  | 2025 Apr | May |" in text


def test_the_parts_stand_in_their_order_under_the_caution() -> None:
    text = as_markdown(page(keep(mood=400 * "12", sleep=400 * "57")))
    heads = [
        words.CAUTION, WANTS_HEAD, CHANGED_HEAD, FIGURES_HEAD, SIDE_BY_SIDE_HEAD, TESTED.head, DAYS_HEAD,
        YEAR_HEAD, READING_HEAD,
    ]  # fmt: skip
    places = [text.index(head) for head in heads]
    assert places == sorted(places)
    assert all(statement in text for statement in TESTED.statements)


def test_every_level_stands_in_the_key() -> None:
    text = as_markdown(page(DAYS))
    assert "mood: 1 very low, 2 low, 3 even, 4 good, 5 very good\n" in text
    assert "hours I think I slept: 0 none, 2 under 3 h, 3 3-4 h, " in text


def test_her_words_are_never_taken_for_layout() -> None:
    text = as_markdown(page(DAYS, own_words(("# *Nights* | and [days]", "- off"), ("1. nothing", "<b>"))))
    assert r"1. \# \*Nights\* \| and \[days\]" in text
    assert r"2. \- off" in text
    assert r"- 1\. nothing" in text
    assert r"- \<b\>" in text


def test_her_name_stands_on_it_where_it_is_typed() -> None:
    assert "\nName A. Relief\\_Signaller; Born 1980\n" in as_markdown(
        page(DAYS).named("A. Relief_Signaller", "1980")
    )
    assert "Name" not in as_markdown(page(DAYS))


def test_without_words_of_hers_there_is_room_for_them() -> None:
    text = as_markdown(page(DAYS, CHOICES._replace(page_lines=PageLines())))
    assert "1. ...\n" in text
    assert "(since when; what it stops; tried; medicines; coffee, alcohol; nights a month)\n" in text
