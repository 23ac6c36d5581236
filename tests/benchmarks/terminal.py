"""A program on a pseudo-terminal: when its first frame stands, how soon a key is answered, what it takes.

A frame between the marks of synchronised output (mode 2026) counts from its closing mark. The
questions that a terminal program asks on starting are answered as a common terminal would.
"""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import termios
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import nan
from pathlib import Path
from statistics import median

from tests.benchmarks.races import Measure, beyond_ours
from tracker.commands.terminal import RECORD_NAMED

ESCAPES = re.compile(
    rb"\x1b\[[0-?]*[ -/]*[@-~]"  # control sequences
    rb"|\x1b[\]PX^_].*?(?:\x1b\\|\x07)"  # strings
    rb"|\x1b[ -/]*[0-~]",  # all other escapes
    re.DOTALL,
)
SYNC_BEGIN, SYNC_END = b"\x1b[?2026h", b"\x1b[?2026l"
ANSWERS = {
    b"\x1b[?2026$p": b"\x1b[?2026;2$y",
    b"\x1b[?2048$p": b"\x1b[?2048;0$y",
    b"\x1b[6n": b"\x1b[1;1R",
    b"\x1b[c": b"\x1b[?62;22c",
    b"\x1b[?u": b"\x1b[?0u",
}
KEYS = {"ctrl+q": b"\x11", "right": b"\x1b[C", "left": b"\x1b[D", "tab": b"\t"}
QUIET = 0.15
"""Seconds of silence that end a frame."""
LONGEST = 60.0
"""Seconds after which a program is given up."""


class Terminal:
    """A program on a pseudo-terminal."""

    painted = nan
    """Seconds to its first frame, once that stands."""
    peak = 0
    """Largest resident size as the system counts it, once it has ended."""

    def __init__(
        self, command: list[str], columns: int = 80, rows: int = 24, record: Path | None = None
    ) -> None:
        self.started = time.perf_counter()
        self.output, self.ended, self._answered = b"", False, 0
        self.pid, self.fd = pty.fork()
        size = struct.pack("HHHH", rows, columns, 0, 0)
        if self.pid == 0:
            fcntl.ioctl(1, termios.TIOCSWINSZ, size)
            os.environ["TERM"] = "xterm-256color"
            if record:
                os.environ[RECORD_NAMED] = str(record)
            os.execvp(command[0], command)  # noqa: S606 - no shell is wanted
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, size)

    def read(self, timeout: float) -> bytes:
        """What arrived within the timeout; empty if nothing did or the program ended."""
        if not select.select([self.fd], [], [], max(timeout, 0))[0]:
            return b""
        try:
            chunk = os.read(self.fd, 1 << 16)
        except OSError:
            chunk = b""
        self.ended = self.ended or not chunk
        self.output += chunk
        self._answer()
        return chunk

    def _answer(self) -> None:
        start = max(self._answered - 16, 0)
        for question, answer in ANSWERS.items():
            at = self.output.find(question, start)
            if at >= 0 and at + len(question) > self._answered:
                os.write(self.fd, answer)
        self._answered = len(self.output)

    def until(self, wanted: str, limit: float = LONGEST) -> float:
        """Seconds until a whole frame shows the wanted text.

        Raises TimeoutError with the screen's text if it never does.
        """
        while not self.ended and time.perf_counter() - self.started < limit:
            if self.read(1) and self._shows(wanted):
                return time.perf_counter() - self.started
        raise TimeoutError(self.text()[-2000:])

    def _shows(self, wanted: str) -> bool:
        return self._is_whole() and wanted in self.text()

    def _is_whole(self) -> bool:
        return self.output.count(SYNC_BEGIN) <= self.output.count(SYNC_END)

    def press(self, key: str) -> float:
        """Seconds from a key to the end of the first frame after it.

        Raises TimeoutError if none comes.
        """
        self.settle()
        before, pressed = len(self.output), time.perf_counter()
        os.write(self.fd, KEYS.get(key, key.encode()))
        while not self.ended and time.perf_counter() - pressed < LONGEST:
            if self.read(1) and len(self.output) > before and self._is_whole():
                return time.perf_counter() - pressed
        raise TimeoutError(f"nothing was drawn after {key}: {self.text()[-2000:]}")

    def settle(self) -> None:
        """Read until the program keeps quiet."""
        while not self.ended and self.read(QUIET):
            pass

    def text(self) -> str:
        """All that was shown, without its escapes."""
        return ESCAPES.sub(b"", self.output).decode("utf-8", "replace")

    def close(self) -> None:
        """End the program.

        Raises RuntimeError with the screen's text if it does not end well.
        """
        os.write(self.fd, KEYS["ctrl+q"])
        deadline = time.perf_counter() + LONGEST
        pid, status, usage = os.wait4(self.pid, os.WNOHANG)
        while not pid and time.perf_counter() < deadline:
            self.read(0.02)
            pid, status, usage = os.wait4(self.pid, os.WNOHANG)
        if not pid:
            os.kill(self.pid, signal.SIGKILL)
            _, status, usage = os.wait4(self.pid, 0)
        os.close(self.fd)
        self.peak = usage.ru_maxrss
        if status:
            raise RuntimeError(f"ended with {os.waitstatus_to_exitcode(status)}: {self.text()[-2000:]}")


@contextmanager
def painted(
    command: Sequence[str], wanted: str, columns: int = 80, rows: int = 24, record: Path | None = None
) -> Iterator[Terminal]:
    """A program that has painted the wanted text, on a record its environment names; ended afterwards."""
    terminal = Terminal(list(command), columns, rows, record)
    try:
        terminal.painted = terminal.until(wanted)
        yield terminal
    finally:
        terminal.close()


def first_paint(
    command: Sequence[str], wanted: str, columns: int = 80, rows: int = 24, record: Path | None = None
) -> Measure:
    """Seconds from just before the fork to the end of the first frame with the wanted text."""

    def measure() -> float:
        with painted(command, wanted, columns, rows, record) as terminal:
            return terminal.painted

    return measure


def key_press(
    command: Sequence[str], wanted: str, keys: Sequence[str], before: Sequence[str] = ()
) -> Measure:
    """Seconds from a key to the end of the first frame after it, the median of several keys."""

    def measure() -> float:
        with painted(command, wanted) as terminal:
            for key in before:
                terminal.press(key)
            return median([terminal.press(key) for key in keys])

    return measure


def peak_memory(command: Sequence[str], wanted: str) -> Measure:
    """The largest resident size of a program that has painted, until its end."""

    def measure() -> float:
        with painted(command, wanted) as terminal:
            terminal.settle()
        return beyond_ours(terminal.peak)

    return measure
