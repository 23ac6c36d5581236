"""From an answer to the changes it means, and what cannot be kept. Today is 17 March 2026."""

from datetime import date, timedelta

import pytest

from tracker.diary.changes import (
    AHEAD_LONGEST,
    anxious_change,
    basis_by_hand,
    changes_something,
    check,
    dated_change,
    mood_changes,
    next_anxious,
    note_change,
    shift_change,
    sleep_change,
)
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Square
from tracker.diary.errors import TrackerError, WrongDay
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP
from tracker.diary.settings import Settings

TODAY, LATER = date(2026, 3, 17), date(2026, 3, 18)
GOOD = DEFAULT_MOOD.levels[3]


def test_a_mood_also_notes_not_anxious_where_nothing_is_noted() -> None:
    assert mood_changes(Day(TODAY), GOOD, Choices()) == [
        Change(TODAY, "mood", "mood5-4"),
        Change(TODAY, "anxious", "no"),
    ]


def test_a_mood_leaves_an_anxious_mark_as_it_is() -> None:
    marked = Day(TODAY, anxious=Square("yes"))
    assert mood_changes(marked, GOOD, Choices()) == [Change(TODAY, "mood", "mood5-4")]


def test_with_the_setting_off_a_mood_says_nothing_about_anxiety() -> None:
    off = Choices(Settings(not_anxious=False))
    assert mood_changes(Day(TODAY), GOOD, off) == [Change(TODAY, "mood", "mood5-4")]


def test_the_anxious_key_goes_round_not_noted_yes_and_no() -> None:
    states: list[bool | None] = [None]
    for _ in range(3):
        states.append(next_anxious(states[-1]))
    assert states == [None, True, False, None]
    assert anxious_change(TODAY, None) == Change(TODAY, "anxious", state="cleared")


def test_a_shift_copies_the_usual_moments_of_its_kind(clock: Clock) -> None:
    night = DEFAULT_KINDS[4]
    change = shift_change(date(2026, 3, 28), night, clock)
    assert dict(change.detail) == {
        "start": "2026-03-28T20:00:00.000000Z",
        "end": "2026-03-29T07:30:00.000000Z",
    }


def test_an_empty_note_takes_the_note_away() -> None:
    assert note_change(TODAY, "  ") == Change(TODAY, "note", state="cleared")
    assert note_change(TODAY, " tea ") == Change(TODAY, "note", "tea")


@pytest.mark.parametrize(
    ("day", "basis"),
    [
        (date(2026, 3, 18), "at the time"),
        (date(2026, 3, 15), "at the time"),
        (date(2026, 3, 14), "remembered"),
    ],
)
def test_typed_within_two_days_is_at_the_time(day: date, basis: str) -> None:
    assert basis_by_hand(day, TODAY) == basis


REFUSED = {
    "2026-03-18 is still to come; nothing was kept.": Change(LATER, "mood", "mood5-1"),
    "2036-01-01 is still to come; nothing was kept.": Change(date(2036, 1, 1), "shift", "off"),
    "1899-12-31 is outside the years 1900 to 2199; look at the date.": Change(
        date(1899, 12, 31), "note", "x"
    ),
    "'sleep8-1' is no level of mood.": Change(TODAY, "mood", "sleep8-1"),
    "anxious takes yes or no, not 'perhaps'.": Change(TODAY, "anxious", "perhaps"),
    "There is no kind of shift 'circus'.": Change(TODAY, "shift", "circus"),
    "The note of 2026-03-17 has 2001 characters; it may have 2000.": Change(TODAY, "note", "x" * 2001),
    "The note of 2026-03-17 holds signs that steer a terminal and cannot be shown; take them out.": Change(
        TODAY, "note", "tea \x1b[2J and cake"
    ),
    "The note of 2026-03-17 holds bytes that are no text; write it in UTF-8.": Change(
        TODAY, "note", "a\udcff"
    ),
    "7 hours on 2026-03-17 do not lie in '6-7 h'; leave the bucket out or correct the hours.": Change(
        TODAY, "sleep", "sleep8-5", detail={"hours": 7}
    ),
    "0 hours on 2026-03-17 do not lie in 'under 3 h'; leave the bucket out or correct the hours.": Change(
        TODAY, "sleep", "sleep8-1", detail={"hours": 0}
    ),
}


@pytest.mark.parametrize("sentence", REFUSED)
def test_what_cannot_be_kept_is_refused_in_one_sentence(sentence: str) -> None:
    with pytest.raises(TrackerError) as refused:
        check(REFUSED[sentence], Choices(), TODAY)
    assert str(refused.value) == sentence


def test_a_rota_and_notes_may_be_entered_ahead() -> None:
    check(Change(date(2027, 3, 17), "shift", "off"), Choices(), TODAY)
    check(Change(date(2027, 3, 17), "note", "leave asked for"), Choices(), TODAY)
    with pytest.raises(TrackerError):
        check(Change(LATER, "sleep", "sleep8-5"), Choices(), TODAY)


def test_hours_that_lie_in_their_bucket_are_kept() -> None:
    level = DEFAULT_SLEEP.level_for_hours(6.5)
    change = sleep_change(TODAY, level, 6.5)
    check(change, Choices(), TODAY)
    assert change == Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.5})


@pytest.mark.parametrize(
    ("change", "something"),
    [
        (Change(TODAY, "mood", "mood5-4"), False),
        (Change(TODAY, "mood", "mood5-3"), True),
        (Change(TODAY, "mood", state="could not say"), True),
        (Change(TODAY, "mood", state="cleared"), True),
        (Change(TODAY, "sleep", "sleep8-5"), False),
        (Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.25}), True),
        (Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.5}), False),
        (Change(TODAY, "note", state="cleared"), False),
    ],
)
def test_only_what_alters_a_square_counts_as_a_change(change: Change, something: bool) -> None:
    stands = Day(TODAY, mood=Square("mood5-4"), sleep=Square("sleep8-5", detail={"hours": 6.5}))
    assert changes_something(change, stands) is something


def test_a_dated_change_may_lie_three_years_ahead_and_no_day_more() -> None:
    last = TODAY + AHEAD_LONGEST
    assert dated_change(last, "new post", TODAY).day == last
    with pytest.raises(WrongDay, match="is over three years ahead; nothing was kept"):
        dated_change(last + timedelta(days=1), "new post", TODAY)
