"""Which moods were kept beside a sleep, which when the next sleep was known, and which at no known moment."""

from datetime import UTC, date, datetime, timedelta

import pytest

from tracker.analysis.sitting import sittings
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square

DAY = date(2026, 3, 17)
EIGHT = datetime(2026, 3, 17, 8, tzinfo=UTC)
TOMORROW = EIGHT + timedelta(days=1)
CLOCK = Clock(zone=UTC)


def kept(at: datetime | None, **more: str) -> Square:
    return Square("x", kept_at=at, **more)  # type: ignore[arg-type]


def told(mood: Square | None, sleep: Square | None = None, after: Square | None = None) -> str:
    """The signs of the first of two days: beside the sleep before, after the sleep after, unknown."""
    found = sittings([Day(DAY, mood, sleep), Day(DAY + timedelta(days=1), sleep=after)], CLOCK)["mood"]
    flags = (found.beside_sleep, found.after_next_sleep, found.unknown)
    return "".join(sign for sign, flag in zip("b+?", flags, strict=True) if flag[0])


@pytest.mark.parametrize(("minutes", "expected"), [(10, "b"), (-10, "b"), (11, "")])
def test_ten_minutes_from_the_sleep_before_are_one_sitting(minutes: int, expected: str) -> None:
    assert told(kept(EIGHT + timedelta(minutes=minutes)), kept(EIGHT)) == expected


@pytest.mark.parametrize(("minutes", "expected"), [(5, "+"), (-59, "+"), (-60, ""), (-600, "")])
def test_from_an_hour_before_the_sleep_after_was_kept_she_knew_it(minutes: int, expected: str) -> None:
    assert told(kept(TOMORROW + timedelta(minutes=minutes)), after=kept(TOMORROW)) == expected


@pytest.mark.parametrize(
    "mood",
    [
        kept(EIGHT, basis="paper"),
        kept(EIGHT, basis="remembered"),
        kept(EIGHT, source="imported"),
        kept(EIGHT + timedelta(days=3)),
        kept(None),
    ],
    ids=["paper", "remembered", "imported", "over two days late", "no time"],
)
def test_a_moment_that_does_not_tell_is_unknown_and_beside_nothing(mood: Square) -> None:
    assert told(mood, kept(EIGHT), kept(TOMORROW)) == "?"


def test_a_mood_is_beside_nothing_where_the_sleep_has_no_moment() -> None:
    assert told(kept(EIGHT), kept(EIGHT, basis="paper"), kept(TOMORROW, source="imported")) == ""


def test_two_days_late_still_tells() -> None:
    assert told(kept(EIGHT + timedelta(days=2)), after=kept(TOMORROW)) == "+"


def test_without_a_mood_there_is_nothing_to_tell() -> None:
    assert told(None, kept(EIGHT)) == ""
    assert told(Square("", "could not say", kept_at=EIGHT), kept(EIGHT)) == ""
    assert len(sittings([], CLOCK)["mood"].unknown) == 0
