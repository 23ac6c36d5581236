"""Days, months and years in words."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

import pytest

from tests.grids.sheets import day, grid_data, wave
from tracker.diary.breaks import Break
from tracker.diary.changes import shift_change
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square
from tracker.diary.months import days_of_month
from tracker.diary.rota import DEFAULT_KINDS, kind_for_text
from tracker.grids.descriptions import (
    commonest,
    dates_in_words,
    spoken_day,
    spoken_grid,
    spoken_month,
    spoken_rota,
    spoken_span,
    spoken_year,
)

D = date(2026, 3, 17)
MARCH = days_of_month(2026, 3)


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        (
            day(D, mood=3, sleep=4, anxious=True, shift="night", note="Wenfold box, quiet"),
            "mood level 4 good, sleep 5-6 h (the sleep before), night shift, anxious, note",
        ),
        (
            day(D, mood=0, sleep=0, anxious=False, shift="off"),
            "mood level 1 very low, sleep none (the sleep before), off, not anxious",
        ),
        (day(D, mood=-1, shift="long"), "mood could not say, sleep waiting, long day"),
        (day(D, sleep=7, shift="call"), "mood waiting, sleep 8 h or more (the sleep before), on call"),
    ],
)
def test_a_day_is_said_in_one_line(kept: Day, words: str) -> None:
    assert spoken_day(grid_data([kept]), D) == f"Tue 17 March: {words}"


def test_on_call_is_said_with_what_she_was_called_for() -> None:
    kept = Day(D, shift=Square("call", detail={"called": "night"}))
    assert spoken_day(grid_data([kept]), D).endswith("on call, called at night")


def test_exact_hours_are_said_where_they_were_kept() -> None:
    kept = Day(D, sleep=Square("sleep8-5", detail={"hours": 6.5}))
    assert spoken_day(grid_data([kept]), D).endswith("sleep 6-7 h (6.5 h, the sleep before)")


def test_a_note_is_said_in_one_line_where_it_is_asked_for() -> None:
    kept = day(D, mood=2, sleep=5, note="Fog at Cawbrook.\n  Late home.")
    assert spoken_day(grid_data([kept]), D, with_note=True).endswith("note: Fog at Cawbrook. Late home.")


def test_days_to_come_breaks_and_days_before_the_first_are_said_as_what_they_are() -> None:
    listed = grid_data(breaks=(Break(D, D),))
    assert [spoken_day(listed, on) for on in (D, date(2026, 12, 24), date(2025, 1, 1))] == [
        "Tue 17 March: mood in a break, sleep in a break",
        "Thu 24 December: mood still to come, sleep still to come",
        "Wed 1 January: before the first day",
    ]


def test_a_hidden_day_says_nothing() -> None:
    listed = grid_data([day(D, mood=0, note="private")], hidden=True)
    assert spoken_day(listed, D, with_note=True) == "Tue 17 March: hidden"


def test_a_span_names_what_is_kept_the_commonest_level_and_the_longest_wait() -> None:
    listed = [day(date(2026, 3, on), mood=2, sleep=5, anxious=on == 4) for on in range(1, 15)]
    listed += [day(date(2026, 3, on), mood=-1, sleep=7) for on in range(15, 18)]
    listed += [day(date(2026, 3, on), mood=3) for on in range(22, 32)]
    assert spoken_span(grid_data(listed), "March 2026", MARCH) == [
        "March 2026, mood: kept on 24 of 31 days, could not say on 3; most often level 3, even (14 days); "
        "longest run of waiting squares 4 days, 18 to 21 March 2026.",
        "March 2026, sleep: kept on 17 of 31 days; most often 6-7 h (14 days); "
        "longest run of waiting squares 14 days, 18 to 31 March 2026.",
        "March 2026, anxious: 1 of 14 noted days.",
    ]


def test_a_span_without_a_possible_day_says_so() -> None:
    assert spoken_span(grid_data(first=None), "March 2026", MARCH) == [
        "March 2026: no day on which something could have been kept."
    ]


def test_levels_that_share_the_first_place_are_all_named() -> None:
    listed = grid_data([day(date(2026, 3, on), mood=on % 2 * 3) for on in range(1, 5)])
    assert commonest(listed, "mood", MARCH) == "level 1, very low and level 4, good (2 days each)"


def test_where_everything_is_kept_no_square_waits() -> None:
    listed = grid_data([day(on, mood=2) for on in MARCH])
    assert spoken_grid(listed, "mood", MARCH) == (
        "kept on 31 of 31 days; most often level 3, even (31 days); no square waits."
    )


def test_a_month_is_told_day_by_day() -> None:
    listed = grid_data(
        [day(date(2026, 3, 1), mood=1, sleep=2)], today=date(2026, 3, 2), first=date(2026, 3, 1)
    )
    assert spoken_month(listed, 2026, 3) == [
        "March 2026, mood: kept on 1 of 2 days; most often level 2, low (1 day); "
        "longest run of waiting squares 1 day, 2 March 2026.",
        "March 2026, sleep: kept on 1 of 2 days; most often 3-4 h (1 day); "
        "longest run of waiting squares 1 day, 2 March 2026.",
        "The sleep of a day is the sleep before.",
        "Sun 1 March: mood 2 low, sleep 3-4 h",
        "Mon 2 March: mood waiting, sleep waiting",
    ]


def test_a_month_says_of_no_day_that_it_was_not_anxious() -> None:
    first = date(2026, 3, 1)
    listed = grid_data([day(first, mood=1, anxious=False)], today=first, first=first)
    assert spoken_month(listed, 2026, 3)[-1] == "Sun 1 March: mood 2 low, sleep waiting"
    assert "not anxious" in spoken_day(listed, first)


def test_a_year_is_told_month_by_month() -> None:
    lines = spoken_year(grid_data(wave(date(2026, 2, 10)), today=date(2026, 2, 10)), 2026)
    assert len(lines) == 3 + 4
    assert lines[3:] == [
        "January, mood: kept on 28 of 31 days, could not say on 2; most often level 1, very low (9 days).",
        "January, sleep: kept on 29 of 31 days, could not say on 1; "
        "most often none and under 3 h (6 days each).",
        "February, mood: kept on 9 of 10 days; most often level 3, even (5 days).",
        "February, sleep: kept on 9 of 10 days, could not say on 1; most often 5-6 h (3 days).",
    ]


def test_no_line_gives_a_mean() -> None:
    listed = grid_data(wave())
    told = " ".join([*spoken_month(listed, 2026, 3), *spoken_year(listed, 2026)])
    assert not any(word in told.casefold() for word in ("mean", "average", "score"))


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (date(2026, 3, 4), date(2026, 3, 4), "4 March 2026"),
        (date(2026, 3, 4), date(2026, 3, 6), "4 to 6 March 2026"),
        (date(2026, 4, 30), date(2026, 5, 2), "30 April to 2 May 2026"),
        (date(2025, 12, 30), date(2026, 1, 2), "30 December 2025 to 2 January 2026"),
    ],
)
def test_a_span_of_dates_is_said_as_short_as_it_can_be(first: date, last: date, words: str) -> None:
    assert dates_in_words(first, last) == words


def test_a_brief_day_leaves_out_what_stands_over_the_grids() -> None:
    drawn = grid_data([day(D, mood=3, sleep=4, anxious=True)], today=D)
    assert spoken_day(drawn, D, brief=True) == "Tue 17 March: mood 4 good, sleep 5-6 h, anxious"


class TestTheRotaOfAMonth:
    """Nights and quick returns are named by their days, past and to come."""

    LONDON = Clock(zone=ZoneInfo("Europe/London"))

    def rota(self, first: date, codes: str) -> list[Day]:
        """Days with the usual shifts, a letter a day; a dot for none."""
        days = []
        for at, code in enumerate(codes):
            on = first + timedelta(days=at)
            if code != ".":
                change = shift_change(on, kind_for_text(code, DEFAULT_KINDS), self.LONDON)
                days.append(Day(on, shift=Square(change.value, detail=change.detail)))
        return days

    def said(self, first: date, codes: str, hidden: bool = False) -> str:
        drawn = grid_data(self.rota(first, codes), today=D, hidden=hidden)
        return spoken_rota(drawn, 2026, 4, self.LONDON)

    def test_runs_of_nights_and_quick_returns_are_listed(self) -> None:
        assert self.said(date(2026, 4, 1), "nooleo..nnn.le") == (
            "April: night shifts on 1, 9-11; quick returns (under 11 h) on 5, 14."
        )

    def test_a_quick_return_over_the_months_end_counts_where_the_shift_begins(self) -> None:
        assert self.said(date(2026, 3, 31), "le") == "April: quick returns (under 11 h) on 1."

    @pytest.mark.parametrize(("codes", "hidden"), [("lls", False), ("", False), ("nnn", True)])
    def test_without_either_or_hidden_nothing_is_said(self, codes: str, hidden: bool) -> None:
        assert self.said(date(2026, 4, 1), codes, hidden) == ""
