"""What SQLite says of damaged files, and what it promises after a kill.

Table of damages: tried with sqlite 3.40.1 and the Python of the time; `quick_check` and `integrity_check` are
described at sqlite.org/pragma.html. That a committed transaction survives the end of the program in
write-ahead mode: sqlite.org/wal.html and sqlite.org/pragma.html#pragma_synchronous (the test of the kill
stands in tests/record/test_two_programs.py). Loss of power cannot be tested this way.
"""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from tracker.diary.errors import RecordTrouble
from tracker.record.connection import look_only

PAGE = 4096


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """A strict table of 2,000 rows with an index over its text."""
    path = tmp_path / "table.sqlite"
    with closing(sqlite3.connect(path)) as db:
        db.execute("create table t (id integer primary key, a integer, b text) strict")
        db.execute("create index ix on t (b)")
        rows = [(n, n, f"row number {n} with some text to fill the page") for n in range(2000)]
        db.executemany("insert into t values (?, ?, ?)", rows)
        db.commit()
    return path


def cell_changed(content: bytes) -> bytes:
    place = content.rindex(b"row number 8 ")
    return content[:place] + b"XXXXXXXXXX" + content[place + 10 :]


DAMAGES: dict[str, tuple[Callable[[bytes], bytes], bool]] = {
    "none": (lambda content: content, False),
    "ten bytes inside a text cell": (cell_changed, True),
    "a page header overwritten": (lambda content: content[:PAGE] + b"\xff" * 16 + content[PAGE + 16 :], True),
    "cut to half": (lambda content: content[: len(content) // 2], True),
    "last 1,000 bytes cut": (lambda content: content[:-1000], True),
    "a text file": (lambda content: b"Dear diary, " * 100, True),
    "an empty file": (lambda content: b"", False),
}
"""Each damage, and whether a full integrity check finds it."""


def is_damaged(path: Path) -> bool:
    """Whether the check of a file says so; most exceptions are damage as well."""
    try:
        with look_only(path) as db:
            return db.faults() != []
    except RecordTrouble:
        return True


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_full_check_finds_what_sqlite_can_find(table: Path, damage: str) -> None:
    change, found = DAMAGES[damage]
    table.write_bytes(change(table.read_bytes()))
    assert is_damaged(table) is found


def test_a_quick_check_would_miss_a_changed_cell(table: Path) -> None:
    table.write_bytes(cell_changed(table.read_bytes()))
    with closing(sqlite3.connect(table)) as db:
        assert db.execute("pragma quick_check").fetchall() == [("ok",)]
        assert db.execute("pragma integrity_check").fetchall() != [("ok",)]


def test_a_strict_table_refuses_text_for_a_number(table: Path) -> None:
    with (
        closing(sqlite3.connect(table)) as db,
        pytest.raises(sqlite3.IntegrityError, match="cannot store TEXT value in INTEGER column"),
    ):
        db.execute("insert into t values (9999, 'x', 'y')")
