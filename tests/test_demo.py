"""Two invented years: the same always, kept as if at their own time, with a link that can be found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from statistics import mean

import pytest

from tests.conftest import LONDON
from tracker import demo
from tracker.analysis.findings import find
from tracker.analysis.trials import foretell, judge
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.rota import rota_of
from tracker.record.store import Record
from tracker.summary.content import page_of
from tracker.summary.page_data import PageOptions
from tracker.summary.pdf import as_pdf
from tracker.summary.text import as_text

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


def last_kept(record: Record) -> date:
    """The last day with a mood or a sleep; the rota runs on beyond it."""
    return max(day.date for day in record.days().values() if day.mood or day.sleep)


def test_the_record_runs_over_two_whole_years(invented: Record) -> None:
    assert (invented.first_day(), last_kept(invented)) == (FIRST, LAST)


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
    nights = rota_of(days.values(), invented.choices().kinds_by_id, invented.clock).nights
    after = {night + timedelta(n) for night in nights for n in (1, 2)}
    span = [FIRST + timedelta(n) for n in range(731)]
    waiting = {day for day in span if days.get(day, Day(day)).mood is None}
    assert 0.06 < len(waiting - after) / len(set(span) - after) < 0.10
    assert 0.17 < len(waiting & after) / len(after & set(span)) < 0.23


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
    rota = rota_of(days.values(), invented.choices().kinds_by_id, invented.clock)
    assert len(rota.nights) > 80
    assert 10 < len(rota.quick) < 40


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


def test_hours_before_a_day_are_those_of_its_place_in_the_rota() -> None:
    """Own estimate of reported hours, set beside Ganesan et al. 2019, Sci Rep 9:4635: 5.7 between nights."""
    days = demo.invented_days(LAST)
    kinds = [day.kind for day in days]
    hours: dict[float, list[float]] = {}
    for place, day in enumerate(days):
        hours.setdefault(demo.usual_sleep(kinds, place)[0], []).append(day.hours)
    assert sorted(hours) == [4.4, 5.2, 5.8, 6.1, 7.0, 7.4, 7.8, 8.0, 9.0]
    assert {usual: mean(slept) for usual, slept in hours.items()} == {
        usual: pytest.approx(usual, abs=0.25) for usual in hours
    }


def test_one_day_in_eight_is_marked_anxious_and_more_of_the_low_ones(days: dict[date, Day]) -> None:
    noted = [day for day in days.values() if day.is_anxious is not None and day.mood and day.mood.is_kept]
    low = [day for day in noted if day.mood and day.mood.value in ("mood5-1", "mood5-2")]
    assert 0.10 < mean(bool(day.is_anxious) for day in noted) < 0.14
    assert mean(bool(day.is_anxious) for day in low) > 0.2


def test_of_the_demo_nothing_goes_on_paper_and_the_year_in_text(
    days: dict[date, Day], invented: Record
) -> None:
    page = page_of(days, invented.choices(), PageOptions(), invented.today(), invented.clock)
    assert [as_text(page)[1], as_pdf(page)[1], as_pdf(page, letter=True)[1]] == [
        ("the year", "quick returns", "what half the sleeps reach"), (), (),
    ]  # fmt: skip


def opened_on() -> list[date]:
    """A year of days to open it on: every weekday, a leap day, the year's ends, clock changes."""
    every_twelfth = [date(2027, 12, 26) + timedelta(days=12 * n) for n in range(31)]
    notable = [(2028, 2, 29), (2028, 3, 26), (2028, 10, 29), (2028, 12, 31), (2029, 1, 1)]
    return every_twelfth + [date(*day) for day in notable]


def test_the_days_of_opening_are_of_every_weekday_and_month() -> None:
    assert {day.weekday() for day in opened_on()} == set(range(7))
    assert {day.month for day in opened_on()} == set(range(1, 13))


@pytest.mark.parametrize("today", opened_on(), ids=str)
def test_whenever_it_is_opened_the_planted_link_is_found_and_no_season(tmp_path: Path, today: date) -> None:
    clock = Clock(now=lambda: datetime.combine(today, time(12), UTC), zone=LONDON)
    with Record.open(tmp_path / "record.sqlite", clock) as record:
        demo.fill(record, demo.last_sunday(record.today()))
        days, choices, last = record.days(), record.choices(), last_kept(record)
    assert (last.weekday(), 1 <= (today - last).days <= 7) == (6, True)
    found = find(days.values(), choices, as_of=today, clock=clock, topics=("lags", "seasons"))
    mood = found.lags[0]
    assert (mood.outcome, mood.verdict, mood.first, mood.strongest) == ("mood", "shown", "sleep", 0)
    assert [course.verdict for course in found.courses] == [None, None, None]


def test_of_its_two_trials_one_is_shown_and_the_other_could_not_show_much(
    days: dict[date, Day], invented: Record
) -> None:
    choices, today = invented.choices(), max(days)
    plugs, coffee = (
        judge(trial, days.values(), choices.scales, today, choices.trials) for trial in choices.trials
    )
    assert (plugs.verdict, coffee.verdict) == ("shown", "not shown")
    foretold = foretell(coffee.trial, days.values(), choices.scales, coffee.trial.first)
    assert foretold is not None
    assert foretold.is_doubtful
