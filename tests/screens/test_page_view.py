"""How the page stands in its preview: its days on the fills of their levels, as on the paper."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pytest

from tests.grids.sheets import palette
from tests.summary.sheets import CHOICES, keep, page
from tracker.diary.choices import Choices
from tracker.diary.days import Day
from tracker.diary.scales import DEFAULT_SLEEP, Grid, Scales, mood_scale
from tracker.grids.canvas import CellStyle
from tracker.screens.page_view import sheet_rows, title_row
from tracker.screens.widgets.long_text import Line
from tracker.summary.text import fitted

DAYS = keep(mood="3.2?1", sleep="86538", shifts="onnel", anxious="nnynn")


def letters(name: str, days: Mapping[date, Day] = DAYS, choices: Choices = CHOICES) -> list[Line]:
    """What stands in a line of days behind its name, letter by letter, and how."""
    looks = palette("truecolor")
    rows = sheet_rows(looks, fitted(page(days, choices)), looks.panel)
    line = next(row for row in rows if row and row[0][0].startswith(name))
    cells = [(letter, style) for text, style in line for letter in text]
    return [(letter, style) for letter, style in cells[6:] if letter not in " |"]


def fill(grid: Grid, place: int, levels: int) -> CellStyle:
    looks = palette("truecolor")
    return looks.style(looks.fill(grid, place, levels), bold=True)


def test_each_level_lies_on_its_fill_and_what_is_no_level_on_the_sheet() -> None:
    sheet = palette("truecolor").text._replace(bg=palette("truecolor").panel)
    even, low, lowest = (fill("mood", place, 5) for place in (2, 1, 0))
    assert letters("mood") == [
        ("3", even), (".", sheet), ("2", low), ("a", low), ("?", sheet), ("1", lowest),
    ]  # fmt: skip
    places = (7, 5, 4, 2, 7)
    assert [style for _, style in letters("sleep")] == [fill("sleep", place, 8) for place in places]


def test_a_level_has_the_fill_of_its_own_version() -> None:
    seven = Scales((mood_scale([f"level {number}" for number in range(7)], None), DEFAULT_SLEEP))
    days = keep(mood="7", scales=seven)
    assert letters("mood", days, Choices(scales=seven)) == [("7", fill("mood", 6, 7))]


def test_nights_stand_out_among_the_shifts() -> None:
    assert [(letter, style.reverse) for letter, style in letters("shift")] == [
        ("o", False), ("N", True), ("N", True), ("e", False), ("l", False),
    ]  # fmt: skip


def test_without_colour_the_digits_stand_as_in_the_file() -> None:
    rows = sheet_rows(palette("none"), fitted(page(DAYS)), None)
    assert [row for row in rows if row and row[0][0].startswith("mood ")] == [
        [(f"{'mood          3 . 2a|? 1':<80}", palette("none").text)]
    ]


def test_rows_say_what_the_file_says_with_a_blank_row_before_each_head() -> None:
    printed = fitted(page(DAYS))
    rows = ["".join(text for text, _ in row).rstrip() for row in sheet_rows(palette(), printed, None)]
    assert [row for row in rows if row] == [line for line in printed.lines if line]
    assert {rows[rows.index(line) - 1] for line in printed.lines[1:] if line[:5].isupper()} == {""}


@pytest.mark.parametrize(("width", "title"), [(80, "The page for the GP"), (38, "The page")])
def test_the_title_is_shorter_where_there_is_little_room(width: int, title: str) -> None:
    row = title_row(palette(), width, "invented days", ["so many rows of so many", "columns"]).lines()[0]
    right = "so many rows of so many" if width == 80 else "columns"
    assert (row.split("   ")[0], row[-len(right) :], len(row)) == (f" {title}", right, width - 1)
