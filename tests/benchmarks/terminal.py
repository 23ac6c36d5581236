"""A program on a pseudo-terminal: when its first frame stands, and how soon a key is answered.

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
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class Timing:
    """What one run of a program took."""

    first_paint: float
    """Seconds from just before the fork to the end of the first frame with the wanted text."""
    keys: tuple[float, ...]
    """Seconds from each key to the first output after it."""
    peak_memory: int
    """Largest resident size, KiB."""


class Terminal:
    """A program on a pseudo-terminal."""

    def __init__(self, command: list[str], columns: int = 80, rows: int = 24) -> None:
        self.started = time.perf_counter()
        self.output, self.ended, self._answered = b"", False, 0
        self.pid, self.fd = pty.fork()
        size = struct.pack("HHHH", rows, columns, 0, 0)
        if self.pid == 0:
            fcntl.ioctl(1, termios.TIOCSWINSZ, size)
            os.environ["TERM"] = "xterm-256color"
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

    def until(self, wanted: str, limit: float = 30) -> float:
        """Seconds until a whole frame shows the wanted text.

        Raises TimeoutError with the screen's text if it never does.
        """
        while not self.ended and time.perf_counter() - self.started < limit:
            if self.read(1) and self._shows(wanted):
                return time.perf_counter() - self.started
        raise TimeoutError(self.text()[-2000:])

    def _shows(self, wanted: str) -> bool:
        whole = self.output.count(SYNC_BEGIN) <= self.output.count(SYNC_END)
        return whole and wanted in self.text()

    def press(self, key: str) -> float:
        """Seconds from a key to the first output after it."""
        self.settle()
        pressed = time.perf_counter()
        os.write(self.fd, KEYS.get(key, key.encode()))
        self.read(2)
        return time.perf_counter() - pressed

    def settle(self) -> None:
        """Read until the program keeps quiet."""
        while not self.ended and self.read(QUIET):
            pass

    def text(self) -> str:
        """All that was shown, without its escapes."""
        return ESCAPES.sub(b"", self.output).decode("utf-8", "replace")

    def close(self) -> int:
        """End the program; its peak memory in KiB."""
        os.write(self.fd, KEYS["ctrl+q"])
        deadline = time.perf_counter() + 5
        while time.perf_counter() < deadline:
            self.read(0.02)
            pid, status, usage = os.wait4(self.pid, os.WNOHANG)
            if pid:
                os.close(self.fd)
                if os.waitstatus_to_exitcode(status):
                    raise RuntimeError(self.text()[-2000:])
                return usage.ru_maxrss
        os.kill(self.pid, signal.SIGKILL)
        _, _, usage = os.wait4(self.pid, 0)
        os.close(self.fd)
        return usage.ru_maxrss


def timed(command: list[str], wanted: str, keys: tuple[str, ...] = (), columns: int = 80) -> Timing:
    """Run a program once, press keys, end it."""
    terminal = Terminal(command, columns, 24 if columns < 120 else 40)
    try:
        painted = terminal.until(wanted)
        answered = tuple(terminal.press(key) for key in keys)
    finally:
        memory = terminal.close()
    return Timing(painted, answered, memory)
