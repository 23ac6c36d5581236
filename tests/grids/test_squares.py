"""What a square is: kept, waiting, unsaid, to come, in a break, before the first day."""

from datetime import date

import pytest

from tests.grids.sheets import FIRST, TODAY, day, grid_data, palette
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.errors import DamagedRecord
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SCALES, DEFAULT_SLEEP, GRIDS, Scales, mood_scale
from tracker.diary.waiting import SquareKey
from tracker.grids.squares import square_style

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
    assert state(date(2026, 10, 21), breaks=pause) == "in a break"


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
    drawn = square_style(
        grid_data([day(D, sleep=1, anxious=True)]), palette("truecolor"), SquareKey(D, "sleep")
    )
    assert (drawn.mark, drawn.anxious, drawn.style.bg, drawn.style.fg) == ("2", "a", "#496cca", "#ffffff")
    assert (drawn.texture, drawn.texture_style) == (" ", drawn.style)


@pytest.mark.parametrize("theme", ["wenfold-dusk", "selderby-morning"])
def test_a_waiting_square_is_a_tile_of_its_own_with_a_dot(theme: str) -> None:
    ready = palette("truecolor", theme=theme)
    for kept in ([], [day(D, anxious=True)]):
        drawn = square_style(grid_data(kept), ready, SquareKey(D, "mood"))
        assert (drawn.mark, drawn.style) == ("·", ready.waiting)
    assert ready.waiting.bg not in (ready.text.bg, None)


def test_what_could_not_be_said_stands_on_the_tile_and_a_break_and_what_is_to_come_on_the_ground() -> None:
    ready, pause = palette("truecolor"), (Break(TODAY, None),)
    unsaid = square_style(grid_data([day(D, mood=-1)]), ready, SquareKey(D, "mood"))
    assert (unsaid.mark, unsaid.style) == ("?", ready.unsaid)
    for on, first, mark in ((TODAY, FIRST, "-"), (date(2026, 12, 1), FIRST, "-"), (D, TODAY, " ")):
        drawn = square_style(grid_data(breaks=pause, first=first), ready, SquareKey(on, "mood"))
        assert (drawn.mark, drawn.style.bg) == (mark, ready.text.bg)


def test_the_inner_of_two_levels_that_share_one_of_16_colours_has_a_texture() -> None:
    ready = palette("standard")
    outer, inner = (square_style(grid_data([day(D, mood=at)]), ready, SquareKey(D, "mood")) for at in (4, 3))
    assert (inner.style.bg, inner.texture, inner.texture_style.bg) == ("#ffff55", "▒", "#ffff55")
    assert (outer.style, outer.texture) == (inner.style, " ")
    plain = square_style(grid_data([day(D, mood=3)]), palette("standard", "ascii"), SquareKey(D, "mood"))
    assert plain.texture == ":"


def test_without_colour_low_moods_and_short_sleeps_are_in_reverse_video() -> None:
    for grid, marks in zip(GRIDS, ("12", "02345"), strict=True):
        levels = DEFAULT_SCALES.newest(grid).levels
        days = [Day(D, **{grid: Square(level.id)}) for level in levels]
        drawn = [square_style(grid_data([kept]), palette(), SquareKey(D, grid)) for kept in days]
        assert "".join(style.mark for style in drawn if style.style.reverse) == marks


def test_a_square_of_an_older_scale_keeps_the_mark_it_was_given() -> None:
    three = mood_scale(["low", "even", "good"], date(2026, 6, 1))
    scales = Scales((DEFAULT_MOOD, DEFAULT_SLEEP, three))
    listed = [day(D), Day(D, mood=Square("mood5-5")), Day(date(2026, 6, 2), mood=Square(three.levels[2].id))]
    drawn = [
        square_style(grid_data(listed, scales=scales), palette("truecolor"), SquareKey(on, "mood"))
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
