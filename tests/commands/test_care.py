"""`tracker backup`, `restore`, `check`, `merge`, `erase`. Today is Tuesday 17 March 2026."""

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.commands.conftest import Run
from tests.record.sample import TODAY, fill
from tracker.diary.days import Change
from tracker.record import files
from tracker.record.json_export import record_as_json
from tracker.record.store import Record

Kept = Callable[[], Record]


@pytest.fixture
def filled(kept: Kept) -> str:
    """The JSON of a record with something of everything."""
    with kept() as record:
        fill(record)
        return record_as_json(record)


class TestBackup:
    def test_the_first_command_of_a_day_leaves_a_backup(self, run: Run, path: Path) -> None:
        run("put", "--mood", "4")
        (made,) = (path.parent / "record.sqlite-backups").iterdir()
        assert made.name == "record-2026-03-17.sqlite"

    def test_the_daily_ones_are_listed(self, run: Run, path: Path) -> None:
        run("put", "--mood", "4")
        assert (
            run("backup").stdout
            == f"1 backup in {path.parent / 'record.sqlite-backups'}\n  record-2026-03-17.sqlite\n"
        )

    def test_a_copy_is_written_whole_and_private(self, run: Run, filled: str, tmp_path: Path) -> None:
        copy = tmp_path / "copy.sqlite"
        assert run("backup", str(copy)).stdout == f"Wrote a copy to {copy}, and it is whole.\n"
        assert stat.S_IMODE(copy.stat().st_mode) == 0o600
        with Record.open(copy) as opened:
            assert record_as_json(opened) == filled

    def test_a_file_that_is_there_is_not_written_over(self, run: Run, path: Path, filled: str) -> None:
        assert run("backup", str(path)).stderr == f"{path} is the record itself; name another file.\n"

    def test_a_folder_that_is_not_there_is_named(self, run: Run, tmp_path: Path) -> None:
        result = run("backup", str(tmp_path / "no" / "copy.sqlite"))
        assert (
            result.exit_code,
            result.stderr.endswith(f"the folder {tmp_path / 'no'} is not there.\n"),
        ) == (1, True)

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_passphrase_that_is_short_locks_nothing(self, run: Run, filled: str, tmp_path: Path) -> None:
        copy = tmp_path / "copy.sqlite.age"
        result = run("backup", str(copy), typed="short\nshort\n")
        assert result.stderr.endswith("A passphrase has at least 8 characters; nothing was written.\n")
        assert not copy.exists()

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_passphrase_of_eight_characters_is_long_enough(
        self, run: Run, filled: str, tmp_path: Path
    ) -> None:
        copy = tmp_path / "copy.sqlite.age"
        run("backup", str(copy), typed="selderby\nselderby\n")
        assert copy.exists()

    @pytest.mark.usefixtures("at_a_terminal")
    def test_an_ending_in_capitals_locks_as_well(self, run: Run, filled: str, tmp_path: Path) -> None:
        for command, name in (("backup", "copy.sqlite.AGE"), ("export", "all.json.Age")):
            file, word = tmp_path / name, "a bell at Selderby"
            assert "locked with your passphrase" in run(command, str(file), typed=f"{word}\n{word}\n").stdout
            assert b"Selderby Halt" not in file.read_bytes()
        result = run("restore", str(tmp_path / "copy.sqlite.AGE"), "--dry-run", typed="a bell at Selderby\n")
        assert "Nothing would change" in result.stdout


class TestRestore:
    def test_it_says_what_would_change_and_brings_it_back(
        self, run: Run, filled: str, tmp_path: Path, kept: Kept
    ) -> None:
        copy = tmp_path / "copy.sqlite"
        run("backup", str(copy))
        run("put", "--note", "later", "--mood", "5")
        dry = run("restore", str(copy), "--dry-run").stdout
        assert dry == (
            "The copy holds 3 days, the record 3.\n"
            "Would go, because the copy lacks them: 3 entries.\n"
            "Days: 2026-03-17\n"
            "Nothing was changed, because this was a dry run.\n"
        )
        done = run("restore", str(copy), "--yes").stdout
        assert done.splitlines()[-1].startswith("Brought back. The record as it was is kept in ")
        with kept() as record:
            assert record_as_json(record) == filled

    def test_settings_are_called_settings_and_what_stays_is_not_counted(
        self, run: Run, filled: str, tmp_path: Path
    ) -> None:
        copy = tmp_path / "copy.sqlite"
        run("backup", str(copy))
        assert run("restore", str(copy), "--dry-run").stdout.splitlines()[1:-1] == [
            "Nothing would change: both hold the same entries and settings."
        ]
        assert run("restore", str(copy)).stdout.endswith("both hold the same entries and settings.\n")
        run("settings", "theme", "cawbrook-lamps")
        assert run("restore", str(copy), "--dry-run").stdout.splitlines()[1:-1] == [
            "Would go, because the copy lacks them: 1 setting."
        ]

    def test_it_can_be_taken_back_the_same_way(self, run: Run, filled: str, path: Path, kept: Kept) -> None:
        copy = path.parent / "copy.sqlite"
        run("backup", str(copy))
        run("put", "--note", "later")
        with kept() as record:
            later = record_as_json(record)
        run("restore", str(copy), "--yes")
        (aside,) = (path.parent / "record.sqlite-backups").glob("*before-restore*")
        run("restore", str(aside), "--yes")
        with kept() as record:
            assert record_as_json(record) == later

    def test_without_a_terminal_it_wants_a_yes(self, run: Run, filled: str, tmp_path: Path) -> None:
        copy = tmp_path / "copy.sqlite"
        run("backup", str(copy))
        run("put", "--note", "later")
        result = run("restore", str(copy))
        assert (result.exit_code, "--yes goes on without asking" in result.stderr) == (1, True)

    @pytest.mark.parametrize(("damaged", "what"), [(b"", "damaged or empty"), (None, "damaged")])
    def test_over_a_damaged_record_the_copy_takes_its_place(
        self, run: Run, filled: str, tmp_path: Path, path: Path, kept: Kept, damaged: bytes | None, what: str
    ) -> None:
        copy = tmp_path / "copy.sqlite"
        run("backup", str(copy))
        content = path.read_bytes()
        path.write_bytes(content[:4096] + b"\x55" * (len(content) - 4096) if damaged is None else damaged)
        result = run("restore", str(copy), "--yes")
        assert result.stdout == (
            f"The record {path} is {what}. The copy holds 3 days.\n"
            "Brought back. What lay there stands beside it as record-damaged-2026-03-17-210000.sqlite.\n"
        )
        with kept() as record:
            assert record_as_json(record) == filled

    @pytest.mark.parametrize("rubbish", [b"\0" * 8192, b"not a word of SQLite " * 20])
    def test_where_not_even_the_first_bytes_are_left_a_backup_beside_it_takes_its_place(
        self, run: Run, filled: str, path: Path, kept: Kept, rubbish: bytes
    ) -> None:
        run("put", "--note", "The last train was late")
        with kept() as record:
            whole = record_as_json(record)
        (backup,) = (path.parent / "record.sqlite-backups").iterdir()
        path.write_bytes(rubbish)
        sentence = (
            f"{path} is not a record of this program; it was not touched. Backups of the record that lay "
            f"there are in {backup.parent}; bring one back with tracker restore.\n"
        )
        for command in (["check"], ["put", "--mood", "4"], ["show"]):
            assert run(*command).stderr == sentence
        assert run("restore", str(backup), "--yes").exit_code == 0
        with kept() as record:
            assert record_as_json(record) == whole
        assert (path.parent / "record-damaged-2026-03-17-210000.sqlite").read_bytes() == rubbish

    def test_a_file_that_was_never_a_record_is_not_moved(
        self, run: Run, filled: str, tmp_path: Path, path: Path
    ) -> None:
        copy, letter = tmp_path / "copy.sqlite", tmp_path / "letter.txt"
        run("backup", str(copy))
        letter.write_text("Dear all, " * 20)
        result = run("--record", str(letter), "restore", str(copy), "--yes")
        assert (result.exit_code, result.stderr) == (
            1,
            f"{letter} is not a record of this program; it was not touched. "
            "Name another file with --record, or move this one away.\n",
        )
        assert letter.read_text() == "Dear all, " * 20

    def test_a_copy_with_an_altered_row_is_called_so_before_anybody_agrees(
        self, run: Run, filled: str, tmp_path: Path, kept: Kept
    ) -> None:
        copy = tmp_path / "copy.sqlite"
        run("backup", str(copy))
        copy.write_bytes(copy.read_bytes().replace(b"Sunrise", b"Sunsets"))
        lines = run("restore", str(copy)).stdout.splitlines()
        assert lines[0].endswith("the note of 2026-03-17 was altered; its digest is another.")
        assert lines[1] == "The copy is not whole: 1 fault. Take another one if there is one."
        with kept() as record:
            assert record_as_json(record) == filled

    def test_a_file_that_is_no_record_is_refused(
        self, run: Run, filled: str, tmp_path: Path, kept: Kept
    ) -> None:
        other = tmp_path / "letter.txt"
        other.write_text("Dear all, " * 20)
        for command in (["restore", str(other), "--yes"], ["merge", str(other)]):
            assert run(*command).stderr == (
                f"{other} is not a record of this program; it was not touched. "
                "Name a backup or another copy of a record.\n"
            )
        with kept() as record:
            assert record_as_json(record) == filled

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_locked_copy_is_brought_back_with_its_passphrase(
        self, run: Run, filled: str, tmp_path: Path, kept: Kept
    ) -> None:
        copy = tmp_path / "copy.sqlite.age"
        run("backup", str(copy), typed="relief turn at Wenfold\nrelief turn at Wenfold\n")
        run("put", "--note", "later")
        run("restore", str(copy), typed="relief turn at Wenfold\ny\n")
        with kept() as record:
            assert record_as_json(record) == filled


class TestCheck:
    def test_a_whole_record_is_well(self, run: Run, filled: str, path: Path) -> None:
        result = run("check")
        assert (result.exit_code, result.stderr) == (0, "")
        lines = result.stdout.splitlines()
        assert lines[:2] == [
            f"The record {path}",
            "holds 3 days, 8 entries, 7 settings and 14 actions.",
        ]
        assert lines[2].startswith("Digest ")
        assert lines[3:] == [
            f"There is no backup yet; the first one will lie in {path.parent / 'record.sqlite-backups'}.",
            "All is well.",
        ]

    def test_damage_that_it_finds_sends_nobody_back_to_it(self, run: Run, filled: str, path: Path) -> None:
        content = path.read_bytes()
        path.write_bytes(content[:4096] + b"\x55" * (len(content) - 4096))
        result = run("check")
        assert (result.exit_code, result.stderr) == (
            1,
            f"The file {path} is damaged: it cannot be read to its end.\n"
            "The record is not whole; tracker restore brings a backup back.\n",
        )

    def test_an_altered_row_ends_with_1(self, run: Run, filled: str, path: Path) -> None:
        content = path.read_bytes()
        path.write_bytes(content.replace(b"Sunrise", b"Sunsets"))
        result = run("check")
        assert result.exit_code == 1
        assert result.stderr.splitlines()[0].endswith(
            "the note of 2026-03-17 was altered; its digest is another."
        )
        assert result.stderr.endswith("The record is not whole; tracker restore brings a backup back.\n")

    def test_where_there_is_none_it_makes_none(self, run: Run, path: Path) -> None:
        result = run("check")
        assert (result.exit_code, result.stderr) == (
            1,
            f"There is no record at {path}; look at the name, or begin one with tracker put.\n",
        )
        assert not path.exists()


class TestCheckOfBackups:
    def test_a_damaged_backup_is_named(self, run: Run, filled: str, path: Path) -> None:
        run("history", "today")
        (backup,) = (path.parent / "record.sqlite-backups").iterdir()
        backup.write_bytes(backup.read_bytes().replace(b"Sunrise", b"Sunsets"))
        result = run("check")
        assert result.exit_code == 1
        first, last = result.stderr.splitlines()
        assert first.startswith(f"The backup {backup.name} is damaged. entry ")
        assert first.endswith("the note of 2026-03-17 was altered; its digest is another.")
        assert last == ("The record is whole, but not all of its backups; none of these can be brought back.")


class TestMerge:
    def test_two_copies_are_joined_and_what_differs_is_listed(
        self, run: Run, filled: str, tmp_path: Path, path: Path, kept: Kept
    ) -> None:
        laptop = tmp_path / "laptop.sqlite"
        run("backup", str(laptop))
        with Record.open(laptop) as other:
            other.keep([Change(TODAY, "sleep", "sleep8-2")], "sleep")
            other.keep([Change(TODAY, "mood", "mood5-1")], "mood")
        run("put", "--mood", "5")
        result = run("merge", str(laptop))
        assert result.stdout.splitlines()[1:] == [
            "2 entries come in.",
            "  2026-03-17: here mood 5 very good, there mood 1 very low; the newer one, from there, shows.",
        ]
        assert run("merge", str(laptop)).stdout == "Everything in it stands here already.\n"
        assert len(list((path.parent / "record.sqlite-backups").glob("*before-merge*"))) == 1

    def test_a_dry_run_changes_nothing(self, run: Run, filled: str, tmp_path: Path, kept: Kept) -> None:
        laptop = tmp_path / "laptop.sqlite"
        run("backup", str(laptop))
        run("--record", str(laptop), "put", "--note", "laptop")
        assert run("merge", str(laptop), "--dry-run").stdout == (
            "1 entry comes in.\nNothing was changed, because this was a dry run.\n"
        )
        with kept() as record:
            assert record_as_json(record) == filled

    def test_what_was_erased_is_erased_on_both_sides_and_said(
        self, run: Run, filled: str, path: Path, kept: Kept
    ) -> None:
        laptop = path.with_name("laptop.sqlite")
        run("backup", str(laptop))
        run("erase", "today", "--yes")
        run("erase", "2020-01-01", "--yes")
        assert run("merge", str(laptop)).stdout == (
            "4 entries of erased days stay out.\nEverything else in it stands here already.\n"
        )
        result = run("--record", str(laptop), "merge", str(path))
        assert result.stdout.splitlines()[1:] == [
            "2 erased spans come in.",
            "4 entries of days erased there go here too.",
        ]
        with kept() as record, Record.open(laptop) as other:
            assert record_as_json(record) == record_as_json(other)

    def test_an_erased_span_is_handed_on_where_nothing_of_it_was_kept(
        self, run: Run, path: Path, kept: Kept
    ) -> None:
        between = path.with_name("between.sqlite")
        kept().close()
        run("erase", "2020-01-01", "--yes")
        assert run("--record", str(between), "merge", str(path)).stdout == ("1 erased span comes in.\n")

    def test_an_altered_copy_is_refused(self, run: Run, filled: str, tmp_path: Path) -> None:
        laptop = tmp_path / "laptop.sqlite"
        run("backup", str(laptop))
        laptop.write_bytes(laptop.read_bytes().replace(b"Sunrise", b"Sunsets"))
        result = run("merge", str(laptop))
        assert result.exit_code == 1
        assert result.stderr.endswith("Nothing was merged; run tracker check on that copy.\n")

    def test_settings_that_would_change_are_listed_and_asked_about(
        self, run: Run, filled: str, tmp_path: Path, kept: Kept
    ) -> None:
        laptop = tmp_path / "laptop.sqlite"
        run("backup", str(laptop))
        run("--record", str(laptop), "settings", "theme", "selderby-morning")
        refused = run("merge", str(laptop))
        assert (refused.exit_code, "--yes goes on without asking" in refused.stderr) == (1, True)
        assert refused.stdout == 'It would change:\n  setting theme: "selderby-morning"\n'
        with kept() as record:
            assert record_as_json(record) == filled
        run("merge", str(laptop), "--yes")
        with kept() as record:
            assert record.choices().settings.theme == "selderby-morning"

    def test_another_record_is_refused_unless_told_so(self, run: Run, filled: str, tmp_path: Path) -> None:
        stranger = tmp_path / "stranger.sqlite"
        with Record.open(stranger) as other:
            other.keep([Change(TODAY, "mood", "mood5-1")], "mood")
        result = run("merge", str(stranger))
        assert result.exit_code == 1
        assert result.stderr == (
            f"{stranger} is of another record: it has no action in common with this one. "
            "Nothing was merged; --another-record merges it all the same.\n"
        )
        assert "1 entry comes in." in run("merge", str(stranger), "--another-record").stdout


class TestErase:
    def test_a_day_goes_for_good_and_says_what_is_out_of_reach(
        self, run: Run, filled: str, path: Path, kept: Kept
    ) -> None:
        run("history", "today")
        result = run("erase", "2026-03-17", "--yes")
        assert result.stdout.startswith("Erased 4 entries of 1 day.\n")
        assert "Out of reach: copies and exports elsewhere" in result.stdout
        with kept() as record:
            assert record.history(TODAY) == []

    def test_a_day_that_shows_nothing_may_still_have_what_was_taken_back(self, run: Run) -> None:
        run("rota", "--pattern", "n", "--from", "2027-01-01", "--to", "2027-01-01")
        run("undo")
        assert run("erase", "2027-01-01", "--yes").stdout.startswith(
            "Erased 2 entries (2 of them changed or taken back since) of 1 day.\n"
        )

    def test_of_a_day_of_which_nothing_was_kept_no_copy_brings_anything(self, run: Run, filled: str) -> None:
        assert run("erase", "2020-01-01", "--yes").stdout.startswith(
            "Nothing was ever kept of 1 January 2020; no copy that is merged brings anything of it now.\n"
        )

    def test_of_such_a_day_it_asks_what_for(self, run: Run, at_a_terminal: None, filled: str) -> None:
        assert run("erase", "2020-01-01", typed="n\n").stdout.startswith(
            "Nothing was ever kept of 1 January 2020. "
            "Erase it all the same, so that no merged copy brings it? [y/N]: "
        )

    def test_backups_go_too_only_on_request(self, run: Run, filled: str, path: Path) -> None:
        run("history", "today")
        still = run("erase", "2026-03-17", "--yes")
        assert f"1 backup in {path}-backups may still hold it; --backups erases them too." in still.stdout
        run("erase", "2026-03-17", "--backups", "--yes")
        (fresh,) = (path.parent / "record.sqlite-backups").iterdir()
        assert b"Sunrise" not in fresh.read_bytes()

    def test_everything_leaves_no_file(self, run: Run, filled: str, path: Path) -> None:
        run("history", "today")
        run("erase", "--everything", "--backups", "--yes")
        assert [item for item in path.parent.rglob("*") if item.is_file()] == []

    def test_while_another_program_has_it_open_nothing_is_erased(
        self, run: Run, filled: str, path: Path, kept: Kept
    ) -> None:
        with kept() as window:
            window.days()
            result = run("erase", "--everything", "--yes")
            assert (result.exit_code, result.stderr) == (
                1,
                f"Another program has {path} open; nothing was erased. Close it and try again.\n",
            )
            assert len(window.days()) == 3

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_no_erases_nothing(self, run: Run, filled: str, kept: Kept) -> None:
        assert run("erase", "2026-03-17", typed="n\n").exit_code == 1
        with kept() as record:
            assert len(record.history(TODAY)) == 4

    def test_backups_that_were_left_are_erased_afterwards(self, run: Run) -> None:
        run("put", "--mood", "4")
        run("erase", "--everything", "--yes")
        assert "any more, but backups of it lie in" in run("put", "--mood", "3").stderr
        assert "Erased 1 backup." in run("erase", "--everything", "--backups", "--yes").stdout
        assert run("put", "--mood", "3").exit_code == 0

    @pytest.mark.parametrize("arguments", [[], ["mon", "--everything"]])
    def test_a_day_or_everything_must_be_named(self, run: Run, arguments: list[str]) -> None:
        assert run("erase", *arguments).exit_code == 2


@pytest.fixture
def closed_backups(run: Run, path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A record whose backups lie in a folder that cannot be looked into; gives what is said of it."""
    run("put", "--mood", "4")
    folder, look, ask = files.backups_folder(path), os.scandir, os.stat

    def refused(at: Any = ".") -> Any:
        if Path(at) == folder:
            raise PermissionError(13, "Permission denied")
        return look(at)

    def hidden(at: Any, **how: Any) -> os.stat_result:
        if not isinstance(at, int) and Path(at).parent == folder:
            raise PermissionError(13, "Permission denied")
        return ask(at, **how)

    monkeypatch.setattr("os.scandir", refused)
    monkeypatch.setattr("os.listdir", refused)
    monkeypatch.setattr("os.stat", hidden)
    return f"The backups in {folder} cannot be looked at: permission denied."


def test_backups_that_cannot_be_looked_at_fail_no_other_call(run: Run, closed_backups: str) -> None:
    kept = run("put", "yesterday", "--mood", "3")
    assert (kept.exit_code, kept.stdout[:16]) == (0, "Kept for Mon 16 ")
    assert closed_backups in kept.stderr
    looked_at = run("check")
    assert looked_at.exit_code == 0
    assert looked_at.stdout.endswith(f"{closed_backups}\nAll is well.\n")


def test_backups_that_cannot_be_looked_at_are_not_said_to_be_erased(
    run: Run, path: Path, closed_backups: str
) -> None:
    erased = run("erase", "--everything", "--backups", "--yes")
    assert (erased.exit_code, erased.stderr) == (1, f"{closed_backups}\n")
    again = run("put", "--mood", "3")  # nor does a record begin over them
    assert (again.exit_code, again.stderr, path.exists()) == (1, f"{closed_backups}\n", False)
