"""Day by day: five calendar weeks a row, every state with its sign, and the same in words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.summary.sheets import CHOICES, TODAY, keep, page
from tests.summary.test_figures import CHANGED_ON, changed
from tracker.diary.breaks import Break
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale
from tracker.diary.settings import Settings
from tracker.summary.alt_text import alt_text
from tracker.summary.markdown import as_markdown
from tracker.summary.page_data import PageOptions
from tracker.summary.page_model import Strip
from tracker.summary.text import as_text


def begins(strip: Strip) -> list[list[str]]:
    return [[f"{week.begins:%d %b}" for week in row] for row in strip.rows]


def test_fourteen_weeks_stand_in_three_rows_of_calendar_weeks_the_last_one_ends_with_the_period() -> None:
    strip = page(keep(mood=300 * "3")).strip
    assert begins(strip) == [
        ["10 Dec", "15 Dec", "22 Dec", "29 Dec", "05 Jan"],
        ["12 Jan", "19 Jan", "26 Jan", "02 Feb", "09 Feb"],
        ["16 Feb", "23 Feb", "02 Mar", "09 Mar", "16 Mar"],
    ]
    assert (strip.days[0].day, strip.days[-1].day) == (date(2025, 12, 10), TODAY)


def test_weeks_begin_with_the_weekday_that_is_set() -> None:
    strip = page(keep(mood=30 * "3"), CHOICES._replace(settings=Settings(first_weekday=6))).strip
    assert strip.weekdays[0] == ("S", True)
    assert begins(strip)[0] == ["16 Feb", "22 Feb", "01 Mar", "08 Mar", "15 Mar"]


def test_of_a_longer_period_the_last_fifteen_weeks_stand_there() -> None:
    strip = page(keep(mood=300 * "3"), options=PageOptions((date(2025, 9, 1), TODAY))).strip
    assert begins(strip)[0][0] == "08 Dec"


def test_every_state_has_its_sign_and_each_sign_its_meaning() -> None:
    span = Break(TODAY - timedelta(days=1), TODAY - timedelta(days=1))
    strip = page(keep(mood="4?..1", anxious="y", shifts="noo.o"), CHOICES._replace(breaks=(span,))).strip
    assert [day.mood.sign for day in strip.days] == ["4", "?", ".", "–", "1"]
    assert [day.shift for day in strip.days] == ["n", "o", "o", ".", "o"]
    assert [day.is_night for day in strip.days] == [True, False, False, False, False]
    assert strip.signs == (
        "a anxious", ". nothing kept", "? could not say", "– a marked break", "n night", "o off",
    )  # fmt: skip


def test_the_last_fourteen_days_are_marked_where_they_have_a_column() -> None:
    assert sum(day.is_recent for day in page(keep(mood=28 * "3")).strip.days) == 14
    assert sum(day.is_recent for day in page(keep(mood=27 * "3")).strip.days) == 0


def test_a_day_of_other_levels_is_marked_and_both_versions_have_a_key() -> None:
    strip = page(*changed()).strip
    assert [(day.day, *day.new_levels) for day in strip.days if day.new_levels] == [(CHANGED_ON, "mood")]
    assert [key.title for key in strip.keys] == [
        "mood to 24 February", "mood from 25 February", "hours I think I slept",
    ]  # fmt: skip
    assert [len(key.lines) for key in strip.keys] == [5, 7, 8]


def test_a_page_that_begins_with_other_levels_has_no_bar_before_its_first_day() -> None:
    days, choices = changed()
    strip = page(days, choices, PageOptions((CHANGED_ON, TODAY))).strip
    assert not any(day.new_levels for day in strip.days)


def test_of_more_than_two_versions_the_newest_two_have_a_key() -> None:
    moods = [
        mood_scale(["a", "b", "c"][: 3 + n] + list("xyz")[:n], TODAY - timedelta(20 - n)) for n in range(3)
    ]
    scales = Scales((DEFAULT_MOOD, *moods, DEFAULT_SLEEP))
    strip = page(keep(mood=40 * "2", scales=scales), CHOICES._replace(scales=scales)).strip
    assert len([key for key in strip.keys if key.grid == "mood"]) == 2
    assert "earlier levels by their digits" in strip.signs


def test_a_strip_that_is_cut_explains_only_what_is_left_in_it() -> None:
    strip = page(keep(mood=63 * "?" + 35 * "3", sleep=98 * "7")).strip
    assert "? could not say" in strip.signs
    assert strip.cut_to(1).signs == ()
    assert begins(strip.cut_to(1)) == begins(strip)[-1:]


def test_the_days_are_told_in_words() -> None:
    days = keep(mood="3.?43", sleep="67.08", shifts="nn.oo", anxious="y", last=date(2026, 3, 17))
    assert alt_text(page(days).strip) == (
        "Day by day, 13 March to 17 March 2026. "
        "Week of 13 March: sleep 6, 7, nothing kept; mood 3 anxious, nothing kept, could not say; "
        "shifts night, night, no shift entered. "
        "Week of 16 March: sleep 0, 8; mood 4, 3; shifts off, off."
    )


def test_other_levels_are_told_in_words_with_their_day() -> None:
    assert alt_text(page(*changed()).strip).endswith("Other levels of mood from 25 February 2026.")


# --- her dated changes


CHANGES = tuple(
    DatedChange(TODAY - timedelta(days=back), f"change {back}") for back in (200, 70, 60, 50, 40, 30, 20, 10)
)
WITH_CHANGES = CHOICES._replace(dated_changes=CHANGES)


def test_the_newest_six_changes_of_the_period_have_letters_where_she_wants_them() -> None:
    strip = page(keep(mood=98 * "3"), WITH_CHANGES, PageOptions(changes=True)).strip
    assert [day.change for day in strip.days if day.change] == list("ABCDEF")
    assert strip.changes[0] == "A 16 January: change 60"
    assert strip.changes[-1] == "F 7 March: change 10"
    assert alt_text(strip).endswith("F 7 March: change 10.")


@pytest.mark.parametrize(
    ("setting", "option", "shown"),
    [(False, None, False), (True, None, True), (True, False, False), (False, True, True)],
)
def test_changes_are_hers_to_tell(setting: bool, option: bool | None, shown: bool) -> None:
    choices = WITH_CHANGES._replace(settings=Settings(changes=setting))
    sheet = page(keep(mood=98 * "3"), choices, PageOptions(changes=option))
    for told in (as_text(sheet)[0], as_markdown(sheet), alt_text(sheet.strip)):
        assert ("change 10" in told) is shown


def test_a_change_stands_above_its_day_in_text() -> None:
    choices = CHOICES._replace(dated_changes=(DatedChange(date(2026, 3, 12), "tablets started"),))
    printed = as_text(page(keep(mood=9 * "3"), choices, PageOptions(changes=True)))[0].splitlines()
    place = printed.index("      9 Mar          16 Mar")
    assert printed[place + 1 : place + 4] == [
        "            A",
        "sleep . . . . . . . |. .",
        "mood  3 3 3 3 3 3 3 |3 3",
    ]
    assert "  My changes: A 12 March: tablets started." in printed
