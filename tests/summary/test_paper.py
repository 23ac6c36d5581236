"""Grids for a paper notebook: the right calendar, on her dots, true to the millimetre in the file itself."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from tests.summary.sheets import CHOICES, LONG_LABELS, TODAY, keep
from tracker import words
from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.errors import UnknownValue
from tracker.diary.months import days_of_year
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale
from tracker.diary.settings import Settings
from tracker.grids.colour import grey_of
from tracker.summary.paper import as_pdf
from tracker.summary.paper_blocks import month_piece, turned_year, year_pieces
from tracker.summary.paper_layout import PAPERS, PRINT_WHOLE, PaperName, PaperSheet, Wanted, sheets

POINT = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Path:
    """Where a drawn path begins and ends, in millimetres from the upper left corner."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def size(self) -> tuple[float, float]:
        return self.right - self.left, self.bottom - self.top


def printed(wanted: Wanted, choices: Choices = CHOICES) -> list[PageObject]:
    made = sheets(wanted, keep(mood=400 * "12345", sleep=400 * "24680"), choices, TODAY)
    return list(PdfReader(io.BytesIO(as_pdf(made, TODAY))).pages)


def paths(one: PageObject) -> Iterator[Path]:
    """Every path of a page, its matrices worked out as a printer does (ISO 32000-1, 8.3.4 and 8.5)."""
    height = float(one.mediabox.height)
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    kept: list[Matrix] = []
    points: list[tuple[float, float]] = []
    for operands, operator in ContentStream(one.get_contents(), one.pdf).operations:
        numbers = [float(operand) for operand in operands] if operator in PATH_OPERATORS else []
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = times(numbers, matrix)
        elif operator in (b"m", b"l"):
            points.append(moved(numbers[0], numbers[1], matrix))
        elif operator == b"re":
            x, y, width, up = numbers
            points += [moved(x, y, matrix), moved(x + width, y + up, matrix)]
        elif operator in (b"S", b"s", b"f", b"f*", b"B", b"B*", b"n", b"W"):
            if len(points) > 1:
                xs = [x * POINT for x, _ in points]
                ys = [(height - y) * POINT for _, y in points]
                yield Path(min(xs), min(ys), max(xs), max(ys))
            points = []


PATH_OPERATORS = (b"cm", b"m", b"l", b"re")


def times(new: list[float], old: Matrix) -> Matrix:
    a, b, c, d, e, f = new
    g, h, i, j, k, m = old
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def moved(x: float, y: float, by: Matrix) -> tuple[float, float]:
    return x * by[0] + y * by[2] + by[4], x * by[1] + y * by[3] + by[5]


def squares(one: PageObject, pitch: float) -> list[Path]:
    """The drawn squares of a pitch."""
    return [path for path in paths(one) if path.size == pytest.approx((pitch, pitch), abs=0.01)]


# --- true to scale


@pytest.mark.parametrize("pitch", [2, 3.5, 5, 7.3, 10])
@pytest.mark.parametrize("paper", ["a4", "a5", "letter"])
def test_squares_are_true_to_a_tenth_of_a_millimetre(pitch: float, paper: PaperName) -> None:
    pages = printed(Wanted(2026, pitch=pitch, grids=("mood",), paper=paper))
    drawn = squares(pages[0], pitch)
    first_row = min(square.top for square in drawn) + pitch / 2
    lefts = sorted({round(square.left, 3) for square in drawn if square.top < first_row})
    across = len(lefts) - 1
    assert across >= 7
    assert lefts[-1] - lefts[0] == pytest.approx(across * pitch, abs=0.1)
    assert all(after - before == pytest.approx(pitch, abs=0.01) for before, after in pairwise(lefts))
    assert sum(len(set(squares(one, pitch))) for one in pages) == 365


@pytest.mark.parametrize("dots", [(0, 0), (4.2, 6), (3.3, 1.1)])
@pytest.mark.parametrize("pitch", [3.5, 5])
@pytest.mark.parametrize("turned", [True, False])
def test_every_square_falls_on_her_dots(pitch: float, dots: tuple[float, float], turned: bool) -> None:
    for one in printed(Wanted(2026, pitch=pitch, dots=dots, turned=turned)):
        for square in squares(one, pitch):
            for place, first in ((square.left, dots[0]), (square.top, dots[1])):
                assert (place - first) / pitch == pytest.approx(round((place - first) / pitch), abs=0.02)


@pytest.mark.parametrize("paper", ["a4", "a5", "letter"])
def test_the_ruler_is_100_millimetres_long(paper: PaperName) -> None:
    for one in printed(Wanted(2026, paper=paper)):
        rulers = [path for path in paths(one) if path.size == pytest.approx((100, 0), abs=0.1)]
        assert len(rulers) == 1


@pytest.mark.parametrize("paper", ["a4", "a5", "letter"])
@pytest.mark.parametrize("pitch", [2, 5, 9.9])
@pytest.mark.parametrize("month", [None, 3])
def test_nothing_is_drawn_beyond_the_margins(pitch: float, paper: PaperName, month: int | None) -> None:
    margin = PAPERS[paper].margin - 0.1
    for one in printed(Wanted(2026, month, pitch=pitch, paper=paper, filled=True)):
        width, height = float(one.mediabox.width) * POINT, float(one.mediabox.height) * POINT
        drawn = [path for path in paths(one) if path.size != pytest.approx((width, height), abs=1)]
        assert min(path.left for path in drawn) >= margin
        assert max(path.right for path in drawn) <= width - margin
        assert max(path.bottom for path in drawn) <= height - margin


# --- which form the paper takes


@pytest.mark.parametrize(
    ("wanted", "pieces"),
    [
        (Wanted(2026), 2),
        (Wanted(2026, turned=True), 1),
        (Wanted(2026, paper="a5"), 1),
        (Wanted(2026, paper="a5", filled=True), 1),
        (Wanted(2026, paper="a5", grids=("mood",)), 1),
        (Wanted(2026, paper="a5", pitch=4), 2),
        (Wanted(2026, paper="a4", pitch=7), 1),
        (Wanted(2026, paper="a5", pitch=7), 4),
        (Wanted(2026, paper="a5", turned=False), 4),
    ],
)
def test_a_year_stands_in_rows_where_it_fits_whole_else_in_columns_else_in_parts(
    wanted: Wanted, pieces: int
) -> None:
    made = sheets(wanted, {}, CHOICES, TODAY)
    assert sum(len(sheet.cuts) for sheet in made) == pieces


def test_both_grids_stand_on_a5_in_one_piece_of_26_by_31_squares_of_5_millimetres() -> None:
    (sheet,) = sheets(Wanted(2026, paper="a5"), {}, CHOICES, TODAY)
    (cut,) = sheet.cuts
    days = [box for box in sheet.boxes if box.width == 5]
    assert (min(box.x for box in days), max(box.x for box in days) + 5) == (9, 139)
    assert max(box.y for box in days) + 5 - min(box.y for box in days) == 155
    assert (cut.right - cut.left, cut.bottom - cut.top) == (133, 185)


def test_a_turned_year_that_does_not_fit_is_refused_with_what_it_takes() -> None:
    with pytest.raises(UnknownValue, match="Turned, the year takes 237 by 304 mm, more than the paper has"):
        sheets(Wanted(2026, pitch=9, turned=True), {}, CHOICES, TODAY)


@pytest.mark.parametrize(
    ("paper", "month", "pitch"),
    [("a4", 3, 16), ("a4", 10, 16), ("a5", 10, 12), ("a5", 3, 10), ("letter", 3, 14)],
)
def test_a_month_takes_the_largest_whole_millimetre_at_which_both_grids_fit(
    paper: PaperName, month: int, pitch: float
) -> None:
    (sheet,) = sheets(Wanted(2026, month, paper=paper), {}, CHOICES, TODAY)
    assert len(sheet.cuts) == 2
    assert max(box.width for box in sheet.boxes) == pitch


@pytest.mark.parametrize("filled", [True, False])
@pytest.mark.parametrize(
    "wanted",
    [
        Wanted(2026),
        Wanted(2026, paper="a5"),
        Wanted(2026, 10, paper="a5"),
        Wanted(2026, pitch=2),
        Wanted(2026, pitch=9),
    ],
)
def test_titles_and_keys_stand_between_the_cut_marks(wanted: Wanted, filled: bool) -> None:
    away = Break(date(2026, 1, 3), date(2026, 1, 4))
    choices = CHOICES._replace(breaks=(away,))
    for sheet in sheets(replace(wanted, filled=filled), keep(mood=70 * "1"), choices, TODAY):
        for text in sheet.texts:
            if text.text not in (words.CAUTION, PRINT_WHOLE):
                cut = next(cut for cut in sheet.cuts if cut.top <= text.y <= cut.bottom)
                assert text.y + text.height <= cut.bottom
                assert text.x >= cut.left - 2
        for box in sheet.boxes:
            assert any(cut.left <= box.x and box.x + box.width <= cut.right for cut in sheet.cuts)


def test_two_cut_marks_stand_outside_each_corner() -> None:
    (sheet,) = sheets(Wanted(2026, grids=("mood",)), {}, CHOICES, TODAY)
    (cut,) = sheet.cuts
    at_the_corner = [
        (stroke.x - cut.right, stroke.y - cut.bottom, stroke.to_x - cut.right, stroke.to_y - cut.bottom)
        for stroke in sheet.strokes
        if stroke.x >= cut.right and cut.bottom <= stroke.y < cut.bottom + 10
    ]
    assert at_the_corner == [(1, 0, 4, 0), (0, 1, 0, 4)]


# --- the right calendar


@pytest.mark.parametrize(("year", "days"), [(2024, 366), (2025, 365), (2100, 365)])
def test_a_year_has_a_square_for_each_of_its_days_in_rows_and_in_columns(year: int, days: int) -> None:
    (rows,), columns = year_pieces(["mood"], year, 31), turned_year(["mood"], year)
    for piece, place in ((rows, "row"), (columns, "column")):
        there = [cell for cell in piece.cells if cell.day]
        assert len({cell.day for cell in there}) == days
        assert all(getattr(cell, place) == cell.day.month - 1 for cell in there if cell.day)


def test_a_year_too_wide_for_the_paper_comes_in_parts_that_miss_no_day() -> None:
    parts = year_pieces(["sleep"], 2026, 17)
    assert [part.titles for part in parts] == [("Sleep 2026, days 1 to 16",), ("Sleep 2026, days 17 to 31",)]
    assert len({cell.day for part in parts for cell in part.cells if cell.day}) == 365


@pytest.mark.parametrize(
    ("year", "month", "first_weekday", "rows", "column"),
    [(2026, 2, 0, 5, 6), (2026, 2, 6, 4, 0), (2026, 3, 0, 6, 6), (2021, 2, 0, 4, 0), (2026, 8, 6, 6, 6)],
)
def test_a_month_stands_in_its_weeks(
    year: int, month: int, first_weekday: int, rows: int, column: int
) -> None:
    piece = month_piece("mood", year, month, first_weekday)
    assert piece.rows == rows
    assert (piece.cells[0].column, piece.cells[0].row) == (column, 0)
    assert piece.heads[0].text == ("Mo" if first_weekday == 0 else "Su")


def test_a_line_stands_after_every_fifth_day_and_after_each_quarter() -> None:
    (piece,) = year_pieces(["mood"], 2026, 31)
    assert [(rule.column, rule.weight) for rule in piece.rules if rule.column == rule.to_column] == [
        (at, 1.1) for at in (5, 10, 15, 20, 25, 30)
    ]
    assert [(rule.row, rule.weight) for rule in piece.rules if rule.row == rule.to_row] == [
        (at, 0.9) for at in (3, 6, 9)
    ]
    assert [head.text for head in piece.heads if head.bold] == ["5", "10", "15", "20", "25", "30"]


@pytest.mark.parametrize(("first_weekday", "column"), [(0, 5), (6, 6)])
def test_a_bar_stands_before_the_weekend_of_a_month(first_weekday: int, column: int) -> None:
    assert [rule.column for rule in month_piece("mood", 2026, 3, first_weekday).rules] == [column]


def test_the_month_in_print_has_one_square_a_day() -> None:
    (one,) = printed(Wanted(2024, month=2, pitch=8, grids=("mood",)))
    assert len(squares(one, 8)) == 29
    assert "Mood, February 2024" in one.extract_text()


@pytest.mark.parametrize("paper", ["a4", "a5"])
@pytest.mark.parametrize("pitch", [2, 2.5, 3, 3.5, 4, 5, 10])
@pytest.mark.parametrize("month", [None, 3])
def test_no_number_is_under_7_points_and_each_has_room(
    paper: PaperName, pitch: float, month: int | None
) -> None:
    made = sheets(
        Wanted(2026, month, pitch=pitch, paper=paper, filled=True),
        keep(mood=70 * "1", sleep=70 * "8"),
        CHOICES,
        TODAY,
    )
    texts = [text for sheet in made for text in sheet.texts]
    assert min(text.size for text in texts) >= 7
    crowded = [text for text in texts if text.text in ("13", "31") and pitch < 2.8 and not month]
    assert crowded == []


def test_where_numbers_have_no_room_every_fifth_is_left() -> None:
    (sheet,) = sheets(Wanted(2026, pitch=2, grids=("mood",)), {}, CHOICES, TODAY)
    numbers = [text.text for text in sheet.texts if text.text.isdigit() and text.size < 8]
    assert numbers == ["5", "10", "15", "20", "25", "30"]


# --- what stands in the squares


def signs(sheet: PaperSheet) -> list[str]:
    return [one.text for one in sheet.texts]


def test_a_blank_grid_has_empty_squares_grey_corners_at_weekends_and_a_key_without_colours() -> None:
    (sheet,) = sheets(Wanted(2026, grids=("mood",)), keep(mood="3"), CHOICES, TODAY)
    assert {box.fill for box in sheet.boxes} == {None}
    assert len(sheet.corners) == sum(day.weekday() >= 5 for day in days_of_year(2026))
    assert {corner.size for corner in sheet.corners} == {0.32 * 5}
    assert [text for text in signs(sheet) if text in ("very low", "low", "even", "good", "very good")] == [
        "very low", "low", "even", "good", "very good",
    ]  # fmt: skip


def test_a_filled_grid_shows_digits_marks_gaps_and_nothing_to_come() -> None:
    away = Break(date(2026, 3, 15), date(2026, 3, 15))
    days = keep(mood="4?..1", anxious="y")
    choices = CHOICES._replace(breaks=(away,))
    (sheet,) = sheets(Wanted(2026, 3, ("mood",), filled=True), days, choices, TODAY)
    told = signs(sheet)
    days_told = told[told.index("12") :]
    assert days_told[: days_told.index("Mo")] == [
        "12", ".", "13", "4a", "14", "?", "15", "–", "16", ".", "17", "1", *map(str, range(18, 32)),
    ]  # fmt: skip


def test_a_year_under_two_versions_has_both_in_its_key() -> None:
    changed = Scales((DEFAULT_MOOD, mood_scale(["dim", "grey", "clear"], date(2026, 5, 4)), DEFAULT_SLEEP))
    choices = CHOICES._replace(scales=changed)
    (filled,) = sheets(Wanted(2026, grids=("mood",), filled=True), {}, choices, TODAY)
    told = signs(filled)
    key = [text for text in told[told.index("from 1 Jan 2026:") :] if not text.isdigit()]
    assert key == [
        "from 1 Jan 2026:", "very low", "low", "even", "good", "very good",
        "from 4 May 2026:", "dim", "grey", "clear", "a anxious", "? could not say", ". nothing kept",
        "/ no such day", "grey corner: weekend",
    ]  # fmt: skip
    (blank,) = sheets(Wanted(2026, grids=("mood",)), {}, choices, TODAY)
    assert "clear" in signs(blank)
    assert "very good" not in signs(blank)


def test_a_key_with_too_many_versions_says_what_has_no_room() -> None:
    moods = [
        mood_scale([f"{a} {30 * 'm'}" for a in "abcdefg"], date(2026, month, 1)) for month in range(1, 13)
    ]
    choices = CHOICES._replace(scales=Scales((*moods, DEFAULT_SLEEP)))
    for sheet in sheets(
        Wanted(2026, grids=("mood",), filled=True, pitch=10, paper="letter"), {}, choices, TODAY
    ):
        assert "(no room for the levels before)" in signs(sheet)
        assert max(box.y + box.height for box in sheet.boxes) <= sheet.height - PAPERS["letter"].foot


def test_a_label_that_no_font_prints_gives_way_to_its_digit() -> None:
    scales = Scales((mood_scale(["\a", "low", "even"], None), DEFAULT_SLEEP))
    (one,) = printed(Wanted(2026, grids=("mood",)), CHOICES._replace(scales=scales))
    assert "low" in one.extract_text()
    assert "\a" not in one.extract_text()


def test_days_that_do_not_exist_are_struck_out() -> None:
    (sheet,) = sheets(Wanted(2025, grids=("mood",)), {}, CHOICES, TODAY)
    slanted = [stroke for stroke in sheet.strokes if stroke.x != stroke.to_x and stroke.y != stroke.to_y]
    assert len(slanted) == 372 - 365


def test_grey_has_no_colour_left() -> None:
    made = sheets(Wanted(2026, filled=True, grey=True), keep(mood=60 * "1", sleep=60 * "5"), CHOICES, TODAY)
    fills = {box.fill for sheet in made for box in sheet.boxes if box.fill}
    assert all(fill[1:3] == fill[3:5] == fill[5:7] for fill in fills)


@pytest.mark.parametrize(
    ("colour", "grey"), [("#000000", "#000000"), ("#ffffff", "#ffffff"), ("#777777", "#777777")]
)
def test_a_grey_stays_as_it_is(colour: str, grey: str) -> None:
    assert grey_of(colour) == grey


@pytest.mark.parametrize("paper", ["a4", "a5", "letter"])
def test_the_caution_stands_on_every_sheet(paper: PaperName) -> None:
    for one in printed(Wanted(2026, pitch=10, filled=True, paper=paper)):
        assert words.CAUTION in one.extract_text()


def test_long_labels_and_many_levels_stay_on_the_paper() -> None:
    choices = CHOICES._replace(scales=LONG_LABELS, settings=Settings(first_weekday=6))
    for sheet in sheets(Wanted(2026, filled=True), {}, choices, TODAY):
        assert max(box.x + box.width for box in sheet.boxes) <= sheet.width - PAPERS["a4"].margin


@pytest.mark.parametrize("pitch", [1.9, 10.1])
def test_a_pitch_off_the_range_is_refused(pitch: float) -> None:
    with pytest.raises(UnknownValue, match="The pitch is 2 to 10 mm, not"):
        sheets(Wanted(2026, pitch=pitch), {}, CHOICES, TODAY)


def test_a_printed_sheet_is_tagged_and_tells_nothing_of_who_made_it() -> None:
    reader = PdfReader(io.BytesIO(as_pdf(sheets(Wanted(2026), {}, CHOICES, TODAY), TODAY)))
    assert reader.root_object["/StructTreeRoot"]
    assert set(reader.metadata or {}) <= {"/Title", "/Creator", "/CreationDate", "/ModDate"}
