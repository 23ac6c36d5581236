"""The month as it is drawn, square by square and as a whole."""

from datetime import date, timedelta
from typing import Any

import pytest

from tests.grids.sheets import TODAY, UNSAID, day, grid_data, palette, seen, wave
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.months import length_of_month
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import (
    DEFAULT_MOOD,
    DEFAULT_SCALES,
    DEFAULT_SLEEP,
    GRIDS,
    Scales,
    mood_scale,
    sleep_scale,
)
from tracker.diary.waiting import SquareKey
from tracker.grids.canvas import Canvas, Rect
from tracker.grids.drawing import Drawing, letters_line
from tracker.grids.month import draw_month
from tracker.grids.month_plan import PLANS, month_plan
from tracker.grids.month_view import MonthView
from tracker.grids.palette import Marks
from tracker.grids.squares import GridData

D = date(2026, 10, 14)
BREAKS = (Break(date(2026, 10, 28), date(2026, 10, 30)),)
CHANGES = {date(2026, 10, 8): "a new desk"}
SIZES = [(38, 10), (40, 16), (60, 16), (79, 14), (80, 16), (80, 17), (80, 19), (80, 20), (100, 26)]
SIZES += [(120, 14), (120, 36), (160, 46), (200, 56)]
"""Cells of a month in windows of 38x14 to 200x60."""

OCTOBER = """\
 October 2026   invented days                both squares kept on 16 of 20 days
   Mood                                    ► Sleep, the sleep before
   Mo   Tu   We   Th   Fr   Sa   Su          Mo   Tu   We   Th   Fr   Sa   Su
                   1    2    3    4                          1    2    3    4
40                E 5  E 5  L 1  N 1      40                E 4  E 4  L ·  N 5
    5    6    7    8 ▼  9   10   11           5    6    7    8 ▼  9   10   11
41 N 1  O 1    1a E ?  E 2  L 2  N 2      41 N 5  O 5    6a E 6  E 6  L 7  N 7
   12   13   14"  15   16   17   18          12   13  ▐14" ▌15   16   17   18
42 N 2  O 3 [  3 ]E 3  E ·  L 3  N 4a     42 N 7  O 8 ▐  8 ▌E ?  E 0  L 0  N 0a
   19   20◄  21   22   23   24   25          19   20◄  21   22   23   24   25
43 N 4  O 4                               43 N 2  O 2
   26   27   28   29   30   31               26   27   28   29   30   31
44             -    -    -                44             -    -    -


   5  very good      2  low                  8  8 h or more    4  4-5 h
   4  good           1  very low             7  7-8 h          3  3-4 h
   3  even                                   6  6-7 h          2  under 3 h
   E early  L late  N night  O off           5  5-6 h          0  none
 a anxious  · waiting  ? could not say  " note  - break  ▼ a change  ◄ today
"""

NARROW = """\
 October 2026             invented days
   Mo   Tu   We   Th   Fr   Sa   Su
                   1    2    3    4    ▌
40                  5    5    1    1   ▌
                  E 4  E 4  L ·  N 5   ▌
    5    6    7    8 ▼  9   10   11    ▌
41   1    1    1a   ?    2    2    2   ▌
   N 5  O 5    6a E 6  E 6  L 7  N 7   ▌
   12   13  ▐14" ▌15   16   17   18    ▌
42   2    3 ▐  3 ▌  3    ·    3    4a  ▌
   N 7  O 8 [  8 ]E ?  E 0  L 0  N 0a  ▌
   19   20◄  21   22   23   24   25    ▌
43   4    4
   N 2  O 2
 5  very good  4  good  3  even  2  low
 1  very low
"""


def full() -> GridData:
    """Days of every kind, with a note, a change and a break to come."""
    noted = [kept._replace(note=Square("fog")) if kept.date == D else kept for kept in wave()]
    return grid_data(noted, breaks=BREAKS, changes=CHANGES)


def month(data: GridData, size: tuple[int, int] = (80, 20), marks: Marks = "digits", **view: Any) -> Drawing:
    """October 2026, unless another month is named, without colour."""
    return draw_month(data, palette(marks=marks), october(**view), *size)


def october(**view: Any) -> MonthView:
    return MonthView(2026, 10)._replace(**view)


def october_of(
    *days: Day, marks: Marks = "digits", today: date = TODAY, **how: Any
) -> list[list[tuple[str, bool]]]:
    """What is seen of October with these days."""
    data = grid_data(days, today=today, breaks=how.pop("breaks", ()), changes=how.pop("changes", {}))
    size = how.pop("size", (80, 20))
    return seen(month(data, size, marks, **how).canvas)


def test_a_month_without_colour_reads_as_this() -> None:
    shown = month(full(), cursor=D, focus="sleep", aside="invented days")
    assert "\n".join(shown.canvas.lines()) + "\n" == OCTOBER


def test_a_month_in_little_room_reads_as_this() -> None:
    shown = month(full(), (40, 16), cursor=D, focus="mood", aside="invented days")
    assert "\n".join(shown.canvas.lines()) + "\n" == NARROW


@pytest.mark.parametrize("size", [(80, 20), (40, 16)])
@pytest.mark.parametrize("marks", ["digits", "shapes", "ascii"])
def test_every_state_of_a_square_is_another_picture_without_colour(
    marks: Marks, size: tuple[int, int]
) -> None:
    def pictured(*days: Day, **how: Any) -> list[list[tuple[str, bool]]]:
        return october_of(*days, marks=marks, size=size, **({"cursor": D} | how))

    yesterday = D - timedelta(days=1)
    pictures = {
        **{f"mood {at}": pictured(day(D, mood=at)) for at in range(5)},
        **{f"sleep {at}": pictured(day(D, sleep=at)) for at in range(8)},
        "waiting": pictured(),
        "could not say": pictured(day(D, mood=-1)),
        "anxious": pictured(day(D, anxious=True)),
        "kept and anxious": pictured(day(D, mood=0, anxious=True)),
        "still to come": pictured(today=yesterday),
        "today": pictured(today=D),
        "focus on mood": pictured(focus="mood"),
        "focus on sleep": pictured(focus="sleep"),
        "focus on the shift": pictured(focus="shift"),
        "in a break": pictured(breaks=(Break(D, D),)),
        "a break to come": pictured(today=yesterday, breaks=(Break(D, D),)),
        "a shift": pictured(day(D, shift="night")),
        "a note": pictured(day(D, note="fog")),
        "a change": pictured(changes={D: "new job"}),
    }
    alike = [
        (one, other)
        for one in pictures
        for other in pictures
        if one < other and pictures[one] == pictures[other]
    ]
    assert alike == []


@pytest.mark.parametrize(("size", "square"), [((80, 17), (4, 1)), ((99, 60), (4, 1)), ((100, 25), (5, 2)),
    ((120, 36), (6, 3)), ((160, 46), (8, 4)), ((200, 56), (10, 5)), ((300, 90), (10, 5))])  # fmt: skip
def test_squares_grow_with_the_room(size: tuple[int, int], square: tuple[int, int]) -> None:
    plan = month_plan(*size)
    assert plan is not None
    assert (plan.square, plan.fill) == square


@pytest.mark.parametrize("size", [(79, 40), (200, 16)])
def test_two_grids_need_80_columns_and_17_rows_else_there_is_one_calendar(size: tuple[int, int]) -> None:
    assert month_plan(*size) is None
    first, second = (month(full(), size).squares[SquareKey(D, grid)] for grid in GRIDS)
    assert second == first._replace(y=first.y + 1)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("focus", ["mood", "sleep", "shift"])
@pytest.mark.parametrize(("moods", "sleeps"), [(3, 4), (5, 8), (7, 10)])
@pytest.mark.parametrize("changes", [0, 12])
def test_nothing_overlaps_and_nothing_is_cut_off_in_a_month_of_six_weeks(
    size: tuple[int, int], focus: str, moods: int, sleeps: int, changes: int
) -> None:
    scales = many_levels(moods, sleeps)
    dated = {date(2026, 8, 2 * at + 1): "something changed" for at in range(changes)}
    data = grid_data(wave(scales=scales), scales=scales, changes=dated)
    drawing = month(data, size, month=8, cursor=date(2026, 8, 31), focus=focus, has_more=True)
    whole = Rect(0, 0, *size)
    rects = [*drawing.squares.values(), *drawing.levels.values()]
    assert all(whole.holds(r.x, r.y) and whole.holds(r.x + r.width - 1, r.y + r.height - 1) for r in rects)
    cells = [(x, y) for r in rects for x in range(r.x, r.x + r.width) for y in range(r.y, r.y + r.height)]
    assert len(cells) == len(set(cells))
    for (grid, id), rect in drawing.levels.items():
        assert scales.level(id).mark in drawing.canvas.text_at(rect.x, rect.y, rect.width), (grid, id)
    for key, rect in drawing.squares.items():
        mark = mark_of(data, key)
        assert mark in "".join(
            drawing.canvas.text_at(rect.x, rect.y + at, rect.width) for at in range(rect.height)
        )


def many_levels(moods: int, sleeps: int) -> Scales:
    long = [f"a rather long name for {number}" for number in range(moods)]
    bounds = [float(hour) for hour in range(sleeps - 1)]
    return Scales((DEFAULT_MOOD, DEFAULT_SLEEP, mood_scale(long, None), sleep_scale(bounds, None)))


def mark_of(data: GridData, key: SquareKey) -> str:
    """What must be read in a square; of a fused one a sign of its own may stand there."""
    if key.day.month != 8:
        return ""
    square = data.day(key.day).square(key.grid)
    level = data.level(key)
    return level.mark if level else "?" if square == UNSAID else "·"


@pytest.mark.parametrize("size", SIZES)
def test_every_level_of_a_month_is_in_a_key_that_leads_back_to_it(size: tuple[int, int]) -> None:
    found: set[tuple[str, str]] = set()
    for grid in GRIDS:
        drawing = month(full(), size, cursor=D, focus=grid)
        found |= set(drawing.levels)
        for level, rect in drawing.levels.items():
            assert (
                drawing.level_at(rect.x, rect.y) == drawing.level_at(rect.x + rect.width - 1, rect.y) == level
            )
    assert found == {(grid, level.id) for grid in GRIDS for level in DEFAULT_SCALES.newest(grid).levels}


def test_a_key_that_has_no_room_under_its_grid_takes_a_row() -> None:
    *_, mood, sleep = month(full(), (80, 17)).canvas.lines()
    assert mood == " mood   5  very good  4  good  3  even  2  low  1  very low"
    assert sleep == " hours  8  8+  7  7-8  6  6-7  5  5-6  4  4-5  3  3-4  2  <3  0  none"


def test_words_that_begin_alike_and_have_no_room_in_the_key_are_cut_with_dots() -> None:
    moods = mood_scale(["heavy, could not work", "heavy all the same", "heavy no more than usual"], None)
    data = grid_data(scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, moods)))
    key = "\n".join(month(data).canvas.lines()[15:20])
    assert key.count("heavy") == key.count("...") == 3


def test_a_square_says_shift_mark_and_anxious_under_day_note_and_change() -> None:
    kept = [day(D, mood=4, sleep=4, anxious=True, shift="night", note="fog")]
    for size, expected in {
        (80, 20): ['14" ▼', "N 5a"],
        (40, 16): ['14" ▼', "  5a"],
        (38, 10): ["14▼", " 5a"],
        (120, 36): ['14 " ▼', "      ", "  5a  ", "N     "],
    }.items():
        drawing = month(grid_data(kept, changes={D: "new job"}), size, cursor=D)
        rect = drawing.squares[SquareKey(D, "mood")]
        top = rect.y - (month_plan(*size) is None)
        rows = [drawing.canvas.text_at(rect.x, top + at, rect.width) for at in range(len(expected))]
        assert rows == [row.replace('" ▼', '"▼') if len(row) > rect.width else row for row in expected]


def test_exact_hours_stand_in_the_last_row_of_a_sleep_from_three_rows_on() -> None:
    kept = [Day(D, sleep=Square("sleep8-7", detail={"hours": 10.25}), shift=Square("night"))]
    for size, shown in {(120, 36): "N10.25", (200, 56): "N    10.25", (100, 26): "N    "}.items():
        drawing = month(grid_data(kept), size)
        rect = drawing.squares[SquareKey(D, "sleep")]
        assert drawing.canvas.text_at(rect.x, rect.y + rect.height - 1, rect.width) == shown


def test_numbers_stand_on_the_ground_and_the_week_beside_the_fill() -> None:
    ready = palette("truecolor")
    drawing = draw_month(full(), ready, october(), 120, 36)
    rect = drawing.squares[SquareKey(date(2026, 10, 5), "mood")]
    assert drawing.canvas.style_at(rect.x, rect.y).bg == ready.text.bg
    assert drawing.canvas.style_at(rect.x, rect.y + 1).bg == ready.fill("mood", 0, 5).ground
    assert drawing.canvas.text_at(4, rect.y + 1, 2) == "41"


def test_the_cursor_stands_in_the_gaps_and_hides_nothing() -> None:
    data = full()
    without, drawn = (month(data, focus="mood", cursor=cursor) for cursor in (None, D))
    changed = [area for area in drawn.canvas.changes(without.canvas) if 3 <= area.y < 15]
    squares = list(drawn.squares.values())
    assert [(area.x, area.y) for area in changed] == [(12, 7), (17, 7), (12, 8), (17, 8), (54, 8), (59, 8)]
    assert not [area for area in changed for rect in squares if rect.holds(area.x, area.y)]


def test_in_ascii_the_cursor_has_brackets_over_all_rows_of_the_grid_in_focus() -> None:
    lines = month(full(), marks="ascii", cursor=D, focus="mood").canvas.lines()
    assert [(line[12], line[17], line[54:60].strip()[:1]) for line in lines[7:9]] == [
        ("[", "]", "1"),
        ("[", "]", "["),
    ]


def test_a_key_changes_the_squares_of_its_day_and_the_count() -> None:
    before, after = (
        month(grid_data(listed), cursor=D, focus="mood")
        for listed in ([day(D, sleep=4)], [day(D, sleep=4, mood=2)])
    )
    square = after.squares[SquareKey(D, "mood")]
    assert [*after.canvas.changes(before.canvas)] == [Rect(67, 0, 1, 1), Rect(square.x, 8, 4, 1)]


def test_moving_the_cursor_changes_the_gaps_and_nothing_else() -> None:
    before, after = (
        draw_month(
            grid_data(), palette("truecolor"), october(cursor=date(2026, 10, on), focus="mood"), 80, 20
        )
        for on in (14, 15)
    )
    changed = [*after.canvas.changes(before.canvas)]
    assert {area.y for area in changed} == {7, 8}
    assert {area.x for area in changed} == {12, 17, 22, 54, 59, 64}


@pytest.mark.parametrize("first_weekday", range(7))
def test_every_month_fits_into_its_plan_whatever_the_first_weekday(first_weekday: int) -> None:
    for at in range(2020 * 12, 2030 * 12):
        drawing = month(grid_data(), year=at // 12, month=at % 12 + 1, first_weekday=first_weekday)
        assert len(drawing.squares) == 2 * length_of_month(at // 12, at % 12 + 1)
        assert max(rect.y + rect.height for rect in drawing.squares.values()) <= 15
        assert max(rect.x + rect.width for rect in drawing.squares.values()) <= 79


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: f"{plan.square}x{plan.fill}")
def test_every_cell_of_a_square_leads_back_to_its_day_and_grid(plan: object) -> None:
    size = plan.width, plan.height  # type: ignore[attr-defined]
    drawing = month(grid_data(), size, month=8)
    assert len(drawing.squares) == 62
    for key, rect in drawing.squares.items():
        corners = [(rect.x, rect.y), (rect.x + rect.width - 1, rect.y + rect.height - 1)]
        assert [drawing.place_at(*corner) for corner in corners] == [key, key]
    assert drawing.place_at(0, 0) is None


# --- the narrow calendar ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("on", "weeks"), [(1, (40, 41)), (14, (41, 42)), (20, (42, 43)), (31, (43, 44))])
def test_a_narrow_calendar_shows_whole_weeks_with_that_of_the_cursor(on: int, weeks: tuple[int, int]) -> None:
    lines = month(full(), (38, 10), cursor=date(2026, 10, on), focus="mood").canvas.lines()
    assert (int(lines[3][:2]), int(lines[6][:2])) == weeks


@pytest.mark.parametrize(
    ("focus", "highest"), [("mood", "5  very good"), ("sleep", "8  8 h +"), ("shift", "S standard")]
)
def test_a_narrow_calendar_has_the_key_of_the_half_in_focus(focus: str, highest: str) -> None:
    assert month(full(), (40, 16), cursor=D, focus=focus).canvas.lines()[14].strip().startswith(highest)


def test_the_levels_below_a_narrow_calendar_stand_one_under_another() -> None:
    assert month(full(), (38, 10), cursor=D, focus="sleep").canvas.lines()[8:] == [
        " 8  8+    7  7-8   6  6-7   5  5-6",
        " 4  4-5   3  3-4   2  <3    0  none",
    ]


def test_the_levels_below_a_narrow_calendar_stand_in_one_row_where_that_has_room() -> None:
    assert month(full(), (60, 16), cursor=D, focus="mood").canvas.lines()[14:] == [
        " 5  very good  4  good  3  even  2  low  1  very low",
        "",
    ]


def test_a_month_of_four_weeks_needs_no_bar() -> None:
    february = month(grid_data(), (40, 16), month=2, year=2027, cursor=date(2027, 2, 1)).canvas
    assert {february.text_at(39, y) for y in range(16)} == {" "}


# --- counts, and what stands beside -------------------------------------------------------------------------


def test_from_120_columns_the_names_have_the_counts_of_the_month() -> None:
    assert month(full(), (120, 36)).canvas.lines()[2].split("  ")[-1].strip() == "under 6 h 10 of 18"
    assert "low or very low 9 of 18" in month(full(), (120, 36)).canvas.lines()[2]
    assert "of 18" not in month(full(), (100, 26)).canvas.lines()[1]


@pytest.mark.parametrize("size", [(160, 46), (200, 56)])
def test_in_a_large_window_the_month_has_its_counts_its_notes_and_the_months_before(
    size: tuple[int, int],
) -> None:
    lines = "\n".join(month(full(), size, has_more=True).canvas.lines())
    for part in ("Counted", "night shifts", "Written", "fog", "▼ a new desk", "The months before"):
        assert part in lines
    bare = "\n".join(month(full(), size).canvas.lines())
    assert "Counted" not in bare


def test_what_is_written_is_cut_with_dots() -> None:
    noted = [kept._replace(note=Square("fog over the yard, and more of it")) for kept in wave()]
    panel = [line[139:] for line in month(grid_data(noted), (160, 46), has_more=True).canvas.lines()]
    assert [line.strip() for line in panel[41:43]] == ["...", ""]


def test_the_months_before_end_with_the_month_itself_and_lead_to_their_days() -> None:
    drawing = month(full(), (200, 56), has_more=True)
    names = [line[4:7] for line in drawing.canvas.lines()[43:55]]
    assert names == ["Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct"]
    rect = drawing.squares[SquareKey(date(2026, 3, 1), "mood")]
    assert drawing.place_at(rect.x, rect.y) == SquareKey(date(2026, 3, 1), "mood")
    assert drawing.squares[SquareKey(D, "mood")].height == 6


# --- levels that change -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("cursor", "said", "highest"), [
    (date(2026, 10, 3), "mood levels to 9 October", "very good"),
    (date(2026, 10, 12), "mood levels from 10 to 19 October", "fine"),
    (date(2026, 10, 20), "mood levels from 20 October on", "glad"),
])  # fmt: skip
def test_where_levels_change_within_a_month_the_key_is_the_cursors_and_says_for_which_days(
    cursor: date, said: str, highest: str
) -> None:
    three = mood_scale(["awful", "so-so", "fine"], date(2026, 10, 10))
    four = mood_scale(["bleak", "low", "good", "glad"], date(2026, 10, 20))
    data = grid_data(wave(), scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three, four)))
    rows = month(data, (80, 21), cursor=cursor, focus="mood").canvas.lines()
    assert rows[19].strip().startswith(said)
    assert highest in rows[15]


def test_squares_on_older_levels_than_those_of_their_day_are_counted_where_no_key_fits_them() -> None:
    three = mood_scale(["awful", "so-so", "fine"], date(2026, 9, 1))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three))
    old = grid_data([day(date(2026, 10, on), mood=3, sleep=5) for on in (1, 2)], scales=scales)
    assert month(old).canvas.lines()[19] == " 2 squares on older levels"
    alike = grid_data([day(date(2026, 10, on), mood=3, sleep=5) for on in (1, 2)])
    assert "levels" not in month(alike).canvas.lines()[19]


# --- other forms --------------------------------------------------------------------------------------------


def test_the_letters_of_shifts_stand_in_place_of_the_signs_while_these_are_set() -> None:
    last = month(full(), cursor=D, focus="shift").canvas.lines()[-1]
    assert last == (" S standard day E early L late D long day N night C on call O off V leave K sick")


def test_letters_begin_their_words_where_there_is_no_other_room() -> None:
    kinds = [kind for kind in DEFAULT_KINDS if kind.code in "eldnov"]
    said = ["".join(text for text, _ in letters_line(palette(), kinds, width)) for width in (52, 43, 42, 34)]
    assert said == [
        "E early  L late  D long day  N night  O off  V leave",
        "E early L late D long N night O off V leave",
        "Early Late D long Night Off V leave",
        "",
    ]


def test_hidden_squares_show_nothing_but_their_numbers() -> None:
    kept = [day(D, mood=0, sleep=0, anxious=True, shift="night", note="fog")]
    data = grid_data(kept, today=D, hidden=True, changes=CHANGES)
    assert not data.has_note(D)
    for size in ((80, 20), (200, 56)):
        lines = month(data, size, has_more=True).canvas.lines()
        assert lines[0] == " October 2026"
        text = "".join(lines)
        assert [
            sign for sign in ("fog", "desk", '14"', "Counted", "· ", "N ") if sign in text.split("5  ")[0]
        ] == []


def test_one_grid_alone_stands_at_the_left() -> None:
    drawing = month(grid_data([day(D, sleep=5)]), grids=("sleep",))
    assert drawing.squares[SquareKey(D, "sleep")] == Rect(13, 7, 4, 2)
    assert drawing.canvas.lines()[0].endswith(" kept on 1 of 20 days")


def test_the_inner_of_two_like_levels_has_its_texture_in_the_cells_without_a_mark() -> None:
    drawing = draw_month(grid_data([day(D, mood=3)]), palette("standard"), october(), 80, 20)
    rect = drawing.squares[SquareKey(D, "mood")]
    assert drawing.canvas.text_at(rect.x, rect.y + 1, 4) == "▒▒4▒"


def test_a_canvas_that_is_drawn_again_shows_nothing_of_before() -> None:
    first = month(full(), cursor=D, focus="mood").canvas
    drawn = month(grid_data(), cursor=D, focus="mood").canvas
    assert isinstance(drawn, Canvas)
    assert month(full(), cursor=D, focus="mood").canvas.lines() == first.lines() != drawn.lines()
