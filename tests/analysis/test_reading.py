"""From the days of a diary to arrays: what counts, what is left out, and what is told of it."""

from datetime import UTC, date, datetime, timedelta
from types import MappingProxyType

import numpy as np
import pytest

from tracker.analysis.reading import Kept, Reading, count_gaps, count_kept, read, without_remembered
from tracker.analysis.wording import missing, on_other_levels
from tracker.diary.breaks import Break
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day, Square
from tracker.diary.errors import DamagedRecord
from tracker.diary.scales import Scales, mood_scale

FIRST = date(2026, 3, 2)
MORNING = datetime(2026, 3, 2, 7, 0, tzinfo=UTC)
MOOD, SLEEP = Square("mood5-3"), Square("sleep8-6")
REMEMBERED = Square("mood5-2", basis="remembered", late_days=9)
TOO_LATE = Square("mood5-2", basis="remembered", late_days=15)
PAPER = Square("mood5-2", basis="paper", late_days=400)
UNSAID = Square("", state="could not say")


def day(number: int, **squares: Square) -> Day:
    return Day(FIRST + timedelta(days=number), **squares)


def reading(*days: Day, choices: Choices | None = None, as_of: int = 9) -> Reading:
    return read(days, choices or Choices(), FIRST + timedelta(days=as_of), Clock(zone=UTC))


def kept(found: Reading) -> Kept:
    return count_kept(found, found.series.first, found.series.last)


def test_levels_become_places_and_every_day_has_one() -> None:
    series = reading(day(0, mood=MOOD, sleep=SLEEP), day(2, sleep=Square("sleep8-0")), as_of=3).series
    assert series.first == FIRST
    assert series.mood.tolist() == pytest.approx([3, np.nan, np.nan, np.nan], nan_ok=True)
    assert series.sleep.tolist() == pytest.approx([7, np.nan, 1, np.nan], nan_ok=True)


def test_anxious_is_yes_no_or_nothing() -> None:
    days = [day(0, mood=MOOD, anxious=Square("yes")), day(1, anxious=Square("no")), day(2, anxious=UNSAID)]
    assert reading(*days, as_of=2).series.anxious.tolist() == pytest.approx([1, 0, np.nan], nan_ok=True)


def test_shift_kinds_reach_the_series_as_text() -> None:
    days = [day(0, mood=MOOD, shift=Square("night")), day(1, shift=Square("off"))]
    assert reading(*days, as_of=2).series.shift.tolist() == ["night", "off", ""]


def test_a_rota_notes_and_days_to_come_do_not_begin_a_record() -> None:
    days = [day(0, shift=Square("night")), day(1, mood=UNSAID), day(2, mood=MOOD), day(20, mood=MOOD)]
    found = reading(*days)
    assert (found.series.first, found.last) == (FIRST + timedelta(days=2), FIRST + timedelta(days=2))


def test_what_was_remembered_too_late_is_left_out_and_counted() -> None:
    found = reading(day(0, mood=MOOD), day(1, mood=TOO_LATE), day(2, mood=REMEMBERED), as_of=2)
    assert np.isnan(found.series.mood).tolist() == [False, True, False]
    assert (kept(found).left_out, kept(found).remembered) == (1, 1)


def test_moods_on_levels_that_went_are_counted_apart_from_what_came_too_late() -> None:
    three = mood_scale(["awful", "so-so", "fine"], FIRST + timedelta(days=2))
    choices = Choices(scales=Scales((*Choices().scales.versions, three)))
    now = Square(three.levels[2].id)
    found = reading(
        day(0, mood=MOOD, sleep=SLEEP),
        day(1, mood=MOOD, sleep=SLEEP),
        day(2, mood=now),
        day(3, mood=TOO_LATE),
        choices=choices,
        as_of=3,
    )
    counted = kept(found)
    assert (counted.mood, counted.other_moods, counted.other_sleeps) == (1, 2, 0)
    assert (counted.left_out, counted.too_late) == (3, 1)


def test_what_is_left_out_is_said_with_its_reason() -> None:
    assert on_other_levels(2, 1) == (
        "2 moods and 1 sleep left out: kept on other levels than those of now, with which they cannot be "
        "compared."
    )
    assert on_other_levels(1, 0).endswith("it cannot be compared.")
    assert missing(1) == "1 day is missing. If it was unlike the others, this picture is wrong."


def test_days_left_out_before_the_first_are_not_lost_from_the_count() -> None:
    found = reading(day(0, mood=TOO_LATE), day(5, mood=MOOD))
    assert found.series.first == FIRST + timedelta(days=5)
    assert found.outside == 1


def test_a_record_of_nothing_usable_has_no_days() -> None:
    found = reading(day(0, mood=TOO_LATE), day(1, sleep=UNSAID))
    assert (len(found.series), found.last, found.outside) == (0, None, 1)


def test_paper_counts_in_full_however_late() -> None:
    found = reading(day(0, mood=PAPER), day(1, mood=MOOD), as_of=1)
    assert found.series.mood.tolist() == [2, 3]
    assert (kept(found).paper, kept(found).remembered) == (1, 0)


def test_every_count_of_a_period() -> None:
    at_once = MOOD._replace(kept_at=MORNING + timedelta(minutes=10))
    days = [
        day(0, mood=at_once, sleep=SLEEP._replace(kept_at=MORNING)),
        day(1, mood=UNSAID, sleep=SLEEP),
        day(2, mood=MOOD),
        day(4, mood=MOOD, sleep=SLEEP),
    ]
    choices = Choices(breaks=(Break(FIRST + timedelta(days=3), FIRST + timedelta(days=3)),))
    assert kept(reading(*days, choices=choices, as_of=4)) == Kept(
        mood=3,
        sleep=3,
        both=2,
        could_not_say=1,
        remembered=0,
        paper=0,
        left_out=0,
        too_late=0,
        other_moods=0,
        other_sleeps=0,
        in_breaks=1,
        same_sitting=1,
    )


@pytest.mark.parametrize(
    "mood",
    [
        MOOD._replace(kept_at=MORNING + timedelta(minutes=11)),
        MOOD._replace(kept_at=MORNING, source="imported"),
        MOOD._replace(kept_at=MORNING, basis="paper"),
        MOOD,
    ],
    ids=["later", "imported", "from paper", "time unknown"],
)
def test_what_is_not_one_sitting(mood: Square) -> None:
    found = reading(day(0, mood=mood, sleep=SLEEP._replace(kept_at=MORNING)))
    assert kept(found).same_sitting == 0


def test_remembered_days_can_be_taken_away() -> None:
    found = reading(day(0, mood=MOOD, anxious=Square("no")), day(1, mood=REMEMBERED, sleep=SLEEP), as_of=1)
    series = without_remembered(found)
    assert np.isnan(series.mood).tolist() == [False, True]
    assert series.sleep.tolist()[1] == 7


def test_gaps_are_counted_by_nights_and_elsewhere_and_not_in_breaks() -> None:
    night = Square("night", detail=MappingProxyType({}))
    days = [
        day(0, mood=MOOD, sleep=SLEEP),
        day(1, shift=night, mood=MOOD),
        day(2),
        day(3, mood=MOOD, sleep=UNSAID),
    ]
    choices = Choices(breaks=(Break(FIRST + timedelta(days=4)),))
    found = count_gaps(reading(*days, choices=choices, as_of=6), FIRST, FIRST + timedelta(days=6))
    assert (found.by_nights, found.elsewhere) == ((3, 4), (0, 4))


def test_a_level_that_no_scale_has_is_named() -> None:
    with pytest.raises(DamagedRecord, match="mood9-1"):
        reading(day(0, mood=Square("mood9-1")))
