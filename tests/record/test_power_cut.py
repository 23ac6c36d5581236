"""What is on the disk when a call returns, and what a power cut in the midst of it may leave.

A power cut takes whatever was not synced: of a file its bytes, of a folder the names in it, each by itself
(fsync(2): to sync a file does not sync its name, that needs a sync of the folder). A test cannot cut the
power; these watch which names change and what is synced, in their order.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.record.sample import fill
from tracker import system
from tracker.diary.clock import Clock
from tracker.record import backups, erase, files, snapshots
from tracker.record.integrity import look_over
from tracker.record.json_export import record_as_json
from tracker.record.store import Record

WRITTEN_WITH_A_LOG = b"\x02\x02"
"""Bytes 18 and 19 of the header (sqlite.org/fileformat2.html, 1.3.3)."""


class Disk:
    """Folders whose names changed since they were last synced, and all that was done to them."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.unsynced: set[Path] = set()
        self.done: list[tuple[str, str]] = []
        self.at_each_step: Callable[[], object] = lambda: None
        for name in ("link", "rename", "replace", "unlink", "mkdir"):
            monkeypatch.setattr(os, name, self._watched(name, getattr(os, name)))
        self._sync = system.sync
        monkeypatch.setattr(system, "sync", self.sync)

    def _watched(self, name: str, change: Callable[..., None]) -> Callable[..., None]:
        def changes(*paths: Any, **more: Any) -> None:
            change(*paths, **more)
            named = [Path(path) for path in paths if isinstance(path, str | Path)]
            self.unsynced |= {path.parent for path in named}
            self.done.append((name, named[-1].name))
            self.at_each_step()

        return changes

    def sync(self, descriptor: int) -> None:
        self._sync(descriptor)
        synced = {folder for folder in self.unsynced if folder.exists() and is_at(folder, descriptor)}
        self.unsynced -= synced
        self.done.append(("sync", next((folder.name for folder in synced), "a file")))
        self.at_each_step()


def is_at(path: Path, descriptor: int) -> bool:
    return os.path.samestat(path.stat(), os.fstat(descriptor))


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    return Disk(monkeypatch)


def test_a_file_said_to_be_written_is_on_the_disk_first_its_bytes_then_its_name(
    tmp_path: Path, disk: Disk
) -> None:
    files.write_text(tmp_path / "days.csv", "x")
    steps = disk.done[: disk.done.index(("replace", "days.csv")) + 2]
    assert steps == [("sync", "a file"), ("replace", "days.csv"), ("sync", tmp_path.name)]


def test_every_folder_that_is_made_is_on_the_disk(tmp_path: Path, disk: Disk) -> None:
    files.private_folder(tmp_path / "a" / "b")
    assert disk.done == [("mkdir", "a"), ("sync", tmp_path.name), ("mkdir", "b"), ("sync", "a")]


def test_a_record_that_is_begun_is_on_the_disk_with_its_folders(
    tmp_path: Path, clock: Clock, disk: Disk
) -> None:
    Record.open(tmp_path / "a" / "record.sqlite", clock).close()
    assert ("link", "record.sqlite") in disk.done
    assert disk.unsynced == set()


def test_a_backup_is_on_the_disk_before_an_older_one_goes(record: Record, disk: Disk) -> None:
    fill(record)
    backups.keep_backups(record)
    assert disk.unsynced - {files.backups_folder(record.path)} == set()
    assert disk.done.index(("sync", files.backups_folder(record.path).name)) == next(
        place + 1 for place, (name, _) in enumerate(disk.done) if name == "replace"
    )


def test_a_new_record_and_one_put_in_place_are_written_with_a_log_before_they_are_opened(
    record: Record, tmp_path: Path, clock: Clock, disk: Disk
) -> None:
    """To begin the log on opening leaves, cut off in the midst, a journal that only a writer can take in."""
    fill(record)
    new, broken = tmp_path / "new.sqlite", tmp_path / "broken.sqlite"
    broken.write_bytes(b"")
    ways = []
    disk.at_each_step = lambda: ways.append(new.read_bytes()[18:20]) if new.exists() else None
    Record.open(new, clock).close()
    with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
        snapshots.put_in_place(copy, broken)
    assert set(ways) == {WRITTEN_WITH_A_LOG}
    assert broken.read_bytes()[18:20] == WRITTEN_WITH_A_LOG


def test_a_folder_that_cannot_be_synced_hinders_nobody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(descriptor: int) -> None:
        raise OSError(22, "Invalid argument")

    monkeypatch.setattr(system, "sync", refused)
    system.sync_folder(tmp_path)
    system.sync_folder(tmp_path / "not there")


class TestPuttingInPlace:
    @pytest.fixture
    def broken(self, tmp_path: Path) -> Path:
        path = tmp_path / "broken.sqlite"
        for end in ("", "-wal", "-journal"):
            path.with_name(path.name + end).write_text(f"what was left{end}")
        return path

    def test_at_no_moment_is_there_no_record_and_never_a_copy_with_the_log_of_another(
        self, record: Record, broken: Path, disk: Disk
    ) -> None:
        fill(record)
        seen = []

        def look() -> None:
            beside = [end for end in files.SIDES if broken.with_name(broken.name + end).exists()]
            seen.append((broken.read_bytes()[:8], bool(beside) or broken.parent in disk.unsynced))

        with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
            disk.at_each_step = look
            snapshots.put_in_place(copy, broken)
        old = seen[: seen.index(next(step for step in seen if step[0] == b"SQLite f"))]
        assert {begins for begins, _ in old} == {b"what was"}
        assert old[-1] == (b"what was", False)
        assert disk.unsynced == set()

    def test_what_lay_there_stays_whole_beside_it(self, record: Record, broken: Path) -> None:
        fill(record)
        with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
            damaged = snapshots.put_in_place(copy, broken)
        kept = {end: damaged.with_name(damaged.name + end).read_text() for end in ("", "-wal", "-journal")}
        assert kept == {end: f"what was left{end}" for end in ("", "-wal", "-journal")}
        with Record.open(broken) as restored:
            assert record_as_json(restored) == record_as_json(record)

    def test_without_links_it_is_copied(
        self, record: Record, broken: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def no_links(path: Path, name: Path) -> None:
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", no_links)
        with snapshots.from_bytes(snapshots.as_bytes(record), broken) as copy:
            assert snapshots.put_in_place(copy, broken).read_text() == "what was left"


class TestErasing:
    def test_a_record_is_whole_or_gone_and_its_side_files_go_first(self, record: Record, disk: Disk) -> None:
        fill(record)
        path = record.path
        record.close()
        log = path.with_name(f"{path.name}-shm")
        log.write_bytes(b"")
        whole, seen = path.read_bytes(), []
        disk.at_each_step = lambda: seen.append(
            (path.exists() and path.read_bytes() == whole, path.exists(), log.exists())
        )
        erase.remove(reversed(files.parts_of(path)), path)
        assert list(dict.fromkeys(seen)) == [(True, True, False), (False, False, False)]
        assert disk.unsynced == set()
        assert list(path.parent.glob("*record*")) == []

    def test_the_record_itself_outlives_a_second_name_that_its_making_left(self, record: Record) -> None:
        """A cut between the two names of a new record leaves both."""
        fill(record)
        os.link(record.path, record.path.with_name(f".{record.path.name}.ab12"))
        before = record_as_json(record)
        erase.erase_backups(record.path)
        record.close()
        assert list(record.path.parent.glob(".*")) == []
        assert look_over(record.path).faults == []
        with Record.open(record.path) as again:
            assert record_as_json(again) == before
