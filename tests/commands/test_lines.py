"""Bare `tracker` in plain lines: by the setting, or by TRACKER_LINES=1. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.diary.choices import Settings
from tracker.record.store import Record

Kept = Callable[[], Record]


@pytest.fixture(autouse=True)
def _somebody_is_there(at_a_terminal: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tracker.commands.around.somebody_is_there", lambda: True)


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
        "All is kept.\nIf you feel unsafe, or want someone to talk to: tracker help, or ? in the app.\n"
    )
    with kept() as record:
        day = record.day(date(2026, 3, 17))
        assert (day.sleep and day.sleep.value, day.mood and day.mood.value) == ("sleep8-5", "mood5-4")
    assert [item.name for item in (path.parent / "record.sqlite-backups").iterdir()] == [
        "record-2026-03-17.sqlite"
    ]


def test_the_setting_opens_it_and_nothing_waiting_says_so(run: Run, kept: Kept) -> None:
    with kept() as record:
        record.keep_settings(Settings(lines=True))
    run("put", "--mood", "4", "--sleep", "6")
    assert run().output == (
        "All is kept.\nIf you feel unsafe, or want someone to talk to: tracker help, or ? in the app.\n"
    )
