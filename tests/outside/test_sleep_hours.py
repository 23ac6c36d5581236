"""Time in bed and buckets against worked diary arithmetic.

Terms: Consensus Sleep Diary (Carney et al. 2012, Sleep 35:287-302); time asleep = time in bed - time to
fall asleep - time awake, as tabled in PMC9672415. The four rows were worked by hand, in minutes; the last two
lie over the clock changes of Europe/London in 2026.
"""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from tracker.diary.clock import hours_between
from tracker.diary.scales import DEFAULT_SLEEP

LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("in_bed", "up", "minutes_awake", "minutes_in_bed", "bucket"),
    [
        ("2026-03-16 23:00", "2026-03-17 07:00", 20 + 35, 480, "7-8 h"),
        ("2026-03-17 09:10", "2026-03-17 15:40", 10 + 40, 390, "5-6 h"),
        ("2026-03-28 23:00", "2026-03-29 07:00", 20 + 35, 420, "6-7 h"),
        ("2026-10-24 23:00", "2026-10-25 07:00", 20 + 35, 540, "8 h or more"),
    ],
)
def test_time_in_bed_and_the_bucket_of_the_time_asleep(
    in_bed: str, up: str, minutes_awake: int, minutes_in_bed: int, bucket: str
) -> None:
    start, end = (datetime.fromisoformat(text).replace(tzinfo=LONDON) for text in (in_bed, up))
    assert hours_between(start, end) * 60 == minutes_in_bed
    asleep = (minutes_in_bed - minutes_awake) / 60
    assert DEFAULT_SLEEP.level_for_hours(asleep).label == bucket
