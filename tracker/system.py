"""The window to the operating system: modes, names and links of files, and what is on the disk.

What differs from one system to another is asked for here alone. What fails is an OSError.
"""

from __future__ import annotations

import errno
import os
import re
import signal
import stat
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

MODES_COUNT = os.name == "posix"
"""Whether the modes of a file say who may do what with it.

On Windows every file shows modes open to all; access lists say it there, and those of a person's own folders
let nobody else in.
"""
OPEN_FILES_KEEP_NAMES = os.name == "nt"
"""Whether a file that is open can be neither moved nor replaced (Windows, CreateFile)."""
STOPS_WITHIN = 0.3
"""Seconds in which a signal that stops a program reaches it."""
PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
NO_LINK, NO_WAIT = getattr(os, "O_NOFOLLOW", 0), getattr(os, "O_NONBLOCK", 0)
CAN_SUSPEND = hasattr(signal, "SIGTSTP")
"""Whether a program can be stopped by a key and brought back by its shell."""
END_SIGNALS = ("SIGTERM", "SIGHUP", "SIGBREAK")
"""What ends a program from outside: the system as it shuts down, a window as it closes."""


def reason(error: OSError) -> str:
    """What the system says of an error, as the end of a sentence."""
    return (error.strerror or str(error)).lower()


# --- modes ----------------------------------------------------------------------------------------


def make_private_file(path: Path) -> None:
    """Make an empty file that only its owner can read, or narrow the modes of one that is there."""
    os.close(os.open(path, os.O_RDWR | os.O_CREAT | NO_LINK, PRIVATE_FILE))
    with suppress(OSError):
        path.chmod(PRIVATE_FILE)


def make_private_folder(folder: Path) -> None:
    """Make a folder that only its owner can enter, with its parents; what is there stays as it is."""
    for missing in reversed([part for part in (folder, *folder.parents) if not part.exists()]):
        missing.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)
        missing.chmod(PRIVATE_FOLDER)
        sync_folder(missing.parent)


def mode_of(path: Path) -> int:
    """The modes of a file."""
    return stat.S_IMODE(path.stat().st_mode)


def lets_others_in(mode: int) -> bool:
    """Whether anybody but the owner may do anything with a file of such modes."""
    return MODES_COUNT and bool(mode & 0o077)


def everybody_writes(folder: Path) -> bool:
    """Whether everybody could put another file in the place of one in the folder."""
    mode = folder.stat().st_mode
    return MODES_COUNT and bool(mode & stat.S_IWOTH) and not mode & stat.S_ISVTX


# --- names and links ------------------------------------------------------------------------------


def identity(path: Path) -> tuple[int, int] | None:
    """What tells a file from any other that has its name at another time; None where none is reached."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def names_of(path: Path) -> int:
    """How many names a file has; 0 for a link, which is none of its own."""
    found = path.lstat()
    return found.st_nlink if stat.S_ISREG(found.st_mode) else 0


def overwrite(path: Path) -> None:
    """Write nothing over all of a file, and bring that to the disk; a link is not followed.

    A flash disk may keep the old block all the same.
    """
    descriptor = os.open(path, os.O_WRONLY | NO_LINK)
    try:
        left = os.fstat(descriptor).st_size
        while left > 0:
            left -= os.write(descriptor, bytes(min(left, 1 << 20)))
        sync(descriptor)
    finally:
        os.close(descriptor)


def take_name(aside: Path, path: Path) -> None:
    """Give a file its name as well, unless another program was quicker."""
    try:
        os.link(aside, path)
    except FileExistsError:
        return
    except OSError:
        # A file system without links, as on memory sticks.
        if not path.exists():
            aside.rename(path)


def call_too(path: Path, name: Path) -> None:
    """Give a file a second name; on a file system without links, give a whole copy of it that name."""
    try:
        os.link(path, name)
    except OSError:
        make_private_file(name)
        try:
            name.write_bytes(path.read_bytes())
            with name.open("r+b") as copy:
                sync(copy.fileno())
        except BaseException:
            name.unlink(missing_ok=True)
            raise


def read_file(path: Path, most: int = -1) -> bytes:
    """The bytes of a file, at most so many; -1: all. A pipe that nobody writes to is empty."""
    descriptor = os.open(path, os.O_RDONLY | NO_WAIT)
    with os.fdopen(descriptor, "rb") as file:
        if sys.platform != "win32":
            os.set_blocking(descriptor, True)
        return file.read(most)


# --- what lasts as long as a login ----------------------------------------------------------------


def folder_of_login() -> Path | None:
    """The folder that goes when its owner logs out (XDG Base Directory Specification, XDG_RUNTIME_DIR).

    None where the system has none, or what is called so is another's, open to others, or lies on a disk.
    """
    named = os.environ.get("XDG_RUNTIME_DIR", "")
    if sys.platform == "win32" or not os.path.isabs(named):  # noqa: PTH117
        return None
    with suppress(OSError):
        folder, found = Path(named), os.lstat(named)
        is_ours = stat.S_ISDIR(found.st_mode) and found.st_uid == os.getuid()
        if is_ours and not lets_others_in(found.st_mode) and _is_in_memory(folder):
            return folder
    return None


def _is_in_memory(folder: Path) -> bool:
    """Whether a folder lies on a file system that is kept in memory (proc_pid_mountinfo(5))."""
    if sys.platform == "win32":
        return False
    device = folder.stat().st_dev
    wanted = f"{os.major(device)}:{os.minor(device)}"
    for line in Path("/proc/self/mountinfo").read_text().splitlines():
        mounted, _, kind = line.partition(" - ")
        if mounted.split()[2] == wanted:
            return kind.split()[0] in ("tmpfs", "ramfs")
    return False


# --- what is on the disk --------------------------------------------------------------------------


def sync(descriptor: int) -> None:
    """Bring a file that is open for writing to the disk, on macOS past the memory of the disk itself.

    fsync(2) there says so; Windows refuses it to a file that is open for reading alone (FlushFileBuffers).
    """
    if sys.platform == "darwin":
        import fcntl

        with suppress(OSError):  # not every file system knows it
            fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
            return
    os.fsync(descriptor)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk: those of new files outlast a power cut only then (fsync(2)).

    Where the system does not let a folder be opened or synced, nothing more can be done.
    """
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        sync(descriptor)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP):
            raise
    finally:
        os.close(descriptor)


# --- other programs -------------------------------------------------------------------------------


def writer_of(path: Path) -> str:
    """Which other process writes to a file, by its locks: `tracker, process 4711`; empty if unknown."""
    with suppress(OSError, ValueError):
        file = f":{path.stat().st_ino}"
        for line in Path("/proc/locks").read_text().splitlines():  # on Linux (proc(5)); else it is not there
            found = re.search(r" WRITE (\d+) (\S+) ", line)
            if found and found[2].endswith(file) and int(found[1]) != os.getpid():
                name = Path(f"/proc/{found[1]}/comm").read_text().strip()
                return f"{name}, process {found[1]}"
    return ""


# --- the process ----------------------------------------------------------------------------------


def when_told_to_end(end: Callable[[], object]) -> None:
    """Call a function when a window is closed or the system shuts down, instead of ending at once.

    A closed window takes nothing more: what is still written to it goes nowhere, and hinders nobody.
    """

    def told(number: int, _: object) -> None:
        if number == getattr(signal, "SIGHUP", None):
            nowhere = os.open(os.devnull, os.O_WRONLY)
            for descriptor in (1, 2):
                os.dup2(nowhere, descriptor)
        end()

    for number in (getattr(signal, name) for name in END_SIGNALS if hasattr(signal, name)):
        if signal.getsignal(number) != signal.SIG_IGN:  # as under nohup
            signal.signal(number, told)


def suspend() -> bool:
    """Stop this program, and what was started with it, as Ctrl-Z does, until a shell brings it to the front.

    False where nothing stopped it: the system lets no program stop that no shell could bring back.
    """
    if sys.platform == "win32":
        return False
    continued: list[int] = []
    before = [
        (signal.SIGTSTP, signal.signal(signal.SIGTSTP, signal.SIG_DFL)),
        (signal.SIGCONT, signal.signal(signal.SIGCONT, lambda number, _: continued.append(number))),
    ]
    try:
        while True:
            continued.clear()
            os.killpg(0, signal.SIGTSTP)
            until = time.monotonic() + STOPS_WITHIN
            while not continued and time.monotonic() < until:
                time.sleep(0.01)
            if not continued or os.tcgetpgrp(0) == os.getpgrp():
                return bool(continued)
    finally:
        for number, handler in before:
            signal.signal(number, handler)


def leave_no_core_dump() -> None:
    """Let a crash write no memory to the disk: what she wrote stands in it."""
    if sys.platform == "win32":  # which leaves none
        return
    import resource

    with suppress(OSError, ValueError):
        _, most = resource.getrlimit(resource.RLIMIT_CORE)
        resource.setrlimit(resource.RLIMIT_CORE, (0, most))
