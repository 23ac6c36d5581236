"""The year as it is drawn: both grids in one, one grid, and two years compared."""

import csv
from collections.abc import Iterator
from datetime import UTC, date, timedelta
from io import StringIO
from itertools import pairwise
from typing import Any

import pytest

from tests.grids.sheets import FIRST, TODAY, day, grid_data, palette, seen, wave
from tests.grids.test_month import many_levels
from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.dates import MONTHS
from tracker.diary.days import Day, Square
from tracker.diary.low_and_short import is_low, is_short
from tracker.diary.months import days_of_month, days_of_year
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SCALES, DEFAULT_SLEEP, GRIDS, Scales, mood_scale
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import CellStyle, Rect
from tracker.grids.drawing import Drawing
from tracker.grids.month_counts import count_month
from tracker.grids.palette import Marks
from tracker.grids.squares import GridData
from tracker.grids.year import YearView, draw_year
from tracker.record.csv_days import days_as_csv

D = date(2026, 7, 16)
BREAKS = (Break(date(2026, 5, 11), date(2026, 5, 18)), Break(date(2026, 10, 28), date(2026, 10, 30)))
CHANGES = {date(2026, 7, 20): "tablets started", date(2026, 2, 3): "new job at Cawbrook"}
SIZES = [(38, 9), (40, 16), (60, 16), (80, 17), (80, 19), (80, 20), (80, 56), (100, 26), (120, 36)]
SIZES += [(120, 46), (160, 46), (160, 56), (200, 30), (200, 56)]
"""Cells of a year in windows of 38x14 to 200x60."""

BOTH = """\
 2026  Mood above, sleep below   invented days  mood 259, sleep 268 of 293 days
     1       5         10          16      20        25        30   low   <6 h
 Jan ▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀?▀▀▀▀▀?▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀?▀▀a▀▀▀▀▀▀▀▀ 14▄▄  21▄▄▄
         ▼ new job at Cawbrook
 Feb ▀▀▀▀▀▀?▀▀▀▀▀▀a▀▀▀▀▀▀▀▀?▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀?▀▀▀╱╱╱╱╱╱ 11▄▖  17▄▄▖
 Mar ?a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀?▀▀▀▀▀▀▀?▀▀a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀  8▄   18▄▄▖
 Apr ▀▀▀▀▀a?▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀?a▀▀▀▀▀▀▀▀▀▀▀▀?▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀╱╱  9▄▖  14▄▄
 May ▀▀▀▀▀▀▀▀▀▀▀a?▀?▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀▀▀▀▀?▀▀▀▀▀▀a▀▀?▀▀▀ 10▄▖  20▄▄▄
 Jun ▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀?▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀?▀▀▀▀▀▀▀▀▀▀▀?▀▀▀▀a╱╱ 13▄▄  20▄▄▄
                                           ▼ tablets started
 Jul►▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀? 52▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀ 13▄▄  15▄▄
 Aug ?▀▀a▀▀▀▀▀▀▀▀?▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀? ▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀?▀▀▀  9▄▖  15▄▄
 Sep ▀▀▀▀▀▀?a▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀▀▀?▀?▀▀▀▀▀▀▀▀a▀▀▀▀▀▀▀▀╱╱  9▄▖  19▄▄▖
 Oct ▀▀▀▀▀▀▀▀▀▀▀▀▀a?▀▀▀▀▀▀▀▀▀▀▀▀▀?▀▀▀▀▀▀a▀▀▀▀◄             - - -     9▄▖  10▄▖
 Nov                                                             ╱╱
 Dec
 mood   5  very good  4  good  3  even  2  low  1  very low
 hours  8  8+  7  7-8  6  6-7  5  5-6  4  4-5  3  3-4  2  <3  0  none
 a anxious  · waiting  ? could not say  - break  ▼ a change  ◄ today

"""

BOTH_IN_ASCII = """\
 2026  Mood above, sleep below            kept: mood 259, sleep 268 of 293 days
     1       5         10          16      20        25        30   low   <6 h
 Jan #########a######?,##,,?_,,,,,,_a________________,,?,#a######## 14==  21===
         v new job at Cawbrook
 Feb ####,,?^,,,,,a,,______?___________,a,,,,############?^##////// 11==  17===
 Mar ?a,,,,,,_______________a__,,,,,,##?,######?^#a####,,,,,,______  8=   18===
 Apr _____a?_____,,,,,,,,##,,##?a############?,_______a__________//  9==  14==
 May ,,,,,,,,,,#a?^?,##############___a______________?,,,,,,a,,?_## 10==  20===
 Jun ##,,###########a^^__?_____________,,,a,,,,?_,,,,######?,###a// 13==  20===
                                           v tablets started
 Jul>####^^^^_____________a,,,,,,? 52,,,,,,#####a,,####^^^^^^^^____ 13==  15==
 Aug ?__a____,,,,?_,,,,,,,,,,,a########? ##^^^^^^^^_a________,,?_,,  9==  15==
 Sep ,,,,,,?a,,,,,,####^^##,,^^^^^a^^^^______?_?_,,,,,,,a,,,,,,,,//  9==  19===
 Oct ,,,,^^######^a?_^^^^^^^^____?_,,,,,a,,,,<             - - -     9==  10==
 Nov                                                             //
 Dec
 ^^ low or very low  ,, under 6 h  ## both  __ kept, neither
 under the cursor: the level of mood, the hours of sleep
 a anxious  . waiting  ? could not say  - break  v a change  < today

"""

SLEEP = """\
 2026   Sleep (Tab: mood)                                  kept 268 of 293 days
     1       5         10          16      20        25        30   <6 h      N
 Jan 0 0 0 2 2a2 3 3 3 4 4 ? 5 5 5 6a6 6 7 7 7 8 · 8 0 0 0a2 2 2 3  21▄▄▄     8
         ▼ new job at Cawbrook
 Feb 3 3 4 ? 4 5 5a5 6 6 6 7 7 7 · 8 8 0a0 0 2 2 2 3 3 3 ? 4 ╱╱╱╱╱╱ 17▄▄▖     8
 Mar 4a5 5 5 6 6 6 7 7 · 8 8a8 0 0 0 2 2 2 3 3 ? 4a4 4 5 5 5 6 6 6  18▄▄▖    10
 Apr 7 · 7a8 8 8 0 0 0 2 2 2 3 ?a3 4 4 4 5 5 5 6 6 6 ·a7 7 8 8 8 ╱╱ 14▄▄      8
 May 0 0 0 2 2 2a? 3 3 4 4 4 5 5 5 6 6a- 7 7 7 8 8 8 0 0 0 2a2 ? 3  20▄▄▄     9
 Jun 3 3 4 4 4 5 5 5a6 · 6 7 7 7 8 8 8 0 0a0 2 ? 2 3 3 3 4 4 4 5a╱╱ 20▄▄▄     9
                                           ▼ tablets started
 Jul►5 5 · 6 6 7 7 7 8 8 8a0 0 0 ? 2 2 3 3 3 4 4a4 5 5 · 6 6 6 7 7  15▄▄      8
 Aug 7 8a8 8 0 0 ? 2 2 2 3 3 3a4 4 4 5 · 5 6 6 6 7 7a7 8 8 8 0 ? 0  15▄▄     10
 Sep 2 2 2 3a3 3 4 4 4 · 5 5 6 6 6a7 7 7 8 8 8 ? 0 0 2 2a2 3 3 3 ╱╱ 19▄▄▖     8
 Oct 4 4 · 5 5 5 6a6 6 7 7 7 8 8 ? 0 0 0a2 2 ◄             - - -    10▄▖      6
 Nov                                                             ╱╱
 Dec
 hours  8  8+  7  7-8  6  6-7  5  5-6  4  4-5  3  3-4  2  <3  0  none
 a anxious  · waiting  ? could not say  - break  ▼ a change  ◄ today

 Sleep: could not say on 13; most often none (36 days).
"""


def full(**how: Any) -> GridData:
    return grid_data(wave(), **({"breaks": BREAKS, "changes": CHANGES} | how))


def year(data: GridData, size: tuple[int, int] = (80, 20), marks: Marks = "digits", **view: Any) -> Drawing:
    """The year 2026, unless another is named, without colour."""
    return draw_year(data, palette(marks=marks), YearView(2026)._replace(**view), *size)


def coloured(data: GridData, size: tuple[int, int] = (80, 20), **view: Any) -> Drawing:
    return draw_year(data, palette("truecolor"), YearView(2026)._replace(**view), *size)


def text(drawing: Drawing) -> str:
    return "\n".join(drawing.canvas.lines()) + "\n"


ONE: dict[str, Any] = {"view": "one grid"}


def test_a_year_of_both_grids_reads_as_this() -> None:
    assert text(coloured(full(), cursor=D, focus="mood", aside="invented days")) == BOTH


def test_a_year_of_both_grids_in_plain_ascii_says_which_days_were_low_and_which_sleeps_short() -> None:
    shown = text(year(full(), marks="ascii", cursor=D, focus="mood"))
    assert shown == BOTH_IN_ASCII
    assert shown.isascii()


def test_a_year_of_sleep_without_colour_reads_as_this() -> None:
    assert text(year(full(), **ONE, grid="sleep", cursor=D, focus="sleep")) == SLEEP


# --- squares ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(80, 20), (80, 46), (120, 36), (120, 46), (200, 56)])
@pytest.mark.parametrize("view", ["both", "one grid"])
@pytest.mark.parametrize("marks", ["digits", "shapes", "ascii"])
def test_every_state_of_a_square_is_another_picture_without_colour(
    marks: Marks, view: str, size: tuple[int, int]
) -> None:
    def pictured(
        *days: Day, grid: str = "mood", cursor: date = D, today: date = TODAY, breaks: tuple[Break, ...] = ()
    ) -> object:
        data = grid_data(days, today=today, breaks=breaks)
        return seen(year(data, size, marks, view=view, grid=grid, cursor=cursor, focus=grid).canvas)

    yesterday = D - timedelta(days=1)
    pictures = {
        **{f"mood {at}": pictured(day(D, mood=at)) for at in range(5)},
        **{f"sleep {at}": pictured(day(D, sleep=at), grid="sleep") for at in range(8)},
        "waiting": pictured(),
        "waiting sleep": pictured(grid="sleep"),
        "could not say": pictured(day(D, mood=-1)),
        "still to come": pictured(today=yesterday),
        "today": pictured(today=D),
        "in a break": pictured(breaks=(Break(D, D),)),
        "a break to come": pictured(today=yesterday, breaks=(Break(D, D),)),
        "another cursor": pictured(cursor=yesterday),
    }
    alike = [
        (one, other)
        for one in pictures
        for other in pictures
        if one < other and pictures[one] == pictures[other]
    ]
    assert alike == ([("waiting", "waiting sleep")] if view == "both" else [])


@pytest.mark.parametrize("marks", ["digits", "ascii"])
def test_without_colour_a_fused_day_says_low_short_both_neither_waiting_and_not_said(marks: Marks) -> None:
    levels = [(0, 7), (4, 4), (1, 0), (2, 5), (None, 7), (-1, 5), (None, None)]
    days = [*(day(D, mood, sleep) for mood, sleep in levels), day(D, mood=3, sleep=6, anxious=True)]
    shown = []
    for kept in days:
        drawing = year(grid_data([kept]), marks=marks)
        rect = drawing.squares[SquareKey(D, "mood")]
        shown.append(drawing.canvas.text_at(rect.x, rect.y, 2))
    unicode = ["▀▀", "▄▄", "██", "▁▁", "▁▁", "?▁", "· ", "▁a"]
    assert shown == (unicode if marks == "digits" else ["^^", ",,", "##", "__", "__", "?_", ". ", "_a"])


def test_a_fused_day_has_the_fill_of_its_mood_above_that_of_its_sleep() -> None:
    ready = palette("truecolor")
    drawing = coloured(grid_data([day(D, mood=1, sleep=6)]))
    rect = drawing.squares[SquareKey(D, "mood")]
    low, seven = ready.fill("mood", 1, 5).ground, ready.fill("sleep", 6, 8).ground
    assert [drawing.canvas.style_at(rect.x + at, rect.y) for at in range(2)] == [CellStyle(low, seven)] * 2
    assert drawing.canvas.text_at(rect.x, rect.y, 2) == "▀▀"


def test_a_missing_half_is_the_tile_of_what_waits_and_in_a_break_the_ground() -> None:
    ready, pause = palette("truecolor"), (Break(D, D),)
    for breaks, ground in (((), ready.waiting.bg), (pause, ready.text.bg)):
        drawing = coloured(grid_data([day(D, sleep=6)], breaks=breaks))
        rect = drawing.squares[SquareKey(D, "mood")]
        assert drawing.canvas.style_at(rect.x, rect.y).fg == ground


def test_the_anxious_sign_stands_in_the_last_cell_on_the_whole_fill_of_the_mood() -> None:
    for size, width in (((80, 20), 2), ((120, 20), 3)):
        drawing = coloured(grid_data([day(D, mood=1, sleep=6, anxious=True)]), size)
        rect = drawing.squares[SquareKey(D, "mood")]
        cell = drawing.canvas.style_at(rect.x + width - 1, rect.y)
        assert drawing.canvas.text_at(rect.x + width - 1, rect.y) == "a"
        assert cell.bg == palette("truecolor").fill("mood", 1, 5).ground


def test_the_cursor_opens_its_day_into_the_two_digits() -> None:
    ready = palette("truecolor")
    drawing = coloured(grid_data([day(D, mood=1, sleep=6)]), cursor=D)
    rect = drawing.squares[SquareKey(D, "mood")]
    assert drawing.canvas.text_at(rect.x, rect.y, 2) == "27"
    fills = [drawing.canvas.style_at(rect.x + at, rect.y).bg for at in range(2)]
    assert fills == [ready.fill("mood", 1, 5).ground, ready.fill("sleep", 6, 8).ground]


def test_from_two_rows_on_both_digits_stand_there_and_the_anxious_sign_in_the_row_of_mood() -> None:
    drawing = year(grid_data([day(D, mood=1, sleep=6, anxious=True)]), (120, 36), cursor=D)
    mood, sleep = (drawing.squares[SquareKey(D, grid)] for grid in GRIDS)
    shown = [drawing.canvas.text_at(rect.x - 1, rect.y, 4) for rect in (mood, sleep)]
    assert (sleep, shown) == (mood._replace(y=mood.y + 1), ["[2a]", "[7 ]"])


def test_moving_the_cursor_changes_its_days_the_numbers_and_the_pointers() -> None:
    before, after = (coloured(full(), cursor=date(2026, 7, on)).canvas for on in (16, 17))
    rows = {area.y for area in after.changes(before)}
    assert rows == {1, 10}


# --- sizes -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "square"),
    [((40, 16), (1, 1)), ((80, 20), (2, 1)), ((100, 26), (2, 1)), ((80, 36), (2, 2)), ((120, 20), (3, 1)),
     ((120, 36), (3, 2)), ((120, 46), (3, 3)), ((160, 46), (4, 3)), ((160, 56), (4, 4)), ((200, 40), (5, 2)),
     ((200, 56), (5, 4))],
)  # fmt: skip
def test_a_day_of_both_grids_grows_with_the_room(size: tuple[int, int], square: tuple[int, int]) -> None:
    squares = year(grid_data(), size).squares
    first, february = (squares[SquareKey(date(2026, month, 1), "mood")] for month in (1, 2))
    assert (first.width, february.y - first.y) == square


@pytest.mark.parametrize(
    ("size", "square", "grids"),
    [((40, 16), (1, 1), 1), ((80, 20), (2, 1), 1), ((80, 31), (2, 1), 1), ((80, 32), (2, 1), 2),
     ((120, 36), (3, 1), 2), ((160, 54), (4, 2), 2), ((200, 56), (5, 2), 2), ((200, 50), (5, 1), 2)],
)  # fmt: skip
def test_one_grid_grows_and_has_the_other_below_it_where_there_is_room(
    size: tuple[int, int], square: tuple[int, int], grids: int
) -> None:
    squares = year(grid_data(), size, **ONE).squares
    first = squares[SquareKey(date(2026, 1, 1), "mood")]
    assert (first.width, first.height) == square
    assert {key.grid for key in squares} == set(GRIDS[:grids])


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("view", ["both", "one grid", "compared"])
@pytest.mark.parametrize(("moods", "sleeps"), [(3, 4), (5, 8), (7, 10)])
@pytest.mark.parametrize("changes", [0, 12])
def test_nothing_overlaps_and_nothing_is_cut_off(
    size: tuple[int, int], view: str, moods: int, sleeps: int, changes: int
) -> None:
    scales = many_levels(moods, sleeps)
    dated = {
        date(2026, month, 28): "a change of hers, in forty letters at most" for month in range(1, changes + 1)
    }
    data = grid_data(wave(scales=scales), scales=scales, changes=dated)
    shown: dict[str, Any] = {
        "view": "both" if view == "both" else "one grid",
        "is_compared": view == "compared",
    }
    drawing = year(data, size, **shown, cursor=date(2026, 12, 31), focus="mood")
    whole = Rect(0, 0, *size)
    rects = [*drawing.squares.values(), *drawing.levels.values()]
    assert all(whole.holds(r.x, r.y) and whole.holds(r.x + r.width - 1, r.y + r.height - 1) for r in rects)
    cells = [(x, y) for r in rects for x in range(r.x, r.x + r.width) for y in range(r.y, r.y + r.height)]
    assert len(cells) == len(set(cells))
    assert SquareKey(date(2026, 12, 31), "mood") in drawing.squares
    for (grid, id), rect in drawing.levels.items():
        assert scales.level(id).mark in drawing.canvas.text_at(rect.x, rect.y, rect.width), (grid, id)
    for line in drawing.canvas.lines():
        if (found := line.find("a change of")) >= 0 and size[0] > 60:
            assert "letters at most" in line or "..." in line[found:]


@pytest.mark.parametrize("changes", range(7))
def test_three_changes_stand_in_words_at_80_by_24_and_further_ones_as_signs(changes: int) -> None:
    dated = {date(2026, month, 10): f"change {month}" for month in range(1, changes + 1)}
    lines = coloured(grid_data(wave(), changes=dated)).canvas.lines()
    words = [line for line in lines if "▼ change" in line]
    signs = [line for line in lines if len(line) > 67 and line[67] == "▼"]
    assert (len(words), len(signs)) == (min(changes, 3), max(changes - 3, 0))
    assert lines[-1].startswith(" a anxious") or changes < 3


def test_words_of_a_change_stand_right_of_its_sign_else_left_else_are_cut() -> None:
    dated = {5: "new job", 9: "a second line of hers", 30: "tablets started"}
    changes = {date(2026, 3, on): words for on, words in dated.items()}
    line = coloured(grid_data(wave(), changes=changes)).canvas.lines()[4]
    assert line == "     new job ▼       ▼ a second line of hers   tablets started ▼"
    crowded = {date(2026, 3, on): "a line of forty letters that is rather long" for on in (9, 25)}
    line = coloured(grid_data(wave(), changes=crowded)).canvas.lines()[4]
    assert (line.count("▼"), line.count("...")) == (2, 2)


def test_a_year_without_room_for_twelve_months_shows_those_round_the_cursor() -> None:
    for cursor, names in ((date(2026, 1, 9), ("Jan", "Jun")), (date(2026, 12, 31), ("Jul", "Dec"))):
        lines = coloured(grid_data(wave()), (38, 10), cursor=cursor).canvas.lines()
        months = [line[:3] for line in lines[2:8]]
        assert (months[0], months[-1]) == names


def test_a_row_parts_the_seasons_where_a_month_has_two_rows() -> None:
    drawing = year(grid_data(changes={date(2026, 6, 15): "new job"}), (120, 36))
    tops = [drawing.squares[SquareKey(date(2026, month, 1), "mood")].y for month in range(1, 13)]
    apart = [after - before for before, after in pairwise(tops)]
    assert apart == [2, 3, 2, 2, 3, 2, 2, 3, 2, 2, 3]


def test_in_the_tallest_year_notes_stand_above_and_shifts_below_their_days() -> None:
    drawing = year(grid_data([day(D, mood=1, note="fog", shift="night")]), (200, 56))
    rect = drawing.squares[SquareKey(D, "mood")]
    column = [drawing.canvas.text_at(rect.x + 1, rect.y + at) for at in (-1, 0, 1, 2)]
    assert column == ['"', "2", "·", "N"]


# --- the calendar ------------------------------------------------------------------------------------------


def test_a_day_that_does_not_exist_is_hatched_and_no_other_place_is() -> None:
    drawing = year(grid_data(), **ONE)
    hatched = {(x, y) for y in range(2, 14) for x in range(5, 67) if drawing.canvas.text_at(x, y) == "╱"}
    squares = {(rect.x + at, rect.y) for rect in drawing.squares.values() for at in range(rect.width)}
    assert hatched == {(x, y) for y in range(2, 14) for x in range(5, 67)} - squares


def test_every_date_from_1900_to_2199_is_drawn_once_at_its_month_and_day() -> None:
    blank = grid_data(first=None)
    for at in range(1900, 2200):
        squares = year(blank, (40, 15), year=at, **ONE).squares
        assert {key.day: (rect.y, rect.x) for key, rect in squares.items()} == {
            on: (1 + on.month, 3 + on.day) for on in days_of_year(at)
        }


def test_days_of_the_month_are_numbered_and_the_cursors_among_them() -> None:
    for on, numbers in ((16, "1 5 10 16 20 25 30"), (30, "1 5 10 15 20 25 30"), (6, "1 6 10 15 20 25 30")):
        head = year(full(), cursor=date(2026, 7, on)).canvas.lines()[1]
        assert " ".join(head.split()[:7]) == numbers


def test_today_has_an_arrow_behind_it_unless_tomorrow_holds_something() -> None:
    assert [line[44:47] for line in year(full(), **ONE).canvas.lines() if line.startswith(" Oct")] == [" ◄ "]
    ahead = grid_data([day(TODAY + timedelta(days=1), mood=3)])
    assert "◄" not in text(year(ahead, **ONE)).split("mood ")[0]


# --- counts ------------------------------------------------------------------------------------------------


def counted_from_csv(days: list[Day], short_limit: float) -> Iterator[tuple[int, int, int]]:
    """Low, short and anxious days of each month, from the days as CSV alone."""
    upper = {"none": 0.0, "under 3 h": 3.0} | {f"{low}-{low + 1} h": low + 1.0 for low in range(3, 8)}
    rows = list(csv.DictReader(StringIO(days_as_csv(days, Choices()))))
    for month in range(1, 13):
        of_month = [row for row in rows if int(row["date"][5:7]) == month]
        low = sum(row["mood"] in ("1", "2") for row in of_month)
        exact = [float(row["hours"]) < short_limit for row in of_month if row["hours"]]
        by_bucket = [
            upper.get(row["sleep"], 24.0) <= short_limit
            for row in of_month
            if not row["hours"] and row["sleep"]
        ]
        yield low, sum(exact) + sum(by_bucket), sum(row["anxious"] == "yes" for row in of_month)


def test_the_counts_are_those_of_the_days_as_csv() -> None:
    days = wave()
    days[40] = days[40]._replace(sleep=Square("sleep8-5", detail={"hours": 5.75}))  # short by no bucket
    data = grid_data(days)
    found = [count_month(data, 2026, month) for month in range(1, 13)]
    shown = [(c.low.number, c.short.number, c.anxious.number) if c else (0, 0, 0) for c in found]
    assert shown == list(counted_from_csv(days, 6))


def test_what_is_counted_beside_a_month_is_what_is_counted_on_every_other_page() -> None:
    days = wave()
    low = sum(is_low(kept, DEFAULT_SCALES) is True for kept in days)
    short = sum(is_short(kept, DEFAULT_SCALES, 6) is True for kept in days)
    found = [counts for month in range(1, 13) if (counts := count_month(grid_data(days), 2026, month))]
    assert (sum(counts.low.number for counts in found), sum(counts.short.number for counts in found)) == (
        low,
        short,
    )


def test_the_numbers_behind_the_months_are_the_counts_in_every_form() -> None:
    data = full()
    for size, first, second in (((80, 20), 68, 74), ((40, 16), 35, 38), ((100, 26), 68, 84)):
        drawing = coloured(data, size)
        for month in range(1, 11):
            y = drawing.squares[SquareKey(date(2026, month, 1), "mood")].y
            counts = count_month(data, 2026, month)
            assert counts
            shown = [int(drawing.canvas.text_at(x, y, 2)) for x in (first, second)]
            assert shown == [counts.low.number, counts.short.number]


def test_bars_are_on_one_scale_and_the_largest_is_whole() -> None:
    lines = coloured(full(), (100, 26)).canvas.lines()
    halves = [
        [2 * part.count("▄") + part.count("▖") for part in (line[68:83], line[84:])]
        for line in lines
        if line[1:4] in ("Jan", "Mar")
    ]
    assert halves == [[16, 24], [9, 21]]  # of 14, 21, 8 and 18 days


def test_counts_of_under_fifteen_kept_days_stand_back() -> None:
    ready, few = palette("truecolor"), [day(date(2026, 1, on), mood=0, sleep=1) for on in range(1, 15)]
    for kept, style in ((few, ready.quiet), ([*few, day(date(2026, 1, 15), mood=0)], ready.text)):
        assert coloured(grid_data(kept)).canvas.style_at(69, 2) == style


@pytest.mark.parametrize("size", [(120, 36), (200, 56)])
def test_wide_years_say_of_how_many_days_and_have_anxious_days_and_nights(size: tuple[int, int]) -> None:
    drawing = coloured(full(), size)
    rows = [drawing.squares[SquareKey(date(2026, 1, 1), grid)].y for grid in GRIDS]
    behind = [
        drawing.canvas.lines()[y][100 if size[0] == 120 else 162 :].replace("▄", "").split() for y in rows
    ]
    assert behind == (
        [["14", "▖", "3"], ["21"]]
        if size[0] == 120
        else [["14", "of", "28", "3", "a"], ["21", "of", "29", "8", "N"]]
    )


def test_a_limit_of_hers_is_what_is_counted() -> None:
    data = grid_data(wave())
    strict = GridData(data.waiting, data.scales, data.kinds, short_limit=4, clock=Clock(zone=UTC))
    assert "<4 h" in coloured(strict).canvas.lines()[1]
    assert coloured(strict).canvas.lines()[2] != coloured(data).canvas.lines()[2]


# --- keys, lines, other forms ----------------------------------------------------------------------------


# --- keys, lines, other forms ----------------------------------------------------------------------------
@pytest.mark.parametrize("size", SIZES)
def test_every_level_is_in_a_key_that_leads_back_to_it(size: tuple[int, int]) -> None:
    drawing = coloured(full(), size, cursor=D)
    assert set(drawing.levels) == {
        (grid, level.id) for grid in GRIDS for level in DEFAULT_SCALES.newest(grid).levels
    }
    for level, rect in drawing.levels.items():
        assert drawing.level_at(rect.x, rect.y) == level


def test_a_key_without_room_for_labels_is_a_run_between_the_names_of_its_ends() -> None:
    lines = coloured(full(), (40, 16)).canvas.lines()
    assert lines[14:] == [" very low 1 2 3 4 5  very good", "    none 0 2 3 4 5 6 7 8  8 h +"]


@pytest.mark.parametrize(
    ("cursor", "said", "highest"),
    [(date(2026, 3, 9), "mood levels to 15 July", "very good"), (D, "mood levels from 16 July on", "fine")],
)
def test_where_levels_change_within_a_year_the_key_is_the_cursors_and_says_for_which_days(
    cursor: date, said: str, highest: str
) -> None:
    three = mood_scale(["awful", "so-so", "fine"], D)
    data = grid_data(wave(), scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three)))
    for view in ("both", "one grid"):
        lines = text(coloured(data, view=view, cursor=cursor, focus="mood"))
        assert said in lines
        assert highest in next(line for line in lines.splitlines() if line.startswith(" mood "))


def test_the_year_is_told_in_words_where_rows_are_left_without_what_the_title_says() -> None:
    mood, sleep = year(full(), (200, 56)).canvas.lines()[-2:]
    waits = "longest run of waiting squares 1 day"
    assert mood == f" Mood: could not say on 17; most often level 2, low (55 days); {waits}, 16 October 2026."
    assert sleep == f" Sleep: could not say on 13; most often none (36 days); {waits}, 3 October 2026."
    assert "Mood:" not in text(year(full(), (80, 17)))


@pytest.mark.parametrize(
    ("size", "first", "last"),
    [((38, 9), "Jun", "Aug"), ((80, 20), "Mar", "Oct"), ((100, 26), "Feb", "Dec"), ((120, 36), "Jan", "Dec")],
)
def test_two_years_are_compared_in_as_many_months_as_have_room_with_that_of_the_cursor(
    size: tuple[int, int], first: str, last: str
) -> None:
    lines = year(full(), size, **ONE, is_compared=True, cursor=D, focus="mood").canvas.lines()
    names = [month[:3] for month in MONTHS]
    shown = names[names.index(first) : names.index(last) + 1]
    pairs = [line[:4].strip("► ") for line in lines[2 : 2 + 2 * len(shown)]]
    assert lines[0].startswith(" 2025 above 2026   Mood")
    assert pairs == [name for month in shown for name in (month, "'26")]


def test_both_counts_of_compared_years_stand_behind_the_title() -> None:
    first = date(2025, 1, 1)
    data = grid_data(wave(first=first), first=first)
    title = year(data, **ONE, grid="sleep", is_compared=True, cursor=D, focus="sleep").canvas.lines()[0]
    assert title.split("  ")[-1].strip() == "kept 334 of 365, 267 of 293 days"


def test_a_strip_gives_the_shifts_of_the_cursors_month() -> None:
    lines = year(full(), **ONE, strip="shifts", cursor=D, focus="mood").canvas.lines()
    assert " Jul   E E L N N O   E E L N N O   E E L N N O   E E L N N O   E E" in lines


def test_a_strip_gives_the_hours_of_daylight_and_nothing_without_a_latitude() -> None:
    lines = year(full(), **ONE, strip="daylight", latitude=52, cursor=D, focus="mood").canvas.lines()
    assert [line.split() for line in lines if line.startswith(" sun")] == [
        [
            "sun",
            "8:17",
            "9:59",
            "11:50",
            "13:54",
            "15:41",
            "16:42",
            "16:15",
            "14:40",
            "12:41",
            "10:42",
            "8:49",
            "7:47",
        ]
    ]
    assert not any(
        line.startswith(" sun") for line in year(full(), **ONE, strip="daylight", cursor=D).canvas.lines()
    )


def test_the_head_names_the_grid_that_tab_would_show_where_one_stands_alone() -> None:
    heads = [
        year(full(), size, **ONE, cursor=cursor, focus=focus).canvas.lines()[0]
        for size, cursor, focus in (((80, 20), D, "mood"), ((120, 36), D, "mood"), ((80, 20), None, ""))
    ]
    assert ["(Tab: sleep)" in head for head in heads] == [True, False, False]


def test_hidden_squares_and_changes_show_nothing() -> None:
    shown = text(coloured(full(hidden=True), (200, 56), cursor=D))
    assert [
        word for word in ("tablets", "kept", "Mood:", "of 2", "▀", "·") if word in shown.split("mood ")[0]
    ] == []


def test_a_fused_day_leads_to_its_mood_and_doubled_ones_to_each() -> None:
    fused, doubled = coloured(full()), coloured(full(), (120, 36))
    assert {key.grid for key in fused.squares} == {"mood"}
    assert (
        len(doubled.squares)
        == 2 * len(fused.squares)
        == 2 * sum(len(days_of_month(2026, m)) for m in range(1, 13))
    )
    assert fused.place_at(5, 2) == SquareKey(FIRST, "mood")


def test_the_number_of_the_cursors_day_stays_before_what_is_counted() -> None:
    line = coloured(full(), (40, 16), cursor=date(2026, 3, 31)).canvas.lines()[1]
    assert line.split()[-2:] == ["31lo", "<6"]


def test_without_halves_no_sign_of_a_day_has_a_fill() -> None:
    ascii_marks = palette("truecolor", "ascii")
    canvas = draw_year(full(), ascii_marks, YearView(2026), 80, 20).canvas
    fills = {canvas.style_at(x, y).bg for y in range(2, 14) for x in range(5, 67)}
    assert fills == {ascii_marks.text.bg, ascii_marks.waiting.bg}


def test_in_little_room_a_change_has_its_sign_before_the_month_where_no_number_stands() -> None:
    lines = coloured(full(), (40, 16), cursor=date(2026, 9, 9)).canvas.lines()
    assert [line[:4] for line in lines[2:14] if "▼" in line] == ["Feb▼", "Jul▼"]


@pytest.mark.parametrize(
    ("size", "head"),
    [((80, 36), ["▄low", "▄<6h", "a"]), ((120, 36), ["▄", "low", "▄", "<6", "h", "a"]),
     ((160, 56), ["▄", "low", "▄", "under", "6", "h", "a,", "N"]), ((80, 20), ["low", "<6", "h"]),
     ((40, 16), ["low", "<6"]), ((38, 9), ["low"])],
)  # fmt: skip
def test_what_is_counted_stands_over_the_counts_in_every_width(
    size: tuple[int, int], head: list[str]
) -> None:
    line = coloured(full(), size).canvas.lines()[1]
    assert line.split()[-len(head) :] == head
    assert line.split()[-len(head) - 1].isdigit()
