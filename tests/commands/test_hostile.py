"""Files that were made to hang or break a program end within a second, in a sentence."""

from __future__ import annotations

import json
import os
import signal
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.commands.conftest import Edge, Run


@pytest.fixture(autouse=True)
def _no_test_hangs() -> Iterator[None]:
    def too_long(*_: object) -> None:
        raise AssertionError("it hangs")

    signal.signal(signal.SIGALRM, too_long)
    signal.alarm(20)
    yield
    signal.alarm(0)


TIMES = "DTSTART:20260301T080000Z\nDTEND:20260301T160000Z"


def calendar(*events: str) -> str:
    return "\n".join(["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:x", *events, "END:VCALENDAR", ""])


def event(*lines: str) -> str:
    return "\n".join(["BEGIN:VEVENT", "UID:x", "SUMMARY:night", *lines, "END:VEVENT"])


def numbers(last: int) -> str:
    return ",".join(map(str, range(1, last + 1)))


MANY_TIMES = (
    f"RRULE:FREQ=YEARLY;BYMONTH={numbers(12)};BYMONTHDAY={numbers(31)};BYHOUR={numbers(23)};"
    f"BYMINUTE={numbers(59)};BYSECOND={numbers(59)}"
)
CALENDARS = {
    "no step": calendar(event(TIMES, "RRULE:FREQ=DAILY;INTERVAL=0")),
    "a billion times": calendar(event(TIMES, MANY_TIMES)),
    "each second": calendar(
        event("DTSTART:19000301T080000Z", "DTEND:19000301T160000Z", "RRULE:FREQ=SECONDLY")
    ),
    "a rule that never comes": calendar(event(TIMES, "RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30")),
    "an impossible month": calendar(event(TIMES, "RRULE:FREQ=YEARLY;BYMONTH=13")),
    "50,000 events": calendar(*[event(TIMES)] * 50_000),
    "events in events": calendar("BEGIN:VEVENT\n" * 5_000 + "END:VEVENT\n" * 5_000),
    "an impossible day": calendar(event("DTSTART:20261399T990000Z", "DTEND:20261399T990000Z")),
    "year 1": calendar(event("DTSTART:00010101T000000Z", "DTEND:00010102T000000Z", "RRULE:FREQ=DAILY")),
    "an impossible zone": calendar(event("DTSTART;TZID=Mars/Olympus:20260301T080000", "DURATION:PT8H")),
    "a zone as long as a file": calendar(
        event(f"DTSTART;TZID={'x' * 100_000}:20260301T080000", "DURATION:PT8H")
    ),
    "a zone outside its folder": calendar(
        event("DTSTART;TZID=../../etc/passwd:20260301T080000", "DURATION:PT8H")
    ),
    "escapes": calendar(event(TIMES).replace("night", "\x1b]0;x\x07\x1b[31mred")),
}


@pytest.mark.parametrize("text", CALENDARS.values(), ids=CALENDARS)
def test_a_calendar(run: Run, tmp_path: Path, text: str) -> None:
    file = tmp_path / "rota.ics"
    file.write_text(text)
    ends_in_a_sentence(lambda: run("rota", str(file), "--dry-run"))


EXPORTS = {
    "60,000 names": "{" + ",".join(f'"{n}":1' for n in range(60_000)) + "}",
    "deep": "[" * 100_000,
    "deep objects": '{"a":' * 100_000,
    "a day in year 1": json.dumps(
        {
            "program": "tracker-days",
            "schema": 1,
            "batch": [],
            "choice": [],
            "erased": [],
            "entry": [{"day": "0001-01-01"}],
        }
    ),
    "a number of a million digits": f'{{"schema":{"9" * 1_000_000}}}',
    "a schema of escapes": json.dumps({"program": "tracker-days", "schema": "\x1b[31m"}),
    "a name of escapes": '{"\x1b[31m": 1, "\x1b[31m": 2}',
    "rows that are no lists": json.dumps({"program": "tracker-days", "schema": 1, "batch": {"a": 1}}),
}


@pytest.mark.parametrize("text", EXPORTS.values(), ids=EXPORTS)
def test_an_export(run: Run, tmp_path: Path, text: str) -> None:
    file = tmp_path / "record.json"
    file.write_text(text)
    ends_in_a_sentence(lambda: run("import", str(file)), code=1)


TABLES = {
    "a day in year 1": "date,mood\n0001-01-01,3\n",
    "escapes": "date,mood\n\x1b]0;x\x07,3\n",
    "an endless cell": 'date,mood\n"' + "x" * 2_000_000,
    "60,000 columns": "date," + ",".join(f"c{n}" for n in range(60_000)) + "\n2026-01-01\n",
    "a column of escapes": "date,\x1b[31m\n2026-01-01,3\n",
}


@pytest.mark.parametrize("text", TABLES.values(), ids=TABLES)
def test_a_file_of_days(run: Run, tmp_path: Path, text: str) -> None:
    file = tmp_path / "days.csv"
    file.write_text(text)
    ends_in_a_sentence(lambda: run("import", str(file)), code=1)


@pytest.mark.parametrize("command", ["import", "merge", "restore", "rota"])
def test_a_pipe_where_a_file_should_be(run: Run, tmp_path: Path, command: str) -> None:
    pipe = tmp_path / {"import": "x.csv", "rota": "x.ics"}.get(command, "x.sqlite")
    os.mkfifo(pipe)
    ends_in_a_sentence(lambda: run(command, str(pipe)))


THEMES: dict[str, Callable[[Path], object]] = {
    "nested deep": lambda path: path.write_text("a = " + "[" * 50_000),
    "a pipe": os.mkfifo,
    "a folder": Path.mkdir,
    "too large": lambda path: path.write_text("a = '" + "x" * 20_000_000 + "'"),
    "escapes": lambda path: path.write_text('name = "\\u001b[31mred"\n'),
    "no text": lambda path: path.write_bytes(b"\xff" * 100),
}


@pytest.mark.parametrize("make", THEMES.values(), ids=THEMES)
def test_a_theme(run: Run, tmp_path: Path, make: Callable[[Path], object]) -> None:
    folder = tmp_path / "config" / "tracker-days" / "themes"
    folder.mkdir(parents=True)
    make(folder / "mine.toml")
    run("settings", "theme", "mine")
    ends_in_a_sentence(lambda: run("show"))


def ends_in_a_sentence(call: Callable[[], object], code: int | None = None) -> None:
    before = time.process_time()
    result = call()
    took = time.process_time() - before
    said = result.stdout + result.stderr  # type: ignore[attr-defined]
    assert took < 3, f"{took:.1f} s of work"  # one second, on a machine that does nothing else
    assert "The program made a mistake" not in said
    assert not [sign for sign in said if sign < " " and sign not in "\n\t"]
    if code is not None:
        assert (result.exit_code, len(said) < 10_000) == (code, True)  # type: ignore[attr-defined]


def test_without_a_home_folder_it_says_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def unknown(user: int) -> None:
        raise KeyError(user)

    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "USERPROFILE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("pwd.getpwuid", unknown)
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(Edge(), ["put", "--mood", "4"])  # type: ignore[arg-type]
    assert (result.exit_code, result.stderr) == (
        1, "There is no home folder for the record; name its file with --record.\n",
    )  # fmt: skip
    assert list(tmp_path.iterdir()) == []
