"""Breaks."""

from datetime import date

from tracker.diary.choices import Break, in_break


def test_a_break_holds_both_its_ends_and_goes_on_without_one() -> None:
    closed, going_on = Break(date(2026, 1, 5), date(2026, 1, 9)), Break(date(2026, 3, 1))
    assert [in_break(date(2026, 1, day), (closed,)) for day in (4, 5, 9, 10)] == [False, True, True, False]
    assert in_break(date(2030, 1, 1), (going_on,))
    assert not in_break(date(2026, 1, 1), ())
