"""What all tests share: a frozen clock in London, and an empty record that is closed afterwards."""

from __future__ import annotations

import socket
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from tests.keeping import keep
from tracker.diary.clock import Clock
from tracker.record.store import Record

NOW = datetime(2026, 3, 17, 21, 0, tzinfo=UTC)
LONDON = ZoneInfo("Europe/London")


INTERNET = (socket.AF_INET, socket.AF_INET6)
internet_sockets: list[str] = []
"""Every try of this process to reach the internet, also one that was caught and hidden."""


class InternetForbidden(RuntimeError):
    """The program keeps everything on this computer: no part of it may open an internet socket."""


def _forbid_internet(event: str, details: tuple[object, ...]) -> None:
    asked = event == "socket.getaddrinfo" or (event == "socket.__new__" and details[1] in INTERNET)
    if asked:
        internet_sockets.append(event)
        raise InternetForbidden(event)


sys.addaudithook(_forbid_internet)


@pytest.fixture(autouse=True)
def _no_internet() -> Iterator[None]:
    """Whatever a test does, it opens no internet socket."""
    internet_sockets.clear()
    yield
    assert internet_sockets == []


@pytest.fixture(autouse=True)
def _nobody_elses_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test sees the record or the settings of whoever runs it."""
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    others = ("TRACKER_RECORD", "TRACKER_LINES", "NO_COLOR", "FORCE_COLOR", "COLORTERM", "XDG_RUNTIME_DIR")
    for name in others:
        monkeypatch.delenv(name, raising=False)


@pytest.fixture(autouse=True)
def _no_key_of_another_test() -> Iterator[None]:
    """Keys of locked records that one test has proven are not known to the next."""
    yield
    keys = sys.modules.get("tracker.record.lock_keys")
    if keys is not None:
        keys._known.clear()


@pytest.fixture
def clock() -> Clock:
    """Tuesday 17 March 2026, nine in the evening in London."""
    return Clock(now=lambda: NOW, zone=LONDON)


@pytest.fixture
def record(tmp_path: Path, clock: Clock, request: pytest.FixtureRequest) -> Iterator[Record]:
    """An empty record; a locked one where a test is run in that form."""
    path = tmp_path / "record.sqlite"
    if getattr(request, "param", "plain") == "locked":
        from tracker.record import lock_keys, locking

        Record.open(path, clock).close()
        locking.lock(path, lock_keys.LockKey(b"k" * 32, b"s" * 16))
    with Record.open(path, clock) as opened:
        yield opened


@pytest.fixture
def begun(record: Record) -> Record:
    """A record that began ten days ago and has nothing since."""
    keep(record, date(2026, 3, 7), mood="3", sleep="5")
    return record
