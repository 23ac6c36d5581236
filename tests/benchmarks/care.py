"""How well a record is taken care of: damage, kills, power cuts, random commands, hostile files, long merges.

    python -m tests.benchmarks.care [--flips N] [--kills N] [--cuts N] [--calls N] [--years N]

Prints one table; nothing passes or fails. A few of each are in the tests.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import random
import resource
import shutil
import signal
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path

from tests.benchmarks.many_years import fill as fill_years
from tests.benchmarks.rates import table
from tests.commands.test_hostile import CALENDARS, EXPORTS, TABLES
from tests.record.sample import fill
from tests.record.test_two_programs import writer
from tracker.commands.main import main as tracker
from tracker.diary.clock import Clock
from tracker.diary.command_table import COMMANDS
from tracker.diary.days import Change
from tracker.record import files, locking, snapshots
from tracker.record.integrity import look_over
from tracker.record.json_export import record_as_json
from tracker.record.lock_keys import LockKey
from tracker.record.merge import merge
from tracker.record.store import Record

KEY = LockKey(b"k" * 32, b"s" * 16)
"""Of the locked records."""
DICE = random.Random(1852)  # noqa: S311
Row = tuple[str, str]


def call(path: Path, *words: str) -> tuple[int, str]:
    """The exit code of a call, and all it says."""
    said = io.StringIO()
    code = 0
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            tracker(["--record", str(path), *words])
        except SystemExit as ended:
            code = int(ended.code or 0)
    return code, said.getvalue()


def lock(key: LockKey | None, *paths: Path) -> None:
    """Lock records, where there is a key."""
    for path in paths:
        if key:
            locking.lock(path, key)


def of_a(key: LockKey | None) -> str:
    return " of a locked record" if key else ""


def flips(folder: Path, number: int, key: LockKey | None = None) -> Row:
    """Single flipped bits of a record that check reports, and those that restore mends."""
    path, copy = folder / "flips.sqlite", folder / "whole.sqlite"
    with Record.open(path) as record:
        fill(record)
        whole = record_as_json(record)
        copy.write_bytes(snapshots.as_bytes(record))
    lock(key, path, copy)
    content = path.read_bytes()
    found = mended = 0
    for _ in range(number):
        place, bit = DICE.randrange(len(content)), DICE.randrange(8)
        path.write_bytes(content[:place] + bytes([content[place] ^ (1 << bit)]) + content[place + 1 :])
        if call(path, "check")[0]:
            found += 1
            code, _ = call(path, "restore", str(copy), "--yes")
            with Record.open(path) as record:
                mended += code == 0 and record_as_json(record) == whole
        for beside in folder.glob("flips-damaged-*"):
            beside.unlink()
    what = f"flipped bits{of_a(key)} mended, of those that check reports ({number} flipped)"
    return what, f"{mended} of {found}"


def kills(folder: Path, number: int, key: LockKey | None = None) -> Row:
    """Programs killed while they write; every day that was acknowledged must stand whole."""
    path, well = folder / "killed.sqlite", 0
    Record.open(path).close()
    lock(key, path)
    for turn in range(number):
        program = writer(path, f"{1900 + turn % 200}-01-01", 365, key)
        assert program.stdout is not None
        acknowledged = {program.stdout.readline().strip()}
        time.sleep(DICE.random() * 0.2)
        program.send_signal(signal.SIGKILL)
        rest, _ = program.communicate(timeout=60)
        acknowledged |= {line for line in rest.splitlines() if len(line) == 10}
        with Record.open(path) as record:
            kept = {day.isoformat(): what for day, what in record.days().items()}
            stands = all(day in kept and kept[day].mood and kept[day].note for day in acknowledged)
            well += stands and record.db.faults() == []
    return f"killed programs{of_a(key)} that lost nothing they had acknowledged", f"{well} of {number}"


def cuts(folder: Path, number: int, key: LockKey | None = None) -> Row:
    """The log cut off anywhere, as a power cut may leave it: whole actions must stand, the first ones."""
    path = folder / "cut.sqlite"
    days = [date(2026, 1, 1) + timedelta(n) for n in range(30)]
    cut = folder / "after" / "cut.sqlite"
    cut.parent.mkdir()
    well = 0
    Record.open(path).close()
    lock(key, path)
    if key:
        files.note_as_locked(cut)
    with Record.open(path) as record:
        for day in days:
            record.keep([Change(day, "mood", "mood5-3"), Change(day, "sleep", "sleep8-5")])
        log = Path(f"{path}-wal").read_bytes()
        for _ in range(number):
            shutil.copy(path, cut)
            Path(f"{cut}-wal").write_bytes(log[: DICE.randrange(len(log) + 1)])
            with Record.open(cut) as after:
                stands = after.days()
                whole = all(day.mood and day.sleep for day in stands.values())
            well += whole and list(stands) == days[: len(stands)] and look_over(cut).faults == []
            for beside in files.parts_of(cut):
                beside.unlink()
    return (
        f"states after a power cut{of_a(key)} in which the first actions stand whole",
        f"{well} of {number}",
    )


WORDS = (
    "today", "2026-03-17", "-1", "", "\x1b[31m", "x" * 300, "--mood", "4", "9", "--sleep", "25", "--hours",
    "nan", "--from", "--to", "0001-01-01", "--note", "\udcff", "--yes", "--json", "--dry-run", "--year",
    "mood", "theme", "--help", "--pattern", "L N", "--as-of", "--plain", "--words", "--backups",
    "--another-record",
)  # fmt: skip


def calls(folder: Path, number: int) -> Row:
    """Commands of random words: each ends with a code of its own and never with a fault of the program's."""
    well = 0
    for turn in range(number):
        path = folder / f"called-{turn % 20}.sqlite"
        words = [
            DICE.choice([name for name in COMMANDS if name != "demo"]),
            *DICE.choices(WORDS, k=DICE.randrange(5)),
        ]
        code, said = call(path, *words)
        well += code in (0, 1, 2) and "made a mistake" not in said and "Traceback" not in said
    return "commands of random words that end as they should", f"{well} of {number}"


def hostile(folder: Path) -> Row:
    """Files made to hang or break a program."""
    texts = {f"{name}.ics": text for name, text in CALENDARS.items()}
    texts |= {f"{name}.json": text for name, text in EXPORTS.items()}
    texts |= {f"{name}.csv": text for name, text in TABLES.items()}
    well, longest = 0, 0.0
    for number, (name, text) in enumerate(texts.items()):
        file = folder / f"hostile-{number}{Path(name).suffix}"
        file.write_text(text)
        begun = time.process_time()
        _, said = call(folder / "hostile.sqlite", "rota" if file.suffix == ".ics" else "import", str(file))
        longest = max(longest, time.process_time() - begun)
        well += bool(said) and "made a mistake" not in said
    return (
        f"hostile files that end in a sentence; the longest took {longest:.1f} s of CPU",
        f"{well} of {len(texts)}",
    )


def century(folder: Path, years: int) -> Row:
    """Two copies of a long record that parted by twenty notes, compared and merged."""
    path, other = folder / "long.sqlite", folder / "other.sqlite"
    today = Clock().today()
    fill_years(path, years, today)
    shutil.copy(path, other)
    with Record.open(other) as record:
        for number in range(20):
            record.keep([Change(today - timedelta(number), "note", "tea")])
    begun = time.process_time()
    with Record.open(path) as record, snapshots.opened(other) as copy:
        entries = record.db.value("select count(*) from entry")
        merge(record, copy, dry=True)
        compared = time.process_time() - begun
        merge(record, copy, checked=True)
    took, most = time.process_time() - begun, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    what = f"merge of {years} years, {entries:,} entries: CPU to compare, in all, and memory at most"
    return what, f"{compared:.1f} s, {took:.1f} s, {most:.0f} MB"


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    for name, usual in (("flips", 300), ("kills", 30), ("cuts", 200), ("calls", 500), ("years", 100)):
        parser.add_argument(f"--{name}", type=int, default=usual)
    asked = parser.parse_args(arguments)
    os.environ.pop("XDG_RUNTIME_DIR", None)  # keys of these records are no business of the login
    print(table(("what", "found"), list(_rows(asked))))


def _rows(asked: argparse.Namespace) -> Iterator[Row]:
    measures: list[Callable[[Path], Row]] = [
        lambda folder: century(folder, asked.years),
        lambda folder: flips(folder, asked.flips),
        lambda folder: kills(folder, asked.kills),
        lambda folder: cuts(folder, asked.cuts),
        lambda folder: flips(folder, asked.flips, KEY),
        lambda folder: kills(folder, asked.kills, KEY),
        lambda folder: cuts(folder, asked.cuts, KEY),
        lambda folder: calls(folder, asked.calls),
        hostile,
    ]
    for measure in measures:
        with tempfile.TemporaryDirectory() as folder:
            yield measure(Path(folder))


if __name__ == "__main__":
    main()
