"""Two invented years: the same always, kept as if at their own time, with a link that can be found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import pytest

from tests.conftest import LONDON
from tracker import demo
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.rota import night_dates, quick_returns
from tracker.record.store import Record

LAST = date(2026, 3, 15)
FIRST = LAST - timedelta(days=730)


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Record]:
    """The invented record, two days after its last day."""
    clock = Clock(now=lambda: datetime.combine(LAST + timedelta(2), time(21), UTC), zone=LONDON)
    with Record.open(tmp_path_factory.mktemp("demo") / "record.sqlite", clock) as record:
        demo.fill(record, LAST)
        yield record


@pytest.fixture(scope="module")
def days(invented: Record) -> dict[date, Day]:
    return invented.days()


@pytest.mark.parametrize(
    ("today", "sunday"),
    [
        (date(2026, 3, 16), date(2026, 3, 15)),
        (date(2026, 3, 21), date(2026, 3, 15)),
        (date(2026, 3, 22), date(2026, 3, 15)),
    ],
)
def test_it_ends_on_the_last_sunday_that_is_over(today: date, sunday: date) -> None:
    assert demo.last_sunday(today) == sunday


def test_the_same_day_gives_the_same_two_years() -> None:
    assert demo.invented_days(LAST) == demo.invented_days(LAST)


def test_the_life_is_the_same_whenever_the_demo_is_opened_the_season_aside() -> None:
    this, later = demo.invented_days(LAST), demo.invented_days(LAST + timedelta(weeks=20))
    assert [(day.kind, day.hours) for day in this] == [(day.kind, day.hours) for day in later]


def test_the_record_runs_over_two_whole_years(invented: Record) -> None:
    assert (invented.first_day(), invented.last_day()) == (FIRST, LAST)


def test_every_entry_says_that_it_is_invented(invented: Record) -> None:
    assert {entry.source for entry in invented.history(FIRST, LAST)} == {"demo"}


def test_entries_lie_in_the_order_in_which_they_were_kept(invented: Record) -> None:
    moments = [entry.recorded_at for entry in invented.history(FIRST, LAST)]
    assert moments == sorted(moments)


def test_nothing_is_kept_before_its_day_but_the_rota(invented: Record) -> None:
    early = [
        entry
        for entry in invented.history(FIRST, LAST)
        if entry.field != "shift" and invented.clock.day_of(entry.recorded_at) < entry.day
    ]
    assert early == []


def test_the_clock_of_the_record_is_given_back(invented: Record) -> None:
    assert invented.today() == LAST + timedelta(2)


def test_mood_and_sleep_are_rarely_kept_in_one_sitting(days: dict[date, Day]) -> None:
    together = [
        day for day in days.values() if day.mood and day.sleep and day.mood.kept_at == day.sleep.kept_at
    ]
    assert len(together) < 73


def test_some_squares_wait_and_more_of_them_after_nights(days: dict[date, Day], invented: Record) -> None:
    nights = night_dates(days.values(), invented.choices().kinds_by_id, invented.clock)
    after = {night + timedelta(n) for night in nights for n in (1, 2)}
    span = [FIRST + timedelta(n) for n in range(731)]
    waiting = {day for day in span if days.get(day, Day(day)).mood is None}
    assert 0.06 < len(waiting - after) / len(set(span) - after) < 0.10
    assert len(waiting & after) / len(after & set(span)) > 0.12


def test_there_is_something_of_everything_to_look_at(days: dict[date, Day], invented: Record) -> None:
    squares = [square for day in days.values() for square in (day.mood, day.sleep) if square]
    assert any(square.state == "could not say" for square in squares)
    assert any(square.basis == "remembered" and not square.is_left_out for square in squares)
    assert any(square.is_left_out for square in squares)
    assert any(day.hours is not None for day in days.values())
    assert any(day.note_text for day in days.values())
    assert len(invented.choices().breaks) == 1
    assert any(day > LAST for day in days)


def test_the_rota_has_runs_of_nights_and_quick_returns(days: dict[date, Day], invented: Record) -> None:
    kinds = invented.choices().kinds_by_id
    assert len(night_dates(days.values(), kinds, invented.clock)) > 80
    assert 10 < len(quick_returns(days.values(), kinds)) < 40


def test_sleep_is_short_after_the_last_night_and_long_after_that() -> None:
    kinds = ["night", "night", "off", "off", "late", "early"]
    usual = [demo.usual_sleep(kinds, place)[0] for place in range(6)]
    assert usual == [7.8, 5.8, 4.4, 9.0, 7.4, 5.2]


def test_undo_takes_back_the_last_sitting_alone(tmp_path: Path, clock: Clock) -> None:
    with Record.open(tmp_path / "record.sqlite", clock) as record:
        demo.fill(record, LAST)
        assert record.undo().changes <= 2
        assert record.day(LAST).sleep is not None


def test_a_demo_that_breaks_off_leaves_nothing(record: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(demo, "sittings", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        demo.fill(record, LAST)
    assert record.is_empty()


@pytest.mark.parametrize("weeks", [0, 13, 26, 39])
def test_the_planted_link_is_there_to_be_found(weeks: int) -> None:
    """Short sleep before a day lowers its mood whatever the season in which the two years end."""
    import numpy as np

    from tracker.analysis.lags import pairs_at, spearman

    days = demo.invented_days(LAST + timedelta(weeks=weeks))
    hours = np.array([day.hours for day in days])
    mood = np.array([float(day.mood) for day in days])
    before, after = (spearman(*pairs_at(hours, mood, lag)) for lag in (0, -1))
    assert before > 0.25
    assert after < 0.15
