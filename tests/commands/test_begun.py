"""Where a record begins, and where a mistyped name begins none. Today is Tuesday 17 March 2026."""

import shutil
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.commands import open_app, terminal
from tracker.record.files import backups_folder, default_record
from tracker.record.store import Record
from tracker.screens import app

READING = [
    ["show"],
    ["history", "today"],
    ["findings"],
    ["export", "days.csv"],
    ["summary", "-"],
    ["check"],
    ["backup"],
    ["undo"],
    ["redo"],
    ["settings"],
    ["settings", "theme"],
    ["scales"],
    ["kinds"],
    ["kinds", "n"],
    ["break"],
    ["break", "--end"],
    ["paper", "year.pdf", "--filled"],
]


@pytest.mark.parametrize("arguments", READING)
def test_under_a_mistyped_name_nothing_is_read_and_no_record_begins(
    run: Run, tmp_path: Path, arguments: list[str]
) -> None:
    mistyped = tmp_path / "recrod.sqlite"
    result = run("--record", str(mistyped), *arguments)
    assert (result.exit_code, result.stdout, result.stderr) == (
        1,
        "",
        f"There is no record at {mistyped}; look at the name, or begin one with tracker put.\n",
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("arguments", [["show", "--plain"], ["history", "today"], ["findings"], ["settings"]])
def test_before_the_first_day_the_usual_place_reads_as_empty_and_stays_so(
    run: Run, path: Path, arguments: list[str]
) -> None:
    result = run(*arguments)
    assert (result.exit_code, result.stderr) == (0, "")
    assert not path.exists()


def test_where_to_turn_is_shown_whatever_name_was_typed(run: Run, tmp_path: Path) -> None:
    result = run("--record", str(tmp_path / "recrod.sqlite"), "help")
    assert (result.exit_code, "In immediate danger" in result.stdout) == (0, True)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("how", ["option", "variable"])
def test_a_record_that_begins_under_a_name_is_told_of_once(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    other = tmp_path / "other.sqlite"
    named = ["--record", str(other)] if how == "option" else []
    if how == "variable":
        monkeypatch.setenv("TRACKER_RECORD", str(other))
    first, second = (run(*named, "put", "--mood", mood) for mood in ("3", "4"))
    assert (first.exit_code, first.stderr) == (0, f"A new record was begun in {other}.\n")
    assert (second.exit_code, second.stderr) == (0, "")


@pytest.mark.parametrize("arguments", [["put", "--mood", "3"], ["kinds", "n", "--hours", "22:00-06:00"]])
def test_no_folder_is_made_for_a_record_that_was_named(
    run: Run, tmp_path: Path, arguments: list[str]
) -> None:
    far = tmp_path / "nowhere" / "record.sqlite"
    result = run("--record", str(far), *arguments)
    assert (result.exit_code, result.stdout, result.stderr) == (
        1,
        "",
        f"No record was begun in {far}, because there is no folder {far.parent}; "
        "look at the name, or make the folder first.\n",
    )
    assert list(tmp_path.iterdir()) == []


def test_in_the_usual_place_it_begins_with_its_folders_and_without_a_word(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda *_, **__: tmp_path / "data" / "tracker-days")
    assert run("put", "--mood", "3").stderr == ""
    assert (tmp_path / "data" / "tracker-days" / "record.sqlite").is_file()


def test_where_a_link_leads_to_a_stick_that_is_not_in_nothing_begins(
    run: Run, tmp_path: Path, path: Path
) -> None:
    stick = tmp_path / "stick"
    path.symlink_to(stick / "record.sqlite")
    assert run("put", "--mood", "3").stderr.startswith(f"No record was begun in {stick / 'record.sqlite'}, ")
    assert run("show").stderr.startswith(f"There is no record at {stick / 'record.sqlite'}; ")
    assert not stick.exists()
    stick.mkdir()
    assert run("put", "--mood", "3").stderr == f"A new record was begun in {stick / 'record.sqlite'}.\n"


def test_links_that_lead_round_are_said_to(run: Run, tmp_path: Path) -> None:
    one, other = tmp_path / "one.sqlite", tmp_path / "other.sqlite"
    one.symlink_to(other)
    other.symlink_to(one)
    for command in (["put", "--mood", "3"], ["check"], ["erase", "--everything", "--yes"]):
        assert "links lead round in a circle" in run("--record", str(one), *command).stderr


@pytest.mark.parametrize("arguments", [["put"], ["put", "--from", "mon"]])
def test_where_nobody_can_answer_no_record_begins(run: Run, path: Path, arguments: list[str]) -> None:
    assert run(*arguments).exit_code == 1
    assert not path.exists()


@pytest.mark.parametrize(
    ("name", "holds", "arguments"),
    [
        ("days.csv", "date,mood\n2026-03-15,9\n", ["import"]),
        ("days.csv", "date,mood\n", ["import"]),
        ("record.json", "{}", ["import"]),
        ("rota.ics", "no calendar\n", ["rota"]),
        ("laptop.sqlite", "no record\n", ["merge"]),
    ],
)
def test_a_file_of_which_nothing_is_kept_begins_none(
    run: Run, path: Path, tmp_path: Path, name: str, holds: str, arguments: list[str]
) -> None:
    file = tmp_path / name
    file.write_text(holds)
    run(*arguments, str(file))
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.parametrize(
    "arguments",
    [
        ["put", "--mood", "9"],
        ["settings", "lines", "perhaps"],
        ["kinds", "n", "--hours", "22-6"],
        ["scales", "mood", "--levels", "one"],
        ["rota", "--pattern", "Q Q", "--from", "today"],
    ],
)
def test_an_answer_that_is_refused_begins_none(run: Run, tmp_path: Path, arguments: list[str]) -> None:
    assert run(*arguments).exit_code == 2
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "arguments", [["--clear", "mood"], ["--note", ""], ["--note", "", "--clear", "mood"]]
)
def test_where_there_is_nothing_to_clear_none_begins(run: Run, tmp_path: Path, arguments: list[str]) -> None:
    assert run("put", *arguments).stdout == "Tue 17 March 2026 stood so already; nothing was written.\n"
    assert run("--record", str(tmp_path / "recrod.sqlite"), "put", *arguments).exit_code == 1
    assert list(tmp_path.iterdir()) == []


def test_an_import_begins_one_with_what_it_keeps(run: Run, path: Path, tmp_path: Path) -> None:
    file = tmp_path / "days.csv"
    file.write_text("date,mood\n2026-03-15,3\n")
    assert "Kept 1 square." in run("import", str(file)).stdout
    with Record.open(path) as record:
        assert len(record.days()) == 1
    (folder,) = [found for found in tmp_path.iterdir() if found.is_dir()]
    assert len(list(folder.iterdir())) == 1  # the backup of the day


def test_a_dry_run_begins_none(run: Run, tmp_path: Path, path: Path) -> None:
    file = tmp_path / "days.csv"
    file.write_text("date,mood\n2026-03-15,3\n")
    assert run("import", str(file), "--dry-run").stdout.startswith("1 square new, ")
    assert run("rota", "--pattern", "n", "--from", "today", "--to", "today", "--dry-run").exit_code == 0
    assert not path.exists()


def test_a_copy_that_is_not_brought_back_begins_none(run: Run, tmp_path: Path) -> None:
    copy, mistyped = tmp_path / "copy.sqlite", tmp_path / "recrod.sqlite"
    Record.open(copy).close()
    arguments = ("--record", str(mistyped), "restore", str(copy))
    assert "Nobody can answer here" in run(*arguments).stderr
    assert not mistyped.exists()
    assert run(*arguments, "--yes").stderr == f"A new record was begun in {mistyped}.\n"
    assert mistyped.exists()


@pytest.mark.parametrize("arguments", [["put", "--mood", "3"], ["show"], ["findings"]])
def test_where_a_record_was_lost_its_backups_are_named_and_none_begins(
    run: Run, path: Path, arguments: list[str]
) -> None:
    run("put", "--mood", "4")
    path.unlink()
    refused = run(*arguments)
    folder = path.with_name(f"{path.name}-backups")
    assert (refused.exit_code, refused.stdout, refused.stderr) == (
        1,
        "",
        f"There is no record at {path} any more, but backups of it lie in {folder}. "
        "Bring one back with tracker restore, or move that folder away to begin anew.\n",
    )
    (backup,) = folder.iterdir()
    assert run("restore", str(backup), "--yes").exit_code == 0
    assert "mood 4 good" in run("history", "today").stdout


def test_days_of_a_mistyped_record_are_not_called_erased(run: Run, tmp_path: Path) -> None:
    mistyped = tmp_path / "recrod.sqlite"
    result = run("--record", str(mistyped), "erase", "today", "--yes")
    assert (result.exit_code, result.stdout, result.stderr) == (
        1,
        "",
        f"There is no record at {mistyped}, so nothing was erased; look at the name.\n",
    )


def test_an_erasing_that_was_cut_off_is_named_and_can_be_ended(run: Run) -> None:
    run("put", "today", "--mood", "4")
    path = default_record()
    left = path.rename(path.with_name(f".{path.name}.ab12"))
    shutil.rmtree(backups_folder(path))
    refused = run("erase", "--everything", "--yes")
    assert (refused.exit_code, refused.stderr) == (
        1,
        f"There is no record at {path}, so nothing was erased; copies of one that lay there are left: "
        "tracker erase --everything --backups erases them.\n",
    )
    assert run("erase", "--everything", "--backups", "--yes").stdout.startswith("Erased 1 backup.\n")
    assert not left.exists()


def test_the_invented_record_makes_no_folder_either(run: Run, tmp_path: Path) -> None:
    result = run("demo", "--to", str(tmp_path / "nowhere" / "invented.sqlite"))
    assert (result.exit_code, list(tmp_path.iterdir())) == (1, [])


class TestTheScreens:
    @pytest.fixture(autouse=True)
    def _somebody(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(terminal, "somebody_is_there", lambda: True)
        monkeypatch.setattr(app, "run_app", lambda record, invented: 0)

    def test_they_tell_of_a_record_that_begins_under_a_name(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        other = tmp_path / "other.sqlite"
        for _ in range(2):
            with pytest.raises(SystemExit):
                open_app.open_app(other)
        assert capsys.readouterr().err == f"A new record was begun in {other}.\n"

    def test_they_make_no_folder_for_it(self, run: Run, tmp_path: Path) -> None:
        far = tmp_path / "nowhere" / "record.sqlite"
        result = run("--record", str(far))
        assert (result.exit_code, result.stderr.startswith(f"No record was begun in {far}")) == (1, True)
        assert not far.parent.exists()


def test_an_empty_record_that_is_nowhere_kept_makes_no_file(tmp_path: Path) -> None:
    with Record.empty(tmp_path / "record.sqlite") as record:
        assert (record.is_empty(), record.days(), record.first_day()) == (True, {}, None)
    assert list(tmp_path.iterdir()) == []
