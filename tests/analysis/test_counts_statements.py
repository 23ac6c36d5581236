"""Counts as sentences: whole, with their denominators, and never a verdict."""

from dataclasses import replace
from datetime import date

import pytest

from tracker.analysis.counts import AfterSleep, Comparison, Count, SideBySide
from tracker.analysis.counts_statements import (
    change_statements,
    day_to_day_statements,
    side_by_side_statements,
)
from tracker.analysis.counts_wording import MOVES_WITH_A_DATE
from tracker.analysis.dated_changes import BeforeAfter, Cut
from tracker.analysis.day_to_day import DayToDay, InStep, LowRun, Waited
from tracker.analysis.results import KeepingFinding
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import DEFAULT_MOOD

NONE = Count(0, 0)
COUNTS = SideBySide(
    limit=6,
    long_from=8,
    low_levels=DEFAULT_MOOD.levels[:2],
    comparisons=(
        Comparison("short sleep", "low day", Count(12, 60), Count(20, 300)),
        Comparison("short sleep", "anxious day", Count(8, 40), Count(22, 250)),
    ),
    after_sleep=(
        AfterSleep("short", Count(9, 40), Count(5, 38), 7.2),
        AfterSleep("usual", Count(14, 139), Count(12, 130), None),
        AfterSleep("long", Count(5, 33), Count(4, 30), 4.4),
    ),
    sleep_after=(),
    across=(),
    other_levels=(),
    rota_unknown=(),
)


def texts(counts: SideBySide) -> list[str]:
    return [statement.text for statement in side_by_side_statements(counts)]


def test_three_classes_stand_side_by_side_and_chance_is_said_once() -> None:
    assert texts(COUNTS) == [
        "After a sleep under 6 h mood was low on 9 of 40 days (about 7 expected from the shifts of those "
        "days), after 6 to under 8 h on 14 of 139, after 8 h or more on 5 of 33 (about 4 expected). Counted, "
        "not judged: with classes this small, shares 10 points apart are common without any link.",
        "After a low day the next sleep was under 6 h on 12 of 60 days, after another day on 20 of 300.",
        "After a sleep under 6 h 5 of 38 days were marked anxious, after 6 to under 8 h 12 of 130, after 8 h "
        "or more 4 of 30.",
        "After an anxious day the next sleep was under 6 h on 8 of 40 days, after a day noted as not anxious "
        "on 22 of 250.",
    ]
    assert {statement.verdict for statement in side_by_side_statements(COUNTS)} == {None}


def test_from_eighty_days_in_the_smallest_class_on_the_share_of_chance_is_left_out() -> None:
    sizes = {80: "Counted, not judged.", 79: "common without any link."}
    for of, end in sizes.items():
        rows = tuple(row._replace(low=Count(1, of), expected=None) for row in COUNTS.after_sleep)
        assert texts(replace(COUNTS, after_sleep=rows))[0].endswith(end)


def test_a_class_of_under_ten_days_is_said_to_be_few() -> None:
    rows = (COUNTS.after_sleep[0]._replace(low=Count(2, 9), expected=None), *COUNTS.after_sleep[1:])
    assert texts(replace(COUNTS, after_sleep=rows))[0].startswith(
        "After a sleep under 6 h mood was low on 2 of 9 days (fewer than 10 days), after 6 to under 8 h on"
    )


def test_sleeps_in_no_class_are_said() -> None:
    across = tuple(date(2026, 3, day) for day in (1, 2, 3))
    assert (
        "3 sleeps lie in a bucket across 6 h, and so in no class." in texts(replace(COUNTS, across=across))[0]
    )


def test_where_nothing_is_long_the_second_class_is_open() -> None:
    two = replace(COUNTS, long_from=None, after_sleep=COUNTS.after_sleep[:2])
    assert "after 6 h or more on 14 of 139." in texts(two)[0]


def test_nothing_kept_makes_no_sentence() -> None:
    rows = tuple(AfterSleep(row.sleep, NONE, NONE, None) for row in COUNTS.after_sleep)
    pairs = tuple(one._replace(there=NONE, elsewhere=NONE) for one in COUNTS.comparisons)
    assert texts(replace(COUNTS, after_sleep=rows, comparisons=pairs)) == []


def test_days_of_one_class_alone_are_not_set_beside_none() -> None:
    rows = tuple(row._replace(low=NONE, anxious=NONE) for row in COUNTS.after_sleep[1:])
    pairs = tuple(one._replace(there=NONE) for one in COUNTS.comparisons)
    assert texts(replace(COUNTS, after_sleep=(COUNTS.after_sleep[0], *rows), comparisons=pairs)) == []


LONG = LowRun(date(2025, 3, 1), date(2025, 3, 9), 8, is_open=True)
DAYS = DayToDay(
    runs=(LONG, LowRun(date(2025, 5, 1), date(2025, 5, 3), 3, is_open=False)),
    far=Count(41, 265),
    months=InStep(14, 8),
    waited=(Waited("mood", Count(31, 140), Count(48, 610)), Waited("sleep", Count(0, 9), Count(0, 90))),
)


def keeping(verdict: str | None) -> list[KeepingFinding]:
    return [KeepingFinding(outcome="mood", p=0.001, level=0.01, verdict=verdict)]  # type: ignore[arg-type]


def test_how_days_follow_each_other_is_counted() -> None:
    assert [
        statement.text for statement in day_to_day_statements(DAYS, keeping(None), [2024, 2025, 2026])
    ] == [
        "2 runs of low days in 2025, the longest 9 days (8 kept); 1 touches days not kept and may have been "
        "longer.",
        "No run of 3 or more low days in 2026.",
        "On 41 of 265 days mood stood two or more levels from the day before.",
        "From month to month low days and short sleeps moved the same way 14 times, opposite ways 8 times; "
        "with nothing between them, 6 to 17 of 22 is common.",
        "After a low mood the next mood waited on 31 of 140 days, after others on 48 of 610.",
    ]


@pytest.mark.parametrize(("after", "word"), [(Count(31, 140), "less"), (Count(3, 140), "more")])
def test_days_that_are_skipped_by_the_day_before_are_shown_to_be(after: Count, word: str) -> None:
    found = replace(DAYS, waited=(Waited("mood", after, Count(48, 610)),))
    statement = day_to_day_statements(found, keeping("shown"), [])[-1]
    assert statement.verdict == "shown"
    assert statement.text == (
        f"Days after low mood were kept {word} often: {after} waited, after other days 48 of 610. Days you "
        "did not keep may have been different; no count here has them."
    )


def around(*cuts: Cut, window: int = 60) -> BeforeAfter:
    change = DatedChange(date(2026, 3, 3), "tablets started")
    return BeforeAfter(change=change, window=window, cuts=cuts, nights=(0, 0))


def test_a_date_is_told_with_its_days_before_and_after_and_the_other_cuts() -> None:
    cut = Cut("low", Count(22, 55), Count(13, 57), uneven=False, as_large=9, places=70)
    statement = change_statements([around(cut)])[0]
    assert statement.text == (
        "Low days: 22 of 55 kept in the 60 days before 'tablets started' (3 March 2026), 13 of 57 in the 60 "
        "from that day on. At 9 of 70 other places of the record a cut of the same length differs as much."
    )
    assert (statement.verdict, statement.beside) == (None, (MOVES_WITH_A_DATE,))


def test_unlike_sides_are_said_and_few_other_places_are_not() -> None:
    cut = Cut("short sleep", Count(3, 30), Count(9, 58), uneven=True, as_large=None, places=7)
    assert change_statements([around(cut)])[0].text.endswith(
        "9 of 58 in the 60 from that day on. The two sides were not kept alike, so they compare badly."
    )


def test_a_date_without_room_and_one_badly_kept_say_so() -> None:
    near, badly = (change_statements([found])[0].text for found in (around(window=0), around()))
    assert near == (
        "'tablets started' (3 March 2026): fewer than 28 days lie on one side of it, free of other changes."
    )
    assert badly == "'tablets started' (3 March 2026): not kept well enough to compare."
