"""What a square is: kept, waiting, unsaid, to come, in a break, before the first day."""

from datetime import date

import pytest

from tests.grids.sheets import FIRST, TODAY, day, grid_data, palette
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.errors import DamagedRecord
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP, Scales, mood_scale
from tracker.diary.waiting import SquareKey
from tracker.grids.squares import face

D = date(2026, 3, 17)


def state(on: date, *days: Day, breaks: tuple[Break, ...] = (), first: date | None = FIRST) -> str:
    return grid_data(days, breaks=breaks, first=first).state(SquareKey(on, "mood"))


def test_a_square_is_kept_or_could_not_be_said_or_waits() -> None:
    assert state(D, day(D, mood=0)) == "kept"
    assert state(D, day(D, mood=-1)) == "could not say"
    assert state(D, day(D, sleep=3)) == "waiting"


def test_days_after_today_are_still_to_come_and_today_waits() -> None:
    assert state(TODAY) == "waiting"
    assert state(date(2026, 10, 21)) == "still to come"


def test_before_the_first_day_nothing_waits() -> None:
    assert state(date(2025, 12, 31)) == "before the first day"
    assert state(D, first=None) == "before the first day"


def test_a_day_in_a_break_does_not_wait_but_shows_what_was_kept() -> None:
    pause = (Break(D, None),)
    assert state(D, breaks=pause) == "in a break"
    assert state(D, day(D, mood=2), breaks=pause) == "kept"
    assert state(date(2026, 10, 21), breaks=pause) == "still to come"


def test_possible_days_lie_between_the_first_and_today_outside_breaks() -> None:
    pause = (Break(date(2026, 10, 2), date(2026, 10, 18)),)
    october = [date(2026, 10, number) for number in range(1, 32)]
    assert grid_data(breaks=pause).possible(october) == [date(2026, 10, number) for number in (1, 19, 20)]
    assert grid_data(first=None).possible(october) == []


def test_a_day_of_a_break_on_which_something_is_kept_is_possible() -> None:
    kept = Day(date(2026, 10, 5), sleep=Square("sleep8-5"))
    shown = grid_data([kept], breaks=(Break(date(2026, 10, 2), date(2026, 10, 8)),))
    assert shown.possible([date(2026, 10, number) for number in (4, 5, 6)]) == [kept.date]


def test_a_shift_is_a_capital_and_a_day_without_rota_blank() -> None:
    listed = [day(D, shift="off"), day(date(2026, 3, 18), shift="night")]
    letters = [grid_data(listed).shift_letter(date(2026, 3, number)) for number in (17, 18, 19)]
    assert letters == ["O", "N", " "]


def test_a_kept_square_has_its_mark_on_its_fill() -> None:
    drawn = face(grid_data([day(D, sleep=1, anxious=True)]), palette("truecolor"), SquareKey(D, "sleep"))
    assert (drawn.mark, drawn.anxious, drawn.style.bg, drawn.style.fg) == ("2", "a", "#496cca", "#ffffff")
    assert drawn.outer == drawn.style


@pytest.mark.parametrize(
    ("kept", "mark"), [([], "·"), ([day(D, mood=-1)], "?"), ([day(D, anxious=True)], "·")]
)
def test_a_square_that_is_not_kept_has_neither_fill_nor_digit(kept: list[Day], mark: str) -> None:
    ready = palette("truecolor")
    drawn = face(grid_data(kept), ready, SquareKey(D, "mood"))
    assert (drawn.mark, drawn.style.bg, drawn.outer.bg) == (mark, ready.text.bg, ready.text.bg)


def test_the_inner_of_two_levels_that_share_one_of_16_colours_leaves_its_rim_free() -> None:
    ready, listed = palette("standard"), grid_data([day(D, mood=3)])
    drawn = face(listed, ready, SquareKey(D, "mood"))
    assert (drawn.style.bg, drawn.outer) == ("#ffff55", ready.text)


def test_a_square_of_an_older_scale_keeps_the_mark_it_was_given() -> None:
    three = mood_scale(["low", "even", "good"], date(2026, 6, 1))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three))
    listed = [day(D), Day(D, mood=Square("mood5-5")), Day(date(2026, 6, 2), mood=Square(three.levels[2].id))]
    drawn = [
        face(grid_data(listed, scales=scales), palette("truecolor"), SquareKey(on, "mood"))
        for on in (D, date(2026, 6, 2))
    ]
    assert [(shown.mark, shown.style.bg) for shown in drawn] == [("5", "#fce086"), ("3", "#fce086")]


def test_a_level_that_no_scale_has_is_named() -> None:
    with pytest.raises(DamagedRecord) as unknown:
        grid_data([Day(D, mood=Square("mood9-9"))]).level(SquareKey(D, "mood"))
    assert (
        str(unknown.value)
        == "The record holds the level 'mood9-9', which no scale of it has; run tracker check."
    )
