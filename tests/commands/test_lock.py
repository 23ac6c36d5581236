"""`tracker lock`, `tracker unlock`, and every other command on a locked record."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.commands.conftest import Run
from tests.record.sample import fill
from tracker import system
from tracker.record import connection, files, lock_keys, locking, snapshots
from tracker.record.driver import Connection
from tracker.record.json_export import record_as_json
from tracker.record.lock_keys import LockKey
from tracker.record.store import Record

Kept = Callable[[], Record]
WORDS, OTHERS = "four lamps at Selderby", "a bell at Cawbrook"
PRIVATE = "Quiet talk by the Wenfold water tower"

pytestmark = pytest.mark.usefixtures("at_a_terminal")


@pytest.fixture
def filled(run: Run, kept: Kept) -> str:
    """A filled record that has a backup; gives all that it holds."""
    with kept() as record:
        fill(record)
    run("put", "--note", PRIVATE)
    assert run("backup").exit_code == 0
    with kept() as record:
        return record_as_json(record)


@pytest.fixture
def recovery_key(run: Run, filled: str) -> str:
    """The record is locked, and no process knows its key; gives the recovery key as it was shown."""
    result = run("lock", typed=f"{WORDS}\n{WORDS}\ny\n")
    assert result.exit_code == 0, result.output
    forget()
    return shown_key(result.output)


@pytest.fixture
def login(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """This system has a folder that goes with the login."""
    folder = tmp_path / "login"
    folder.mkdir(mode=0o700)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(folder))
    monkeypatch.setattr(system, "_is_in_memory", lambda folder: True)
    return folder


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    """A filled record elsewhere that is not locked."""
    path = tmp_path / "plain.sqlite"
    with Record.open(path) as record:
        fill(record)
    return path


def forget() -> None:
    """As in a new process."""
    lock_keys._known.clear()


def shown_key(output: str) -> str:
    first, second = re.findall(r"^  ((?:[A-Z2-7]{4}-?){7})$", output, re.M)
    return f"{first}{second}"


def held(path: Path) -> str:
    with Record.open(path) as record:
        return record_as_json(record)


class TestLock:
    def test_it_says_beforehand_what_it_is_for_and_what_is_lost_and_shows_the_recovery_key_once(
        self, run: Run, filled: str, path: Path
    ) -> None:
        output = run("lock", typed=f"{WORDS}\n{WORDS}\ny\n").output
        key = shown_key(output)
        assert output.replace(f"{key[:35]}\n  {key[35:]}", "KEY").splitlines() == [
            "Encrypting the whole disk comes first: that covers everything. This covers the",
            "record and its backups alone, for one who shares a computer.",
            "Stays readable: exports, pages and copies that you wrote elsewhere, folders",
            "that are synced to other machines, old blocks of a flash disk.",
            "Whoever has neither the passphrase nor the recovery key has lost a locked",
            "record and its backups; nobody can open it then. Four random words are a good",
            "passphrase.",
            "Passphrase to lock it with: ",
            "The same again: ",
            "The recovery key opens it too. It is shown only now: write it down on paper,",
            "and clear this window afterwards.",
            "",
            "  KEY",
            "",
            "Is it written down, and shall the record be locked with it? [y/N]: y",
            "Locked, with 1 backup. The passphrase is asked for at each opening: "
            "this system has no folder that goes with a login.",
        ]
        assert held(path) == filled

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            ("short\nshort\n", "A passphrase has at least 8 characters; nothing was written."),
            (f"{WORDS}\n{WORDS}\nn\n", "Stopped."),
        ],
    )
    def test_until_she_agrees_nothing_is_changed(
        self, run: Run, filled: str, path: Path, typed: str, said: str
    ) -> None:
        before = path.read_bytes()
        result = run("lock", typed=typed)
        assert result.stderr.splitlines()[-1] == said
        assert result.exit_code != 0
        assert path.read_bytes() == before
        assert not files.lock_note(path).exists()

    def test_no_word_of_hers_is_left_in_any_file(self, path: Path, recovery_key: str) -> None:
        there = [each for each in path.parent.rglob("*") if each.is_file()]
        assert len(there) == 3
        assert [each.name for each in there if PRIVATE.encode() in each.read_bytes()] == []

    def test_a_damaged_record_is_not_locked(self, run: Run, filled: str, path: Path) -> None:
        content = path.read_bytes()
        place = content.index(b"Sunrise")
        path.write_bytes(content[:place] + b"X" + content[place + 1 :])
        assert run("lock").stderr.endswith("is damaged, so it was not locked; run tracker check.\n")

    def test_where_another_window_is_open_nothing_is_changed(
        self, run: Run, filled: str, path: Path, kept: Kept
    ) -> None:
        with kept():
            result = run("lock", typed=f"{WORDS}\n{WORDS}\ny\n")
        assert result.stderr.splitlines()[-1] == (
            f"Another program has {path} open; nothing was changed. Close it and try again."
        )
        assert held(path) == filled

    def test_without_the_library_it_asks_nothing_and_says_the_line_that_installs_it(
        self, run: Run, filled: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setitem(__import__("sys").modules, "sqlcipher3", None)
        result = run("lock")
        assert (result.exit_code, result.stdout) == (1, "")
        assert result.stderr.endswith("-m pip install sqlcipher3\n")

    def test_without_the_library_a_locked_one_asks_for_no_passphrase(
        self, run: Run, recovery_key: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setitem(__import__("sys").modules, "sqlcipher3", None)
        result = run("show", typed=f"{WORDS}\n")
        assert (result.exit_code, result.stdout, "Passphrase" in result.stderr) == (1, "", False)
        assert result.stderr.endswith("-m pip install sqlcipher3\n")

    def test_locked_twice_it_says_what_can_be_done(self, run: Run, recovery_key: str) -> None:
        assert run("lock", typed=f"{WORDS}\n").stdout == (
            "It is locked already. tracker lock --new-passphrase locks it with another passphrase, "
            "tracker lock --now asks again, tracker unlock opens it for good.\n"
        )

    def test_it_finishes_what_was_cut_off(self, run: Run, path: Path, recovery_key: str, plain: Path) -> None:
        (backup,) = files.made_backups(path)
        shutil.copy(plain, backup.with_name("record-2026-03-01.sqlite"))
        assert "Not locked are record-2026-03-01.sqlite" in run("check", typed=f"{WORDS}\n").stdout
        assert run("lock").stdout == "Locked, or written over, 1 copy that had stayed open.\n"
        assert locking.open_copies(path) == []

    def test_of_backups_with_an_older_passphrase_it_asks_for_that_and_finishes(
        self, run: Run, filled: str, path: Path, recovery_key: str
    ) -> None:
        lock_keys.hold(locking.proven(path, WORDS))
        locking._change_record(path, lock_keys.new_key(OTHERS))
        forget()
        output = run("lock", typed=f"{OTHERS}\nwrong for these\n").output
        assert "Left as they are: record-2026-03-17.sqlite." in output
        assert "Readable" not in output
        forget()
        assert "Left" not in run("lock", typed=f"{OTHERS}\n{WORDS}\n").output
        assert files.made_backups(path)[0].read_bytes()[:16] == path.read_bytes()[:16]
        assert held(path) == filled

    def test_backups_for_which_there_is_no_room_are_said_to_be_readable(
        self, run: Run, filled: str, path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def full(copy: Connection, aside: Path, key: LockKey | None) -> None:
            if aside.parent != path.parent:
                raise OSError(28, "No space left on device")
            write_as(copy, aside, key)

        write_as = snapshots.write_as
        monkeypatch.setattr(snapshots, "write_as", full)
        (backup,) = files.made_backups(path)
        assert run("lock", typed=f"{WORDS}\n{WORDS}\ny\n").stdout.splitlines()[-2:] == [
            f"Left as they are: {backup.name}. They are damaged, have another passphrase, or could not be "
            "written; tracker lock tries again.",
            f"Readable beside it still: {backup.name}.",
        ]

    def test_a_lost_note_is_mended_with_the_passphrase(
        self, run: Run, filled: str, path: Path, recovery_key: str
    ) -> None:
        files.lock_note(path).unlink()
        before = path.read_bytes()
        refused = run("show")
        assert refused.exit_code == 1
        assert "tracker lock mends that with its passphrase" in refused.stderr
        assert run("lock", typed=3 * "not the passphrase\n").exit_code == 2
        assert (path.read_bytes(), files.lock_note(path).exists()) == (before, False)
        assert run("lock", typed=f"{WORDS}\n").stdout.endswith("It is known as locked again.\n")
        assert held(path) == filled

    @pytest.mark.parametrize("size", [1000, 4096, 3 * 4096])
    def test_a_file_of_another_program_is_not_asked_about(self, run: Run, path: Path, size: int) -> None:
        path.write_bytes((b"Dear Dr Moor,\n" * size)[:size])
        result = run("lock")
        assert (result.exit_code, result.stdout) == (1, "")
        assert "is not a record of this program" in result.stderr


class TestPassphrase:
    def test_a_mistyped_one_may_be_typed_again(self, run: Run, recovery_key: str) -> None:
        result = run("put", "--mood", "4", typed=f"another\nand another\n{WORDS}\n")
        assert result.exit_code == 0
        assert result.stderr.count("That does not open it.\n") == 2

    def test_three_wrong_ones_are_one_sentence_and_change_nothing(
        self, run: Run, path: Path, recovery_key: str
    ) -> None:
        before = path.read_bytes()
        result = run("put", "--mood", "4", typed=3 * "another passphrase\n")
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.splitlines() == [
            *2 * ["Passphrase or recovery key of record.sqlite: ", "That does not open it."],
            "Passphrase or recovery key of record.sqlite: ",
            f"That does not open {path}; nothing was changed. If it is the right passphrase or recovery key, "
            "the file is damaged in its first page; bring back a backup with tracker restore.",
        ]
        assert path.read_bytes() == before

    def test_it_is_asked_for_at_each_opening_where_the_system_holds_none(
        self, run: Run, recovery_key: str
    ) -> None:
        for _ in range(2):
            forget()
            result = run("undo", typed=f"{WORDS}\n")
            assert (result.exit_code, "Passphrase" in result.stderr) == (0, True)

    def test_it_is_asked_for_once_a_login_where_the_system_holds_it(
        self, run: Run, login: Path, recovery_key: str
    ) -> None:
        assert run("undo").stderr == ""
        assert run("lock", "--now").stdout == (
            "Locked now: the next opening asks for the passphrase. Windows that are open stay open.\n"
        )
        assert run("redo", typed="\n").exit_code != 0
        assert run("redo", typed=f"{WORDS}\n").exit_code == 0
        forget()
        assert run("undo").exit_code == 0

    def test_the_recovery_key_opens_it_too(
        self, run: Run, recovery_key: str, path: Path, filled: str
    ) -> None:
        assert run("check", typed=f"{recovery_key.lower()}\n").exit_code == 0
        assert held(path) == filled

    @pytest.mark.parametrize("knows", ["passphrase", "recovery key"])
    def test_it_is_changed_by_either(
        self, run: Run, filled: str, path: Path, recovery_key: str, knows: str
    ) -> None:
        first = WORDS if knows == "passphrase" else recovery_key
        output = run("lock", "--new-passphrase", typed=f"{first}\n{OTHERS}\n{OTHERS}\ny\n").output
        forget()
        assert shown_key(output) != recovery_key
        assert "The old passphrase and the old recovery key no longer open it" in output
        assert run("check", typed=3 * f"{WORDS}\n").exit_code == 2
        assert run("check", typed=3 * f"{recovery_key}\n").exit_code == 2
        assert run("check", typed=f"{OTHERS}\n").exit_code == 0
        assert held(path) == filled

    def test_it_is_asked_for_where_the_output_goes_to_another_program(
        self, run: Run, recovery_key: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        keys = SimpleNamespace(isatty=lambda: True)
        monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: False)
        monkeypatch.setattr("tracker.commands.passphrases.sys", SimpleNamespace(stdin=keys, stderr=keys))
        result = run("show", "--words", typed=f"{WORDS}\n")
        assert (result.exit_code, "Passphrase" in result.stdout) == (0, False)

    def test_where_nobody_can_type_it_says_so(
        self, run: Run, path: Path, recovery_key: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: False)
        result = run("show")
        assert (result.exit_code, result.stdout) == (1, "")
        assert result.stderr == (
            f"{path} is locked, and nobody can type its passphrase here, because this is no terminal. "
            "Run tracker check in a terminal first: where the system can hold it for a login, "
            "that is enough.\n"
        )


class TestUnlock:
    def test_it_is_a_plain_record_again_with_its_backups(
        self, run: Run, filled: str, path: Path, recovery_key: str
    ) -> None:
        output = run("unlock", typed=f"{WORDS}\ny\n").output
        assert output.endswith("Unlocked, with 1 backup. No passphrase is asked for any more.\n")
        forget()
        assert run("check").exit_code == 0
        assert held(path) == filled
        assert not files.lock_note(path).exists()

    def test_cut_off_before_the_backups_it_asks_for_their_passphrase_and_finishes(
        self, run: Run, filled: str, path: Path, recovery_key: str
    ) -> None:
        lock_keys.hold(locking.proven(path, WORDS))
        locking._change_record(path, None)
        forget()
        output = run("unlock", typed=f"{WORDS}\ny\n").output
        assert output.endswith("Unlocked, with 1 backup. No passphrase is asked for any more.\n")
        assert files.made_backups(path)[0].read_bytes().startswith(files.MAGIC)
        assert not files.lock_note(path).exists()
        assert held(path) == filled

    def test_it_asks_first(self, run: Run, path: Path, recovery_key: str) -> None:
        before = path.read_bytes()
        assert run("unlock", typed=f"{WORDS}\nn\n").exit_code == 1
        assert path.read_bytes() == before

    def test_one_that_is_not_locked_is_left_alone(self, run: Run, filled: str) -> None:
        assert run("unlock").stdout == "The record is not locked.\n"


LINES = [
    "put --mood 4 --sleep 6", "put yesterday --mood 2 --hours 6.5 --anxious yes --note Swapped.",
    "undo", "redo", "show --plain", "show --words", "history today", "findings", "settings country Wales",
    "summary page.txt", "export days.csv", "export all.json", "import days.csv", "import all.json --yes",
    "rota --pattern n,e --from today", "break 2026-03-01 2026-03-02", "kinds", "scales", "change",
    "backup", "backup copy.sqlite", "put --mood 1", "restore copy.sqlite --yes", "merge copy.sqlite", "check",
    "erase yesterday --backups --yes", "check",
]  # fmt: skip


def test_every_command_does_its_work_on_a_locked_record(
    run: Run, path: Path, recovery_key: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    run("check", typed=f"{WORDS}\n")
    ended = {line: run(*line.split(), typed="y\n") for line in LINES}
    assert {line: it.output for line, it in ended.items() if it.exit_code} == {}
    beside = [each for each in path.parent.rglob("*record*") if each.is_file()]
    assert path in beside
    assert [each for each in beside if b"Swapped" in each.read_bytes()] == []
    assert connection.is_locked(path)
    assert "It is locked." in ended["check"].stdout.splitlines()


class TestBringingBack:
    @pytest.fixture
    def copy(self, run: Run, path: Path, recovery_key: str, tmp_path: Path) -> Path:
        """A copy of the locked record on a stick."""
        copy = tmp_path / "stick" / "copy.sqlite"
        copy.parent.mkdir()
        assert run("backup", str(copy), typed=f"{WORDS}\n").stdout.endswith(
            "It is locked as the record is; take copy.sqlite-locked along with it.\n"
        )
        forget()
        return copy

    def test_a_damaged_record_is_mended_and_locked_as_it_was(
        self, run: Run, path: Path, copy: Path, filled: str
    ) -> None:
        content = path.read_bytes()
        for place in (3, 20, 4000, 5000, len(content) - 90):
            forget()
            path.write_bytes(content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :])
            result = run("restore", str(copy), "--yes", typed=f"{WORDS}\n")
            assert (place, result.exit_code, "stands beside it" in result.stdout) == (place, 0, True)
            assert held(path) == filled
            assert connection.is_locked(path)

    def test_a_slip_in_the_passphrase_lays_no_good_record_aside(
        self, run: Run, path: Path, recovery_key: str, plain: Path
    ) -> None:
        before = path.read_bytes()
        forget()
        assert run("restore", str(plain), "--yes", typed=3 * "a slip of the keys\n").exit_code == 2
        forget()
        result = run("restore", str(plain), typed=3 * "a slip of the keys\n" + "n\n")
        assert "was not opened: it is damaged, or has another passphrase." in result.stdout
        assert path.read_bytes() == before

    def test_from_a_plain_copy_it_is_mended_and_locked_as_it_was_where_its_key_is_known(
        self, run: Run, path: Path, recovery_key: str, plain: Path
    ) -> None:
        content = path.read_bytes()
        path.write_bytes(content[:9000] + b"X" + content[9001:])
        run("restore", str(plain), "--yes", typed=f"{WORDS}\n")
        assert held(path) == held(plain)
        assert connection.is_locked(path)

    def test_where_none_is_it_comes_back_locked(self, run: Run, path: Path, copy: Path, filled: str) -> None:
        path.unlink()
        result = run("restore", str(copy), "--yes", typed=f"{WORDS}\n")
        assert result.stdout.endswith("Brought back. It is locked, as the copy is.\n")
        assert held(path) == filled
        assert connection.is_locked(path)

    def test_from_a_plain_copy_where_a_locked_one_was_it_says_that_it_is_locked_no_more(
        self, run: Run, path: Path, recovery_key: str, plain: Path
    ) -> None:
        path.unlink()
        result = run("restore", str(plain), "--yes")
        assert result.stdout.splitlines()[-2:] == [
            "Brought back.",
            "It is not locked any more, because the copy is not; tracker lock locks it.",
        ]

    def test_a_plain_copy_changes_a_locked_record_and_leaves_it_locked(
        self, run: Run, path: Path, recovery_key: str, plain: Path
    ) -> None:
        result = run("restore", str(plain), typed=f"{WORDS}\ny\n")
        assert "Brought back. The record as it was is kept in" in result.stdout
        assert held(path) == held(plain)
        assert connection.is_locked(path)
        assert locking.open_copies(path) == []


def test_erased_without_backups_it_leaves_no_note(run: Run, path: Path, recovery_key: str) -> None:
    shutil.rmtree(files.backups_folder(path))
    assert run("erase", "--everything", "--yes", typed=f"{WORDS}\n").exit_code == 0
    assert [each.name for each in path.parent.glob("*record*")] == []


def test_erased_it_leaves_nothing(run: Run, path: Path, recovery_key: str) -> None:
    assert run("erase", "--everything", "--backups", "--yes", typed=f"{WORDS}\n").exit_code == 0
    assert [each.name for each in path.parent.glob("*record*")] == []
