"""Files that only their owner can read, written whole or not at all."""

import stat
from pathlib import Path

import pytest

from tracker import system
from tracker.diary.errors import CannotWrite, UnwritableRecord
from tracker.record import files


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_a_file_that_others_can_read_is_narrowed_and_keeps_what_it_holds(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_text("x")
    path.chmod(0o644)
    system.make_private_file(path)
    assert (mode(path), path.read_text()) == (0o600, "x")


def test_missing_folders_are_made_for_their_owner_and_others_stay_as_they_are(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    files.private_folder(tmp_path / "a" / "b")
    assert (mode(tmp_path), mode(tmp_path / "a"), mode(tmp_path / "a" / "b")) == (0o755, 0o700, 0o700)


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(UnwritableRecord, match="cannot be made: "):
        files.private_folder(tmp_path / "file" / "folder")


def test_a_file_written_whole_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "file.txt"
    path.write_text("old")
    files.write_text(path, "new\r\n")
    assert (path.read_bytes(), mode(path)) == (b"new\r\n", 0o600)
    assert list(tmp_path.iterdir()) == [path]


def test_one_that_fails_half_way_leaves_the_old_one_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "file.txt"
    path.write_text("old")

    def half() -> None:
        with files.written_whole(path) as aside:
            aside.write_text("half")
            raise OSError(28, "No space left on device")

    with pytest.raises(CannotWrite, match="cannot be written: no space left"):
        half()
    assert (path.read_text(), list(tmp_path.iterdir())) == ("old", [path])


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="the folder"):
        files.write_text(tmp_path / "no" / "file.txt", "x")


def test_a_file_that_is_there_is_written_over_only_by_force_and_the_record_never(tmp_path: Path) -> None:
    record, other = tmp_path / "record.sqlite", tmp_path / "days.csv"
    record.write_text("x")
    other.write_text("x")
    (tmp_path / "link").symlink_to(record)
    files.refuse_existing(tmp_path / "new.csv", False, record)
    files.refuse_existing(other, True, record)
    with pytest.raises(CannotWrite, match="is there already; --force writes over it"):
        files.refuse_existing(other, False, record)
    (tmp_path / "record.sqlite-wal").write_text("x")
    for itself in (record, tmp_path / "link", tmp_path / "record.sqlite-wal"):
        with pytest.raises(CannotWrite, match="is the record itself"):
            files.refuse_existing(itself, True, record)


def test_the_place_of_the_record_follows_the_platform(tmp_path: Path) -> None:
    assert files.default_record() == tmp_path / "data" / "tracker-days" / "record.sqlite"
