"""Bare `tracker`: what opens, what is refused, and what the process says of it."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tracker import words
from tracker.commands import open_app, terminal
from tracker.commands.lines import conversation
from tracker.commands.main import main
from tracker.diary.errors import TrackerError, UnknownValue
from tracker.record.store import Record
from tracker.screens import app


@pytest.fixture
def somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    """A person sits at both ends."""
    monkeypatch.setattr(terminal, "somebody_is_there", lambda: True)


def test_without_a_terminal_it_is_refused_in_one_sentence(tmp_path: Path) -> None:
    record = tmp_path / "record.sqlite"
    run = subprocess.run(
        [sys.executable, "-m", "tracker", "--record", str(record)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (run.returncode, run.stdout, run.stderr) == (1, "", f"{open_app.NOBODY_THERE}\n")
    assert not record.exists()


@pytest.mark.usefixtures("somebody")
@pytest.mark.parametrize("code", [0, 1])
def test_the_process_ends_with_the_code_of_the_screens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    opened: list[Path] = []

    def run_app(record: Record, invented: bool = False) -> int:
        opened.append(record.path)
        return code

    monkeypatch.setattr(app, "run_app", run_app)
    with pytest.raises(SystemExit) as ended:
        open_app.open_app(tmp_path / "record.sqlite")
    assert (ended.value.code, opened) == (code, [tmp_path / "record.sqlite"])


@pytest.fixture
def opens(somebody: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], str]:
    """What bare `tracker` opens on a record with the setting `lines`: screens or lines."""
    opened: list[str] = []
    monkeypatch.setattr(conversation, "ask_in_lines", lambda record: opened.append("lines"))
    monkeypatch.setattr(app, "run_app", lambda record, invented: opened.append("screens"))

    def opens(setting: str) -> str:
        path = tmp_path / "record.sqlite"
        with Record.open(path) as record:
            record.keep_settings(record.choices().settings.with_value("lines", setting))
        with pytest.raises(SystemExit) as ended:
            open_app.open_app(path)
        assert not ended.value.code
        return opened.pop()

    return opens


@pytest.mark.parametrize(
    ("environment", "setting", "opened"),
    [
        ({}, "no", "screens"),
        ({}, "yes", "lines"),
        ({"TRACKER_LINES": "1"}, "no", "lines"),
        ({"TRACKER_LINES": "yes"}, "no", "lines"),
        ({"TRACKER_LINES": " True "}, "no", "lines"),
        ({"TRACKER_LINES": "0"}, "yes", "screens"),
        ({"TRACKER_LINES": "no"}, "yes", "screens"),
        ({"TRACKER_LINES": ""}, "yes", "lines"),
        ({"TERM": "dumb"}, "no", "lines"),
        ({"TERM": "dumb", "TRACKER_LINES": "no"}, "no", "screens"),
    ],
)
def test_plain_lines_open_where_they_are_asked_for_or_nothing_can_be_drawn(
    opens: Callable[[str], str],
    monkeypatch: pytest.MonkeyPatch,
    environment: dict[str, str],
    setting: str,
    opened: str,
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert opens(setting) == opened


@pytest.mark.usefixtures("somebody")
def test_a_variable_that_says_neither_yes_nor_no_is_refused_and_begins_no_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRACKER_LINES", "perhaps")
    with pytest.raises(UnknownValue, match=r"^TRACKER_LINES takes yes or no, not 'perhaps'\.$"):
        open_app.open_app(tmp_path / "record.sqlite")
    assert list(tmp_path.glob("*.sqlite*")) == []


@pytest.mark.usefixtures("somebody")
def test_the_demo_asks_in_plain_lines_too_and_says_that_its_days_are_invented(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[int] = []
    monkeypatch.setenv("TRACKER_LINES", "1")
    monkeypatch.setattr(conversation, "ask_in_lines", lambda record: asked.append(len(record.days())))
    with pytest.raises(SystemExit) as ended:
        main(["demo"])
    gc.enable()
    assert (ended.value.code, capsys.readouterr().out) == (0, f"{words.INVENTED}\n")
    assert asked[0] > 700


@pytest.mark.usefixtures("somebody")
def test_the_window_is_named_for_the_program_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(app, "run_app", lambda record, invented: 0)
    with pytest.raises(SystemExit):
        open_app.open_app(tmp_path / "record.sqlite")
    assert capsys.readouterr().out == "\x1b[22;0t\x1b]2;tracker\x07\x1b[23;0t"


@pytest.mark.parametrize("how", ["record", "demo"])
def test_while_the_screens_are_open_garbage_is_looked_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, somebody: None, how: str
) -> None:
    """They stay for hours; a command ends at once and looks for none."""
    looked_for: list[bool] = []

    def run_app(record: Record, invented: bool = False) -> int:
        looked_for.append(gc.isenabled())
        return 0

    monkeypatch.setattr(app, "run_app", run_app)
    monkeypatch.setenv("TRACKER_RECORD", str(tmp_path / "record.sqlite"))
    try:
        with pytest.raises(SystemExit):
            main([] if how == "record" else ["demo"])
    finally:
        gc.unfreeze()
        gc.enable()
    assert looked_for == [True]


@pytest.mark.usefixtures("somebody")
def test_a_file_that_is_no_record_is_refused_untouched(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear Dr Moor,\n" * 20)
    with pytest.raises(TrackerError, match=r"letter\.txt is not a record of this program"):
        open_app.open_app(path)
    assert path.read_text() == "Dear Dr Moor,\n" * 20


NEVER_ON_THE_WAY = (
    "numpy", "scipy", "typst", "sqlite_utils", "icalendar", "pandas", "tracker.analysis.findings",
    "tracker.summary.content", "tracker.screens.findings_screen", "tracker.screens.summary_screen",
    "tracker.screens.settings_screen", "tracker.screens.form_screen", "textual.widgets._data_table",
    "dateutil", "sqlcipher3", "tracker.record.lock_keys", "tracker.record.locking",
)  # fmt: skip


def test_opening_imports_nothing_that_the_first_paint_does_not_need(tmp_path: Path) -> None:
    program = f"""
import asyncio, sys
from collections.abc import Callable
from pathlib import Path
from tracker.commands import command_line, main, open_app
from tracker.record.store import Record
from tracker.screens.app import TrackerApp
from tracker.editing.editor import Editor

async def paint():
    with Record.open(Path({str(tmp_path / "record.sqlite")!r})) as record:
        record.keep_settings(record.choices().settings.with_value("country", "Wales"))
        async with TrackerApp(Editor(record)).run_test(size=(80, 24)) as pilot:
            await pilot.press("7", "4")

asyncio.run(paint())
print(*sorted(sys.modules), sep="\\n")
"""
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env=os.environ.copy()
    )
    loaded = run.stdout.split()
    assert "tracker.screens.month_screen" in loaded
    assert [name for name in NEVER_ON_THE_WAY if name in loaded] == []
