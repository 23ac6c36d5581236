"""What a voice is given to read."""

from datetime import date

import pytest

from tracker.diary.scales import DEFAULT_SLEEP, sleep_scale
from tracker.diary.spoken import spoken, spoken_day

TODAY = date(2026, 3, 17)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("sleep 6-7 h", "sleep 6 to under 7 hours"),
        ("sleep 4.5-6 h (5.25 hours)", "sleep 4.5 to under 6 hours, 5.25 hours"),
        ("under 1 h", "under 1 hour"),
        ("8 h or more", "8 hours or more"),
        ("Tue 17 March, mood 4 good", "Tuesday 17 March, mood 4 good"),
        ("2026-03-18 is still to come", "18 March 2026 is still to come"),
        ("as read in 2026-11", "as read in November 2026"),
        ("nights: 1, 16-18", "nights: 1, 16 to 18"),
        ("like 6.5, 6:30, 5+1.5", "like 6.5, 6:30, 5 plus 1.5"),
        ("17 March 2026 or 2026-03-17", "17 March 2026"),
        ("tracker help, or ? in the app", "tracker help, or a question mark in the app"),
        ("Sat in the sun", "Sat in the sun"),
    ],
)
def test_signs_and_short_words_are_written_out(written: str, said: str) -> None:
    assert spoken(written) == said


@pytest.mark.parametrize("scale", [DEFAULT_SLEEP, sleep_scale([0, 4, 6.5, 8], None)])
def test_the_name_of_a_bucket_is_said_as_its_spoken_form(scale: object) -> None:
    labels = {level.label: level.spoken for level in scale.levels[2:]}  # type: ignore[attr-defined]
    assert {label: spoken(label) for label in labels} == labels


def test_days_near_and_of_another_year_are_called_as_people_do() -> None:
    days = [TODAY, date(2026, 3, 16), date(2026, 3, 18), date(2026, 3, 12), date(2025, 12, 3)]
    assert [spoken_day(day, TODAY) for day in days] == [
        "today", "yesterday", "tomorrow", "Thursday 12 March", "Wednesday 3 December 2025",
    ]  # fmt: skip
