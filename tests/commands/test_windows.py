"""What Windows does otherwise, simulated here, because no Windows was at hand.

Sources: the pages of Python on `os`, `os.path` and `pathlib` ("Availability", and what is said there of
Windows), of Microsoft on FlushFileBuffers and on sharing modes of CreateFile.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.commands.conftest import Run
from tracker import system
from tracker.record.store import Record

fcntl = pytest.importorskip("fcntl")
OPEN_FILES = Path("/proc/self/fd")
pytestmark = pytest.mark.skipif(not OPEN_FILES.is_dir(), reason="looks up open files as Linux lists them")


def is_open(file: Path) -> bool:
    """Whether this process has a file open."""
    with os.scandir(OPEN_FILES) as descriptors:
        names = [os.path.realpath(each.path) for each in descriptors]
    return os.path.realpath(file) in names


def refused(file: Path) -> PermissionError:
    return PermissionError(errno.EACCES, "The process cannot access the file", str(file))


def only_when_written(sync: Callable[[int], None]) -> Callable[[int], None]:
    """`fsync` refuses a file that is open for reading alone."""

    def changed(descriptor: int) -> None:
        if fcntl.fcntl(descriptor, fcntl.F_GETFL) & os.O_ACCMODE == os.O_RDONLY:
            raise OSError(errno.EBADF, "Bad file descriptor")
        sync(descriptor)

    return changed


def no_folder(open_file: Callable[..., int]) -> Callable[..., int]:
    """`os.open` opens no folder."""

    def changed(name: Any, *how: Any, **more: Any) -> int:
        if Path(name).is_dir():
            raise refused(Path(name))
        return open_file(name, *how, **more)

    return changed


def read_only_flag(chmod: Callable[..., None]) -> Callable[..., None]:
    """`chmod` sets or clears the flag that a file is read-only; every file shows modes open to all."""

    def changed(name: Any, mode: int, **more: Any) -> None:
        everybody = 0o777 if Path(name).is_dir() else 0o666
        chmod(name, everybody if mode & stat.S_IWUSR else everybody & 0o555, **more)

    return changed


def no_open_file(rename: Callable[..., None]) -> Callable[..., None]:
    """A file that is open keeps its name."""

    def changed(*names: Any, **more: Any) -> None:
        for name in names:
            if Path(name).is_file() and is_open(Path(name)):
                raise refused(Path(name))
        rename(*names, **more)

    return changed


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> None:
    """This system as Windows would answer."""
    monkeypatch.setattr(system, "MODES_COUNT", False)
    monkeypatch.setattr(system, "OPEN_FILES_KEEP_NAMES", True)
    monkeypatch.delattr(os, "fchmod")
    monkeypatch.setattr(os, "open", no_folder(os.open))
    monkeypatch.setattr(os, "fsync", only_when_written(os.fsync))
    monkeypatch.setattr(os, "chmod", read_only_flag(os.chmod))
    for name in ("rename", "replace", "unlink", "remove"):
        monkeypatch.setattr(os, name, no_open_file(getattr(os, name)))


@pytest.fixture(params=["with links", "without links"])
def names(request: pytest.FixtureRequest, windows: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """On NTFS, and on a stick formatted as FAT."""

    def no_links(*_: Any, **__: Any) -> None:
        raise OSError(errno.EINVAL, "Incorrect function")

    if request.param == "without links":
        monkeypatch.setattr(os, "link", no_links)


LINES = [
    "put --mood 4 --sleep 6", "put yesterday --mood 2 --hours 6.5 --anxious yes --note Swapped.",
    "undo", "redo", "show --plain", "show --words", "history today", "findings", "settings country Wales",
    "summary page.pdf", "paper grid.pdf", "export days.csv", "export record.json", "import days.csv",
    "import record.json", "rota --pattern n,off --from today", "break 2026-03-01 2026-03-02",
    "backup copy.sqlite", "put --mood 1", "restore copy.sqlite --yes", "merge copy.sqlite", "check",
    "demo --to demo.sqlite", "erase yesterday --yes", "check", "erase --everything --backups --yes",
    "put --mood 3",
]  # fmt: skip


@pytest.mark.usefixtures("names")
def test_every_command_does_its_work(run: Run, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(path.parent)
    ended = {line: run(*line.split()) for line in LINES}
    told = {line: result.stderr for line, result in ended.items() if result.exit_code}
    assert told == {}
    with Record.open(path) as record:
        assert [day.mood.value for day in record.days().values() if day.mood] == ["mood5-3"]


@pytest.mark.usefixtures("names", "at_a_terminal")
def test_a_record_is_locked_and_unlocked(run: Run, path: Path) -> None:
    run("put", "--mood", "4")
    words = "four lamps at Selderby\n"
    assert run("lock", typed=f"{words}{words}y\n").exit_code == 0
    assert run("put", "--sleep", "6").exit_code == 0
    assert run("unlock", "--yes").exit_code == 0
    with Record.open(path) as record:
        assert [bool(day.mood and day.sleep) for day in record.days().values()] == [True]


@pytest.mark.usefixtures("windows")
def test_open_modes_of_a_folder_refuse_no_record_there(run: Run, path: Path) -> None:
    path.parent.chmod(0o777)
    assert run("put", "--mood", "4").exit_code == 0


@pytest.mark.usefixtures("windows")
def test_nothing_is_said_of_modes_that_say_nothing(run: Run, path: Path) -> None:
    run("put", "--mood", "4")
    path.chmod(0o666)
    result = run("check")
    assert (result.exit_code, "Others could read" in result.output) == (0, False)
