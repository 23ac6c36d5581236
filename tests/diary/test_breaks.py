"""Marked times of not keeping: the one rule for the key, the command and the form."""

from datetime import date

import pytest

from tracker.diary.breaks import Break, added, difference_in_words, ended, ended_by, in_break, removed
from tracker.diary.days import Change, Field, State
from tracker.diary.errors import TrackerError, UnknownValue


def march(day: int) -> date:
    return date(2026, 3, day)


EARLY, LATE, OPEN = Break(march(2), march(6)), Break(march(20), march(25)), Break(march(10))


def test_a_break_holds_both_its_ends_and_goes_on_without_one() -> None:
    assert [in_break(march(day), (EARLY,)) for day in (1, 2, 6, 7)] == [False, True, True, False]
    assert in_break(date(2030, 1, 1), (OPEN,))
    assert not in_break(march(2), ())


def test_a_break_says_its_days() -> None:
    assert str(EARLY) == "from 2 March 2026 to 6 March 2026"
    assert str(OPEN) == "from 10 March 2026 until you keep a square again"


def test_a_break_without_an_end_ends_before_the_next_one() -> None:
    assert added((LATE,), OPEN) == (Break(march(10), march(19)), LATE)
    assert added((EARLY,), OPEN) == (EARLY, OPEN)


def test_a_break_is_put_in_its_place_in_time() -> None:
    assert added((LATE,), EARLY) == (EARLY, LATE)


@pytest.mark.parametrize(
    ("span", "sentence"),
    [
        (Break(march(6), march(8)), "The break from 6 March 2026 to 8 March 2026 overlaps the one "
         "from 2 March 2026 to 6 March 2026; take that one away first, or name other days."),
        (Break(march(4)), "The break from 4 March 2026 to 19 March 2026 overlaps the one "
         "from 2 March 2026 to 6 March 2026; take that one away first, or name other days."),
        (Break(march(1), march(30)), "The break from 1 March 2026 to 30 March 2026 overlaps the one "
         "from 2 March 2026 to 6 March 2026; take that one away first, or name other days."),
        (Break(march(9), march(8)), "A break cannot end on 8 March 2026, before it begins on 9 March 2026."),
    ],
)  # fmt: skip
def test_a_break_that_cannot_be_is_refused_in_one_sentence(span: Break, sentence: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        added((EARLY, LATE), span)
    assert str(refused.value) == sentence


def test_an_open_break_on_the_first_day_of_another_overlaps_it() -> None:
    with pytest.raises(UnknownValue, match="overlaps the one from 2 March 2026 to 6 March 2026"):
        added((EARLY,), Break(march(2)))


def test_two_breaks_may_touch() -> None:
    assert added((EARLY,), Break(march(7), march(9))) == (EARLY, Break(march(7), march(9)))


def test_a_break_ends_on_the_day_before_the_one_that_is_kept_again() -> None:
    assert ended((EARLY, LATE), march(4)) == (Break(march(2), march(3)), LATE)
    assert ended((OPEN,), march(17)) == (Break(march(10), march(16)),)


def test_a_break_of_which_no_day_is_left_is_gone() -> None:
    assert ended((EARLY, OPEN), march(10)) == (EARLY,)


def test_where_no_break_is_none_ends_and_none_is_taken_away() -> None:
    with pytest.raises(TrackerError, match=r"^No break holds 17 March 2026\.$"):
        ended((EARLY,), march(17))
    with pytest.raises(UnknownValue, match=r"^No break begins on 3 March 2026\.$"):
        removed((EARLY,), march(3))
    assert removed((EARLY, LATE), march(20)) == (EARLY,)


@pytest.mark.parametrize(
    ("field", "state", "breaks"),
    [
        ("mood", "kept", (Break(march(10), march(14)),)),
        ("sleep", "could not say", (Break(march(10), march(14)),)),
        ("mood", "cleared", (OPEN,)),
        ("note", "kept", (OPEN,)),
        ("shift", "kept", (OPEN,)),
    ],
)
def test_a_square_kept_in_a_break_that_goes_on_ends_it(
    field: Field, state: State, breaks: tuple[Break, ...]
) -> None:
    changes = [Change(march(15), field, state=state), Change(march(16), field, state=state)]
    assert ended_by((OPEN,), changes) == breaks


def test_a_past_break_with_an_end_stays_whatever_is_kept_in_it() -> None:
    assert ended_by((EARLY,), [Change(march(4), "mood", "mood5-3")]) == (EARLY,)


def test_undo_names_a_break_its_end_and_its_taking_away() -> None:
    assert difference_in_words((), (EARLY,)) == ["break from Mon 2 March"]
    assert difference_in_words((OPEN,), ended((OPEN,), march(17))) == ["end of the break from Tue 10 March"]
    assert difference_in_words((OPEN,), ()) == ["taking away the break from Tue 10 March"]
    assert difference_in_words((EARLY,), (EARLY,)) == []
