"""The year as it is drawn, and two years compared."""

from datetime import date

import pytest

from tests.grids.sheets import TODAY, day, grid_data, palette, wave
from tracker.diary.breaks import Break
from tracker.diary.days import Day
from tracker.diary.months import days_of_year
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale
from tracker.diary.waiting import SquareKey
from tracker.grids.palette import Marks
from tracker.grids.year import HEAD, YearPlan, compare_plan, draw_year, year_plan

PAUSE = (Break(date(2026, 5, 11), date(2026, 5, 18)),)
D = date(2026, 7, 16)

SLEEP_2026 = """\
 2026   Sleep, the sleep before each day (Tab: mood)       kept 268 of 293 days
     1       5         10          16      20        25        30
                                   ▼                                the key
 Jan 0 0 0 2 2a2 3 3 3 4 4 ? 5 5 5 6a6 6 7 7 7 8 · 8 0 0 0a2 2 2 3  8  8 h +
 Feb 3 3 4 ? 4 5 5a5 6 6 6 7 7 7 · 8 8 0a0 0 2 2 2 3 3 3 ? 4 ╱╱╱╱╱╱ 7  7-8 h
 Mar 4a5 5 5 6 6 6 7 7 · 8 8a8 0 0 0 2 2 2 3 3 ? 4a4 4 5 5 5 6 6 6  6  6-7 h
 Apr 7 · 7a8 8 8 0 0 0 2 2 2 3 ?a3 4 4 4 5 5 5 6 6 6 ·a7 7 8 8 8 ╱╱ 5  5-6 h
 May 0 0 0 2 2 2a? 3 3 4 4 4 5 5 5 6 6a- 7 7 7 8 8 8 0 0 0 2a2 ? 3  4  4-5 h
 Jun 3 3 4 4 4 5 5 5a6 · 6 7 7 7 8 8 8 0 0a0 2 ? 2 3 3 3 4 4 4 5a╱╱ 3  3-4 h
 Jul►5 5 · 6 6 7 7 7 8 8 8a0 0 0 ? 2 2 3 3 3 4 4a4 5 5 · 6 6 6 7 7  2  < 3 h
 Aug 7 8a8 8 0 0 ? 2 2 2 3 3 3a4 4 4 5 · 5 6 6 6 7 7a7 8 8 8 0 ? 0  0  none
 Sep 2 2 2 3a3 3 4 4 4 · 5 5 6 6 6a7 7 7 8 8 8 ? 0 0 2 2a2 3 3 3 ╱╱
 Oct 4 4 · 5 5 5 6a6 6 7 7 7 8 8 ? 0 0 0a2 2 ◄
 Nov                                                             ╱╱
 Dec


 a anxious  ? could not say (x)  · waiting (Backspace)  - in a break  ◄ today
 ╱╱ no such day  blank: to come
"""

MOOD_2026 = """\
 2026   Mood                                               kept 259 of 293 days
     1       5         10        15        20        25        30
                                                                    the key
 Jan 1 1 1 1 1a2 2 2 ? 2 3 3 3 3 3 4a. 4 4 4 5 5 5 5 5 ? 1a1 1 1 2  5  very good
 Feb 2 2 . 2 3 3 3a3 3 4 4 ? 4 4 5 5 5 5a5 . 1 1 1 1 2 2 2 2 ////// 4  good
 Mar ?a3 3 3 3 3 4 4 . 4 4 5a5 5 5 5 1 ? 1 1 1 2 2a2 2 . 3 3 3 3 3  3  even
 Apr 4 4 4a? 4 5 5 5 5 5 1 . 1 1a1 2 2 2 2 2 ? 3 3 3 3a4 4 4 . 4 // 2  low
 May 5 5 5 5 5 1a1 ? 1 1 2 2 2 2 2 - 3a3 3 3 4 4 4 4 ? 5 5 5a5 5 1  1  very low
 Jun 1 . 1 1 2 2 2 2a2 3 ? 3 3 3 4 4 4 4 .a5 5 5 5 5 1 1 1 ? 1 2a//
 Jul 2 2 2 2 3 . 3 3 3 4 4a4 4 4 ? 5 5 5 5 1 1 1a. 1 2 2 2 2 2 3 3
 Aug ? 3a3 4 4 4 4 4 . 5 5 5 5a1 1 1 1 ? 2 2 2 2 2 3a3 . 3 3 4 4 4
 Sep 4 4 5 ?a5 5 5 1 1 1 1 . 2 2 2a2 2 3 3 3 ? 3 4 4 4 4a4 5 . 5 //
 Oct 5 5 1 1 1 1 1a? 2 2 2 2 3 3 3 . 3 4a4 4 <
 Nov                                                             //
 Dec


 a anxious  ? could not say  . waiting  - in a break  < today
 // no such day  blank: to come
"""


def year(*days: Day, today: date = TODAY, marks: Marks = "digits", **how: object) -> str:
    """The text of both grids of 2026 without colour."""
    drawn = grid_data(days, today=today, breaks=how.pop("breaks", ()))  # type: ignore[arg-type]
    plan = how.pop("plan", year_plan(2026, 80, 36))
    return "\n".join(draw_year(drawn, palette(marks=marks), plan, **how).canvas.lines())  # type: ignore[arg-type]


def text(drawn_by: YearPlan, marks: Marks = "digits", **how: object) -> str:
    drawn = grid_data(wave(), breaks=PAUSE)
    canvas = draw_year(drawn, palette(marks=marks), drawn_by, **how).canvas  # type: ignore[arg-type]
    return "\n".join(canvas.lines()) + "\n"


def test_a_year_of_sleep_without_colour_reads_as_this() -> None:
    assert text(year_plan(2026, 80, 21, "sleep"), cursor=D, focus="sleep") == SLEEP_2026


def test_a_year_of_mood_in_plain_ascii_reads_as_this() -> None:
    shown = text(year_plan(2026, 80, 21), marks="ascii", with_keys=False)
    assert shown == MOOD_2026
    assert shown.isascii()


@pytest.mark.parametrize("size", [(80, 36), (120, 36)])
@pytest.mark.parametrize("marks", ["digits", "shapes", "ascii"])
def test_every_state_of_a_square_is_another_picture_without_colour(
    marks: Marks, size: tuple[int, int]
) -> None:
    plan = year_plan(2026, *size)
    levels = {
        **{f"mood {at}": year(day(D, mood=at), marks=marks, plan=plan) for at in range(5)},
        **{f"sleep {at}": year(day(D, sleep=at), marks=marks, plan=plan) for at in range(8)},
    }
    states = {
        "waiting": year(marks=marks, plan=plan),
        "could not say": year(day(D, mood=-1), marks=marks, plan=plan),
        "anxious": year(day(D, anxious=True), marks=marks, plan=plan),
        "kept and anxious": year(day(D, mood=0, anxious=True), marks=marks, plan=plan),
        "still to come": year(today=date(2026, 7, 15), marks=marks, plan=plan),
        "today": year(today=D, marks=marks, plan=plan),
        "cursor on mood": year(cursor=D, focus="mood", marks=marks, plan=plan),
        "cursor on sleep": year(cursor=D, focus="sleep", marks=marks, plan=plan),
        "in a break": year(breaks=(Break(D, D),), marks=marks, plan=plan),
    }
    canvases = levels | states
    assert len(set(canvases.values())) == len(canvases) == 22


def test_a_day_that_does_not_exist_is_hatched_and_no_other_place_is() -> None:
    drawing = draw_year(grid_data(), palette(), year_plan(2026, 80, 21))
    hatched = {(x, y) for y in range(3, 15) for x in range(5, 67) if drawing.canvas.text_at(x, y) == "╱"}
    squares = {(rect.x + at, rect.y) for rect in drawing.squares.values() for at in range(rect.width)}
    every = {(x, y) for y in range(3, 15) for x in range(5, 67)}
    assert hatched == every - squares


def test_every_date_from_1900_to_2199_is_drawn_once_at_its_month_and_day() -> None:
    blank, looks = grid_data(first=None), palette()
    for year in range(1900, 2200):
        plan = year_plan(year, 80, 24)
        drawn = draw_year(blank, looks, plan)
        squares = {place.day: (rect.y, rect.x) for place, rect in drawn.squares.items()}
        (_, left, top), *_ = plan.corners
        assert squares == {
            day: (top + HEAD + day.month - 1, plan.mark_x(left, day.day)) for day in days_of_year(year)
        }


def test_a_year_has_no_square_where_there_is_no_such_day() -> None:
    for year, february in ((2026, 28), (2024, 29), (2100, 28)):
        squares = draw_year(grid_data(first=None), palette(), year_plan(year, 80, 24)).squares
        ends = [max(place.day.day for place in squares if place.day.month == month) for month in range(1, 13)]
        assert ends == [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]


@pytest.mark.parametrize("cell", [2, 3])
def test_every_day_of_a_year_has_its_square_in_its_month_and_column(cell: int) -> None:
    drawing = draw_year(grid_data(), palette(), year_plan(2024, 80 if cell == 2 else 120, 21))
    assert list(drawing.squares) == [SquareKey(on, "mood") for on in days_of_year(2024)]
    for place, rect in drawing.squares.items():
        assert rect == (5 + (place.day.day - 1) * cell, 2 + place.day.month, cell, 1)
        assert drawing.place_at(rect.x, rect.y) == drawing.place_at(rect.x + cell - 1, rect.y) == place


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ((80, 21), (2, [("mood", 0, 0)])),
        ((120, 21), (3, [("mood", 0, 0)])),
        ((80, 36), (2, [("mood", 0, 0), ("sleep", 0, 17)])),
        ((120, 36), (3, [("mood", 0, 0), ("sleep", 0, 17)])),
        ((120, 35), (3, [("mood", 0, 0), ("sleep", 0, 16)])),
        ((100, 26), (2, [("mood", 0, 0)])),
        ((200, 56), (5, [("mood", 0, 0), ("sleep", 0, 17)])),
        ((160, 21), (2, [("mood", 0, 0), ("sleep", 80, 0)])),
        ((240, 21), (3, [("mood", 0, 0), ("sleep", 120, 0)])),
    ],
)
def test_both_grids_stand_where_there_is_room(
    size: tuple[int, int], expected: tuple[int, list[tuple[str, int, int]]]
) -> None:
    plan = year_plan(2026, *size)
    assert (plan.cell, list(plan.corners)) == expected


def test_todays_arrow_stands_behind_today_and_hides_nothing() -> None:
    listed = [day(TODAY, mood=2, anxious=True)]
    shown = year(*listed).splitlines()[12]
    assert shown[:48] == " Oct · · · · · · · · · · · · · · · · · · · 3a◄"[:48]


@pytest.mark.parametrize(
    ("today", "row"),
    [
        (date(2026, 7, 31), " Jul · · · · · · · · · · · · · · · · · · · · · · · · · · · · · · · ◄"),
        (date(2026, 6, 30), " Jun · · · · · · · · · · · · · · · · · · · · · · · · · · · · · · ◄╱"),
    ],
)
def test_at_a_months_end_todays_arrow_stands_in_the_margin_or_the_hatching(today: date, row: str) -> None:
    shown = year(today=today).splitlines()[2 + today.month]
    assert shown[: len(row)] == row


def test_a_coming_day_that_was_begun_keeps_its_mark_and_today_has_no_arrow() -> None:
    shown = year(day(date(2026, 10, 21), mood=3)).splitlines()[12]
    assert "◄" not in shown
    assert shown.rstrip().endswith("· 4")


def test_the_cursor_has_two_pointers_in_the_grid_in_focus_and_its_number_above() -> None:
    lines = year(cursor=D, focus="sleep").splitlines()
    assert lines[18] == "     1       5         10          16      20        25        30"
    assert lines[19].index("▼") == 5 + 15 * 2
    assert [line[:5] for line in lines[20:32] if "►" in line] == [" Jul►"]
    assert not any("▼" in line for line in lines[:17])


def test_while_shifts_are_set_the_first_grid_has_the_pointers() -> None:
    assert year(cursor=D, focus="shift") == year(cursor=D, focus="mood")


def test_a_number_beside_that_of_the_cursor_makes_room() -> None:
    lines = year(cursor=date(2026, 7, 11), focus="mood").splitlines()
    assert lines[1] == "     1       5           11      15        20        25        30"


@pytest.mark.parametrize("width", [80, 120, 160, 200])
@pytest.mark.parametrize(("at", "beside"), [(14, "15"), (26, "25"), (31, "30")])
def test_the_number_beside_it_leaves_no_digit_behind(width: int, at: int, beside: str) -> None:
    numbers = year(plan=year_plan(2026, width, 36), cursor=date(2026, 7, at), focus="mood").splitlines()[1]
    others = {"1", "5", "10", "15", "20", "25", "30"} - {beside}
    assert sorted(numbers.split(), key=int) == sorted(others | {str(at)}, key=int)


def test_at_two_cells_the_cursor_is_in_reverse_in_both_grids() -> None:
    drawing = draw_year(grid_data(wave()), palette(), year_plan(2026, 80, 36), cursor=D, focus="mood")
    rects = [drawing.squares[SquareKey(D, "mood")], drawing.squares[SquareKey(D, "sleep")]]
    assert all(drawing.canvas.style_at(rect.x, rect.y).reverse for rect in rects)


def test_at_three_cells_brackets_stand_round_mark_and_anxious_sign() -> None:
    listed = [day(D, mood=3, sleep=4, anxious=True)]
    lines = year(*listed, plan=year_plan(2026, 120, 36), cursor=D, focus="mood").splitlines()
    assert lines[9][49:53] == "[4a]"
    assert lines[26][49:53] == "[5a]"


@pytest.mark.parametrize("width", [160, 200])
def test_in_larger_squares_the_mark_stands_one_cell_in_and_the_brackets_inside(width: int) -> None:
    on = date(2026, 7, 1)
    plan = year_plan(2026, width, 36)
    lines = year(day(on, mood=3, anxious=True), plan=plan, cursor=on, focus="mood").splitlines()
    assert lines[9][:9] == " Jul►[4a]"
    assert (lines[1][6], lines[2][6]) == ("1", "▼")


def test_the_key_has_whole_labels_where_there_is_room() -> None:
    labels = {width: year(plan=year_plan(2026, width, 36)) for width in (80, 100)}
    assert "< 3 h" in labels[80]
    assert "under 3 h" in labels[100]


def test_moving_the_cursor_in_colour_changes_only_squares_and_pointers() -> None:
    before, after = (
        draw_year(
            grid_data(wave()),
            palette("truecolor"),
            year_plan(2026, 80, 21),
            cursor=date(2026, 7, on),
            focus="mood",
        )
        for on in (16, 17)
    )
    assert {rect.y for rect in after.canvas.changes(before.canvas)} == {1, 2, 9}


def test_two_years_are_compared_month_by_month() -> None:
    lines = text(compare_plan(2026, 80, 21, "mood", month=2)).splitlines()
    assert lines[0].startswith(" 2025 above 2026   Mood")
    assert [line[1:4] for line in lines[3:15]] == [
        "Jan",
        "'26",
        "Feb",
        "'26",
        "Mar",
        "'26",
        "Apr",
        "'26",
        "May",
        "'26",
        "Jun",
        "'26",
    ]
    assert lines[4].startswith(" '26 1 1 1 1 1a2 2 2 ? 2 3")


def test_both_counts_of_compared_years_stand_behind_the_title() -> None:
    first = date(2025, 1, 1)
    drawn = grid_data(wave(first=first), first=first)
    canvas = draw_year(drawn, palette(), compare_plan(2026, 80, 21, "sleep"), cursor=D, focus="sleep").canvas
    assert canvas.lines()[0] == (
        " 2025 above 2026   Sleep, the sleep before     kept 334 of 365, 267 of 293 days"
    )


def test_where_there_is_height_two_whole_years_are_compared() -> None:
    assert len(compare_plan(2026, 120, 36).months) == 24
    assert compare_plan(2026, 80, 21, month=9).months[0] == (2025, 7)


def test_a_click_on_the_key_leads_to_its_level() -> None:
    drawing = draw_year(grid_data(), palette(), year_plan(2026, 80, 36))
    assert drawing.level_at(70, 3) == ("mood", "mood5-5")
    assert drawing.level_at(68, 27) == ("sleep", "sleep8-0")


def test_a_strip_under_the_months_gives_the_shifts_of_the_cursors_month() -> None:
    lines = text(year_plan(2026, 80, 21), cursor=D, focus="mood", strip="shifts").splitlines()
    assert lines[16] == " Jul   E E L N N O   E E L N N O   E E L N N O   E E L N N O   E E"


def test_a_strip_under_the_months_gives_the_hours_of_daylight() -> None:
    lines = text(year_plan(2026, 80, 21), cursor=D, focus="mood", strip="daylight", latitude=52).splitlines()
    assert lines[15:17] == [
        "     Jan   Feb   Mar   Apr   May   Jun   Jul   Aug   Sep   Oct   Nov   Dec",
        " sun 8:17  9:59  11:50 13:54 15:41 16:42 16:15 14:40 12:41 10:42 8:49  7:47",
    ]


def test_without_a_latitude_there_is_no_daylight_to_show() -> None:
    plan = year_plan(2026, 80, 21)
    assert year(plan=plan, cursor=D, strip="daylight") == year(plan=plan, cursor=D)


def test_what_the_signs_mean_stands_in_one_row_where_it_fits() -> None:
    wide, narrow = (year(plan=year_plan(2026, width, 36)).split("\n")[-2:] for width in (120, 80))
    assert narrow == [
        " a anxious  ? could not say (x)  · waiting (Backspace)  - in a break  ◄ today",
        " ╱╱ no such day  blank: to come",
    ]
    assert wide == [f"{narrow[0]}  {narrow[1].strip()}", ""]


@pytest.mark.parametrize(
    ("cursor", "head", "highest"), [(date(2026, 3, 9), "to 15 Jul", "good"), (D, "16 Jul on", "fine")]
)
def test_where_levels_change_within_a_year_the_key_is_the_cursors_and_says_for_which_days(
    cursor: date, head: str, highest: str
) -> None:
    three = mood_scale(["awful", "so-so", "fine"], D)
    drawn = grid_data(wave(), scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three)))
    rows = draw_year(drawn, palette(), year_plan(2026, 80, 21), cursor=cursor, focus="mood").canvas.lines()
    assert rows[2].rstrip().endswith(head)
    assert rows[3].rstrip().endswith(highest)


def test_the_head_names_the_grid_that_tab_would_show_where_one_stands_alone() -> None:
    drawn, alone, both = grid_data(wave()), year_plan(2026, 80, 21), year_plan(2026, 120, 36)
    heads = [
        draw_year(drawn, palette(), plan, cursor=cursor, focus="mood").canvas.lines()[0]
        for plan, cursor in ((alone, D), (both, D), (alone, None))
    ]
    assert ["(Tab: sleep)" in head for head in heads] == [True, False, False]
