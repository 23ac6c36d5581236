"""Bare `tracker` in plain lines: by the setting, or by TRACKER_LINES=1. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import click
import pytest

from tests.commands.conftest import Run
from tests.keeping import stands
from tracker.diary.days import Change
from tracker.diary.settings import Settings
from tracker.record.store import Record

ANOTHER_DAY = "A day to correct or to add (yesterday, mon to sun, 2026-03-12; Enter alone: none)"
Kept = Callable[[], Record]


@pytest.fixture(autouse=True)
def _somebody_is_there(at_a_terminal: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)


def test_the_variable_opens_it_and_the_first_time_it_says_what_it_is(
    run: Run, kept: Kept, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRACKER_LINES", "1")
    result = run(typed="6\n4\n")
    assert result.exit_code == 0
    assert result.output.startswith(
        "A square a day for mood, and one for the hours you think you slept.\n"
        "It stays on this computer and is shown to nobody.\n"
    )
    assert "Not a clinical screening tool. Patterns in a diary are not a diagnosis.\n" in result.output
    assert result.output.endswith(
        "Nothing waits of yesterday and today.\n"
        "Today, Tue 17 March: sleep 6-7 h, mood 4 good, not anxious.\n"
        f"{ANOTHER_DAY}: \n"
        "If you feel unsafe, or want someone to talk to: tracker help, or ? in the app.\n"
    )
    with kept() as record:
        day = record.day(date(2026, 3, 17))
        assert (day.sleep and day.sleep.value, day.mood and day.mood.value) == ("sleep8-5", "mood5-4")
    assert [item.name for item in (path.parent / "record.sqlite-backups").iterdir()] == [
        "record-2026-03-17.sqlite"
    ]


@pytest.fixture
def by_setting(kept: Kept) -> None:
    with kept() as record:
        record.keep_settings(Settings(lines=True))


@pytest.mark.usefixtures("by_setting")
class TestWhenAllIsKept:
    @pytest.fixture(autouse=True)
    def _all_is_kept(self, run: Run, by_setting: None) -> None:
        run("put", "--mood", "4", "--sleep", "6")

    def test_it_says_what_stands_and_asks_before_it_ends(self, run: Run) -> None:
        assert run(typed="\n").output == (
            "Nothing waits of yesterday and today.\n"
            "Today, Tue 17 March: sleep 6-7 h, mood 4 good, not anxious.\n"
            f"{ANOTHER_DAY}: \n"
            "If you feel unsafe, or want someone to talk to: tracker help, or ? in the app.\n"
        )

    def test_a_slip_of_today_is_corrected_and_what_is_passed_over_stays(self, run: Run, kept: Kept) -> None:
        result = run(typed="today\n\n2a\n\n")
        assert "Sleep of today, Tue 17 March (sleep 6-7 h stands; Enter alone leaves it): \n" in result.output
        assert (
            "Mood of today, Tue 17 March (mood 4 good stands; Enter alone leaves it): 2a\n" in result.output
        )
        assert "Kept: mood 2 low, anxious.\nToday, Tue 17 March is kept.\n" in result.output
        with kept() as record:
            day = record.day(date(2026, 3, 17))
            assert (day.sleep and day.sleep.value, day.mood and day.mood.value) == ("sleep8-5", "mood5-2")

    def test_days_are_added_one_after_another(self, run: Run, kept: Kept) -> None:
        run(typed="yesterday\n7\n3\n15.3.2026\n5\n\n\n")
        with kept() as record:
            assert [(day.date.day, bool(day.mood)) for day in record.days().values()] == [
                (15, False),
                (16, True),
                (17, True),
            ]

    @pytest.mark.parametrize(
        ("typed", "sentence"),
        [
            (
                "zzz",
                "'zzz' is no day; give today, yesterday, mon to sun, 3 days ago, 17 March 2026 "
                "or 2026-03-17.",
            ),
            ("2026-03-18", "2026-03-18 is still to come; nothing was kept."),
        ],
    )
    def test_a_day_that_is_none_is_asked_for_again(self, run: Run, typed: str, sentence: str) -> None:
        lines = run(typed=f"{typed}\n\n").output.splitlines()
        assert lines[2:5] == [f"{ANOTHER_DAY}: {typed}", sentence, f"{ANOTHER_DAY}: "]

    def test_the_last_answer_can_be_taken_back_when_all_were_given(self, run: Run, kept: Kept) -> None:
        result = run(typed="today\n\n2\nu\n\n")
        assert "Taken back: Tue 17 March, mood 2 low" in result.output
        with kept() as record:
            assert stands(record, date(2026, 3, 17), "mood") == "mood5-4"

    @pytest.mark.parametrize(("typed", "stays"), [("", True), ("n", True), ("y", False), ("Yes", False)])
    def test_what_was_not_kept_here_is_taken_back_only_where_she_means_it(
        self, run: Run, kept: Kept, typed: str, stays: bool
    ) -> None:
        with kept() as record:
            record.keep([Change(date(2026, 3, 17), "shift", "night")], "import of days.csv, Tue 17 March")
        lines = run(typed=f"u\n{typed}\n\n").output.splitlines()
        assert lines[3:5] == [
            "The last action was not kept here: import of days.csv, Tue 17 March. "
            f"Take it back (y: yes; Enter alone: no): {typed}",
            "Nothing was changed." if stays else "Taken back: import of days.csv, Tue 17 March.",
        ]
        with kept() as record:
            assert (record.day(date(2026, 3, 17)).shift_kind == "night") is stays

    def test_what_another_window_kept_meanwhile_is_asked_about_too(
        self, run: Run, kept: Kept, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        ask = click.prompt
        questions: list[str] = []

        def also_elsewhere(question: str, **how: Any) -> object:
            questions.append(question)
            if len(questions) == 4:
                with kept() as other:
                    other.keep([Change(date(2026, 3, 12), "mood", "mood5-1")])
            return ask(question, **how)

        monkeypatch.setattr("click.prompt", also_elsewhere)
        result = run(typed="today\n\n2\nu\n\n\n")
        assert "The last action was not kept here: Thu 12 March, mood 1 very low." in result.output
        with kept() as record:
            assert stands(record, date(2026, 3, 17), "mood") == "mood5-2"

    def test_q_stops_at_once(self, run: Run) -> None:
        assert "Stopped. What was kept stands.\nIf you feel unsafe" in run(typed="today\nq\n").output
