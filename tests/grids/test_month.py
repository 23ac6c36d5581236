"""The month as it is drawn, square by square and as a whole."""

from datetime import date

import pytest

from tests.grids.sheets import TODAY, day, grid_data, palette, wave
from tracker.diary.breaks import Break
from tracker.diary.days import Day
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
from tracker.grids.canvas import Rect
from tracker.grids.month import PLANS, draw_month, mark_cell, month_plan
from tracker.grids.palette import Marks
from tracker.grids.squares import Focus
from tracker.grids.year import draw_year, year_plan

PAUSE = (Break(date(2026, 5, 11), date(2026, 5, 18)),)
D = date(2026, 10, 14)

OCTOBER = """\
 October 2026                                both squares kept on 16 of 20 days
   Mood                                   ►  Sleep, the sleep before
   Mo   Tu   We   Th   Fr   Sa   Su          Mo   Tu   We   Th   Fr   Sa   Su
40                 1 E  2 E  3 L  4 N     40                 1 E  2 E  3 L  4 N
                   5    5    1    1                          4    4    ·    5
41  5 N  6 O  7    8 E  9 E 10 L 11 N     41  5 N  6 O  7    8 E  9 E 10 L 11 N
    1    1    1 a  ?    2    2    2           5    5    6 a  6    6    7    7
42 12 N 13 O 14   15 E 16 E 17 L 18 N     42 12 N 13 O▐14  ▌15 E 16 E 17 L 18 N
    2    3   [3]   3    ·    3    4 a         7    8  ▐[8] ▌ ?    0    0    0 a
43 19 N 20◄O 21   22   23   24   25       43 19 N 20◄O 21   22   23   24   25
    4    4                                    2    2
44 26   27   28   29   30   31            44 26   27   28   29   30   31



    5   very good     2   low                 8   8 h or more   4   4-5 h
    4   good          1   very low            7   7-8 h         3   3-4 h
    3   even                                  6   6-7 h         2   under 3 h
                                              5   5-6 h         0   none
   a anxious  ? could not say (x)  · waiting (Backspace)  - in a break  ◄ today
"""


def october(*days: Day, today: date = TODAY, marks: Marks = "digits", **how: object) -> list[str]:
    """The text of October 2026 without colour."""
    drawn = grid_data(days, today=today, breaks=how.pop("breaks", ()))  # type: ignore[arg-type]
    return draw_month(drawn, palette(marks=marks), 2026, 10, **how).canvas.lines()  # type: ignore[arg-type]


def test_a_month_without_colour_reads_as_this() -> None:
    drawn = grid_data(wave(), breaks=PAUSE)
    shown = draw_month(drawn, palette(), 2026, 10, cursor=D, focus="sleep").canvas.lines()
    assert "\n".join(shown) + "\n" == OCTOBER


@pytest.mark.parametrize(("width", "height"), [(120, 36), (150, 50), (200, 60)])
def test_where_there_is_room_the_key_says_what_the_letters_beside_the_days_are(
    width: int, height: int
) -> None:
    drawn, hidden = grid_data(wave()), grid_data(wave(), hidden=True)
    shown, said = (
        draw_month(one, palette(), 2026, 10, width=width, height=height).canvas.lines()
        for one in (drawn, hidden)
    )
    assert [line.strip() for line in shown if "E early" in line] == ["E early L late N night O off"]
    assert [line for line in said if "early" in line] == []
    none = draw_month(grid_data([day(D, mood=1)]), palette(), 2026, 10, width=width, height=height)
    assert [line for line in none.canvas.lines() if "early" in line] == []


@pytest.mark.parametrize("marks", ["digits", "shapes", "ascii"])
def test_every_state_of_a_square_is_another_picture_without_colour(marks: Marks) -> None:
    levels = {
        **{f"mood {at}": october(day(D, mood=at), marks=marks) for at in range(5)},
        **{f"sleep {at}": october(day(D, sleep=at), marks=marks) for at in range(8)},
    }
    states = {
        "waiting": october(marks=marks),
        "could not say": october(day(D, mood=-1), marks=marks),
        "anxious": october(day(D, anxious=True), marks=marks),
        "kept and anxious": october(day(D, mood=0, anxious=True), marks=marks),
        "still to come": october(today=date(2026, 10, 13), marks=marks),
        "today": october(today=D, marks=marks),
        "cursor on mood": october(cursor=D, focus="mood", marks=marks),
        "cursor on sleep": october(cursor=D, focus="sleep", marks=marks),
        "cursor on the shift": october(cursor=D, focus="shift", marks=marks),
        "in a break": october(breaks=(Break(D, D),), marks=marks),
        "a shift": october(day(D, shift="night"), marks=marks),
    }
    canvases = {name: "\n".join(lines) for name, lines in (levels | states).items()}
    assert len(set(canvases.values())) == len(canvases) == 24


def test_a_square_says_day_today_shift_mark_and_anxious() -> None:
    lines = october(day(D, mood=4, anxious=True, shift="night"), today=D)
    rect = month_plan(80, 20).rect("mood", 2, 2)
    cells = slice(rect.x, rect.x + rect.width)
    assert [lines[rect.y][cells], lines[rect.y + 1][cells]] == ["14◄N", " 5 a"]


def test_the_cursor_has_brackets_in_both_grids_and_bars_in_the_one_in_focus() -> None:
    lines = october(day(D, mood=4, sleep=7), cursor=D, focus="sleep")
    assert lines[8][:60] == "    ·    ·   [5]   ·    ·    ·    ·           ·    ·  ▐[8] ▌"


def test_places_of_other_months_have_no_number_and_no_square() -> None:
    drawing = draw_month(grid_data(), palette(), 2026, 10)
    assert {place.day.month for place in drawing.squares} == {10}
    first_week = drawing.canvas.lines()[3][:37].rstrip()
    assert first_week == "40                 1    2    3    4"


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: f"{plan.square_width}x{plan.square_height}")
def test_every_cell_of_a_square_leads_back_to_its_day_and_grid(plan: object) -> None:
    width, height = plan.width, plan.height  # type: ignore[attr-defined]
    drawing = draw_month(grid_data(), palette(), 2026, 8, width=width, height=height)
    assert len(drawing.squares) == 62
    for place, rect in drawing.squares.items():
        assert (rect.width, rect.height) == (plan.square_width, plan.square_height)  # type: ignore[attr-defined]
        corners = [(rect.x, rect.y), (rect.x + rect.width - 1, rect.y + rect.height - 1)]
        assert [drawing.place_at(*corner) for corner in corners] == [place, place]
    assert drawing.place_at(0, 0) is None


@pytest.mark.parametrize(
    ("size", "square"),
    [((80, 20), 4), ((99, 60), 4), ((100, 26), 5), ((120, 34), 6), ((160, 40), 8), ((200, 60), 10)],
)
def test_squares_grow_with_the_room(size: tuple[int, int], square: int) -> None:
    assert month_plan(*size).square_width == square


@pytest.mark.parametrize("first_weekday", range(7))
def test_every_month_fits_into_its_plan_whatever_the_first_weekday(first_weekday: int) -> None:
    for at in range(2020 * 12, 2030 * 12):
        drawing = draw_month(grid_data(), palette(), at // 12, at % 12 + 1, first_weekday=first_weekday)
        bottom = max(rect.y + rect.height for rect in drawing.squares.values())
        right = max(rect.x + rect.width for rect in drawing.squares.values())
        assert bottom <= 15
        assert right <= 79


def test_a_click_on_the_key_leads_to_its_level() -> None:
    drawing = draw_month(grid_data(), palette(), 2026, 10)
    assert drawing.level_at(3, 15) == ("mood", "mood5-5")
    assert drawing.level_at(24, 16) == ("mood", "mood5-1")
    assert drawing.level_at(45, 18) == ("sleep", "sleep8-4")
    assert drawing.level_at(3, 18) is None


def test_the_key_shows_every_level_of_both_grids() -> None:
    drawing = draw_month(grid_data(), palette("truecolor"), 2026, 10)
    expected = {(grid, level.id) for grid in GRIDS for level in DEFAULT_SCALES.newest(grid).levels}
    assert set(drawing.levels) == expected
    for (grid, id), rect in drawing.levels.items():
        scale, place = grid_data().scales.placed(id)
        fill = palette("truecolor").fill(grid, place, len(scale.levels))
        swatch = drawing.canvas.style_at(rect.x + 1, rect.y)
        assert (swatch.bg, drawing.canvas.text_at(rect.x + 1, rect.y)) == (
            fill.ground,
            scale.levels[place].mark,
        )


def test_words_that_begin_alike_and_have_no_room_in_the_key_are_cut_with_dots() -> None:
    moods = mood_scale(["heavy, could not work", "heavy all the same", "heavy no more"], None)
    drawing = draw_month(grid_data(scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, moods))), palette(), 2026, 10)
    key = "\n".join(drawing.canvas.lines()[15:20])
    assert key.count("heavy") == key.count("...") == 3


def test_the_most_levels_there_can_be_still_fit_with_their_key() -> None:
    moods = mood_scale(["one", "two", "three", "four", "five", "six", "seven"], None)
    sleeps = sleep_scale([0, 2, 3, 4, 5, 6, 7, 8, 9], None)
    listed = grid_data(scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, moods, sleeps)))
    drawing = draw_month(listed, palette(), 2026, 10)
    assert len(drawing.levels) == 17
    assert drawing.canvas.height == 21
    assert drawing.canvas.lines()[20].lstrip().startswith("a anxious")


@pytest.mark.parametrize(
    ("cursor", "said", "highest"),
    [
        (date(2026, 10, 3), "key: to 9", "very good"),
        (date(2026, 10, 12), "key: 10-19", "fine"),
        (date(2026, 10, 20), "key: 20 on", "glad"),
    ],
)
def test_where_levels_change_within_a_month_the_key_is_the_cursors_and_says_for_which_days(
    cursor: date, said: str, highest: str
) -> None:
    three = mood_scale(["awful", "so-so", "fine"], date(2026, 10, 10))
    four = mood_scale(["bleak", "low", "good", "glad"], date(2026, 10, 20))
    drawn = grid_data(wave(), scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three, four)))
    rows = draw_month(drawn, palette(), 2026, 10, cursor=cursor, focus="mood").canvas.lines()
    assert rows[1].split(said)[0].split() == ["\u25ba", "Mood"]
    assert highest in rows[15]
    assert "key:" not in rows[1].split("Sleep")[1]


def test_squares_on_other_levels_than_those_of_their_day_are_counted_where_no_key_fits_them() -> None:
    three = mood_scale(["awful", "so-so", "fine"], date(2026, 9, 1))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three))
    old = grid_data([day(date(2026, 10, on), mood=3, sleep=5) for on in (1, 2)], scales=scales)
    assert (
        draw_month(old, palette(), 2026, 10)
        .canvas.lines()[0]
        .split(maxsplit=2)[2]
        .startswith("2 on other levels; both squares kept on 2 of ")
    )
    year = draw_year(old, palette(), year_plan(2026, 80, 21), cursor=date(2026, 10, 1), focus="mood")
    assert [row[68:].strip() for row in year.canvas.lines()[6:8]] == ["2 on other", "levels"]
    alike = grid_data([day(date(2026, 10, on), mood=3, sleep=5) for on in (1, 2)])
    assert "levels" not in draw_month(alike, palette(), 2026, 10).canvas.lines()[0]


def test_the_days_of_a_key_stand_beside_the_name_of_the_sleep_grid() -> None:
    coarse = sleep_scale([0, 4, 6, 8], date(2026, 10, 10))
    drawn = grid_data(wave(), scales=Scales((DEFAULT_MOOD, DEFAULT_SLEEP, coarse)))
    rows = draw_month(drawn, palette(), 2026, 10, cursor=date(2026, 10, 20)).canvas.lines()
    assert rows[1].endswith("Sleep, the sleep before key: 10 on")
    other = draw_month(drawn, palette(), 2026, 9, cursor=date(2026, 9, 20)).canvas.lines()
    assert other[1].endswith("Sleep, the sleep before")


def test_the_line_of_signs_gives_the_letters_of_shifts_while_these_are_set() -> None:
    last = october(cursor=D, focus="shift")[-1]
    assert last == (" S standard day E early L late D long day N night C on call O off V leave K sick")


def test_a_key_changes_the_squares_of_its_day_and_the_count() -> None:
    before, after = (
        draw_month(grid_data(listed), palette(), 2026, 10, cursor=D, focus="mood")
        for listed in ([day(D, sleep=4)], [day(D, sleep=4, mood=2)])
    )
    square = after.squares[SquareKey(D, "mood")]
    assert [*after.canvas.changes(before.canvas)] == [Rect(67, 0, 1, 1), Rect(square.x, 8, 4, 1)]
    assert after.canvas.text_at(*reversed(mark_cell(square))) == "3"


def test_moving_the_cursor_changes_the_two_squares_and_nothing_else() -> None:
    focus: Focus = "mood"
    before, after = (
        draw_month(grid_data(), palette("truecolor"), 2026, 10, cursor=date(2026, 10, on), focus=focus)
        for on in (14, 15)
    )
    columns = {rect.x for rect in after.canvas.changes(before.canvas)}
    rows = {rect.y for rect in after.canvas.changes(before.canvas)}
    assert rows == {7, 8}
    assert columns <= {*range(12, 24), *range(54, 66)}


def test_hidden_squares_show_nothing_but_their_numbers() -> None:
    kept = [day(D, mood=0, sleep=0, anxious=True, shift="night")]
    lines = draw_month(grid_data(kept, today=D, hidden=True), palette(), 2026, 10).canvas.lines()
    assert lines[0] == " October 2026"
    assert lines[7][:37] == "42 12   13   14◄  15   16   17   18  "
    assert lines[8] == ""


def test_one_grid_alone_stands_at_the_left() -> None:
    drawing = draw_month(grid_data([day(D, sleep=5)]), palette(), 2026, 10, grids=("sleep",))
    assert drawing.squares[SquareKey(D, "sleep")] == Rect(13, 7, 4, 2)
    assert drawing.canvas.lines()[0].endswith(" kept on 1 of 20 days")
