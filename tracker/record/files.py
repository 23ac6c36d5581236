"""Where the record lies, and files that only their owner can read."""

from __future__ import annotations

import glob
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

from tracker import system
from tracker.diary.errors import CannotWrite, UnwritableRecord
from tracker.words import FOLDER_NAME

RECORD_NAME = "record.sqlite"
MAGIC = b"SQLite format 3\0"
"""How every plain record begins (sqlite.org/fileformat2.html, 1.3)."""
PAGE = 4096
"""Bytes of a page; a locked record is a whole number of them."""
BYTES_OF_A_LOCKED_PAGE = 200
"""Different bytes that an encrypted page has more of, as random ones do; a page of tables has far fewer."""
SIDES = ("-wal", "-shm", "-journal")
"""Endings of the files that lie beside a record while it is open, or after a power cut."""
BACKUPS = "-backups"
LOCK_NOTE = "-locked"
"""Ending of the small file beside a record that says that it is locked."""
AGE = ".age"
"""Ending of a locked file: the age format, which other programs can open with the same passphrase."""


def default_record() -> Path:
    """The record in the platform's data folder.

    Raises UnwritableRecord where there is no home folder.
    """
    from platformdirs import user_data_path

    with suppress(RuntimeError):
        folder = user_data_path(FOLDER_NAME, appauthor=False)
        if folder.is_absolute():
            return folder / RECORD_NAME
    raise UnwritableRecord("There is no home folder for the record; name its file with --record.")


def at_its_end(record: Path) -> Path:
    """The file itself, wherever links lead: beside it lie its side files and backups."""
    return Path(os.path.realpath(record))


def is_there(path: Path) -> bool:
    """Whether a file is there; `path` is at its end.

    Raises UnwritableRecord where the folders to it cannot be entered, or links have no end.
    """
    try:
        if path.is_symlink():
            raise UnwritableRecord(f"The record {path} cannot be reached: its links lead round in a circle.")
        return path.exists()
    except OSError as error:
        raise UnwritableRecord(f"The record {path} cannot be reached: {system.reason(error)}.") from error


def is_age_file(path: Path) -> bool:
    """Whether a file is locked, or to be locked, by the ending of its name in any capitals."""
    return path.suffix.casefold() == AGE


def log_of(record: Path) -> Path:
    """The write-ahead log of a record, which may be there or not."""
    return record.with_name(record.name + "-wal")


def index_of(record: Path) -> Path:
    """The index of that log; locks for writing lie on it."""
    return record.with_name(record.name + "-shm")


def parts_of(record: Path) -> list[Path]:
    """The record and its side files, those that are there."""
    return [part for end in ("", *SIDES) if (part := record.with_name(record.name + end)).exists()]


def closed_to_others(record: Path) -> list[Path]:
    """Give the files of a record the modes of private ones; gives those that others could read.

    Side files take their modes from the record and may outlive it: they are made writable again too.
    """
    closed = []
    for part in parts_of(record):
        with suppress(OSError):  # a side file goes whenever another program closes the record
            mode = system.mode_of(part)
            if system.lets_others_in(mode) or (part != record and mode != system.PRIVATE_FILE):
                part.chmod(system.PRIVATE_FILE)
                closed += [part] if system.lets_others_in(mode) else []
    return closed


def private_folder(folder: Path) -> None:
    """Make a folder that only its owner can enter; folders that are there already stay as they are.

    Raises UnwritableRecord when it cannot be made, or when everybody can write it.
    """
    try:
        system.make_private_folder(folder)
    except OSError as error:
        raise UnwritableRecord(f"The folder {folder} cannot be made: {system.reason(error)}.") from error
    refuse_open_folder(folder)


def backups_folder(record: Path) -> Path:
    """Where the backups of a record lie: beside it, in a folder of its own."""
    return record.with_name(record.name + BACKUPS)


def lock_note(record: Path) -> Path:
    """The small file beside a record that says that it is locked; it holds no word of hers and no key."""
    return record.with_name(record.name + LOCK_NOTE)


def note_as_locked(record: Path) -> None:
    """Say in that small file that a record is locked, where nothing says so yet."""
    if not is_noted_as_locked(record):
        write_text(lock_note(record), f'{{"program": "{FOLDER_NAME}", "locked": 1}}\n')


def may_be_locked(path: Path) -> bool:
    """Whether a file could be a locked record, whatever lies beside it."""
    if not path.is_file():
        return False
    with suppress(OSError):
        page = system.read_file(path, PAGE)
        return path.stat().st_size % PAGE == 0 and len(set(page)) > BYTES_OF_A_LOCKED_PAGE
    return False


def is_noted_as_locked(path: Path) -> bool:
    """Whether a note beside a record, or beside the record of a backup, says that it is locked."""
    folder, record = path.parent, path.parent.name.removesuffix(BACKUPS)
    of_its_record = folder.with_name(record + LOCK_NOTE) if folder.name.endswith(BACKUPS) else path
    return lock_note(path).exists() or (of_its_record != path and of_its_record.exists())


def made_backups_folder(record: Path) -> Path:
    """The folder of the backups, made if it is not there; raises as `private_folder` does, and for a link."""
    folder = backups_folder(record)
    _refuse_link(folder)
    private_folder(folder)
    return folder


def _refuse_link(folder: Path) -> None:
    if folder.is_symlink():
        raise UnwritableRecord(
            f"The folder of the backups {folder} is a link, and none is followed: what it leads to is "
            "neither written nor erased. Put a folder in its place."
        )


def _in_backups(record: Path) -> list[Path]:
    """What lies in the folder of the backups.

    Raises UnwritableRecord where it cannot be looked into: nobody shall think that there is no backup. What a
    link leads to is not ours to write or erase.
    """
    folder = backups_folder(record)
    _refuse_link(folder)
    try:
        return list(folder.iterdir())
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as error:
        raise UnwritableRecord(
            f"The backups in {folder} cannot be looked at: {system.reason(error)}."
        ) from error


def made_backups(record: Path) -> list[Path]:
    """Every backup that this program made of a record; raises UnwritableRecord if its folder is closed."""
    pattern = re.compile(re.escape(record.stem) + r"-(\d{4}-\d{2}-\d{2}|before-[a-z]+-[\d-]+)\.sqlite")
    return sorted(path for path in _in_backups(record) if pattern.fullmatch(path.name))


def made_copies(record: Path) -> list[Path]:
    """Its backups, damaged files that one took the place of, and what is left of writing that was cut off."""
    name, stem, suffix = map(glob.escape, (record.name, record.stem, record.suffix))
    beside = [*record.parent.glob(f"{stem}-damaged-[0-9]*{suffix}*"), *record.parent.glob(f".{name}.*")]
    begins = (f".{record.stem}-", f".{record.name}.")
    cut_off = [path for path in _in_backups(record) if path.name.startswith(begins)]
    return sorted([*made_backups(record), *beside, *cut_off])


def unused(path: Path) -> Path:
    """The path, numbered where a file is there already: of two in a second both stay."""
    numbered = (path.with_name(f"{path.stem}-{number}{path.suffix}") for number in count(2))
    return path if not path.exists() else next(other for other in numbered if not other.exists())


def refuse_open_folder(folder: Path) -> None:
    """Raise UnwritableRecord for a folder in which everybody could put another file in the record's place."""
    if system.everybody_writes(folder):
        raise UnwritableRecord(
            f"The folder {folder} can be written by everybody on this computer; "
            f"close it with chmod o-w, or name another place with --record."
        )


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """A private file beside `path` that takes its name only when it is wholly written.

    File and name are on the disk when it ends. Raises CannotWrite when that fails; then nothing half-written
    is left.
    """
    import tempfile  # what most commands never need

    if not path.parent.is_dir():
        raise CannotWrite(f"{path} cannot be written: the folder {path.parent} is not there.")
    try:
        descriptor, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        os.close(descriptor)
    except OSError as error:
        raise CannotWrite(f"{path} cannot be written: {system.reason(error)}.") from error
    aside = Path(name)
    try:
        yield aside
        with aside.open("r+b") as written:
            system.sync(written.fileno())
        aside.replace(path)
        system.sync_folder(path.parent)
    except OSError as error:
        raise CannotWrite(f"{path} cannot be written: {system.reason(error)}.") from error
    finally:
        aside.unlink(missing_ok=True)


def refuse_existing(path: Path, force: bool, record: Path) -> None:
    """Raise CannotWrite for a file that is there already, unless it may be written over; never the record."""
    if path.exists() and any(path.samefile(part) for part in parts_of(record)):
        raise CannotWrite(f"{path} is the record itself; name another file.")
    if path.exists() and not force:
        raise CannotWrite(f"{path} is there already; --force writes over it.")


def write_text(path: Path, text: str) -> None:
    """Write a private text file whole, or not at all; lines end as they stand in the text."""
    write_bytes(path, text.encode())


def write_bytes(path: Path, data: bytes) -> None:
    """Write a private file whole, or not at all."""
    with written_whole(path) as aside:
        aside.write_bytes(data)
