"""The text page: 60 lines of 80 columns at most, whatever the record, her words as she typed them."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import cycle, islice
from string import ascii_lowercase

import pytest

from tests.summary.sheets import CHOICES, LONG_LABELS, TESTED, TODAY, keep, mark, own_words, page
from tracker import words
from tracker.cells import text_width
from tracker.diary.choices import Choices, PageLines
from tracker.diary.days import Day
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_SLEEP, Scales, mood_scale
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import Page, PageFindings
from tracker.summary.text import as_ascii, as_text
from tracker.summary.writing import Print, unprinted

SMALL = """\
MOOD AND SLEEP, FROM MY OWN DIARY                             made 17 March 2026
Name ______________________________________  Born ______________________________
Not a clinical screening tool. Patterns in a diary are not a diagnosis.

WHAT I WOULD LIKE FROM TODAY
  1. To talk about nights.
WHAT HAS CHANGED, SINCE WHEN, WHAT IT KEEPS ME FROM, WHAT I HAVE TRIED
  (since when; what it stops; tried; medicines; coffee, alcohol; nights a month)
  ______________________________________________________________________________
  ______________________________________________________________________________
  ______________________________________________________________________________

IN FIGURES                    last 14 days  16 days before
  mood kept                   14 of 14      14 of 16
  low or very low (1, 2)      5 of 14       6 of 14
  good or very good (4, 5)    6 of 14       5 of 14
  marked anxious              0 of 14       1 of 16
  sleep kept                  14 of 14      16 of 16
  slept under 6 h             4 of 14       6 of 16
  at least half the sleeps    6 h or more   6 h or more
  night shifts on the rota    0             5
  under 11 h between shifts   0             1

SIDE BY SIDE                        16 Feb to 17 Mar 2026, counted as they stand
  marked anxious after a sleep under 6 h     1 of 10  after 6 h or more 0 of 20
  slept under 6 h after low or very low days 5 of 11  after other days  4 of 16
  Fewer than 10 days on one side, so left out: low after short sleep, low after
  nights, sleep after nights, sleep after anxious days.

TESTED, WITH THE ROTA ALLOWED FOR             tested 1 Feb 2026, next 1 Aug 2026
  Not shown: mood and sleep. Only a strong link could have been seen.

      16 Feb         23 Feb         2 Mar          9 Mar          16 Mar
shift N N o o e e l |o l l e . N N |N o o o o o o |o o o o o o o |o o
sleep 5 6 7 5 6 7 5 |6 7 5 6 7 5 6 |7 5 6 7 5 6 7 |5 6 7 5 6 7 5 |6 7
mood  3a. 2 . 4 1 2 |3 4 5 1 2 3 4 |5 1 2 3 4 5 1 |2 3 4 5 1 2 3 |4 5
  mood 1 very low to 5 very good; hours 5 is 5-6 h, 2 under 3 h, 8 h or more;
  a anxious; . nothing kept; e early; l late; N night; o off.

HOW COMPLETE THIS IS, AND HOW TO READ IT
  Of 30 days mood is kept on 28 (6 of 7 at or after nights, 22 of 23 others),
  sleep on 30. No entry over 2 days late. No missing day has been filled in by
  guess. Sleep stands under the day I got up, naps added, before that day's
  mood; a night where it begins. Hours are as noted, not measured: many note too
  many, poor sleepers often too few; on a low morning the night can look
  shorter, which alone can tie the two. Two things that go together need not be
  cause and effect. Not kept: bedtimes, wakings, coffee, alcohol, medicines.
"""
LONG_WORDS = PageLines(
    ("W" * 75, "To talk about nights.", "m" * 75), ("w" * 75, "Since spring.", "v" * 75, "No medicines.")
)
TALKATIVE = PageFindings(
    tuple(f"Shown: {number} " + 25 * "words " for number in range(4)), "tested 1 Feb 2026", with_rota=True
)


def full(length: int, choices: Choices = CHOICES, last: date = TODAY) -> dict[date, Day]:
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
        last=last,
    )


def lines_of(sheet: Page, ascii: bool = False) -> list[str]:
    text, _ = as_text(sheet, ascii)
    assert text.endswith("\n")
    return text.splitlines()


def test_a_small_record_in_full() -> None:
    days = keep(
        mood="3.2.4" + 5 * "12345",
        sleep=10 * "567",
        shifts="nnooeelolle.nnno" + 14 * "o",
        anxious="y" + 29 * "n",
    )
    assert as_text(page(days, own_words(("To talk about nights.",), ()))) == (SMALL, ())


@pytest.mark.parametrize("tested", [TESTED, TALKATIVE])
@pytest.mark.parametrize("lines", [PageLines(), LONG_WORDS])
@pytest.mark.parametrize("scales", [CHOICES.scales, LONG_LABELS])
@pytest.mark.parametrize("length", [1, 14, 98, 800])
def test_it_is_one_side_whatever_is_kept(
    length: int, scales: Scales, lines: PageLines, tested: PageFindings
) -> None:
    choices = CHOICES._replace(scales=scales, page_lines=lines)
    printed = lines_of(page(full(length, choices), choices, tested=tested))
    assert len(printed) <= 60
    assert max(map(text_width, printed)) <= 80
    assert words.CAUTION in printed


def test_a_blank_line_stands_before_each_block() -> None:
    printed = lines_of(page(full(98), own_words(("To talk about nights.",), ("Since spring.",))))
    heads = ["WHAT I WOULD LIKE", "IN FIGURES", "SIDE BY SIDE", "TESTED", "          10 Dec", "HOW COMPLETE"]
    for head in heads:
        (place,) = (n for n, line in enumerate(printed) if line.startswith(head))
        assert printed[place - 1] == ""


def test_what_matters_least_goes_first_and_in_its_order() -> None:
    days = full(400)
    days[TODAY] = days[TODAY]._replace(note=mark("Long. " * 90))
    _, left_out = as_text(page(days, options=PageOptions(note_days=(TODAY,))))
    assert left_out[:2] == ("the notes", "the year")


def test_a_very_full_page_keeps_figures_tests_and_the_last_weeks() -> None:
    choices = CHOICES._replace(page_lines=LONG_WORDS)
    printed, left_out = as_text(page(full(98), choices, tested=TALKATIVE))
    assert left_out == (
        "quick returns", "what half the sleeps reach", "the highest levels", "all but the last 5 weeks",
    )  # fmt: skip
    heads = ["WHAT I WOULD LIKE", "WHAT HAS CHANGED", "IN FIGURES", "SIDE BY SIDE", "TESTED", "HOW COMPLETE"]
    places = [printed.index(head) for head in heads]
    assert places == sorted(places)


def test_labels_that_are_too_long_give_way_to_their_levels() -> None:
    choices = CHOICES._replace(scales=LONG_LABELS)
    printed = lines_of(page(full(98, choices), choices))
    assert any(line.startswith("  levels 1, 2  ") for line in printed)
    assert any(line.startswith("  levels 1, 2 after a sleep under 6 h ") for line in printed)


def test_nights_stand_as_capitals() -> None:
    printed = lines_of(page(keep(mood="33", shifts="no")))
    assert "shift N o" in printed
    assert "N night; o off." in " ".join(printed[-10:])


def test_her_name_stands_on_it_where_it_is_typed() -> None:
    printed = lines_of(page(keep(mood="3")).named(" A. Relief  Signaller ", "1 April 1980"))
    assert printed[1] == "Name A. Relief Signaller                     Born 1 April 1980"


# --- letters


def test_her_words_stand_as_she_typed_them_and_wrap_by_columns() -> None:
    sheet = page(full(98), own_words(("夜勤の後の睡眠について" * 6,), ("Größte Müdigkeit.",)))
    printed = lines_of(sheet)
    assert "  Größte Müdigkeit." in printed
    assert sum("夜勤" in line for line in printed) == 2
    assert max(map(text_width, printed)) == 80


def test_ascii_takes_accents_off_and_leaves_other_lines_to_write_on() -> None:
    sheet = page(full(98), own_words(("Zoë: größer?", "夜勤"), ()))
    printed = lines_of(sheet, ascii=True)
    assert "".join(printed).isascii()
    place = printed.index("  1. Zoe: grosser?")
    assert set(printed[place + 1].strip()) == {"_"}
    assert unprinted(sheet, ".txt", Print(ascii=True)) == (
        "'What I would like', line 2, has letters that ASCII does not have (Chinese): "
        "that line is left to write on.",
    )


def test_a_text_page_that_keeps_all_letters_has_nothing_to_say_of_them() -> None:
    assert unprinted(page(full(98), own_words(("夜勤",), ())), ".txt") == ()


def test_in_ascii_a_label_without_likeness_gives_way_to_its_digits() -> None:
    scales = Scales((mood_scale(list("一二三四五"), None), DEFAULT_SLEEP))
    days = keep(mood=60 * "1", sleep=60 * "5", scales=scales)
    printed = lines_of(page(days, CHOICES._replace(scales=scales)), ascii=True)
    assert [line[:16] for line in printed if line.startswith("  levels")] == [
        "  levels 1, 2   ",
        "  levels 4, 5   ",
    ]
    assert any(line.startswith("  mood 1 to 5; hours") for line in printed)


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Cafe\N{COMBINING ACUTE ACCENT}", "Cafe"),
        ("Don\N{RIGHT SINGLE QUOTATION MARK}t", "Don't"),
        ("½ h", "1/2 h"),
        ("Zoë", "Zoe"),
        ("夜勤", None),
        ("😴", None),
        ("\a", None),
    ],
)
def test_signs_have_plain_ones_or_none(text: str, plain: str | None) -> None:
    assert as_ascii(text) == plain


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
