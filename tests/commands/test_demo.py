"""`tracker demo`."""

from __future__ import annotations

import errno
import stat
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from tracker import words
from tracker.commands import demo_command, terminal
from tracker.commands.command_line import tracker
from tracker.diary.errors import CannotWrite, TrackerError
from tracker.record.store import Record


def test_to_keeps_the_invented_record_in_a_private_file(tmp_path: Path) -> None:
    kept = tmp_path / "invented.sqlite"
    result = CliRunner().invoke(tracker, ["demo", "--to", str(kept)], catch_exceptions=False)
    assert result.output == f"{words.INVENTED} Kept in {kept}; use it as: tracker --record {kept}\n"
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    with Record.open(kept) as record:
        assert len(record.days()) > 700


def test_to_leaves_a_file_that_is_there(tmp_path: Path) -> None:
    there = tmp_path / "mine.sqlite"
    there.write_text("mine")
    result = CliRunner().invoke(tracker, ["demo", "--to", str(there)])
    assert isinstance(result.exception, CannotWrite)
    assert there.read_text() == "mine"


def test_without_a_terminal_it_says_what_to_do() -> None:
    result = CliRunner().invoke(tracker, ["demo"])
    assert isinstance(result.exception, TrackerError)
    assert "tracker demo --to FILE" in str(result.exception)


def test_the_throw_away_record_is_private_and_goes() -> None:
    with demo_command.invented_record() as record:
        folder = record.path.parent
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        assert record.first_day() is not None
    assert not folder.exists()


def test_the_throw_away_record_goes_when_the_app_breaks() -> None:
    folders: list[Path] = []

    def break_off() -> None:
        with demo_command.invented_record() as record:
            folders.append(record.path.parent)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        break_off()
    assert [folder.exists() for folder in folders] == [False]


@pytest.mark.parametrize("name", ["with spaces", "ask?mode=ro#part", "%20", "Träume", "not there"])
def test_a_folder_with_an_odd_name_will_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    if name != "not there":
        (tmp_path / name).mkdir()
    monkeypatch.setenv("TMPDIR", str(tmp_path / name))
    monkeypatch.setattr(tempfile, "tempdir", None)
    with demo_command.invented_record() as record:
        assert record.first_day() is not None
    assert list(tmp_path.rglob("*.sqlite")) == []


def test_without_any_folder_to_write_in_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    def nowhere(**_: object) -> None:
        raise FileNotFoundError(errno.ENOENT, "No usable temporary directory found")

    monkeypatch.setattr(tempfile, "TemporaryDirectory", nowhere)
    with (
        pytest.raises(CannotWrite, match="Set TMPDIR to a folder that can be written"),
        demo_command.invented_record(),
    ):
        pass


@pytest.mark.parametrize("code", [0, 1])
def test_it_ends_as_the_app_ends(monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    seen: list[bool] = []

    def run_app(record: Record, invented: bool = False) -> int:
        seen.append(invented and record.first_day() is not None)
        return code

    monkeypatch.setattr("tracker.screens.app.run_app", run_app)
    monkeypatch.setattr(terminal, "somebody_is_there", lambda: True)
    assert CliRunner().invoke(tracker, ["demo"]).exit_code == code
    assert seen == [True]
