"""What both simulations share: shares with their intervals, and many records over a few processes."""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")

ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def arguments(purpose: str) -> argparse.Namespace:
    """Read the number of records, of processes, and the seed."""
    parser = argparse.ArgumentParser(description=purpose)
    parser.add_argument("--records", type=int, default=1000, help="records a case (default 1000)")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="processes")
    parser.add_argument("--seed", type=int, default=1, help="seed of all records")
    return parser.parse_args()


def run(work: Callable[[Task], Result], tasks: Sequence[Task], jobs: int) -> list[Result]:
    """Do every task, each process on one thread, and say on stderr how far it is."""
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
    results = []
    with multiprocessing.get_context("spawn").Pool(jobs) as pool:
        for result in pool.imap(work, tasks, chunksize=5):
            results.append(result)
            if sys.stderr.isatty() or len(results) % 500 == 0:
                print(f"\r{len(results)} of {len(tasks)}", end="", file=sys.stderr)
    print(file=sys.stderr)
    return results


def share(hits: int, records: int) -> str:
    """Return a share in per cent with its 95 % interval (Wilson 1927, J. Am. Stat. Assoc. 22:209)."""
    if not records:
        return "-"
    z2 = 1.96**2
    middle = (hits + z2 / 2) / (records + z2)
    half = 1.96 / (records + z2) * (hits * (records - hits) / records + z2 / 4) ** 0.5
    return f"{100 * hits / records:.1f} ({100 * max(middle - half, 0):.1f}-{100 * min(middle + half, 1):.1f})"


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return a markdown table."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)
