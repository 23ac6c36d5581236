"""Keys of locked records: made from a passphrase, told once as a recovery key, held for a login.

A locked record is a file of SQLCipher 4 as that makes it by itself, so that other programs open it with the
same passphrase: the first 16 bytes are its salt, and the key is PBKDF2-HMAC-SHA512 of passphrase and salt in
256,000 rounds (zetetic.net/sqlcipher/design). So a file and its passphrase are all that is needed, and no key
is ever kept on a disk. Backups have the salt of their record, and so its key.
"""

from __future__ import annotations

import base64
import hashlib
import os
import unicodedata
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from tracker import system
from tracker.words import FOLDER_NAME

SALT_BYTES, SECRET_BYTES, CHECK_BYTES = 16, 32, 3
ROUNDS = 256_000
GROUP = 4
"""Letters of a recovery key that stand together."""


class LockKey(NamedTuple):
    """What unlocks a file."""

    secret: bytes
    salt: bytes
    """The first bytes of every file that it unlocks."""

    def __repr__(self) -> str:
        return "LockKey(...)"  # it never stands in an error

    @property
    def raw(self) -> str:
        """The key and the salt as SQLCipher takes them."""
        return f"x'{self.secret.hex()}{self.salt.hex()}'"

    @property
    def recovery_key(self) -> str:
        """The key for paper: base32 (RFC 4648) with a checksum, in groups."""
        text = base64.b32encode(self.secret + _checksum(self.secret)).decode()
        return "-".join(text[place : place + GROUP] for place in range(0, len(text), GROUP))


def new_key(passphrase: str) -> LockKey:
    """A key of a passphrase for a file that is to be locked."""
    return key_from(passphrase, os.urandom(SALT_BYTES))


def key_from(typed: str, salt: bytes) -> LockKey:
    """The key of a passphrase, or of a recovery key, for a file with some salt."""
    secret = _from_recovery_key(typed)
    if secret is None:
        passphrase = unicodedata.normalize("NFC", typed).encode()
        secret = hashlib.pbkdf2_hmac("sha512", passphrase, salt, ROUNDS, SECRET_BYTES)
    return LockKey(secret, salt)


def _from_recovery_key(typed: str) -> bytes | None:
    """The secret that a recovery key tells; None where the text is none, or has a slip."""
    letters = "".join(typed.split()).replace("-", "")
    try:
        data = base64.b32decode(letters, casefold=True)
    except ValueError:
        return None
    secret, check = data[:SECRET_BYTES], data[SECRET_BYTES:]
    return secret if len(check) == CHECK_BYTES and check == _checksum(secret) else None


def _checksum(secret: bytes) -> bytes:
    return hashlib.sha256(secret).digest()[:CHECK_BYTES]


# --- keys at hand -----------------------------------------------------------------------------------

_known: dict[bytes, LockKey] = {}
"""Keys that this process has proven, by their salts."""


def known(salt: bytes) -> LockKey | None:
    """The key of files with some salt, where this process or this login knows it."""
    if salt not in _known:
        held = _held(salt)
        if held is None:
            return None
        _known[salt] = held
    return _known[salt]


def all_known() -> list[LockKey]:
    """Every key that this process has proven."""
    return list(_known.values())


def hold(key: LockKey) -> bool:
    """Know a key that was proven, in this process and, where the system has a place for that, in this login.

    Returns whether the login holds it.
    """
    _known[key.salt] = key
    folder = _folder_of_login()
    if folder is None:
        return False
    try:
        system.make_private_folder(folder)
        file = folder / key.salt.hex()
        system.make_private_file(file)
        file.write_text(key.secret.hex())
    except OSError:
        return False
    return True


def is_held_by_login() -> bool:
    """Whether this system has a place where a login holds keys."""
    return _folder_of_login() is not None


def forget_all() -> int:
    """Forget every key of this process and this login; how many the login held."""
    _known.clear()
    folder = _folder_of_login()
    held = list(folder.iterdir()) if folder and folder.is_dir() else []
    for file in held:
        _take_away(file)
    return len(held)


def forget(key: LockKey) -> None:
    """Forget a key that opens nothing any more."""
    _known.pop(key.salt, None)
    folder = _folder_of_login()
    if folder:
        _take_away(folder / key.salt.hex())


def _take_away(file: Path) -> None:
    with suppress(OSError):
        system.overwrite(file)
    file.unlink(missing_ok=True)


def _held(salt: bytes) -> LockKey | None:
    folder = _folder_of_login()
    if folder is not None:
        with suppress(OSError, ValueError):  # none, or cut off while it was written
            secret = bytes.fromhex((folder / salt.hex()).read_text())
            return LockKey(secret, salt) if len(secret) == SECRET_BYTES else None
    return None


def _folder_of_login() -> Path | None:
    folder = system.folder_of_login()
    return folder / FOLDER_NAME if folder else None
