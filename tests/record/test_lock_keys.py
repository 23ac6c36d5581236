"""Keys of locked records: what they are made of, the one for paper, and where a login holds them."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Any

import pytest
from sqlcipher3 import dbapi2  # type: ignore[import-untyped]

from tracker import system
from tracker.record import lock_keys, snapshots
from tracker.record.lock_keys import LockKey, key_from, new_key
from tracker.record.store import Record

WORDS = "four lamps at Selderby"
KEY = LockKey(bytes(range(32)), bytes(range(16)))
PAPER = "AAAQ-EAYE-AUDA-OCAJ-BIFQ-YDIO-B4IB-CEQT-CQKR-MFYY-DENB-WHA5-DYPW-GDON"
"""As base32 and sha256sum of the GNU core utilities give it."""


def opened_by_sqlcipher(path: Path, passphrase: str) -> Any:
    """The file as SQLCipher opens it by itself, from the passphrase alone."""
    db = dbapi2.connect(str(path))
    db.execute(f"pragma key = '{passphrase}'")
    return db


def test_a_locked_record_is_a_file_that_sqlcipher_opens_with_the_passphrase_alone(
    record: Record, tmp_path: Path
) -> None:
    """Source: SQLCipher itself, which derives the key by its own defaults (version 4)."""
    locked = tmp_path / "locked.sqlite"
    snapshots.write_as(record.db, locked, new_key(WORDS))
    db = opened_by_sqlcipher(locked, WORDS)
    assert {name for (name,) in db.execute("select name from sqlite_master where type = 'table'")} == {
        "batch", "entry", "choice", "erased", "draft",
    }  # fmt: skip
    db.close()


def test_every_lock_has_a_salt_of_its_own() -> None:
    assert new_key(WORDS) != new_key(WORDS)


def test_letters_that_look_the_same_are_the_same() -> None:
    assert key_from("Ca\u0301wbrook", KEY.salt) == key_from("C\u00e1wbrook", KEY.salt)


def test_the_recovery_key_is_the_key_in_groups_for_paper() -> None:
    assert KEY.recovery_key == PAPER


@pytest.mark.parametrize("typed", [PAPER, PAPER.lower(), PAPER.replace("-", ""), PAPER.replace("-", " ")])
def test_it_may_be_typed_in_any_way(typed: str) -> None:
    assert key_from(typed, KEY.salt) == KEY


def test_a_slip_in_it_is_no_other_key_but_a_passphrase() -> None:
    assert key_from(PAPER.replace("AAAQ", "AAAR"), KEY.salt) != KEY
    assert lock_keys._from_recovery_key(PAPER.replace("AAAQ", "AAAR")) is None


def test_a_key_never_shows_itself() -> None:
    assert f"{KEY}{KEY!r}{[KEY]}" == "LockKey(...)LockKey(...)[LockKey(...)]"


class TestLogin:
    @pytest.fixture
    def login(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
        folder = tmp_path / "login"
        folder.mkdir(mode=0o700)
        monkeypatch.setenv("XDG_RUNTIME_DIR", str(folder))
        monkeypatch.setattr(system, "_is_in_memory", lambda folder: True)
        return folder

    def test_it_holds_a_key_for_its_owner_alone(self, login: Path) -> None:
        assert lock_keys.hold(KEY)
        (file,) = (path for path in login.rglob("*") if path.is_file())
        assert [stat.S_IMODE(path.stat().st_mode) for path in (file.parent, file)] == [0o700, 0o600]
        lock_keys._known.clear()  # as in another process
        assert lock_keys.known(KEY.salt) == KEY

    def test_it_forgets_every_key_when_told(self, login: Path) -> None:
        lock_keys.hold(KEY)
        assert lock_keys.forget_all() == 1
        assert [path for path in login.rglob("*") if path.is_file()] == []
        assert lock_keys.known(KEY.salt) is None

    def test_one_that_opens_nothing_any_more_goes_and_others_stay(self, login: Path) -> None:
        other = KEY._replace(salt=bytes(16))
        lock_keys.hold(KEY)
        lock_keys.hold(other)
        lock_keys.forget(KEY)
        lock_keys._known.clear()
        assert (lock_keys.known(KEY.salt), lock_keys.known(other.salt)) == (None, other)

    def test_what_was_cut_off_while_it_was_written_is_no_key(self, login: Path) -> None:
        lock_keys.hold(KEY)
        lock_keys._known.clear()
        file = login / "tracker-days" / KEY.salt.hex()
        file.write_text(file.read_text()[:30])
        assert lock_keys.known(KEY.salt) is None

    @pytest.mark.parametrize(
        "why", ["open to others", "another's", "on a disk", "no folder", "a link", "none"]
    )
    def test_where_the_folder_is_not_of_this_login_alone_no_key_is_held(
        self, login: Path, monkeypatch: pytest.MonkeyPatch, why: str
    ) -> None:
        if why == "open to others":
            login.chmod(0o750)
        elif why == "another's":
            monkeypatch.setattr("os.getuid", lambda: 4711)
        elif why == "on a disk":
            monkeypatch.setattr(system, "_is_in_memory", lambda folder: False)
        elif why == "no folder":
            monkeypatch.setenv("XDG_RUNTIME_DIR", str(login / "nowhere"))
        elif why == "a link":
            (login.parent / "link").symlink_to(login)
            monkeypatch.setenv("XDG_RUNTIME_DIR", str(login.parent / "link"))
        else:
            monkeypatch.delenv("XDG_RUNTIME_DIR")
        assert not lock_keys.hold(KEY)
        assert list(login.iterdir()) == []


@pytest.mark.skipif(not Path("/dev/shm").is_dir(), reason="no file system in memory is known here")  # noqa: S108
def test_a_file_system_in_memory_is_told_from_a_disk(tmp_path: Path) -> None:
    found = system._is_in_memory(Path("/dev/shm")), system._is_in_memory(Path("/proc"))  # noqa: S108
    assert found == (True, False)
