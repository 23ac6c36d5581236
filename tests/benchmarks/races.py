"""Ratios of what several things take, measured by turns, so that a busy machine slows them alike."""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median, quantiles

MANY = 1000
Measure = Callable[[], float]
"""Does the thing once and tells what it took: seconds, or memory."""


@dataclass(frozen=True, slots=True)
class Race:
    """Things that are measured by turns against one baseline."""

    against: str
    """The baseline in words."""
    baseline: Measure
    entrants: Mapping[str, Measure]
    """What is measured, by its words."""
    goal: str = ""
    most: int = MANY
    """Rounds at most, for what takes long."""


@dataclass(frozen=True, slots=True)
class Result:
    """What one thing took, in multiples of its baseline."""

    what: str
    against: str
    ratios: tuple[float, ...]
    goal: str

    @property
    def cells(self) -> list[str]:
        """The row of a table."""
        low, high = self.middle_half
        return [
            self.what, self.against, shown(median(self.ratios)), f"{shown(low)} to {shown(high)}",
            self.goal or "-", str(len(self.ratios)),
        ]  # fmt: skip

    @property
    def middle_half(self) -> tuple[float, float]:
        """The quartiles; of fewer than four rounds the least and the largest."""
        if len(self.ratios) < 4:
            return min(self.ratios), max(self.ratios)
        low, _, high = quantiles(self.ratios, n=4, method="inclusive")
        return low, high


HEAD = ("what", "against", "ratio", "middle half", "goal", "rounds")


def shown(ratio: float) -> str:
    """A ratio to three figures."""
    return f"{ratio:.0f}" if ratio >= 100 else f"{ratio:.3g}"


def run(race: Race, rounds: int) -> list[Result]:
    """Measure everything once a round, in shuffled order; a first round warms up and does not count."""
    dice = random.Random(1852)  # noqa: S311
    measures = {race.against: race.baseline, **race.entrants}
    ratios: dict[str, list[float]] = {name: [] for name in race.entrants}
    for turn in range(1 + min(rounds, race.most)):
        order = dice.sample(list(measures), len(measures))
        took = {name: measures[name]() for name in order}
        if turn:
            for name, found in ratios.items():
                found.append(took[name] / took[race.against])
    return [Result(name, race.against, tuple(found), race.goal) for name, found in ratios.items()]


def process(*command: str) -> Measure:
    """Seconds of a whole process, from its start to its end."""

    def measure() -> float:
        begun = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        return time.perf_counter() - begun

    return measure


def code(text: str) -> Measure:
    """Seconds of a Python process that runs a line of code."""
    return process(sys.executable, "-c", text)


def cpu(*command: str) -> Measure:
    """Seconds of processor time of a whole process: on a busy machine it varies less than the clock."""

    def measure() -> float:
        used = usage(command)
        return used.ru_utime + used.ru_stime

    return measure


def memory(*command: str) -> Measure:
    """Peak resident memory of a process."""
    return lambda: beyond_ours(usage(command).ru_maxrss)


def usage(command: Sequence[str]) -> resource.struct_rusage:
    """What a whole process took; raises RuntimeError where it fails."""
    running = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(running.pid, 0)
    running.returncode = os.waitstatus_to_exitcode(status)
    if status:
        raise RuntimeError(f"{command} ended with {running.returncode}")
    return used


def beyond_ours(peak: int) -> int:
    """The peak of a child, which begins as a copy of this process: smaller ones cannot be told.

    Raises RuntimeError where it is not larger than our own.
    """
    ours = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    if peak <= ours:
        raise RuntimeError(f"this process takes {ours} itself, so that a child's peak of {peak} says nothing")
    return peak


def here(deed: Callable[[], object], prepare: Callable[[], object] = lambda: None) -> Measure:
    """Seconds of something done in this process, after a preparation that does not count."""

    def measure() -> float:
        prepare()
        begun = time.perf_counter()
        deed()
        return time.perf_counter() - begun

    return measure
