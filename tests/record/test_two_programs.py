"""Two programs on one record, and one that is killed."""

import signal
import subprocess
import sys
import textwrap
import time
from datetime import date
from pathlib import Path

from tracker.diary.days import Change
from tracker.diary.scales import mood_scale
from tracker.record.choice_rows import scale_value
from tracker.record.csv_days import days_as_csv
from tracker.record.integrity import look_over
from tracker.record.json_export import record_as_json, record_from_json
from tracker.record.lock_keys import LockKey
from tracker.record.store import Record

WRITER = textwrap.dedent(
    """
    import sys
    from datetime import date, timedelta
    from pathlib import Path
    from tracker.diary.days import Change
    from tracker.record.store import Record

    if len(sys.argv) > 4:
        from tracker.record import lock_keys

        lock_keys.hold(lock_keys.LockKey(*map(bytes.fromhex, sys.argv[4:])))
    first, count = date.fromisoformat(sys.argv[2]), int(sys.argv[3])
    with Record.open(Path(sys.argv[1])) as record:
        for number in range(count):
            day = first + timedelta(days=number)
            squares = {"mood": "mood5-3", "sleep": "sleep8-5", "note": "x"}
            record.keep([Change(day, field, value) for field, value in squares.items()], "day")
            print(day, flush=True)
    """
)


def writer(path: Path, first: str, count: int, key: LockKey | None = None) -> subprocess.Popen[str]:
    unlocks = [part.hex() for part in key or ()]
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), first, str(count), *unlocks],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def killed_while_it_writes(path: Path, year: int, pause: float, key: LockKey | None = None) -> set[str]:
    """The days of a year that a program said it had kept before it was killed, seconds after the first."""
    program = writer(path, f"{year}-01-01", 365, key)
    assert program.stdout is not None
    acknowledged = {program.stdout.readline().strip()}
    time.sleep(pause)
    program.send_signal(signal.SIGKILL)
    rest, _ = program.communicate(timeout=60)
    return acknowledged | {line for line in rest.splitlines() if len(line) == 10}


def test_two_programs_that_begin_together_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite"
    both = [writer(path, first, 40) for first in ("2020-01-01", "2021-01-01")]
    for program in both:
        _, errors = program.communicate(timeout=120)
        assert (program.returncode, errors) == (0, "")
    with Record.open(path) as record:
        assert len(record.days()) == 80
        turns = [entry.turn for day in record.days() for entry in record.history(day)]
        assert sorted(set(turns)) == list(range(1, 81))


def test_killed_at_any_moment_no_day_that_was_acknowledged_is_lost_or_halved(tmp_path: Path) -> None:
    """SQLite's promise for the write-ahead log: what was committed survives the end of the program."""
    path = tmp_path / "record.sqlite"
    Record.open(path).close()
    acknowledged: set[str] = set()
    for year, pause in zip(range(2001, 2006), (0.02, 0.05, 0.09, 0.14, 0.2), strict=True):
        acknowledged |= killed_while_it_writes(path, year, pause)
        with Record.open(path) as record:
            assert record.db.faults() == []
            kept = {day.isoformat(): what for day, what in record.days().items()}
        assert acknowledged <= set(kept)
        assert all(day.mood and day.sleep and day.note for day in kept.values())


def test_beside_a_busy_writer_a_look_and_an_export_are_each_of_one_state(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite"
    program = writer(path, "1950-01-01", 20_000)
    try:
        assert program.stdout is not None
        program.stdout.readline()
        for _ in range(5):
            assert look_over(path).faults == []
            with Record.open(path) as record:
                text = record_as_json(record)
            with record_from_json(text, path) as copy:
                assert record_as_json(copy) == text
        assert program.poll() is None
    finally:
        program.kill()
        program.communicate()


def test_days_are_exported_with_the_levels_of_the_same_moment(record: Record) -> None:
    """Another window keeps a square by new levels between the reading of the levels and of the days."""
    with Record.open(record.path, record.clock) as window:
        with record.db.reading():
            before = record.choices()
            window.choose(scale_value(mood_scale(["bad", "so-so", "fine"], date(2026, 1, 1))))
            window.keep([Change(date(2026, 3, 17), "mood", "mood3-2026-01-01/2")])
            text = days_as_csv(record.days().values(), before)
        assert len(text.splitlines()) == 1
        assert record.changed_elsewhere()
        assert len(days_as_csv(record.days().values(), record.choices()).splitlines()) == 2
