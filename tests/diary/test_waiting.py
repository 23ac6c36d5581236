"""What waits, and what is asked for next. Today is Tuesday 17 March 2026."""

from datetime import date, timedelta

import pytest

from tests.waiting import older
from tracker.diary.breaks import Break
from tracker.diary.days import Day, Square
from tracker.diary.waiting import SquareKey, Waiting, order_of_asking

TODAY, YESTERDAY, SUNDAY = date(2026, 3, 17), date(2026, 3, 16), date(2026, 3, 15)
MOOD, SLEEP = Square("mood5-3"), Square("sleep8-5")


def waiting(*days: Day, first: date | None = date(2026, 3, 1), breaks: tuple[Break, ...] = ()) -> Waiting:
    return Waiting({day.date: day for day in days}, first, TODAY, breaks)


def test_the_order_of_asking_is_the_order_of_time() -> None:
    assert order_of_asking(TODAY) == (
        SquareKey(YESTERDAY, "sleep"),
        SquareKey(YESTERDAY, "mood"),
        SquareKey(TODAY, "sleep"),
        SquareKey(TODAY, "mood"),
    )


def test_the_earliest_waiting_square_is_asked_for() -> None:
    assert waiting().next_asked() == SquareKey(YESTERDAY, "sleep")
    assert waiting(Day(YESTERDAY, MOOD, SLEEP), Day(TODAY, None, SLEEP)).next_asked() == SquareKey(
        TODAY, "mood"
    )


def test_after_a_night_it_is_the_mood_of_the_day_just_worked() -> None:
    """At 08:30 she has kept the sleep before the night; the mood of that day waits, and today's sleep."""
    after_the_night = waiting(Day(YESTERDAY, sleep=SLEEP))
    assert after_the_night.next_asked() == SquareKey(YESTERDAY, "mood")


def test_nothing_is_asked_for_when_all_is_kept() -> None:
    assert waiting(Day(YESTERDAY, MOOD, SLEEP), Day(TODAY, MOOD, SLEEP)).next_asked() is None


def test_an_answer_of_could_not_say_waits_no_longer() -> None:
    could_not_say = Day(TODAY, mood=Square("", "could not say"))
    assert not waiting(could_not_say).waits(SquareKey(TODAY, "mood"))


def test_before_the_first_day_nothing_waits() -> None:
    young = waiting(first=YESTERDAY)
    assert not young.waits(SquareKey(SUNDAY, "mood"))
    assert waiting(first=None).next_asked() == SquareKey(TODAY, "sleep")


def test_in_a_marked_break_nothing_waits() -> None:
    away = waiting(breaks=(Break(date(2026, 3, 14), YESTERDAY),))
    assert not away.waits(SquareKey(YESTERDAY, "sleep"))
    assert away.next_asked() == SquareKey(TODAY, "sleep")


def test_a_break_without_an_end_goes_on() -> None:
    assert waiting(breaks=(Break(SUNDAY),)).next_asked() is None


def test_days_to_come_do_not_wait() -> None:
    assert not waiting().waits(SquareKey(date(2026, 3, 18), "mood"))


def test_squares_before_yesterday_wait_from_the_first_day_on() -> None:
    some = waiting(Day(SUNDAY, MOOD), first=date(2026, 3, 14))
    assert older(some) == [
        SquareKey(SUNDAY, "sleep"),
        SquareKey(date(2026, 3, 14), "mood"),
        SquareKey(date(2026, 3, 14), "sleep"),
    ]


@pytest.mark.parametrize(
    "breaks",
    [
        (),
        (Break(date(2025, 12, 30), date(2026, 1, 2)),),
        (Break(date(2025, 12, 1), date(2025, 12, 24)), Break(date(2025, 11, 5), date(2025, 12, 3))),
        (Break(date(2025, 11, 1), date(2025, 11, 9)), Break(date(2026, 2, 27))),
    ],
    ids=["none", "over the turn of the year", "two that overlap", "before the first day, and still going on"],
)
def test_spans_hold_each_day_that_can_wait_and_stay_in_a_year(breaks: tuple[Break, ...]) -> None:
    some = waiting(first=date(2025, 11, 7), breaks=breaks)
    spans = list(some.older_spans())
    assert all(begin.year == end.year for begin, end in spans)
    days = [begin + timedelta(days=n) for begin, end in spans for n in range((end - begin).days + 1)]
    assert days == sorted({place.day for place in older(some)})


def test_before_the_first_day_there_is_no_span() -> None:
    assert list(waiting(first=None).older_spans()) == []


def test_the_waiting_square_before_and_after_stays_in_its_grid() -> None:
    some = waiting(Day(SUNDAY, MOOD), Day(YESTERDAY, MOOD), first=date(2026, 3, 14))
    assert some.before(SquareKey(TODAY, "mood")) == SquareKey(date(2026, 3, 14), "mood")
    assert some.after(SquareKey(SUNDAY, "mood")) == SquareKey(TODAY, "mood")
    assert some.before(SquareKey(date(2026, 3, 14), "mood")) is None
    assert some.after(SquareKey(TODAY, "mood")) is None
