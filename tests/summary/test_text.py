"""The text page: 60 lines of 80 ASCII columns at most, whatever the record."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import cycle, islice
from string import ascii_lowercase

import pytest

from tests.summary.sheets import CHOICES, LONG_LABELS, SAID, TODAY, keep, mark, own_words, page
from tracker import words
from tracker.diary.choices import Choices, PageLines
from tracker.diary.days import Day
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_SLEEP, Scales, mood_scale
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import IN_BRACKETS, UNSHOWN, Page, Said
from tracker.summary.text import as_ascii, as_text

SMALL = """\
MOOD AND SLEEP, FROM MY OWN DIARY                             made 17 March 2026
Name (optional) ____________________________  Born (optional) __________________
Not a clinical screening tool. Patterns in a diary are not a diagnosis.
WHAT I WOULD LIKE FROM TODAY
  1. To talk about nights.
WHAT HAS CHANGED, SINCE WHEN, WHAT IT KEEPS ME FROM, WHAT I HAVE TRIED
  (since when; what it stops; tried; medicines; coffee, alcohol; nights a month)
  ______________________________________________________________________________
  ______________________________________________________________________________
  ______________________________________________________________________________
--------------------------------------------------------------------------------
IN FIGURES                             last 14 days          the 6 days before
  mood kept                            14 of 14              4 of 6
  low or very low (levels 1, 2)        6 of 14               1 of 4
  good or very good (levels 4, 5)      5 of 14               1 of 4
  marked anxious                       1 of 1 noted          not noted
  slept under 6 hours                  4 of 14               2 of 6
  night shifts worked                  2                     2
  less than 11 hours between shifts    1                     0
WHAT THE DIARY SHOWS, AND DOES NOT          as of 1 Feb 2026, next on 1 Aug 2026
  Not shown: mood and sleep. Only a strong link or a stronger one could have
  been seen.
HOW COMPLETE THIS IS                           26 February 2026 to 17 March 2026
  Of 20 days: mood kept on 18, sleep on 20. No entry made over 2 days late. Of
  the 2 days without mood, 1 was a night shift or the day after one. No missing
  day has been filled in by guess.
SEVEN DAYS A ROW  mood, 1 very low to 5 very good hours slept     shift
  from            We Th Fr Sa Su Mo Tu            W T F S S M T   W T F S S M T
  25 Feb 2026        3  .  2  .  4  3               5 6 7 5 6 7     n n o o e e
  4 Mar 2026      1  2  3  4  5  1  2             5 6 7 8 5 6 7   n n o o l l l
  11 Mar 2026     3  4  5  1  2  3  4a            8 5 6 7 8 5 6   e o o o s s o
  hours I think I slept (5: from 5 to under 6; 2: under 3; 8: 8 or more)
  a anxious  . nothing kept  s standard day  e early  l late  n night  o off
  ( ) under 15 kept
THE YEAR              Apr  May  Jun  Jul  Aug  Sep  Oct  Nov  Dec  Jan  Feb  Mar
  mood kept             .    .    .    .    .    .    .    .    .    .  (2)   16
  low or very low       .    .    .    .    .    .    .    .    .    .  (1)    6
  slept under 6 h       .    .    .    .    .    .    .    .    .    .  (1)    5
  night shifts          .    .    .    .    .    .    .    .    .    .    2    2
HOW TO READ IT  My levels: 1 very low, 2 low, 3 even, 4 good, 5 very good. Sleep
is the hours I think I slept up to getting up that day, day-sleeps and naps
included; people tend to put this too high. Two things that go together need not
be cause and effect. Not kept: bedtimes, wakings, coffee, alcohol, medicines.
"""
LONG_WORDS = PageLines(
    ("W" * 75, "To talk about nights.", "m" * 75), ("w" * 75, "Since spring.", "v" * 75, "No medicines.")
)
TALKATIVE = Said(tuple(f"Shown: {number} " + 30 * "words " for number in range(5)), TODAY, date(2026, 12, 31))


def full(length: int, choices: Choices = CHOICES) -> dict[date, Day]:
    """So many days with every level, shift and mark in turn."""
    scales = choices.scales
    mood = [level.mark for level in scales.newest("mood").levels]
    sleep = [level.mark for level in scales.newest("sleep").levels]
    return keep(
        mood="".join(islice(cycle([*mood, "?", "."]), length - 1)) + mood[0],
        sleep="".join(islice(cycle([*sleep, "?", "."]), length)),
        shifts="".join(islice(cycle("seldnnovk"), length)),
        anxious="".join(islice(cycle("yn"), length)),
        scales=scales,
    )


def lines_of(sheet: Page) -> list[str]:
    text, _ = as_text(sheet)
    assert text.endswith("\n")
    return text.splitlines()


def test_a_small_record_in_full() -> None:
    days = keep(
        mood="3.2.43" + "12345123451234",
        sleep="567567" + "56785678567856",
        shifts="nnooee" + "nnoollleooosso",
        anxious=19 * "." + "y",
    )
    assert as_text(page(days, own_words(("To talk about nights.",), ()))) == (SMALL, ())


@pytest.mark.parametrize("said", [SAID, TALKATIVE])
@pytest.mark.parametrize("lines", [PageLines(), LONG_WORDS])
@pytest.mark.parametrize("scales", [CHOICES.scales, LONG_LABELS])
@pytest.mark.parametrize("length", [1, 2, 13, 14, 15, 98, 3653])
def test_it_fits_one_side_whatever_is_kept(length: int, scales: Scales, lines: PageLines, said: Said) -> None:
    choices = CHOICES._replace(scales=scales, page_lines=lines)
    printed = lines_of(page(full(length, choices), choices, said=said))
    assert len(printed) <= 60
    assert max(map(len, printed)) <= 80
    assert "".join(printed).isascii()
    assert words.CAUTION in printed


def test_what_matters_least_goes_first() -> None:
    days = full(98)
    days[TODAY] = days[TODAY]._replace(note=mark("Long. " * 90))
    whole, left_out = as_text(page(days, wishes=PageOptions(note_days=(TODAY,))))
    assert left_out == ("the notes",)
    assert "THE YEAR" in whole


def test_a_very_full_page_keeps_figures_findings_and_the_last_weeks() -> None:
    printed, left_out = as_text(page(full(98), CHOICES._replace(page_lines=LONG_WORDS), said=TALKATIVE))
    assert left_out[:2] == ("sleep after nights", "the year by months")
    assert left_out[-1] == "all but the last 12 rows of seven days"
    heads = ["WHAT I WOULD LIKE", "WHAT HAS CHANGED", "IN FIGURES", "WHAT THE DIARY SHOWS", "HOW COMPLETE"]
    places = [printed.index(head) for head in [*heads, "SEVEN DAYS", "HOW TO READ"]]
    assert places == sorted(places)


def test_labels_that_are_too_long_give_way_to_their_levels() -> None:
    scales = CHOICES._replace(scales=LONG_LABELS)
    printed = lines_of(page(full(98, scales), scales))
    assert any(line.startswith("  levels 1, 2  ") for line in printed)


def test_no_sign_of_the_key_is_torn_apart() -> None:
    signs = page(full(98)).signs
    printed = lines_of(page(full(98)))
    assert all(any(sign in line for line in printed) for sign in signs)


def test_labels_of_any_language_become_ascii() -> None:
    scales = Scales((mood_scale(["größer", "naïve", "日本", "good", "très bien"], None), DEFAULT_SLEEP))
    printed = "\n".join(lines_of(page(keep(mood=14 * "5", scales=scales), CHOICES._replace(scales=scales))))
    assert "1 grosser, 2 naive, 3 ??, 4 good, 5 tres bien" in printed
    assert UNSHOWN in " ".join(printed.split())


def test_where_every_letter_is_shown_nothing_is_said_of_letters() -> None:
    printed = " ".join(lines_of(page(full(98), own_words(("Zoë asked: why?",), ()))))
    assert UNSHOWN not in " ".join(printed.split())


def test_labels_without_a_likeness_give_way_to_their_levels() -> None:
    scales = Scales((mood_scale(list("一二三四五"), None), DEFAULT_SLEEP))
    printed = lines_of(page(keep(mood=60 * "5", scales=scales), CHOICES._replace(scales=scales)))
    assert [line[:14] for line in printed if "levels " in line] == [
        "  levels 1, 2 ",
        "  levels 4, 5 ",
        "  levels 1, 2 ",
    ]


@pytest.mark.parametrize(
    "text",
    ["夜勤の後", "أريد أن أتحدث", "한국어", "हिन्दी", "😴", "\a"],
    ids=["ja", "ar", "ko", "hi", "face", "bell"],
)
def test_what_has_no_likeness_is_a_question_mark_a_letter_at_most(text: str) -> None:
    plain = as_ascii(text)
    assert set(plain) <= {"?", " "}
    assert len(plain) <= len(text)


def test_lines_to_write_on_go_before_anything_that_is_said() -> None:
    said = [Said((number * "words ",), TODAY) for number in (60, 80, 100)]
    printed = [as_text(page(full(98), said=one)) for one in said]
    assert [text.count("  ____") for text, _ in printed] == [6, 4, 4]
    assert [left_out for _, left_out in printed] == [(), (), ("sleep after nights",)]


def test_brackets_are_explained_only_where_the_year_is() -> None:
    crowded, left_out = as_text(page(full(98), CHOICES._replace(page_lines=LONG_WORDS), said=TALKATIVE))
    assert "the year by months" in left_out
    assert IN_BRACKETS not in crowded


def test_everything_at_its_longest_still_ends_with_how_to_read_it() -> None:
    kinds = tuple(ShiftKind(f"own-{code}", code, f"A box of its own, {code}") for code in ascii_lowercase)
    scales = Scales(
        (
            mood_scale([f"{letter} {60 * 'm'}" for letter in "abcdefg"], None),
            mood_scale([f"{letter} {60 * 'n'}" for letter in "abcdefg"], TODAY - timedelta(days=20)),
            LONG_LABELS.newest("sleep"),
        )
    )
    choices = Choices(scales=scales, kinds=kinds, page_lines=LONG_WORDS)
    days = {
        at: day._replace(shift=mark(f"own-{ascii_lowercase[place % 26]}"))
        for place, (at, day) in enumerate(keep(mood=98 * "3", sleep=98 * "5", scales=scales).items())
    }
    printed = lines_of(page(days, choices, PageOptions(shifts=True), TALKATIVE))
    assert len(printed) <= 60
    assert printed[-1].endswith("medicines.")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Cafe\N{COMBINING ACUTE ACCENT}", "Cafe"),
        ("Don\N{RIGHT SINGLE QUOTATION MARK}t", "Don't"),
        ("½ h", "1/2 h"),
        ("Zoë", "Zoe"),
    ],
)
def test_typographic_signs_have_plain_ones(text: str, plain: str) -> None:
    assert as_ascii(text) == plain
